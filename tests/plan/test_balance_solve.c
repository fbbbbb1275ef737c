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

/* What a setting leaves of a change that is none [log H], layers counting alike, with the best
 * time: the usual filters' table, by hand. */
static double left_by(double yellow, double magenta, double *log_time) {
    const double light[] = {-0.05 * magenta, -0.08 * yellow - 0.75 * magenta,
                            -0.75 * yellow - 0.20 * magenta};
    const double mean = (light[0] + light[1] + light[2]) / 3.0;
    *log_time = -mean / 100.0;
    return pow(light[0] - mean, 2) + pow(light[1] - mean, 2) + pow(light[2] - mean, 2);
}

/* Source: definition, and least squares by hand: of all packs on steps of 2.5 CC the nearest is
 * set, which is not each filter rounded by itself; the time makes up for what that leaves. */
static void the_nearest_pack_is_set(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    double least = HUGE_VAL, best[2] = {0.0}, best_time = 0.0, log_time;
    (void)state;
    for (double y = 50.0; y <= 70.0; y += 2.5)
        for (double m = 35.0; m <= 55.0; m += 2.5) {
            const double left = left_by(y - 58.8, m - 46.1, &log_time);
            if (left < least)
                least = left, best[0] = y, best[1] = m, best_time = log_time;
        }
    balance_case_start(&c);
    c.request.from.pack = (ww_pack){{58.8, 46.1, 0}};
    c.request.timer_step_s = 0.001;
    balance_case_grey(&c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    balance_case_make("set", &c, &balance);
    test_close("yellow", balance.settable.pack.cc[0], best[0], 1e-9);
    test_close("magenta", balance.settable.pack.cc[1], best[1], 1e-9);
    test_close("not 60Y", balance.settable.pack.cc[0], 57.5, 1e-9);
    test_close("time", log10(balance.settable.time_s / 11.0), best_time, 3e-5);
    ww_balance_release(&balance);
}

/*
 * Source: Army correspondence course SS0514: 46Y+38M+12C are 34Y+26M; the 12 CC held back 10^0.12
 * of the light: 11 s become 8.34. A print 0.01 D off (0.4 CC on a slope of 2.6) is right, one
 * 0.10 D off (3.8 CC) is not.
 */
static void a_right_print_keeps_three_filters(void **state) {
    static const struct {
        const char *name;
        double off, scale;
        bool kept;
        const char *words;
    } rows[] = {
        {"right", 0.01, 1.0, true, "The same in two filters, if you want them: 34Y26M, 8.3 s."},
        {"dial", 0.01, 2.0, true, "34Y26M, 9.6 s."}, /* 6 CC of it */
        {"off", 0.10, 1.0, false, "in two filters"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        balance_case c;
        ww_balance balance = WW_BALANCE_INIT;
        balance_case_start(&c);
        c.request.from.pack = (ww_pack){{46, 38, 12}};
        c.request.head_scale = rows[i].scale;
        balance_case_grey(&c, "card", 0.70 + rows[i].off, 0.70, 0.70, 0.70, 0.70, 0.70);
        balance_case_make(rows[i].name, &c, &balance);
        test_true(rows[i].name, balance.left_alone == rows[i].kept);
        test_true(rows[i].name, test_noted(&balance.notes, rows[i].words) == rows[i].kept);
        test_true(rows[i].name, (balance.exact.pack.cc[WW_CYAN] > 0.0) == rows[i].kept);
        for (int f = 0; f < WW_FILTER_COUNT && rows[i].kept; f++)
            test_close(rows[i].name, balance.settable.pack.cc[f], c.request.from.pack.cc[f], 0.0);
        if (rows[i].kept)
            test_close(rows[i].name, balance.tone[0].predicted[0], 0.71, 1e-6);
        ww_balance_release(&balance);
        balance_case_end(&c);
    }
}

static void add_magenta(balance_case *c, const char *tone, double density, double magenta) {
    double by[3];
    colour_paper_moved(0.0, &(ww_pack){{0, magenta, 0}}, by);
    balance_case_grey(c, tone, density - by[0], density - by[1], density - by[2], density, density,
                      density);
}

/* Source: by hand: two greys of one slope and error count alike, so that the mean is solved for;
 * a grey read nine times counts more: 1 / (0.0033^2 + 0.01^2) against 1 / (0.01^2 + 0.01^2). */
static void greys_are_weighed(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    const double w = 2.0 / (1.0 / 9.0 + 1.0);
    (void)state;
    balance_case_start(&c);
    add_magenta(&c, "a", 0.70, 4.0);
    add_magenta(&c, "b", 1.20, 1.6);
    balance_case_make("mean", &c, &balance);
    test_close("mean", balance.change.cc[1], 2.8, 1e-5);
    ww_balance_release(&balance);
    for (int k = 0; k < 3; k++)
        c.print.row[0].cell[k].n = 9;
    balance_case_make("weighed", &c, &balance);
    test_close("weighed", balance.change.cc[1], (w * 4.0 + 1.6) / (w + 1.0), 1e-4);
    ww_balance_release(&balance);
}

/* How far the exact magenta moves where each of the six readings is off by its error, 0.01 D. */
static double magenta_sd(balance_case *c) {
    double sum = 0.0;
    for (int k = 0; k < 6; k++) {
        double *const value = &(k < 3 ? &c->print : &c->aim)->row[0].cell[k % 3].value;
        ww_balance balance = WW_BALANCE_INIT;
        *value += 0.01;
        balance_case_make("off", c, &balance);
        *value -= 0.01;
        sum = hypot(sum, balance.change.cc[1]);
        ww_balance_release(&balance);
    }
    return sum;
}

/* Source: propagation of errors by trying each. Without a move nothing else is in doubt. */
static void doubt_follows_the_readings(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    double sd;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.7, 0.7, 0.7, 0.7, 0.7, 0.7);
    sd = magenta_sd(&c);
    balance_case_make("still", &c, &balance);
    print_message("doubt %.3f, by trying %.3f CC\n", balance.doubt_cc, 1.96 * sd);
    test_close("filters", balance.doubt_cc / (1.96 * sd), 1.0, 0.15);
    test_text("readings", balance.budget[0].from, "readings");
    test_text("filters and time", balance.budget[2].from, "filters and time");
    test_close("filters and time", balance.budget[2].cc, 0.0, 1e-9);
    sd = balance.doubt_cc;
    ww_balance_release(&balance);
    c.request.repeatability = (ww_optional){true, 0.02};
    balance_case_make("repeatability", &c, &balance);
    test_true("with it", balance.doubt_cc > 1.4 * sd);
    test_close("parts", (double)balance.n_budget, 7.0, 0.0);
    ww_balance_release(&balance);
}

/* Source: definition: what a doubt is made of adds up to it by squares. */
static void parts_make_the_doubt(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    double sum = 0.0;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.96, 0.80, 0.51, 0.7, 0.7, 0.7);
    c.paper.exposure = WW_EXPOSURE_WEDGE;
    c.request.repeatability = (ww_optional){true, 0.02};
    c.request.head_scale = 2.0;
    balance_case_make("parts", &c, &balance);
    for (size_t i = 0; i < balance.n_budget; i++)
        sum = hypot(sum, balance.budget[i].cc);
    test_close("whole", sum, balance.doubt_cc, 1e-9);
    ww_balance_release(&balance);
}

