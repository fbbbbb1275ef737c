/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/compare_case.h"

/* Source: definition (the header's text). */

static void how_many(void **state) {
    (void)state;
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_compare_input input[WW_COMPARE_MOST + 1];
    static const struct {
        size_t n;
        ww_status status;
    } rows[] = {{0, WW_EDOMAIN}, {1, WW_EDOMAIN}, {2, WW_OK},
                {3, WW_OK},      {12, WW_OK},     {13, WW_EDOMAIN}};
    for (size_t i = 0; i < sizeof input / sizeof input[0]; i++)
        input[i] = (ww_compare_input){.readings = &gloss, .file = "gloss.csv"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_comparison made = WW_COMPARISON_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status("how many", ww_compare_make(input, rows[i].n, NULL, &made, &err),
                    rows[i].status, &err);
        test_close("prints", (double)made.n, rows[i].status == WW_OK ? (double)rows[i].n : 0, 0);
        test_true("pairs", made.n_pairs + (made.n > 0) == made.n);
        test_true("holds", made.holds);
        ww_comparison_release(&made);
        ww_comparison_release(&made);
    }
    ww_comparison_release(NULL);
    ww_readings_release(&gloss);
}

static void alike_is_no_different(void **state) {
    (void)state;
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&gloss, &gloss, NULL, &made);
    const ww_compare_pair *pair = &made.pair[0];
    test_close("worst", pair->worst.value, 0.0, 1e-12);
    test_close("mean", pair->de2000_mean, 0.0, 1e-9);
    test_true("nothing", !pair->never_white && !pair->never_black && !pair->never_hue);
    test_close("ratio", pair->gradient.value, 1.0, 1e-12);
    ww_comparison_release(&made);
    ww_readings_release(&gloss);
}

static void names(void **state) {
    (void)state;
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings unnamed = compare_case_print("", compare_case_gloss, 0.0, 1.5);
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&gloss, &unnamed, NULL, &made);
    test_text("its own", made.print[0].name, "Gloss");
    test_text("of the file", made.print[1].name, "b.csv");
    ww_comparison_release(&made);
    compare_case_two(&gloss, &gloss, NULL, &made);
    test_text("alike, by the file", made.print[0].name, "a.csv");
    test_text("alike, by the file", made.print[1].name, "b.csv");
    ww_comparison_release(&made);
    ww_readings_release(&gloss);
    ww_readings_release(&unnamed);
}

static void not_one_of_each(void **state) {
    (void)state;
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_curve curve = WW_CURVE_INIT;
    const ww_compare_input input[] = {{.readings = &gloss, .file = "gloss.csv"},
                                      {.curve = &curve, .file = "paper.json"}};
    ww_comparison made = WW_COMPARISON_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("mixed", ww_compare_make(input, 2, NULL, &made, &err), WW_EMISMATCH, &err);
    test_holds("says which", err.msg, "a curve, and the first file readings");
    ww_readings_release(&gloss);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(how_many),
        cmocka_unit_test(alike_is_no_different),
        cmocka_unit_test(names),
        cmocka_unit_test(not_one_of_each),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
