/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/scan_case.h"
#include <wedgework/scanner_text.h>

/* Source: the interface's order of a text: the act, why, tables, notes; 80 columns. */
static void comes_in_the_readers_order(void **state) {
    static const char *const order[] = {"This scanner sees to density",
                                        "\n21 steps of a nominal",
                                        "\nWhat it sees",
                                        "\nNoise of one pixel",
                                        "\nNotes",
                                        "  - Invented.\n"};
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    struct scanner_case made;
    char *text = NULL;
    const char *at;
    (void)state;
    scan_case_scanner(&made, true);
    assert_int_equal(ww_notes_add(&made.scanner.notes, NULL, "Invented."), WW_OK);
    test_status("scanner", ww_scanner_text(&made.scanner, &style, &text, NULL), WW_OK, NULL);
    at = text;
    for (size_t i = 0; at && i < sizeof order / sizeof *order; i++) {
        at = strstr(at, order[i]);
        if (!at)
            fail_msg("'%s' is not in its place in:\n%s", order[i], text);
    }
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        test_true("80 columns", strcspn(line, "\n") <= 80);
    free(text);
    ww_notes_release(&made.scanner.notes);
}

static void survives_hostile_names(void **state) {
    static char hostile[] = HOSTILE;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    struct scanner_case made;
    char *text = NULL;
    (void)state;
    scan_case_scanner(&made, false);
    made.step[0][0].step = made.scanner.name = hostile;
    test_status("hostile", ww_scanner_text(&made.scanner, &style, &text, NULL), WW_OK, NULL);
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
