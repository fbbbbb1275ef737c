/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include <wedgework/scan_merge.h>

/* A pattern of the sensor of 1 % of the light is in both scans alike. Source: definition of
 * ww_scanner_noise; variances add, and the mean of two equal parts is that part. */
static void no_mean_makes_a_fixed_pattern_less(void **state) {
    const made_pair m = {.name = "pattern",
                         .width = 480,
                         .height = 360,
                         .channels = 1,
                         .kind = WW_SAMPLE_16,
                         .ratio = 4.3,
                         .read = 0.0006,
                         .shot = 0.002};
    ww_picture a = made_scan(&m, false, 9), b = made_scan(&m, true, 10);
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    ww_scanner scanner = {.bits = 16, .white = 65535.0, .gamma = {1.0, 1.0, 1.0, WW_GIVEN}};
    const double light = 0.01, r = m.ratio, pattern = 0.01 / log(10.0);
    const double v_s = m.read * m.read + m.shot * m.shot * light;
    const double v_l = (m.read * m.read + m.shot * m.shot * r * light) / (r * r);
    const double v_m = 1.0 / (1.0 / v_s + 1.0 / v_l), in_density = 1.0 / (light * log(10.0));
    (void)state;
    scanner.channel[WW_VISUAL].present = true;
    scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){m.read, m.shot, 0.01};
    test_status("merged", ww_scan_merge_measure(&a, &b, &scanner, &report, &err), WW_OK, &err);
    const ww_scan_merge_gain *gain = &report.channel[WW_VISUAL].gain[20];
    test_close("below", gain->below, 2.0, 1e-12);
    test_close("shorter", gain->shorter, hypot(sqrt(v_s) * in_density, pattern), 1e-4 * pattern);
    test_close("merged", gain->merged, hypot(sqrt(v_m) * in_density, pattern), 0.01 * pattern);
    ww_scan_merge_release(&report);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_mean_makes_a_fixed_pattern_less)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
