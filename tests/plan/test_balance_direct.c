/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <string.h>

/* A print on the straight paper whose yellow dye alone would be more than the paper makes. */
static void start(balance_case *c) {
    balance_case_start(c);
    balance_case_grey(c, "card", 0.70, 0.70, 2.28, 0.70, 0.70, 0.70);
}

/*
 * By hand, colour by colour on the slope of 2.6: blue has 1.58 / 2.6 = 0.6077 log H too much. With
 * the filters' table of wedgework/response.h, y and m in hundreds, E the time,
 *   E - 0.05 m = 0,   E - 0.75 m - 0.08 y = 0,   E - 0.20 m - 0.75 y = -0.6077
 * give y = 0.829, m = -0.095, E = -0.0047: from 60Y45M and 11 s to 142.9Y35.5M and 10.9 s.
 */
static void a_direction_is_given(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    start(&c);
    test_status("refused", ww_balance_print(&c.request, &balance, &err), WW_ENODATA, &err);
    test_holds("a direction", err.msg,
               "As a direction, not a solution: print again with about "
               "145Y35M and 11 s (give or take 30 CC and 1/3 stop)");
    c.request.head_scale = 1.5; /* 90 of it are 60 CC */
    c.request.from.pack = (ww_pack){{90, 67.5, 0}};
    test_status("dial", ww_balance_print(&c.request, &balance, &err), WW_ENODATA, &err);
    test_holds("dial", err.msg, "217.5Y52.5M and 11 s (give or take 45 dial units");
    balance_case_end(&c);
}

/*
 * By hand, as above, on the slope of 2.6 from 0.10 to 2.30; an act is at least the less of what
 * the end of the slope asks and of what a stop of light beyond it does, in whole 5 CC and 0.1 stop.
 * In density its upper end is told to a 400th of the curve, 0.0055 D short of it.
 *   black in blue    -0.6154 and -0.9164: 84.0Y -9.6M, 125.0Y -14.3M, the time within 0.03 stop
 *   white in blue    +0.2308 and +0.5318: -31.5Y 3.6M, -60Y 20.9M 12.6C, 0.01 and 0.43 stop
 *   black in red, aim 0.84, 0.94, 1.02    -0.5615 and -0.8625, 0.0538, 0.0462:
 *                    -29.4Y -45M 35.5C and 0.82 stop less, -22.4Y -45M 74.8C and 0.58 less
 */
static void a_cast_beyond_the_slope_has_a_least_one(void **state) {
    static const struct {
        const char *name;
        double print[3], aim[3];
        const char *words[3];
    } rows[] = {
        {"black in blue",
         {0.70, 0.70, 2.60},
         {0.70, 0.70, 0.70},
         {"no slope at blue 2.60",
          "Against its aim it is right in red, right in green and too dark in blue by 1.59 D at "
          "least (too yellow). As a direction",
          "solution: take out at least 5 magenta, add at least 80 yellow; print so, and balance "
          "that print"}},
        {"white in blue",
         {0.70, 0.65, 0.05},
         {0.70, 0.65, 0.70},
         {"no slope at blue 0.05", "too light in blue by 0.60 D at least (too blue). As",
          "solution: take out at least 30 yellow; print so, and balance that print"}},
        {"black in red",
         {2.40, 0.80, 0.90},
         {0.84, 0.94, 1.02},
         {"no slope at red 2.40",
          "it is too dark in red by 1.45 D at least (too cyan), too light in green by 0.14 D (too "
          "green) and too light in blue by 0.12 D (too blue). As",
          "solution: take out at least 20 yellow and at least 45 magenta, add at least 35 cyan, at "
          "least 0.5 stop less; print so, and balance that print"}},
    };
    balance_case c;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double *print = rows[i].print, *aim = rows[i].aim;
        balance_case_start(&c);
        balance_case_grey(&c, "card", print[0], print[1], print[2], aim[0], aim[1], aim[2]);
        for (int k = 0; k < 3; k++)
            balance_case_refused(rows[i].name, &c, WW_ENODATA, rows[i].words[k]);
        balance_case_end(&c);
    }
}

/*
 * By hand: the paper's slope of 2.6 ends at 2.30. Red and green of 1.80 and 1.90 have 1.10 and 1.20
 * over an aim of 0.70, blue of 2.48 at least 1.60: mean 1.30 / 2.6 = 0.5 log H, from 11 s to 3.5 s,
 * 1.7 stops. At 0.05 all three lie below the toe at 0.10 and want 0.60 / 2.6 = 0.231, 0.8 stops
 * more: 18.7 s, and more than that.
 */
