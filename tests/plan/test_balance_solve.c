/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/* Source: definition: rounding is to the nearest step, halves up; a time is one step at least. */
static void settings_are_rounded(void **state) {
    const ww_balance plan = {.filter_step = 2.5, .timer_step_s = 0.5};
    const ww_balance_setting exact = {{{61.2, 31.3, 0}}, 9.74}, short_time = {{{0, 0, 0}}, 0.1};
    ww_balance_setting set;
    (void)state;
    ww__balance_round(&plan, &exact, &set);
    test_close("yellow", set.pack.cc[0], 60.0, 1e-12);
    test_close("magenta", set.pack.cc[1], 32.5, 1e-12);
    test_close("time", set.time_s, 9.5, 1e-12);
    ww__balance_round(&plan, &short_time, &set);
    test_close("one step", set.time_s, 0.5, 1e-12);
}

/* Source: least squares by hand on equal slopes: filters rounded by +1.2Y and -1.1M change the
 * light of blue and green by -0.012 and +0.011; the time makes up for a third of the sum. */
static void time_makes_up_for_set_filters(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    c.request.from.pack = (ww_pack){{58.8, 46.1, 0}};
    c.request.timer_step_s = 0.001;
    balance_case_grey(&c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    balance_case_make("rounded", &c, &balance);
    test_close("60Y", balance.settable.pack.cc[0], 60.0, 1e-9);
    test_close("45M", balance.settable.pack.cc[1], 45.0, 1e-9);
    test_close("time", log10(balance.settable.time_s / 11.0), (0.012 - 0.011) / 3.0, 3e-5);
    test_close("left in blue", balance.tone[0].left_cc[2], 1.2 - 0.1 / 3.0, 0.01);
    ww_balance_release(&balance);
}

/* Source: by hand: two greys of one slope and error count alike, so that the mean is solved for;
 * a grey read nine times counts more: 1 / (0.0033^2 + 0.01^2) against 1 / (0.01^2 + 0.01^2). */
static void greys_are_weighed(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    const double w = 2.0 / (1.0 / 9.0 + 1.0);
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "a", 0.70, 0.80, 0.70, 0.70, 0.70, 0.70);
    balance_case_grey(&c, "b", 1.20, 1.24, 1.20, 1.20, 1.20, 1.20);
    balance_case_make("mean", &c, &balance);
    test_close("mean", balance.change.cc[1], 100.0 * 0.07 / 2.6, 1e-6);
    ww_balance_release(&balance);
    c.print.row[0].cell[WW_GREEN].n = 9;
    balance_case_make("weighed", &c, &balance);
    test_close("weighed", balance.change.cc[1], 100.0 * (w * 0.10 + 0.04) / (w + 1.0) / 2.6, 1e-4);
    ww_balance_release(&balance);
}

/* Source: by hand: a single reading and aim of 0.01 D each are 0.385 CC on a slope of 2.6; magenta
 * and time hang on two channels. Without a move nothing else is in doubt. */
static void doubt_follows_the_hand(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    const double one = 1.96 * sqrt(2.0) / 2.6;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    balance_case_make("still", &c, &balance);
    test_close("filters", balance.doubt_cc, one * sqrt(2.0), 1e-3);
    test_close("time", balance.doubt_stops, one / 30.103, 1e-4);
    test_text("readings", balance.budget[0].from, "readings");
    test_close("readings", balance.budget[0].cc, 1.96 / 2.6, 1e-3);
    test_close("filters and time", balance.budget[2].cc, 0.0, 1e-9);
    ww_balance_release(&balance);
    c.request.repeatability = (ww_optional){true, 0.02};
    balance_case_make("repeatability", &c, &balance);
    test_close("with it", balance.doubt_cc, 1.96 * sqrt(2.0) * sqrt(2 * 1e-4 + 4e-4) * 100 / 2.6,
               1e-3);
    test_close("parts", (double)balance.n_budget, 7.0, 0.0);
    ww_balance_release(&balance);
}

/* Source: interface: a nominal wedge is off by 0.01 at its thin and 0.10 at its dense end, 95 %; by
 * hand: the straight paper runs over 0.5 + 2.2 / 2.6 log H, and 0.26 D are 0.1 of it. A certified
 * one is off by 0.01 at a step: by root 2 of that, for places two thirds of a step apart. */
static void the_wedge_is_in_the_doubt(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.96, 0.96, 0.96, 0.7, 0.7, 0.7);
    c.paper.exposure = WW_EXPOSURE_WEDGE;
    balance_case_make("nominal", &c, &balance);
    test_text("wedge", balance.budget[4].from, "wedge");
    test_close("nominal", balance.budget[4].cc, 100 * 0.09 * 0.1 / (0.5 + 2.2 / 2.6), 1e-6);
    ww_balance_release(&balance);
    c.paper.meta.wedge = WW_WEDGE_CERTIFIED;
    balance_case_make("certified", &c, &balance);
    test_close("certified", balance.budget[4].cc, 100 * 0.01 * sqrt(2.0) * 0.1 / 0.15, 1e-6);
    ww_balance_release(&balance);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(settings_are_rounded),
        cmocka_unit_test(time_makes_up_for_set_filters),
        cmocka_unit_test(greys_are_weighed),
        cmocka_unit_test(doubt_follows_the_hand),
        cmocka_unit_test(the_wedge_is_in_the_doubt),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
