/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>

/* A grey whose layers got that much more light than the aim's. */
static void add_off(balance_case *c, const char *tone, double density, double red, double blue) {
    double by[3];
    colour_paper_seen((const double[]){red, 0.0, blue}, by);
    balance_case_grey(c, tone, density + by[0], density + by[1], density + by[2], density, density,
                      density);
}

/* Source: by hand: against the middle grey the light one has 3.8 CC of red light too much, the dark
 * one 7.7 CC of blue too little. */
static void crossover_is_found(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    add_off(&c, "light", 0.30, 0.038, 0.0);
    balance_case_grey(&c, "middle", 0.75, 0.75, 0.75, 0.75, 0.75, 0.75);
    balance_case_make("little", &c, &balance);
    test_true("known, not found", balance.crossover.known && !balance.crossover.found);
    test_close("worst", balance.crossover.worst_cc, -3.8, 1e-5);
    test_true("holds", balance.holds);
    ww_balance_release(&balance);
    add_off(&c, "dark", 1.60, 0.0, -0.077);
    balance_case_make("much", &c, &balance);
    test_true("found", balance.crossover.found && !balance.holds);
    test_close("worst", balance.crossover.worst_cc, 7.7, 1e-5);
    test_text("where", balance.tone[balance.crossover.tone].tone, "dark");
    test_text("zero", balance.tone[balance.crossover.middle].tone, "middle");
    test_true("blue", balance.crossover.channel == WW_BLUE);
    /* eight readings of 0.01 D, and what the dyes have of one another's channels */
    test_true("doubt", balance.crossover.doubt_cc > 1.96 * sqrt(8.0) / 2.6 &&
                           balance.crossover.doubt_cc < 2.2 * 1.96 * sqrt(8.0) / 2.6);
    test_true("told", test_noted(&balance.notes, "'dark' wants 7.7 CC less yellow than 'middle'"));
    test_true("told", test_noted(&balance.notes, "no filtration cures this"));
    test_true("the middle rules", balance.tone[1].solved && !balance.tone[2].solved);
    test_close("middle stays", balance.tone[1].left_cc[2], 0.0, 1.5);
    ww_balance_release(&balance);
    c.request.tone = "dark";
    balance_case_make("one of them", &c, &balance);
    test_true("still found", balance.crossover.found);
    test_close("that one is neutral", balance.tone[2].left_cc[2], 0.0, 1.5);
    ww_balance_release(&balance);
}

/* What doubt allows for is no crossover. */
static void doubt_is_no_crossover(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "light", 0.46, 0.30, 0.30, 0.30, 0.30, 0.30);
    balance_case_grey(&c, "middle", 0.75, 0.75, 0.75, 0.75, 0.75, 0.75);
    balance_case_make("sure", &c, &balance);
    test_true("6.2 CC is found", balance.crossover.found);
    ww_balance_release(&balance);
    for (int k = 0; k < 3; k++)
        c.print.row[0].cell[k].sd = (ww_optional){true, 0.10};
    balance_case_make("unsure", &c, &balance);
    test_true("not found", !balance.crossover.found && balance.holds);
    ww_balance_release(&balance);
}

/* Source: by hand: the light grey has 3.5 CC of red light too much and 3.5 of blue too little: each
 * is within 5 CC of green, but its pack wants 7 of yellow against red. */
static void red_against_blue_is_found(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    add_off(&c, "light", 0.45, 0.035, -0.035);
    add_off(&c, "dark", 1.60, 0.0, 0.0);
    balance_case_sure(&c);
    balance_case_make("apart", &c, &balance);
    test_close("against green", fabs(balance.crossover.worst_cc), 3.5, 1e-5);
    test_true("found", balance.crossover.found && !balance.holds);
    ww_balance_release(&balance);
}

/* Source: by hand: of two greys, four readings of 0.01 D each on a slope of 2.6; 3 comparisons at
 * 1 of 100 take 2.935 errors (tables of the normal law), and 1.645 more to be told in 95 of 100. */
static void what_would_be_told_is_said(void **state) {
    const double error = 100.0 * 0.01 * sqrt(8.0) / 2.6;
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "light", 0.45, 0.45, 0.45, 0.45, 0.45, 0.45);
    balance_case_grey(&c, "dark", 1.60, 1.60, 1.60, 1.60, 1.60, 1.60);
    balance_case_make("even", &c, &balance);
    test_true("none", !balance.crossover.found);
    /* dyes have parts in other channels */
    test_close("told", balance.crossover.would_tell_cc / (fmax(5.0, 2.935 * error) + 1.645 * error),
               1.1, 0.1);
    test_true("said", test_noted(&balance.notes, "No crossover was found; these readings would "
                                                 "tell one of 8 CC"));
    ww_balance_release(&balance);
    balance_case_sure(&c);
    balance_case_make("averages", &c, &balance);
    test_true("but nothing below 5 CC",
              balance.crossover.would_tell_cc > 5.0 && balance.crossover.would_tell_cc < 6.0);
    ww_balance_release(&balance);
}

static void one_grey_has_no_crossover(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.7, 0.9, 0.7, 0.7, 0.7, 0.7);
    balance_case_make("one", &c, &balance);
    test_true("not known", !balance.crossover.known);
    ww_balance_release(&balance);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(crossover_is_found),        cmocka_unit_test(doubt_is_no_crossover),
        cmocka_unit_test(red_against_blue_is_found), cmocka_unit_test(what_would_be_told_is_said),
        cmocka_unit_test(one_grey_has_no_crossover),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
