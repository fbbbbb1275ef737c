/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/scan_made_case.h"

/* Source: the case, doubts rounded up but for a quarter of the last place. */
static void sentences_and_table(void **state) {
    static const char reach[] = "What the calibration reaches, and pixels beyond";
    ww_scan_densities densities = scan_made_densities("folder/scan.tif", true);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__scan_densities_report(&densities, &report);
    test_text("act", ww__text_string(&report.act),
              "Densities written in 16 bits, code = 10000 D + 5000; trust +-0.02 at the thin end, "
              "+-0.07 at the dense end, beside a pixel's own noise, if exposed as the wedge was.");
    test_text("why", ww__text_string(&report.why),
              "Why: codes of 'scan.tif' are calibrated from 0.06 to 2.95 D (green), beyond 2.80 D, "
              "where the wedge ends, by the model alone; no pixels are thinner, 3.1 % denser "
              "(blue): they have the density of the end.");
    expect_row("red", &report, reach, 2, "red|0.05|0.02|3.05|0.04|0.15|0.20");
    expect_row("blue", &report, reach, 4, "blue|0.07|0.02|2.85|0.07|0.00|3.10");
    test_true("notes", find_block(&report, "Notes")->n == 1);
    ww__report_release(&report);
    ww_scan_densities_release(&densities);
}

static void off_is_the_first_word(void **state) {
    ww_scan_densities densities = scan_made_densities("scan.tif", true);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    densities.no_light = 0.4;
    ww__scan_densities_report(&densities, &report);
    test_holds("act", ww__text_string(&report.act),
               "code = 10000 D + 5000, but 40.0 % of samples are no light, and have no density; "
               "trust +-0.02");
    ww__report_release(&report);
    report = (ww__report)WW__REPORT_INIT;
    densities.no_light = 0.0;
    densities.off = true;
    ww__scan_densities_report(&densities, &report);
    test_text("act", ww__text_string(&report.act),
              "Densities written in 16 bits, code = 10000 D + 5000; all of them are off, as the "
              "notes say.");
    ww__report_release(&report);
    ww_scan_densities_release(&densities);
}

static void floating_point(void **state) {
    ww_scan_densities densities = scan_made_densities(NULL, false);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    densities.channel[WW_BLUE].denser = 0.0;
    densities.channel[WW_GREEN].wedge = densities.channel[WW_GREEN].dense;
    densities.channel[WW_RED].denser = densities.channel[WW_RED].thinner = 0.0;
    ww__scan_densities_report(&densities, &report);
    test_holds("act", ww__text_string(&report.act),
               "Densities written in floating point, each sample is D itself; ");
    test_holds(
        "why", ww__text_string(&report.why),
        "codes of the scan are calibrated from 0.06 to 2.95 D (green); no pixels are thinner, "
        "0.10 % denser: they have");
    ww__report_release(&report);
    ww_scan_densities_release(&densities);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(sentences_and_table),
                                       cmocka_unit_test(off_is_the_first_word),
                                       cmocka_unit_test(floating_point)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
