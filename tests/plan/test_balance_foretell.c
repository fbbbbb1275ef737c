/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>

/* Source: definition: where acts can be set exactly, the print comes to its aim through the curves,
 * and another grey moves by as much light: 0.08 D of green on a slope of 2.6. */
static void the_next_print_is_foretold(void **state) {
    balance_case c;
    double light[3], more[3];
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.68, 0.80, 0.72, 0.70, 0.72, 0.69);
    balance_case_grey(&c, "dark", 1.38, 1.60, 1.42, 1.40, 1.50, 1.40);
    c.request.tone = "card";
    c.request.filter_step = 0.1;
    c.request.timer_step_s = 0.001;
    balance_case_make("card", &c, &balance);
    test_close("red", balance.tone[0].predicted[0], 0.70, 0.002);
    test_close("green", balance.tone[0].predicted[1], 0.72, 0.002);
    test_close("blue", balance.tone[0].predicted[2], 0.69, 0.002);
    test_close("dark green", balance.tone[1].predicted[1], 1.60 - 0.08, 0.002);
    for (int k = 0; k < 3; k++)
        light[k] = balance.tone[1].left_cc[k] / 100.0;
    colour_paper_seen(light, more);
    test_close("left there", more[1], 1.50 - 1.52, 0.003);
    test_true("within", balance.tone[0].within && balance.tone[1].within);
    test_true("doubt", balance.tone[0].predicted_half[1] > 1.96 * 0.01);
    ww_balance_release(&balance);
    /* 50 magenta lie midway between steps of 20 CC. */
    c.request.filter_step = 20.0;
    colour_paper_moved(0.0, &(ww_pack){{0, 5, 0}}, more);
    for (int k = 0; k < 3; k++)
        c.print.row[0].cell[k].value = c.aim.row[0].cell[k].value - more[k];
    balance_case_make("coarse", &c, &balance);
    test_true("not within", !balance.tone[0].within);
    test_true("told", test_noted(&balance.notes, "As it can be set"));
    ww_balance_release(&balance);
}

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
                           balance.crossover.doubt_cc < 1.4 * 1.96 * sqrt(8.0) / 2.6);
    test_true("told", test_noted(&balance.notes, "'dark' wants 7.7 CC less yellow than 'middle'"));
    test_true("told", test_noted(&balance.notes, "no filtration cures this"));
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
        cmocka_unit_test(the_next_print_is_foretold),
        cmocka_unit_test(crossover_is_found),
        cmocka_unit_test(doubt_is_no_crossover),
        cmocka_unit_test(one_grey_has_no_crossover),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