/* Source: interface: a nominal wedge is off by 0.01 at its thin and 0.10 at its dense end, 95 %; by
 * hand: the straight paper runs over 0.5 + 2.2 / 2.6 log H, and 0.26 D are 0.1 of it. A certified
 * one is off by 0.01 at a step: by root 2 of that, for places two thirds of a step apart. */
static void the_wedge_is_in_the_doubt(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    double nominal;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.96, 0.96, 0.96, 0.7, 0.7, 0.7);
    c.paper.exposure = WW_EXPOSURE_WEDGE;
    balance_case_make("nominal", &c, &balance);
    test_text("wedge", balance.budget[4].from, "wedge");
    nominal = balance.budget[4].cc;
    ww_balance_release(&balance);
    c.paper.meta.wedge = WW_WEDGE_CERTIFIED;
    balance_case_make("certified", &c, &balance);
    test_close("certified", balance.budget[4].cc / nominal,
               (0.01 * sqrt(2.0) * 0.1 / 0.15) / (0.09 * 0.1 / (0.5 + 2.2 / 2.6)), 1e-6);
    ww_balance_release(&balance);
}

/* By hand: of three readings in blue one is 0.70 D off, so that their mean errs by 0.70 / 3 =
 * 0.23 D, one standard deviation: 0.09 log H on a slope of 2.6, through 0.75 of yellow +-23 CC,
 * where it wants some 7. Without the slip all is known to 0.01 D, +-1 CC, and yellow wants 5. */
static void a_slip_leaves_filters_untold(void **state) {
    static const double read[3][3] = {{0.80, 0.72, 0.80}, {0.81, 0.70, 0.79}, {0.80, 0.71, 0.80}};
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    for (int slip = 0; slip < 2; slip++) {
        balance_case c;
        balance_case_start(&c);
        for (int i = 0; i < 3; i++) {
            ww_row *row = colour_readings_add(&c.print, "card", read[i], 1);
            if (slip && i == 2)
                row->cell[WW_BLUE].value -= 0.70;
        }
        colour_readings_add(&c.aim, "card", (const double[]){0.70, 0.70, 0.70}, 100);
        balance_case_make("slip", &c, &balance);
        test_true(slip ? "slip" : "good", balance.untold == (slip == 1));
        if (slip)
            test_true("its colour", balance.least_sure == WW_BLUE);
        ww_balance_release(&balance);
        balance_case_end(&c);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(settings_are_rounded),
        cmocka_unit_test(a_right_print_keeps_three_filters),
        cmocka_unit_test(the_nearest_pack_is_set),
        cmocka_unit_test(greys_are_weighed),
        cmocka_unit_test(doubt_follows_the_readings),
        cmocka_unit_test(the_wedge_is_in_the_doubt),
        cmocka_unit_test(parts_make_the_doubt),
        cmocka_unit_test(a_slip_leaves_filters_untold),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
