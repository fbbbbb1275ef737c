/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/scan_case.h"
#include <wedgework/measure_text.h>

/* Source: the interface's order of a text: the act, why, tables, notes; 80 columns. */
static void expect_order(const char *text, const char *const order[], size_t n) {
    const char *at = text;
    for (size_t i = 0; i < n; i++) {
        at = strstr(at, order[i]);
        if (!at) {
            fail_msg("'%s' is not in its place in:\n%s", order[i], text);
            return;
        }
    }
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        test_true("80 columns", strcspn(line, "\n") <= 80);
    test_true("ends with a line end", text[strlen(text) - 1] == '\n');
}

static void comes_in_the_readers_order(void **state) {
    static const char *const strip[] = {
        "21 steps found", "\nStep 1 lies", "\nDensities (scanner)", "\nstep   red  trust",
        "\nCode values",  "\nNotes",       "  - Invented.\n"};
    static const char *const whole_order[] = {"Density 0.52 to 1.93", "\nEvery pixel",
                                              "\nDensities", "\nCode values"};
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    const ww_whole whole = scan_case_whole(true);
    struct scan_case made;
    char *text = NULL;
    (void)state;
    scan_case_strip(&made, true);
    assert_int_equal(ww_notes_add(&made.measured.notes, NULL, "Invented."), WW_OK);
    test_status("strip", ww_measure_text(&made.measured, &style, &text, NULL), WW_OK, NULL);
    expect_order(text, strip, sizeof strip / sizeof *strip);
    free(text);
    test_status("whole", ww_measure_whole_text(&whole, &style, &text, NULL), WW_OK, NULL);
    expect_order(text, whole_order, sizeof whole_order / sizeof *whole_order);
    free(text);
    ww_notes_release(&made.measured.notes);
}

static void survives_hostile_names(void **state) {
    static char hostile[] = HOSTILE;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    struct scan_case made;
    char *text = NULL;
    (void)state;
    scan_case_spots(&made);
    made.patch[0].step = made.patch[1].step = made.measured.file = hostile;
    test_status("hostile", ww_measure_text(&made.measured, &style, &text, NULL), WW_OK, NULL);
    test_lacks("escape sequence", text, "\x1b");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comes_in_the_readers_order),
        cmocka_unit_test(survives_hostile_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
