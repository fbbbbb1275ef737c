/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_made.h"
#include "working_read.h"

/* Source: by hand: 45 - 17.9 = 27.1 CC; 11 s x 2^-0.379 = 8.46 s. */
static void pack_and_time_are_added_up(void **state) {
    ww_balance balance = balance_made();
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    ww__working_balance(&balance, &report);
    html = read_working(&report);
    test_holds("what lacks", html, "red 0.880 to 0.710 D");
    test_holds("pack", html, "magenta 45.0 -17.9 = 27.1");
    test_holds("time", html, "time 11.00 x 2^-0.379 = 8.46 s");
    free(html);
    balance.kind = WW_BALANCE_NEGATIVE;
    ww__working_balance(&balance, &report);
    html = read_working(&report);
    test_holds("negatives", html, "D of the new negative - D of the standard negative");
    free(html);
    balance.kind = WW_BALANCE_CARRIED;
    balance.n_tones = 0;
    balance.carried.factor = 1.96;
    ww__working_balance(&balance, &report);
    html = read_working(&report);
    test_holds("carried", html, "time x 1.960 x 2^0.000");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(pack_and_time_are_added_up)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
