/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include "working_read.h"
#include <wedgework/start.h>

/* Source: NIST/SEMATECH e-Handbook 6.3.2.2, a hundredth of its numbers as densities: mean 50.81,
 * mean moving range 1.8778, limits 45.8159 and 55.8041; the eleventh strip is beyond. */
static void individuals(void **state) {
    static const double value[] = {0.496, 0.476, 0.499, 0.513, 0.478, 0.512,
                                   0.526, 0.524, 0.536, 0.521, 0.561};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    control_case_series(&log, 0.50, value, 11);
    ww_control control = control_case_judge(&log, NULL);
    ww__working_control(&control, &report);
    char *html = read_working(&report);
    test_holds("which", html, "LD in visual");
    test_holds("deviation", html, "0.561 - 0.500 = 0.061 D");
    test_holds("history", html, "mean of 10 strips 0.5081 D, of their 9 moving ranges 0.0188 D");
    test_holds("sigma", html, "0.0188 / 1.128 = 0.0166 D");
    test_holds("limits", html, "= 0.4582 D, 0.5081 + 3 x 0.0166 = 0.5580 D");
    free(html);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void limits_of_ones_own(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "main", "measure,control\nLD,0.09\n");
    control_case_strip(&log, "main", "", "2026-11-01",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.56,0.76,0.98\n"
                       "HD,1.30,1.77,2.03\n");
    ww_control control = control_case_judge(&log, NULL);
    ww__working_control(&control, &report);
    char *html = read_working(&report);
    test_holds("deviation", html, "0.560 - 0.440 = 0.120 D");
    test_holds("limits", html, "0.440 - 0.090 = 0.350 D, 0.440 + 0.090 = 0.530 D");
    free(html);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(individuals),
                                       cmocka_unit_test(limits_of_ones_own)};
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