static void beyond_the_slope_there_is_one_of_time(void **state) {
    balance_case c;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "card", 1.80, 1.90, 2.48, 0.70, 0.70, 0.70);
    balance_case_refused("dark", &c, WW_ENODATA, "no slope at blue 2.48");
    balance_case_refused("dark", &c, WW_ENODATA,
                         "As a direction, not a solution: every colour wants less light, so print "
                         "again with the same filters and about 3.5 s, 1.7 stop less (give or "
                         "take 1 stop), and balance that print");
    for (int k = 0; k < 3; k++)
        c.print.row[0].cell[k].value = 0.05;
    balance_case_refused("white", &c, WW_ENODATA,
                         "every colour wants more light, so print again with the same filters and "
                         "about 19 s, 0.8 stop more (give or take 1 stop; nothing tells how far "
                         "it is beyond the slope)");
    c.request.from.time_s = 0.1;
    for (int k = 0; k < 3; k++)
        c.print.row[0].cell[k].value = 2.60;
    balance_case_refused("no such time", &c, WW_ENODATA, "no slope at red 2.60");
    balance_case_end(&c);
}

/* Of three greys, all too dark, the first tells the way; where one can be used, none is told. */
static void several_greys_have_one(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    (void)state;
    balance_case_start(&c);
    balance_case_grey(&c, "light", 2.40, 2.40, 2.40, 0.70, 0.70, 0.70);
    balance_case_grey(&c, "dark", 2.45, 2.45, 2.45, 1.20, 1.20, 1.20);
    balance_case_refused("all", &c, WW_ENODATA, "about 2.7 s, 2.0 stops less");
    balance_case_grey(&c, "white", 0.60, 0.60, 0.60, 0.70, 0.70, 0.70);
    balance_case_make("one", &c, &balance);
    test_true("a note", test_noted(&balance.notes, "The grey 'light' was not used: no slope"));
    test_true("no direction", !test_noted(&balance.notes, "direction"));
    ww_balance_release(&balance);
    balance_case_end(&c);
}

/* Definition: an aim that no light gives (a strong cast in a dark grey) or that has no slope is at
 * fault itself, of a good print and a bad one, and no print is nearer to it. */
static void an_aim_that_cannot_be_is_the_aims(void **state) {
    static const struct {
        const char *name;
        double print, aim[3];
        const char *words;
    } rows[] = {
        {"cast",
         0.70,
         {0.70, 0.70, 2.28},
         "no print comes to the aim 0.70, 0.70, 2.28 in red, green and blue: no light of the "
         "paper's three layers"},
        {"white", 0.70, {0.84, 0.94, 0.05}, "0.84, 0.94, 0.05 in red, green and blue: no slope at"},
        {"both", 2.60, {0.84, 0.94, 0.05}, "0.84, 0.94, 0.05 in red, green and blue: no slope at"},
    };
    ww_balance balance = WW_BALANCE_INIT;
    balance_case c;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double *aim = rows[i].aim;
        ww_error err = WW_ERROR_INIT;
        balance_case_start(&c);
        balance_case_grey(&c, "card", rows[i].print, 0.7, 0.7, aim[0], aim[1], aim[2]);
        c.aim.row[0].line = 5;
        test_status(rows[i].name, ww_balance_print(&c.request, &balance, &err), WW_ENODATA, &err);
        test_text(rows[i].name, err.file, "aim.csv");
        test_close(rows[i].name, (double)err.line, 5.0, 0.0);
        test_holds(rows[i].name, err.msg, rows[i].words);
        test_holds(rows[i].name, err.msg, "or read the approved print again");
        test_lacks(rows[i].name, err.msg, "direction");
    }
    balance_case_grey(&c, "light", 0.4, 0.4, 0.4, 0.4, 0.4, 0.4);
    balance_case_make("of two", &c, &balance);
    test_true("of two", test_noted(&balance.notes, "The grey 'card' was not used: no print comes "
                                                   "to the aim 0.84, 0.94, 0.05"));
    ww_balance_release(&balance);
    balance_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_direction_is_given),
                                       cmocka_unit_test(a_cast_beyond_the_slope_has_a_least_one),
                                       cmocka_unit_test(beyond_the_slope_there_is_one_of_time),
                                       cmocka_unit_test(several_greys_have_one),
                                       cmocka_unit_test(an_aim_that_cannot_be_is_the_aims)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
