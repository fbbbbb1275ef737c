/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include <wedgework/curve_text.h>

/* Source: the interface's order of a text: the act, why, tables, notes. */
static void comes_in_the_readers_order(void **state) {
    static const char *const order[] = {"Gamma",
                                        "A logistic curve through",
                                        "Suspect readings",
                                        "Contrast (95 % intervals)",
                                        "Exposures",
                                        "Notes",
                                        "  - The wedge is nominal."};
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_curve curve = make_film();
    char *text = NULL;
    const char *at;
    (void)state;
    add_suspect(&curve.channel[WW_VISUAL], 6, 0.14, WW_CAUSE_SLIP);
    assert_int_equal(ww_notes_add(&curve.notes, NULL, "The wedge is nominal."), WW_OK);
    test_status("film", ww_curve_text(&curve, &style, &text, NULL), WW_OK, NULL);
    at = text;
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        at = strstr(at, order[i]);
        if (!at)
            fail_msg("'%s' is not in its place in:\n%s", order[i], text);
    }
    test_true("ends with a line end", text[strlen(text) - 1] == '\n');
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        test_true("80 columns", strcspn(line, "\n") <= 80);
    free(text);
    ww_curve_release(&curve);
}

static void survives_hostile_names(void **state) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_curve curve = make_colour();
    char *text = NULL;
    (void)state;
    free(curve.channel[WW_RED].point[4].step);
    curve.channel[WW_RED].point[4].step = copy(HOSTILE);
    add_suspect(&curve.channel[WW_RED], 4, -0.2, WW_CAUSE_DUST);
    assert_int_equal(ww_notes_add(&curve.notes, NULL, "%s", HOSTILE), WW_OK);
    test_status("hostile", ww_curve_text(&curve, &style, &text, NULL), WW_OK, NULL);
    test_lacks("escape sequence", text, "\x1b");
    free(text);
    ww_curve_release(&curve);
}

static void says_so_where_there_is_nothing(void **state) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    const ww_curve curve = WW_CURVE_INIT;
    char *text = NULL;
    (void)state;
    test_status("empty", ww_curve_text(&curve, &style, &text, NULL), WW_OK, NULL);
    test_text("empty", text,
              "No curve: these readings do not carry one. Next, read at least 5 exposed steps,\n"
              "from the first tone to the densest.\n");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comes_in_the_readers_order),
        cmocka_unit_test(survives_hostile_names),
        cmocka_unit_test(says_so_where_there_is_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
