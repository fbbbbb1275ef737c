/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_case.h"
#include "support/scan_made_case.h"
#include "support/scan_plan_case.h"
#include "working_read.h"

static void scanner_and_what_it_reads(void **state) {
    struct scanner_case made;
    struct scan_case scan;
    ww_whole whole = scan_case_whole(true);
    ww__report report = WW__REPORT_INIT;
    char *html, expected[80];
    (void)state;
    scan_case_scanner(&made, true);
    ww__working_scanner(&made.scanner, &report);
    html = read_working(&report);
    snprintf(expected, sizeof expected, "dark %.5f, flare %.5f", SCAN_CASE_DARK, SCAN_CASE_FLARE);
    test_holds("the model's numbers", html, expected);
    test_holds("the model", html, "code / white = (dark + k (10^-D + flare))^(1 / gamma)");
    test_holds("noise", html, "variance = read^2 + shot^2 L + (fixed L)^2");
    free(html);
    made.scanner.encoding = WW_ENCODING_SRGB;
    ww__working_scanner(&made.scanner, &report);
    html = read_working(&report);
    test_holds("sRGB", html, "the curve of sRGB");
    free(html);
    scan_case_strip(&scan, false);
    scan.measured.calibrated = false;
    ww__working_measured(&scan.measured, &report);
    html = read_working(&report);
    test_lacks("without a scanner file no density", html, "D = -log10");
    free(html);
    ww__working_whole(&whole, &report);
    html = read_working(&report);
    test_holds("percentile", html, "at least p % of the pixels");
    test_holds("density", html, "D = -log10((light - dark) / k - flare)");
    free(html);
}

/* Source: two exposures apart by four times the light are 2 stops; 10000 x 1.00 + 5000 = 15000. */
static void what_is_made_of_scans(void **state) {
    ww_scan_merge merge = scan_made_merge("long.tif", "short.tif");
    ww_scan_densities densities = scan_made_densities("in.tif", true);
    struct scanner_case made;
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    ww__working_scan_merge(&merge, &report);
    html = read_working(&report);
    test_holds("ratio", html, "light x 4.000, log2 of it 2.000 stop");
    test_holds("source", html, "York, Evensen");
    free(html);
    ww_scan_merge_release(&merge);
    scan_case_scanner(&made, true);
    ww__working_scan_densities(&densities, &made.scanner, &report);
    html = read_working(&report);
    test_holds("scale", html, "D 1.00 is code 15000");
    free(html);
    densities.scaled = false;
    ww__working_scan_densities(&densities, &made.scanner, &report);
    html = read_working(&report);
    test_holds("floating point", html, "D itself");
    free(html);
    ww_scan_densities_release(&densities);
}

static void plan_of_a_scan(void **state) {
    scan_plan_case c;
    ww_scan_plan plan = WW_SCAN_PLAN_INIT;
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    scan_plan_case_usual(&c, 1.4);
    scan_plan_case_make("plan", &c, &plan);
    ww__working_scan_plan(&plan, c.request.scanner, &report);
    html = read_working(&report);
    test_holds("base", html, "visual: D 0.250 goes to code ");
    test_holds("law", html, "2.8 sd of D / sqrt n");
    test_holds("asked for", html, "asked for: 0.0100 D");
    free(html);
    ww_scan_plan_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scanner_and_what_it_reads),
        cmocka_unit_test(what_is_made_of_scans),
        cmocka_unit_test(plan_of_a_scan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
