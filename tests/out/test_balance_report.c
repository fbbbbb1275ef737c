/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_made.h"
#include "blocks.h"

/* Source: the interface (tables, units in the heading, one row a channel, paper or tone). */
static void tables(void **state) {
    ww_balance balance = balance_made();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    balance.response.covariance[6 * (WW_RESPONSE_TERMS + 1)] = 0.0013; /* magenta in green */
    ww__balance_report(&balance, &report);
    expect_row("headings", &report, "Pack and time", 0, "|yellow|magenta|cyan|time");
    expect_row("units", &report, "Pack and time", 1, "|CC|CC|CC|s");
    expect_row("print", &report, "Pack and time", 2, "this print|60.0|45.0|0.0|11.00");
    expect_row("exact", &report, "Pack and time", 3, "exact|60.0|27.1|0.0|8.46");
    expect_row("set", &report, "Pack and time", 4, "to set|60.0|27.5|0.0|8.50");
    expect_row("units", &report, "Greys, and the next print as set", 1, "||D|D|D|+-D|CC");
    expect_row("red", &report, "Greys, and the next print as set", 2,
               "card|red|0.88|0.71|0.71|0.05|0.0");
    expect_row("not foretold", &report, "Greys, and the next print as set", 5,
               "dark|red|1.60|1.45|-|-|-1.0");
    expect_row("magenta", &report, "What acts do here, as change of light", 4,
               "10 CC magenta|-1.0|-8.0|0.0|0.7|from prints"); /* 1.96 x 0.036 of 10 */
    expect_row("units", &report, "What acts do here, as change of light", 1, "|CC|CC|CC|+-CC|");
    expect_row("time", &report, "What acts do here, as change of light", 2,
               "1/3 stop more|10.0|10.0|10.0|0.0|taken as usual");
    expect_row("cyan", &report, "What acts do here, as change of light", 5,
               "10 CC cyan|-9.0|0.0|0.0|0.0|partly from prints");
    expect_row("unit", &report, "What the doubt is made of", 1, "|CC|");
    expect_row("largest", &report, "What the doubt is made of", 3,
               "filters and time|2.2|the largest");
    ww__report_release(&report);
    balance.ring_rows = 0;
    balance.head_scale = 1.5;
    balance.burn = (ww_balance_burn){.set = true,
                                     .possible = true,
                                     .tone = 1,
                                     .exact = {{{55.4, 30.2, 0}}, 3.42},
                                     .settable = {{{55, 30, 0}}, 3.4}};
    ww__balance_report(&balance, &report);
    expect_row("dial", &report, "Pack and time", 1, "|dial|dial|dial|s");
    expect_row("dial", &report, "What the doubt is made of", 1, "|dial|");
    expect_row("burn", &report, "Pack and time", 6, "burn, to set|55.0|30.0|0.0|3.40");
    test_true("no ring", !find_block(&report, "What acts do here, as change of light"));
    ww__report_release(&report);
}

static void carried(void **state) {
    ww_balance balance = balance_made();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    balance.kind = WW_BALANCE_CARRIED;
    balance.tone = NULL;
    balance.n_tones = 0;
    balance.ring_row.n = 0;
    ww__balance_report(&balance, &report);
    expect_row("before", &report, "Pack and time", 2, "before|60.0|45.0|0.0|11.00");
    test_true("no greys", !find_block(&report, "Greys, and the next print as set"));
    expect_row("doubt", &report, "What the doubt is made of", 3,
               "filters and time|2.2|the largest");
    ww__report_release(&report);
    balance.n_budget = 0; /* a stored plan has none */
    ww__balance_report(&balance, &report);
    test_true("no doubt", !find_block(&report, "What the doubt is made of"));
    ww__report_release(&report);
}

static void negatives(void **state) {
    ww_balance balance = balance_made();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    balance.kind = WW_BALANCE_NEGATIVE;
    balance.ring_row.n = 0;
    ww__balance_report(&balance, &report);
    expect_row("headings", &report, "Negatives", 0, "grey||standard|new|next|trust|left");
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tables),
        cmocka_unit_test(carried),
        cmocka_unit_test(negatives),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
