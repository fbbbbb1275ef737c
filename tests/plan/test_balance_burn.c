/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>

static void start(balance_case *c) {
    balance_case_start(c);
    c->request.burn = "sky";
    c->request.filter_step = 0.1;
    c->request.timer_step_s = 0.001;
    balance_case_grey(c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
}

/* Source: by hand: light adds up. A sky that is to come from 0.30 to 0.30 + 2.6 log10 2 in all
 * channels alike needs as much light again, through the same pack: the base time once more,
 * 1 stop. */
static void an_even_burn_takes_the_same_pack(void **state) {
    const double aim = 0.30 + 2.6 * log10(2.0);
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    start(&c);
    balance_case_grey(&c, "sky", 0.30, 0.30, 0.30, aim, aim, aim);
    balance_case_sure(&c);
    balance_case_make("even", &c, &balance);
    test_true("possible", balance.burn.set && balance.burn.possible && balance.holds);
    test_close("yellow", balance.burn.exact.pack.cc[0], 60.0, 1e-6);
    test_close("magenta", balance.burn.exact.pack.cc[1], 45.0, 1e-6);
    test_close("time", balance.burn.exact.time_s, 11.0, 1e-6);
    test_close("a stop", balance.burn.stops, 1.0, 1e-9);
    test_close("comes to its aim", balance.tone[1].predicted[1], aim, 0.003);
    test_true("within", balance.tone[1].within);
    test_close("the card is untouched", balance.change.cc[1], 0.0, 1e-9);
    /* By hand: of a sky as sure as the card, half the light is the burn's, so that it takes up
     * 1 + 1 / 1 times its error; in density the two are alike. */
    test_true("in doubt", balance.burn.doubt.known);
    test_close("twice the pack's", balance.burn.doubt.filter, 2.0 * balance.doubt_cc, 1e-3);
    test_close("twice the time's", balance.burn.doubt.stops, 2.0 * balance.doubt_stops, 1e-5);
    test_close("of density", balance.tone[1].predicted_half[1], balance.tone[0].predicted_half[1],
               1e-4);
    test_true("sky has no say, and no crossover",
              !balance.tone[1].solved && !balance.crossover.known);
    ww_balance_release(&balance);
}

/* Source: by hand: through 15 magenta less the burn gives 10^0.0075, 10^0.1125 and 10^0.030 of the
 * base exposure's light, which all add to it; dyes' shares as in colour_paper.c. */
static void an_uneven_burn_gets_its_own_pack(void **state) {
    const double light[] = {log10(1.0 + pow(10.0, 0.0075)), log10(1.0 + pow(10.0, 0.1125)),
                            log10(1.0 + pow(10.0, 0.030))};
    double more[3];
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    start(&c);
    colour_paper_seen(light, more);
    balance_case_grey(&c, "sky", 0.30, 0.30, 0.30, 0.30 + more[0], 0.30 + more[1], 0.30 + more[2]);
    balance_case_make("uneven", &c, &balance);
    test_close("magenta", balance.burn.exact.pack.cc[1], 30.0, 1e-3);
    test_close("yellow", balance.burn.exact.pack.cc[0], 60.0, 1e-6);
    test_close("time", balance.burn.exact.time_s, 11.0, 1e-6);
    test_close("neutral", balance.tone[1].predicted[1], 0.30 + more[1], 0.003);
    ww_balance_release(&balance);
}

static void what_has_enough_light_is_not_burnt(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    start(&c);
    balance_case_grey(&c, "sky", 0.50, 0.50, 0.50, 0.60, 0.49, 0.60);
    balance_case_make("enough", &c, &balance);
    test_true("not possible", balance.burn.set && !balance.burn.possible && !balance.holds);
    test_true("told", test_noted(&balance.notes, "'sky' cannot be brought to its aim by burning"));
    ww_balance_release(&balance);
}

static void refuses_a_burn_of_nothing(void **state) {
    balance_case c;
    (void)state;
    start(&c);
    balance_case_refused("no sky", &c, WW_ENODATA, "--burn: 'sky' is no grey");
    c.request.burn = "card";
    balance_case_refused("only that", &c, WW_ENODATA, "only the burnt tone was read");
}

/* Source: definition: a sky at paper white says nothing of its light; the card's pack and time are
 * what they are without it. */
static void a_white_sky_leaves_the_card_its_plan(void **state) {
    balance_case c;
    ww_balance with = WW_BALANCE_INIT, without = WW_BALANCE_INIT;
    (void)state;
    start(&c);
    c.print.row[0].cell[WW_GREEN].value = 0.90;
    c.request.burn = NULL;
    balance_case_make("card alone", &c, &without);
    c.request.burn = "sky";
    balance_case_grey(&c, "sky", 0.09, 0.09, 0.09, 0.30, 0.30, 0.30);
    balance_case_make("white sky", &c, &with);
    test_close("magenta", with.exact.pack.cc[1], without.exact.pack.cc[1], 1e-9);
    test_close("time", with.exact.time_s, without.exact.time_s, 1e-9);
    test_true("no burn", with.burn.set && !with.burn.possible && !with.holds && with.n_tones == 1);
    test_true("told", test_noted(&with.notes, "'sky' was left out, and no burn is given for it: "
                                              "no slope at red 0.09"));
    ww_balance_release(&with);
    ww_balance_release(&without);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_even_burn_takes_the_same_pack),
        cmocka_unit_test(an_uneven_burn_gets_its_own_pack),
        cmocka_unit_test(what_has_enough_light_is_not_burnt),
        cmocka_unit_test(refuses_a_burn_of_nothing),
        cmocka_unit_test(a_white_sky_leaves_the_card_its_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
