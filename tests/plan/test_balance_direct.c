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

/* Source: definition: where a channel has no slope, it has no direction either. */
static void none_without_a_slope(void **state) {
    balance_case c;
    ww_balance balance = WW_BALANCE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    start(&c);
    c.print.row[0].cell[WW_BLUE].value = 2.60;
    test_status("black", ww_balance_print(&c.request, &balance, &err), WW_ENODATA, &err);
    test_holds("black", err.msg, "no slope at blue 2.60");
    test_true("no direction", !strstr(err.msg, "direction"));
    balance_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_direction_is_given),
                                       cmocka_unit_test(none_without_a_slope)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
