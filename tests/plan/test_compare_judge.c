/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/compare_case.h"

/* Source: differences of the case by hand. */

static void regions_and_reach(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_usual(false, &made);
    const ww_compare_pair *pair = &made.pair[0];
    /* above 0.05: base, 0, 0.20 | 0.53, 1.00 | 1.60, 2.10 */
    test_close("light", (double)pair->region[WW_REGION_LIGHT].n, 3, 0);
    test_close("middle", (double)pair->region[WW_REGION_MIDDLE].n, 2, 0);
    test_close("dark", (double)pair->region[WW_REGION_DARK].n, 2, 0);
    test_close("mean, light", pair->region[WW_REGION_LIGHT].mean, 0.05, 1e-12);
    test_close("worst, middle", pair->region[WW_REGION_MIDDLE].worst.value, 0.06, 1e-12);
    test_close("worst, dark", pair->region[WW_REGION_DARK].worst.value, -0.55, 1e-12);
    test_close("mean, dark", pair->region[WW_REGION_DARK].mean, -0.40, 1e-12);
    test_close("worst", pair->worst.value, -0.55, 1e-12);
    /* 1.65 is 0.05 beyond a black of 1.60 that is known to 0.028 */
    test_close("that it can print", pair->reached.value, 0.06, 1e-12);
    test_true("1.65 is out of reach", !pair->tone[5].reached);
    test_close("white", pair->white.value, 0.05, 1e-12);
    test_close("range", pair->range.value, -0.60, 1e-12);
    test_true("no limits", pair->within == WW_COMPARE_NOT_ASKED && made.holds);
    ww_comparison_release(&made);
}

static void what_no_curve_takes_away(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_usual(false, &made);
    const ww_compare_pair *pair = &made.pair[0];
    test_true("a darker white, a lighter black, another hue",
              pair->never_white && pair->never_black && pair->never_hue && !pair->never_drift);
    test_close("from its black on", pair->black_from, 1.60, 1e-12);
    test_close("b*", pair->white_b, 3.5, 1e-12);
    test_close("a*", pair->white_a, 0.5, 1e-12);
    ww_comparison_release(&made);
    /* The other way round white and black are in reach; the hue is not. */
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings rag = compare_case_print("Rag", compare_case_rag, 0.5, 5.0);
    compare_case_two(&rag, &gloss, NULL, &made);
    test_true("a lighter white and a deeper black",
              !made.pair[0].never_white && !made.pair[0].never_black && made.pair[0].never_hue);
    ww_comparison_release(&made);
    ww_readings_release(&gloss);
    ww_readings_release(&rag);
}

/* Of the rag three greys were read, down to 40 % of what can be sent: its black is not known. */
static void a_black_not_read(void **state) {
    (void)state;
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings rag = compare_case_print("Rag", compare_case_rag, 0.5, 5.0);
    ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
    ww_comparison made = WW_COMPARISON_INIT;
    limits.most[WW_LIMIT_BLACK] = (ww_optional){true, 0.05};
    for (size_t i = 4; i < rag.n; i++)
        rag.row[i].cell[WW_COLUMN_VISUAL].state = WW_CELL_MISSING;
    compare_case_two(&gloss, &rag, &limits, &made);
    const ww_compare_pair *pair = &made.pair[0];
    test_true("not lighter", !pair->never_black && !ww_quantity_present(pair->black));
    test_true("breaks no limit", pair->check[WW_LIMIT_BLACK].verdict == WW_COMPARE_UNKNOWN);
    test_true("told", test_noted(&made.notes, "The black of 'Rag' was not read"));
    test_true("its white was", pair->never_white);
    ww_comparison_release(&made);
    compare_case_two(&rag, &gloss, &limits, &made);
    test_true("nor of the first", !ww_quantity_present(made.pair[0].black));
    ww_comparison_release(&made);
    ww_readings_release(&gloss);
    ww_readings_release(&rag);
}

/* Tones of a picture: neither the sky is bare paper nor the coat the black that it can print, but
 * their differences can be agreed on. */
static void tones_by_name(void **state) {
    (void)state;
    static const double densities[2][3] = {{0.10, 0.50, 2.00}, {0.16, 0.50, 1.60}};
    ww_readings print[2] = {WW_READINGS_INIT, WW_READINGS_INIT};
    ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
    ww_comparison made = WW_COMPARISON_INIT;
    limits.most[WW_LIMIT_WHITE] = (ww_optional){true, 0.01};
    for (size_t p = 0; p < 2; p++)
        for (size_t i = 0; i < 3; i++)
            made_step(&print[p], (const char *[]){"sky", "wall", "coat"}[i], WW_COLUMN_VISUAL,
                      densities[p][i]);
    compare_case_two(&print[0], &print[1], &limits, &made);
    const ww_compare_pair *pair = &made.pair[0];
    test_true("no ends", !pair->never_white && !pair->never_black);
    for (size_t i = 0; i < pair->n; i++)
        test_true("all in reach", pair->tone[i].reached);
    test_close("the worst", pair->reached.value, -0.40, 1e-12);
    test_true("beyond", pair->check[WW_LIMIT_WHITE].verdict == WW_COMPARE_BEYOND);
    test_true("told", test_noted(&made.notes, "though its paper may be lighter"));
    ww_comparison_release(&made);
    for (size_t p = 0; p < 2; p++)
        ww_readings_release(&print[p]);
}

