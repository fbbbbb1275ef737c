/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A print that 1.018 times the time, +4.6M and +1.5Y bring to 0.70: by hand, backwards. (The
 * trade's example for ideal filters is in test_response_solve.c.) */
static void add_example(balance_case *c) {
    double by[3];
    colour_paper_moved(0.02 / 2.6, &(ww_pack){{20 / 13.0, 60 / 13.0, 0}}, by);
    balance_case_grey(c, "card", 0.70 - by[0], 0.70 - by[1], 0.70 - by[2], 0.70, 0.70, 0.70);
}

static void worked_example(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    add_example(&c);
    balance_case_make("example", &c, &balance);
    test_close("time", balance.exact.time_s / 11.0, pow(10.0, 0.02 / 2.6), 1e-6);
    test_close("magenta", balance.change.cc[WW_MAGENTA], 4.615, 1e-3);
    test_close("yellow", balance.change.cc[WW_YELLOW], 1.538, 1e-3);
    test_close("cyan", balance.exact.pack.cc[WW_CYAN], 0.0, 0.0);
    test_close("set magenta", balance.settable.pack.cc[WW_MAGENTA], 50.0, 1e-9);
    test_close("set yellow", balance.settable.pack.cc[WW_YELLOW], 62.5, 1e-9);
    test_true("holds", balance.holds && !balance.tone[0].within);
    ww_balance_release(&balance);
    balance_case_end(&c);
}

/* Source: definition: a grey 0.26 D too dark on a slope of 2.6 wants 0.1 log H less, and three
 * filters become two: Army SS0514, 46Y + 38M + 12C are 34Y + 26M, and 12 CC of grey are 10^0.12 of
 * the light. */
static void neutral_density_is_taken_out(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "", 0.96, 0.96, 0.96, 0.70, 0.70, 0.70);
    c.request.from.pack = (ww_pack){{46, 38, 12}};
    balance_case_make("three filters", &c, &balance);
    test_close("34Y", balance.exact.pack.cc[WW_YELLOW], 34.0, 1e-9);
    test_close("26M", balance.exact.pack.cc[WW_MAGENTA], 26.0, 1e-9);
    test_close("time", balance.exact.time_s, 11.0 * pow(10.0, -0.22), 1e-9);
    ww_balance_release(&balance);
    balance_case_end(&c);
}

/* Source: definition: dial units are so many a CC, in and out. */
static void a_head_has_its_own_scale(void **state) {
    balance_case c;
    ww_balance cc = WW_BALANCE_INIT, dial = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.68, 0.80, 0.72, 0.70, 0.70, 0.70);
    balance_case_make("CC", &c, &cc);
    c.request.head_scale = 1.5;
    c.request.from.pack = (ww_pack){{90, 67.5, 0}};
    balance_case_make("dial", &c, &dial);
    test_close("magenta", dial.exact.pack.cc[WW_MAGENTA], 1.5 * cc.exact.pack.cc[WW_MAGENTA], 1e-9);
    test_close("change", dial.change.cc[WW_YELLOW], 1.5 * cc.change.cc[WW_YELLOW], 1e-9);
    test_close("time", dial.exact.time_s, cc.exact.time_s, 1e-9);
    test_close("doubt", dial.doubt_cc, 1.5 * cc.doubt_cc, 1e-9);
    ww_balance_release(&cc);
    ww_balance_release(&dial);
    balance_case_end(&c);
}

/* Source: definition: on reversal paper, whose density falls with light, the acts are opposite. */
static void reversal_goes_the_other_way(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    add_example(&c);
    for (int k = 0; k < 3; k++) {
        ww_channel_curve *channel = &c.paper.channel[k];
        channel->shape.falling = true;
        channel->domain_low = 1.0 - 2.2 / 2.6;
        channel->domain_high = 1.5;
    }
    balance_case_make("reversal", &c, &balance);
    test_true("said", balance.reversal);
    test_close("magenta", balance.change.cc[WW_MAGENTA], -4.615, 1e-3);
    test_close("time", balance.exact.time_s / 11.0, pow(10.0, -0.02 / 2.6), 1e-6);
    test_true("too magenta", balance.excess_cc[WW_GREEN] > balance.excess_cc[WW_RED]);
    ww_balance_release(&balance);
    balance_case_end(&c);
}

/* Source: definition: what a negative holds back more is given more; 0.06 in all channels alike is
 * time alone; 5 magenta less give back what the usual filter held back in each. */
