/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/scan_made_case.h"
#include <wedgework/scan_densities_text.h>

static char *text_of(const char *file) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_scan_densities made = scan_made_densities(file, true);
    char *text = NULL;
    test_status("text", ww_scan_densities_text(&made, &style, &text, NULL), WW_OK, NULL);
    ww_scan_densities_release(&made);
    return text;
}

/* Source: the interface's order of a text: the act, why, tables, notes; 80 columns. */
static void comes_in_the_readers_order(void **state) {
    static const char *const order[] = {"Densities written",
                                        "\nWhy: ", "\nWhat the calibration reaches", "\nNotes"};
    char *text = text_of("scan.tif");
    const char *at = text;
    (void)state;
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
    char *text = text_of(HOSTILE);
    (void)state;
    test_lacks("escape sequence", text, "\x1b");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(comes_in_the_readers_order),
                                       cmocka_unit_test(survives_hostile_names)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
