/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/scan_plan_case.h"

/* Source of the figures: hand calculation. k 0.95, base 0.30, so the exposure grows by 10^0.30;
 * the cloud at 1.30 is then light of 0.095 over noise of 0.001. One 8-bit code of 24.225 is
 * log10(25.225 / 24.225). */
static void closed_form(scan_plan_case *c) {
    scan_plan_case_start(c, (scan_pixels_truth){0.95, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(c, "base", WW_PART_WHOLE, 0.30);
    scan_plan_case_grey(c, "cloud", WW_PART_THIN, 1.22);
    scan_plan_case_grey(c, "cloud", WW_PART_DENSE, 1.30);
}

static void one_scan(void **state) {
    static const char kept[] = "The densest tone to be kept", doubt[] = "What the doubt is made of "
                                                                        "(half-widths, 95 %)";
    scan_plan_case c;
    ww_scan_plan plan;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    closed_form(&c);
    scan_plan_case_make("plan", &c, &plan);
    ww__scan_plan_report(&plan, &report);
    test_holds("act", ww__text_string(&report.act), "Open up 1.0 stop from the wedge's scan: one");
    expect_row("units", &report, "Exposure", 1, "|stops|times|+-stop|ratio||D|");
    expect_row("exposure", &report, "Exposure", 2, "visual|1.0|2.00|0.1|1.00|base|0.30|62258");
    expect_row("kept", &report, kept, 2,
               "visual|cloud|1.30|6226|48|95|0.0128|0.0043|0.08|100|3.28");
    expect_row("codes", &report, "One code, in density, at that tone", 2,
               "visual|0.0176|0.0044|0.0011|0.00028|0.00007"); /* 0.4343 of a code in 6226 */
    expect_row("tone", &report, "All tones, one scan", 3, "visual|cloud|1.30|6226|95|0.0046|kept");
    /* 1.96 * 0.01 and 0.006 over log10 2 */
    expect_row("doubt", &report, doubt, 2, "visual|0.07|0.02|0.00|readings");
    test_true("no more", find_block(&report, "More scans than one") == NULL);
    test_true("no marks", find_block(&report, "Marks") == NULL);
    ww__report_release(&report);
    ww_scan_plan_release(&plan);
}

/* Asked for 0.0022: noise must halve, a stop more does it (merged, 1 / sqrt 5), or the mean of
 * four.
 */
static void more_scans(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    closed_form(&c);
    c.request.separate = 0.0022;
    scan_plan_case_make("plan", &c, &plan);
    ww__scan_plan_report(&plan, &report);
    expect_row("units", &report, "More scans than one", 1,
               "|stops more|D|D, 3 x 3|of one scan's|scans");
    /* From where 2.8 * 0.001 / (3 ln 10 light) is 0.0022: light 0.18424, D 0.30 + 0.712. */
    expect_row("second", &report, "More scans than one", 2, "visual|1.0|1.01|0.0019|0.45|4");
    ww__report_release(&report);
    ww_scan_plan_release(&plan);
}

static void unknowns(void **state) {
    static const char kept[] = "The densest tone to be kept";
    scan_plan_case c;
    ww_scan_plan plan;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    closed_form(&c);
    c.made.scanner.channel[WW_VISUAL].n_points = 0;
    scan_plan_case_grey(&c, "sun", WW_PART_WHOLE, 0.0)->state = WW_CELL_OVER;
    scan_plan_case_make("over", &c, &plan);
    plan.channel[WW_VISUAL].sees.how = WW_EXTRAPOLATED;
    ww__scan_plan_report(&plan, &report);
    expect_row("over", &report, kept, 2, "visual|sun|over|-|-|-|-|-|-|-|3.28 *");
    expect_row("tone", &report, "All tones, one scan", 4, "visual|sun|over|-|-|-|kept");
    test_true("no more", find_block(&report, "More scans than one") == NULL);
    test_true("no codes", find_block(&report, "One code, in density, at that tone") == NULL);
    ww__report_release(&report);
    ww_scan_plan_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(one_scan), cmocka_unit_test(more_scans),
                                       cmocka_unit_test(unknowns)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
