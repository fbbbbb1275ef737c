/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/compare_case.h"
#include <wedgework/compare_text.h>

static void begins_with_the_act(void **state) {
    (void)state;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_comparison made = WW_COMPARISON_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    compare_case_usual(false, &made);
    test_status("text", ww_compare_text(&made, &style, &text, &err), WW_OK, &err);
    test_true("act first", strncmp(text, "'Rag' against 'Gloss': black 0.55 D lighter", 43) == 0);
    test_holds("why", text, "\nWhy: 'Gloss' runs");
    free(text);
    ww_comparison_release(&made);
}

static void hostile_names_are_only_text(void **state) {
    (void)state;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_readings print = compare_case_print(HOSTILE, compare_case_gloss, 0.0, 1.5);
    ww_comparison made = WW_COMPARISON_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    compare_case_two(&print, &print, NULL, &made);
    test_status("text", ww_compare_text(&made, &style, &text, &err), WW_OK, &err);
    test_lacks("escape", text, "\x1b");
    free(text);
    ww_comparison_release(&made);
    ww_readings_release(&print);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(begins_with_the_act),
                                       cmocka_unit_test(hostile_names_are_only_text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