static void a_new_negative_gets_what_it_holds_back(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    ww_error err = WW_ERROR_INIT;
    double variance;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 0.85, 1.25, 1.55, 0.9125, 1.3475, 1.62);
    c.print.readings.meta.status = c.aim.readings.meta.status = WW_STATUS_M;
    c.request.paper = NULL;
    test_status("made", ww_balance_negative(&c.request, &balance, &err), WW_OK, &err);
    test_close("time", balance.exact.time_s, 11.0 * pow(10.0, 0.06), 1e-9);
    test_close("magenta", balance.change.cc[WW_MAGENTA], -5.0, 1e-9);
    test_close("yellow", balance.change.cc[WW_YELLOW], 0.0, 1e-9);
    test_true("no print foretold", !balance.tone[0].foretold && !balance.crossover.known);
    test_true("another status stands in", test_noted(&balance.notes, "status M stand in"));
    test_true("no print to add",
              test_noted(&balance.notes, "given with --ring and --paper, would"));
    test_text("part", balance.budget[0].from, "new negative");
    test_text("part", balance.budget[1].from, "standard negative");
    variance = balance.tone[0].change_sd[WW_RED] * balance.tone[0].change_sd[WW_RED];
    ww_balance_release(&balance);
    /* What the paper sees of it: a fifth of red's 0.0625, a tenth of green's and of blue's. */
    c.print.readings.meta.status = c.aim.readings.meta.status = WW_STATUS_PRINTING;
    test_status("seen", ww_balance_negative(&c.request, &balance, &err), WW_OK, &err);
    variance -= balance.tone[0].change_sd[WW_RED] * balance.tone[0].change_sd[WW_RED];
    test_close("doubt of the view", variance,
               pow(0.2 * 0.0625, 2) + pow(0.1 * 0.0975, 2) + pow(0.1 * 0.07, 2), 1e-12);
    test_true("none stands in", !test_noted(&balance.notes, "stand in"));
    ww_balance_release(&balance);
    c.print.readings.meta.status = c.aim.readings.meta.status = WW_STATUS_M;
    c.print.readings.meta.relative = WW_RELATIVE_BASE;
    test_status("mask", ww_balance_negative(&c.request, &balance, &err), WW_EMISMATCH, &err);
    c.print.readings.meta.relative = WW_RELATIVE_UNKNOWN;
    c.print.readings.meta.material = WW_MATERIAL_PAPER;
    test_status("paper", ww_balance_negative(&c.request, &balance, &err), WW_EMISMATCH, &err);
    balance_case_end(&c);
}

/* Source: definition; the change of the worked example carried to another recipe. Size: Clerc,
 * magnifications 2 and 4 as 9 to 25. */
static void an_offset_is_carried(void **state) {
    ww_balance_request request = WW_BALANCE_REQUEST_INIT;
    ww_balance_offset offset = WW_BALANCE_OFFSET_INIT, size = WW_BALANCE_OFFSET_INIT;
    ww_balance balance = WW_BALANCE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    request.from = (ww_balance_setting){{{55, 30, 0}}, 8.0};
    offset.change = (ww_pack){{1.5, 4.6, 0}};
    offset.stops = 0.5;
    offset.recipe = (ww_balance_doubt){true, 3.0, 0.05};
    offset.lot = (ww_balance_doubt){true, 4.0, 0.12};
    test_status("offset", ww_balance_carry(&request, &offset, &balance, &err), WW_OK, &err);
    test_close("yellow", balance.exact.pack.cc[WW_YELLOW], 56.5, 1e-9);
    test_close("magenta", balance.exact.pack.cc[WW_MAGENTA], 34.6, 1e-9);
    test_close("time", balance.exact.time_s, 8.0 * sqrt(2.0), 1e-9);
    test_close("set", balance.settable.pack.cc[WW_MAGENTA], 35.0, 1e-9);
    /* Definition: two doubts that know nothing of each other. */
    test_true("in doubt", balance.doubt_known);
    test_close("3, 4 and 5", balance.doubt_cc, 5.0, 1e-12);
    test_close("5, 12 and 13", balance.doubt_stops, 0.13, 1e-12);
    test_true("not foretold", balance.n_tones == 0 &&
                                  test_noted(&balance.notes, "so that none is foretold. Print"));
    ww_balance_release(&balance);
    /* 15 below 0: 15 more of all, and the light of 15 CC. */
    offset.change = (ww_pack){{-70, 0, 0}};
    offset.stops = 0.0;
    offset.recipe.known = false;
    test_status("below 0", ww_balance_carry(&request, &offset, &balance, &err), WW_OK, &err);
    test_close("cyan", balance.exact.pack.cc[WW_CYAN], 15.0, 1e-9);
    test_close("time", balance.exact.time_s, 8.0 * pow(10.0, 0.15), 1e-9);
    test_true("in a doubt that is not known",
              !balance.doubt_known && test_noted(&balance.notes, "nor is its doubt known"));
    ww_balance_release(&balance);
    size.factor = 25.0 / 9.0;
    test_status("size", ww_balance_carry(&request, &size, &balance, &err), WW_OK, &err);
    test_close("2.778 times", balance.exact.time_s, 22.22, 0.005);
    test_true("said", test_noted(&balance.notes, "change the aperture"));
    ww_balance_release(&balance);
    /* 6.8 itself, which 68 x 0.1 is not in binary. */
    size.factor = 1.0;
    request.from.time_s = 6.8;
    test_status("same", ww_balance_carry(&request, &size, &balance, &err), WW_OK, &err);
    test_close("6.8", balance.settable.time_s, 6.8, 0.0);
    ww_balance_release(&balance);
    size.factor = 0.0;
    test_status("none", ww_balance_carry(&request, &size, &balance, &err), WW_EDOMAIN, &err);
    size.factor = 1.0;
    request.from.time_s = 0.0;
    test_status("time 0", ww_balance_carry(&request, &size, &balance, &err), WW_EDOMAIN, &err);
    ww_balance_release(NULL);
}

