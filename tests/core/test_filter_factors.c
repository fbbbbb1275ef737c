/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/filter_factors.h>

/* Source: Kodak Publication E-142, single cells of its table. */
static void has_the_published_factors(void **state) {
    static const struct {
        ww_sheet sheet;
        double factor;
    } rows[] = {{{'Y', 5}, 1.1},  {{'Y', 50}, 1.1}, {{'M', 5}, 1.2},  {{'M', 10}, 1.3},
                {{'M', 20}, 1.5}, {{'M', 40}, 1.9}, {{'M', 50}, 2.1}, {{'C', 10}, 1.2},
                {{'C', 50}, 1.6}, {{'R', 20}, 1.5}, {{'G', 30}, 1.4}, {{'B', 50}, 2.9}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char row[] = "50 Y";
        double factor = 0.0;
        row[3] = rows[i].sheet.colour;
        test_status(row, ww_filter_factor(rows[i].sheet, &factor, NULL), WW_OK, NULL);
        test_close(row, factor, rows[i].factor, 1e-12);
    }
}

static void interpolates_nothing(void **state) {
    static const ww_sheet none[] = {{'M', 15}, {'M', 0}, {'Q', 10}, {'\0', 10}, {'y', 10}};
    (void)state;
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        double factor = 7.0;
        ww_error err = WW_ERROR_INIT;
        test_status("none", ww_filter_factor(none[i], &factor, &err), WW_ENODATA, &err);
        test_close("untouched", factor, 7.0, 0.0);
    }
}

/* Source: worked from the table of E-142 by hand: 10 s (1.9 / 2.1), 10 s 1.5 1.1,
 * 10 s 1.5 1.1 / 1.7 */
static void works_changes_out(void **state) {
    const ww_sheet m50 = {'M', 50}, m40 = {'M', 40}, m30 = {'M', 30};
    const ww_sheet both[] = {{'M', 20}, {'Y', 10}};
    const ww_sheet odd = {'M', 33};
    double time_s = 0.0;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("50M out, 40M in", ww_filter_time(10, &m50, 1, &m40, 1, &time_s, NULL), WW_OK,
                NULL);
    test_close("50M out, 40M in", time_s, 9.048, 0.0005);
    test_status("20M 10Y in", ww_filter_time(10, NULL, 0, both, 2, &time_s, NULL), WW_OK, NULL);
    test_close("20M 10Y in", time_s, 16.5, 1e-9);
    test_status("30M for both", ww_filter_time(10, &m30, 1, both, 2, &time_s, NULL), WW_OK, NULL);
    test_close("30M for both", time_s, 9.706, 0.0005);
    test_status("no such sheet", ww_filter_time(10, &odd, 1, both, 2, &time_s, &err), WW_ENODATA,
                &err);
    test_status("nor in", ww_filter_time(10, &m30, 1, &odd, 1, &time_s, &err), WW_ENODATA, &err);
    test_status("no time", ww_filter_time(0, &m30, 1, both, 2, &time_s, &err), WW_EDOMAIN, &err);
    test_close("untouched", time_s, 9.706, 0.0005);
}

/* Source: E-142, 1 % a unit of magenta: + 20M is + 20 %. */
static void knows_dichroic_heads(void **state) {
    double time_s = 0.0;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("+20M", ww_filter_dichroic_time(10, 20, &time_s, NULL), WW_OK, NULL);
    test_close("+20M", time_s, 12.0, 1e-12);
    test_status("and back", ww_filter_dichroic_time(time_s, -20, &time_s, NULL), WW_OK, NULL);
    test_close("and back", time_s, 10.0, 1e-12);
    test_status("too much", ww_filter_dichroic_time(10, 100, &time_s, &err), WW_EDOMAIN, &err);
    test_status("no time", ww_filter_dichroic_time(-1, 10, &time_s, &err), WW_EDOMAIN, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(has_the_published_factors),
        cmocka_unit_test(interpolates_nothing),
        cmocka_unit_test(works_changes_out),
        cmocka_unit_test(knows_dichroic_heads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
