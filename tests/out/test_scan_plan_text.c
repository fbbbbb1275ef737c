/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/scan_plan_case.h"
#include <wedgework/scan_plan_text.h>

static char *text_of(const scan_plan_case *c) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_scan_plan plan;
    char *text = NULL;
    scan_plan_case_make("plan", c, &plan);
    test_status("text", ww_scan_plan_text(&plan, &style, &text, NULL), WW_OK, NULL);
    ww_scan_plan_release(&plan);
    return text;
}

/* Source: the interface's order of a text: the act, why, tables, notes; 80 columns. */
static void comes_in_the_readers_order(void **state) {
    static const char *const order[] = {"Open up ",
                                        "\nWhy: 'base' stands at 95 %",
                                        "\nExposure",
                                        "\nThe densest tone to be kept",
                                        "\nOne code, in density",
                                        "\nAll tones",
                                        "\nWhat the doubt is made of",
                                        "\nNotes"};
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.4);
    char *text = text_of(&c);
    const char *at = text;
    for (size_t i = 0; at && i < sizeof order / sizeof *order; i++) {
        at = strstr(at, order[i]);
        if (!at)
            fail_msg("'%s' is not in its place in:\n%s", order[i], text);
    }
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        test_true("80 columns", strcspn(line, "\n") <= 80);
    free(text);
}

static void survives_hostile_names(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.4);
    scan_plan_case_grey(&c, HOSTILE, WW_PART_WHOLE, 1.6);
    char *text = text_of(&c);
    test_lacks("escape sequence", text, "\x1b");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(comes_in_the_readers_order),
                                       cmocka_unit_test(survives_hostile_names)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