/*
 * By hand: of twice the time, 0.30103 log H, 4 % are open in all colours and 3 % in each, 5 %
 * together. A pack of yellow and magenta takes up r, g, b by the filters' table of
 * wedgework/response.h, 0.513 m = 0.67 r - 0.75 g + 0.08 b and E = r + 0.05 m: of the 3 % magenta
 * 1.9666 times as much (yellow 1.76), time 1.0678; of the 4 % time alone. 1.96 sd are
 *   196 x 1.9666 x 0.009031 = 3.481 CC,   1.96 hypot(0.04, 1.0678 x 0.03) = 0.1004 stop,
 *   3 D x 1.96 x 0.05 x 0.30103 = 0.0885 D.
 */
static void another_size_is_in_doubt_by_reciprocity(void **state) {
    ww_balance_request request = WW_BALANCE_REQUEST_INIT;
    ww_balance_offset size = WW_BALANCE_OFFSET_INIT;
    ww_balance balance = WW_BALANCE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    request.from = (ww_balance_setting){{{60, 45, 0}}, 8.0};
    size.recipe = (ww_balance_doubt){true, 3.0, 0.05};
    size.grey = (ww_balance_grey){true, {0.84, 0.94, 1.02}, {0.03, 0.03, 0.03}};
    size.factor = 2.0;
    test_status("twice", ww_balance_carry(&request, &size, &balance, &err), WW_OK, &err);
    test_close("filters", balance.doubt_cc, hypot(3.0, 3.4810), 0.001);
    test_close("time", balance.doubt_stops, hypot(0.05, 0.10044), 0.0001);
    test_close("density", balance.tone[0].predicted_half[1], hypot(0.03, 0.0885), 0.0001);
    test_close("parts", (double)balance.n_budget, 3.0, 0.0);
    test_text("last", balance.budget[2].from, "reciprocity");
    test_close("part", balance.budget[2].cc, 3.4810, 0.001);
    test_true("told", test_noted(&balance.notes, "for reciprocity +-3.5 CC and +-0.10 stop") &&
                          test_noted(&balance.notes, "printed at the new size tells"));
    ww_balance_release(&balance);
    size.factor = 1.15;
    test_status("a fifth of a stop", ww_balance_carry(&request, &size, &balance, &err), WW_OK,
                &err);
    test_true("not told", !test_noted(&balance.notes, "reciprocity"));
    ww_balance_release(&balance);
}

/* Source: definition: the aim stays, and doubts that know nothing of each other add by squares. */
static void a_grey_is_carried(void **state) {
    ww_balance_request request = WW_BALANCE_REQUEST_INIT;
    ww_balance_offset offset = WW_BALANCE_OFFSET_INIT;
    ww_balance balance = WW_BALANCE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    request.from = (ww_balance_setting){{{55, 30, 0}}, 8.0};
    offset.grey = (ww_balance_grey){true, {0.84, 0.94, 1.02}, {0.03, 0.05, 0.08}};
    offset.lot_grey = (ww_balance_grey){true, {0.5, 0.5, 0.5}, {0.04, 0.12, 0.15}};
    test_status("a grey", ww_balance_carry(&request, &offset, &balance, &err), WW_OK, &err);
    for (int c = 0; c < 3; c++) {
        test_close("at its aim", balance.tone[0].predicted[c], offset.grey.aim[c], 0.0);
        test_close("3, 4 and 5; 5, 12 and 13; 8, 15 and 17", balance.tone[0].predicted_half[c],
                   (const double[]){0.05, 0.13, 0.17}[c], 1e-12);
    }
    test_true("on what ground", test_noted(&balance.notes, "change light alone"));
    ww_balance_release(&balance);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(worked_example),
        cmocka_unit_test(neutral_density_is_taken_out),
        cmocka_unit_test(a_head_has_its_own_scale),
        cmocka_unit_test(reversal_goes_the_other_way),
        cmocka_unit_test(a_new_negative_gets_what_it_holds_back),
        cmocka_unit_test(an_offset_is_carried),
        cmocka_unit_test(another_size_is_in_doubt_by_reciprocity),
        cmocka_unit_test(a_grey_is_carried),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
