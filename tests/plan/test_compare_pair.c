/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/compare_case.h"

/* Source: definitions of the header. */

static void what_is_not_one_scale(void **state) {
    (void)state;
    ww_readings a = compare_case_scale("A", WW_COLUMN_VISUAL, compare_case_gloss, 6);
    ww_readings b = compare_case_scale("B", WW_COLUMN_VISUAL, compare_case_rag, 6);
    ww_readings red = compare_case_scale("Red", WW_COLUMN_RED, compare_case_rag, 6);
    ww_comparison made = WW_COMPARISON_INIT;
    a.meta.status = WW_STATUS_A;
    b.meta.status = WW_STATUS_T;
    compare_case_refuses("statuses", &a, &b, WW_EMISMATCH, "status A and 'B' in status T");
    b.meta.status = WW_STATUS_UNKNOWN;
    compare_case_two(&a, &b, NULL, &made);
    test_true("told", test_noted(&made.notes, "does not say the status"));
    ww_comparison_release(&made);
    b.meta.density = WW_DENSITY_TRANSMISSION;
    compare_case_refuses("kinds", &a, &b, WW_EMISMATCH, "by reflection and 'B' by transmission");
    compare_case_refuses("filters", &a, &red, WW_EMISMATCH, "no density of one filter");
    ww_readings_release(&a);
    ww_readings_release(&b);
    ww_readings_release(&red);
}

static void no_tone_in_common(void **state) {
    (void)state;
    ww_readings a = WW_READINGS_INIT, b = WW_READINGS_INIT;
    made_step(&a, "cloud", WW_COLUMN_VISUAL, 0.2);
    made_step(&a, "rock", WW_COLUMN_VISUAL, 1.2);
    made_step(&b, "sky", WW_COLUMN_VISUAL, 0.3);
    made_step(&b, "sea", WW_COLUMN_VISUAL, 1.1);
    compare_case_refuses("tones", &a, &b, WW_EMISMATCH, "no tone in common");
    ww_readings_release(&a);
    ww_readings_release(&b);
}

/* The same steps by name; six against eleven on straight scales by what was sent: D = 0.1 + 2 s
 * and D = 0.1 + 1.5 s part by 0.5 s. */
static void names_or_what_was_sent(void **state) {
    (void)state;
    double six[6], eleven[11], twelve[12];
    for (size_t i = 0; i < 12; i++) {
        if (i < 6)
            six[i] = 0.1 + 0.4 * (double)i;
        if (i < 11)
            eleven[i] = 0.1 + 0.15 * (double)i;
        twelve[i] = 0.1 + 1.5 * (double)i / 11.0;
    }
    ww_readings a = compare_case_scale("A", WW_COLUMN_VISUAL, six, 6);
    ww_readings b = compare_case_scale("B", WW_COLUMN_VISUAL, eleven, 11);
    ww_readings c = compare_case_scale("C", WW_COLUMN_VISUAL, twelve, 12);
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_two(&a, &b, NULL, &made);
    test_close("all", (double)made.pair[0].n, 7, 0);
    test_close("on its tones", (double)made.pair[0].between, 0, 0);
    for (size_t i = 1; i < made.pair[0].n; i++)
        test_close("by what was sent", made.pair[0].tone[i].density[WW_VISUAL].value,
                   -0.1 * (double)(i - 1), 1e-9);
    ww_comparison_release(&made);
    compare_case_two(&a, &c, NULL, &made);
    test_close("between its tones", (double)made.pair[0].between, 4, 0);
    for (size_t i = 1; i < made.pair[0].n; i++)
        test_close("on a straight line", made.pair[0].tone[i].density[WW_VISUAL].value,
                   -0.1 * (double)(i - 1), 1e-9);
    test_true("told", test_noted(&made.notes, "4 of 7 tones of 'A' stand between two of 'C'"));
    test_true("all have a counterpart", !test_noted(&made.notes, "counterpart"));
    ww_comparison_release(&made);
    ww_readings_release(&a);
    ww_readings_release(&b);
    ww_readings_release(&c);
}

/* What only one of them has is told, not passed over. */
static void without_a_counterpart(void **state) {
    (void)state;
    ww_readings a = WW_READINGS_INIT, b = WW_READINGS_INIT;
    ww_comparison made = WW_COMPARISON_INIT;
    made_step(&a, "cloud", WW_COLUMN_VISUAL, 0.2);
    made_step(&a, "rock", WW_COLUMN_VISUAL, 1.2);
    made_step(&a, "sea", WW_COLUMN_VISUAL, 0.7);
    made_step(&b, "cloud", WW_COLUMN_VISUAL, 0.3);
    made_step(&b, "rock", WW_COLUMN_VISUAL, 1.1);
    compare_case_two(&a, &b, NULL, &made);
    test_close("pairs", (double)made.pair[0].n, 2, 0);
    test_true("told", test_noted(&made.notes, "1 of 3 tones of 'a.csv' have no counterpart"));
    ww_comparison_release(&made);
    ww_readings_release(&a);
    ww_readings_release(&b);
}

/* A doubt is 1.96 times the root of both errors' squares: repeats of sd 0.03, read four times. */
static void doubt(void **state) {
    (void)state;
    ww_readings a = compare_case_scale("A", WW_COLUMN_VISUAL, compare_case_gloss, 6);
    ww_comparison made = WW_COMPARISON_INIT;
    a.row[2].cell[WW_VISUAL].sd = (ww_optional){true, 0.03};
    a.row[2].cell[WW_VISUAL].n = 4;
    compare_case_two(&a, &a, NULL, &made);
    test_close("repeats", made.pair[0].tone[2].half[WW_VISUAL], 1.959964 * 0.015 * 1.414214, 1e-6);
    test_close("one reading", made.pair[0].tone[3].half[WW_VISUAL], 1.959964 * 0.01 * 1.414214,
               1e-6);
    ww_comparison_release(&made);
    ww_readings_release(&a);
}

/* Above white only what lies above it differs. */
static void above_white(void **state) {
    (void)state;
    double lifted[6], net[6];
    for (size_t i = 0; i < 6; i++) {
        lifted[i] = compare_case_gloss[i] + 0.04;
        net[i] = compare_case_gloss[i] - compare_case_gloss[0];
    }
    ww_readings a = compare_case_scale("A", WW_COLUMN_VISUAL, lifted, 6);
    ww_readings b = compare_case_scale("B", WW_COLUMN_VISUAL, net, 6);
    ww_comparison made = WW_COMPARISON_INIT;
    b.meta.relative = WW_RELATIVE_WHITE;
    compare_case_two(&a, &b, NULL, &made);
    test_true("above", made.pair[0].above_white);
    test_close("nothing", made.pair[0].worst.value, 0.0, 1e-12);
    test_close("black", made.pair[0].black.value, 0.0, 1e-12);
    test_true("told", test_noted(&made.notes, "above each one's own white"));
    ww_comparison_release(&made);
    ww_readings_release(&a);
    ww_readings_release(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_one_scale),
        cmocka_unit_test(no_tone_in_common),
        cmocka_unit_test(names_or_what_was_sent),
        cmocka_unit_test(doubt),
        cmocka_unit_test(above_white),
        cmocka_unit_test(without_a_counterpart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