static void what_was_agreed(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_usual(true, &made);
    const ww_compare_check *check = made.pair[0].check;
    test_true("light", check[WW_LIMIT_LIGHT].verdict == WW_COMPARE_WITHIN &&
                           !check[WW_LIMIT_LIGHT].doubtful);
    test_true("black", check[WW_LIMIT_BLACK].verdict == WW_COMPARE_BEYOND);
    test_close("by how much", check[WW_LIMIT_BLACK].value, -0.55, 1e-12);
    test_true("hue", check[WW_LIMIT_NEUTRAL_AB].verdict == WW_COMPARE_BEYOND);
    test_close("its size", check[WW_LIMIT_NEUTRAL_AB].value, 3.5, 1e-12);
    test_true("drift", check[WW_LIMIT_DRIFT].verdict == WW_COMPARE_UNKNOWN);
    test_true("told", test_noted(&made.notes, "The limit drift cannot be judged"));
    test_true("not asked", check[WW_LIMIT_WHITE].verdict == WW_COMPARE_NOT_ASKED);
    test_true("beyond", made.pair[0].within == WW_COMPARE_BEYOND && !made.holds);
    /* Light 0.05 darker throughout; of the dark tones none can be printed. */
    test_close("offset", made.pair[0].offset[WW_REGION_LIGHT].value, -0.05, 1e-12);
    test_true("none", !made.pair[0].offset[WW_REGION_DARK].set);
    ww_comparison_release(&made);
}

/* Whites alike, a grey of the second 3.3 redder: as much drift, 3 sd of four readings of 0.2. */
static void greys_that_turn(void **state) {
    (void)state;
    ww_readings a = compare_case_print("A", compare_case_gloss, 0.5, 1.5);
    ww_readings b = compare_case_print("B", compare_case_gloss, 0.5, 1.5);
    ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
    ww_comparison made = WW_COMPARISON_INIT;
    limits.most[WW_LIMIT_DRIFT] = (ww_optional){true, 0.03};
    b.row[4].cell[WW_COLUMN_LAB_A].value += 3.3;
    compare_case_two(&a, &b, &limits, &made);
    const ww_compare_pair *pair = &made.pair[0];
    test_close("a*", pair->drift[WW_COMPARE_A].value, 3.3, 1e-9);
    test_close("at", (double)pair->drift[WW_COMPARE_A].at, 4.0, 0.0);
    test_close("doubt", pair->drift[WW_COMPARE_A].half, 1.2, 1e-9);
    test_close("b*", pair->drift[WW_COMPARE_B].value, 0.0, 1e-9);
    test_true("no one curve", pair->never_drift && !pair->never_hue);
    test_true("in D nothing was read", pair->check[WW_LIMIT_DRIFT].verdict == WW_COMPARE_UNKNOWN);
    test_true("what tells it", test_noted(&made.notes, "of L*, a*, b* the limit neutral_ab tells"));
    ww_comparison_release(&made);
    ww_readings_release(&a);
    ww_readings_release(&b);
}

/* 0.04 D with a doubt of 0.028: a limit of 0.04 is kept, one of 0.039 is not, both in doubt. */
static void at_the_limit(void **state) {
    (void)state;
    static const struct {
        double most;
        ww_compare_verdict verdict;
        bool doubtful;
    } rows[] = {{0.04, WW_COMPARE_WITHIN, true},
                {0.039, WW_COMPARE_BEYOND, true},
                {0.08, WW_COMPARE_WITHIN, false},
                {0.01, WW_COMPARE_BEYOND, false}};
    double lifted[6];
    for (size_t i = 0; i < 6; i++)
        lifted[i] = compare_case_gloss[i] + 0.04;
    ww_readings a = compare_case_scale("A", WW_COLUMN_VISUAL, compare_case_gloss, 6);
    ww_readings b = compare_case_scale("B", WW_COLUMN_VISUAL, lifted, 6);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
        ww_comparison made = WW_COMPARISON_INIT;
        limits.most[WW_LIMIT_WHITE] = (ww_optional){true, rows[i].most};
        compare_case_two(&a, &b, &limits, &made);
        test_true("verdict", made.pair[0].check[WW_LIMIT_WHITE].verdict == rows[i].verdict);
        test_true("doubt", made.pair[0].check[WW_LIMIT_WHITE].doubtful == rows[i].doubtful);
        test_true("holds", made.holds == (rows[i].verdict == WW_COMPARE_WITHIN));
        ww_comparison_release(&made);
    }
    ww_readings_release(&a);
    ww_readings_release(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(regions_and_reach), cmocka_unit_test(a_black_not_read),
        cmocka_unit_test(tones_by_name),     cmocka_unit_test(what_no_curve_takes_away),
        cmocka_unit_test(what_was_agreed),   cmocka_unit_test(at_the_limit),
        cmocka_unit_test(greys_that_turn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
