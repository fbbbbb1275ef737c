/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/scan_case.h"

/* Source: the interface's rules for text; the numbers are those of the made case, by hand. */

static const char sees[] = "What it sees (95 % intervals)";
static const char noise[] = "Noise of one pixel, 1 sd; n pixels averaged: divided by root n";

static void in_colour(void **state) {
    struct scanner_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_scanner(&made, true);
    made.scanner.dark_scan = true;
    ww__scanner_report(&made.scanner, &report);
    test_text("act", ww__text_string(&report.act),
              "This scanner sees to density 2.87 (2.82 to 2.92); flare 0.41 (0.38 to 0.44) % of "
              "open light (red); codes are linear.");
    test_text("why", ww__text_string(&report.why),
              "21 steps of a nominal wedge were fitted (green); the model leaves 0.006 D, at most "
              "0.031 D; densities are to be trusted to +-0.01 at the thin "
              "end, +-0.03 at the dense end.");
    expect_row("units", &report, sees, 1, "|D|D|% of open light|% of full scale|sd, D|D");
    expect_row("green", &report, sees, 3,
               "green|2.87 (2.82 to 2.92)|0.20 to 3.02|0.41 (0.38 to 0.44)|"
               "0.070 (0.066 to 0.074)|0.006|0.031");
    test_lacks("no misfit", ww__text_string(&report.act), "rust nothing");
    assert_null(find_block(&report, "Marks"));
    /* At D 2: L = 0.93 (0.01 + 0.0041) = 0.013113, S = 0.0093; var = 1.21e-6 + 3.79e-8 + 6.9e-10;
     * sigma = 0.0011174; over S ln 10: 0.0522. */
    assert_non_null(find_block(&report, noise));
    test_text("noise", find_block(&report, noise)->item[2 * 7 + 4], "0.052");
    ww__report_release(&report);
}

/* A channel is the least where its interval ends before the others' begin. */
static void the_least_channel_is_named_where_it_is_one(void **state) {
    static const struct {
        const char *row;
        ww_quantity red, green, blue;
        const char *says;
    } rows[] = {
        {"apart",
         {2.91, 2.89, 2.93, WW_FITTED},
         {2.87, 2.86, 2.88, WW_FITTED},
         {2.95, 2.90, 3.00, WW_FITTED},
         "density 2.87 (2.86 to 2.88), green the least; "},
        {"within their doubt",
         {2.67, 2.66, 2.68, WW_FITTED},
         {2.68, 2.66, 2.70, WW_FITTED},
         {2.69, 2.67, 2.71, WW_FITTED},
         "density 2.67 (2.66 to 2.68), all channels alike; "},
        {"one of the others apart",
         {2.67, 2.66, 2.68, WW_FITTED},
         {2.68, 2.66, 2.70, WW_FITTED},
         {2.79, 2.77, 2.81, WW_FITTED},
         "density 2.67 (2.66 to 2.68); "},
        {"the wedge ends first",
         {3.05, 3.04, 3.06, WW_MEASURED},
         {3.05, 3.04, 3.06, WW_MEASURED},
         {3.04, 3.03, 3.05, WW_MEASURED},
         "density 3.04 at least, where the wedge ends, all channels alike; "},
        {"a wedge of another density for each",
         {3.05, 3.04, 3.06, WW_MEASURED},
         {3.14, 3.13, 3.15, WW_MEASURED},
         {3.29, 3.28, 3.30, WW_MEASURED},
         "density 3.05 at least, where the wedge ends in red; "},
        {"for the others",
         {3.05, 3.04, 3.06, WW_MEASURED},
         {3.05, 3.04, 3.06, WW_MEASURED},
         {2.81, 2.79, 2.83, WW_FITTED},
         "density 2.81 (2.79 to 2.83), blue the least; "},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct scanner_case made;
        ww__report report = WW__REPORT_INIT;
        scan_case_scanner(&made, true);
        made.scanner.channel[WW_RED].dmax = rows[i].red;
        made.scanner.channel[WW_GREEN].dmax = rows[i].green;
        made.scanner.channel[WW_BLUE].dmax = rows[i].blue;
        ww__scanner_report(&made.scanner, &report);
        test_holds(rows[i].row, ww__text_string(&report.act), rows[i].says);
        ww__report_release(&report);
    }
}

static void encoded_and_ended_by_the_wedge(void **state) {
    struct scanner_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_scanner(&made, false);
    made.scanner.gamma = scan_case_quantity(2.19, 0.03, WW_FITTED);
    made.scanner.wedge = WW_WEDGE_CERTIFIED;
    made.scanner.channel[WW_VISUAL].dmax = (ww_quantity){3.02, 3.01, 3.03, WW_MEASURED};
    ww__scanner_report(&made.scanner, &report);
    test_text("act", ww__text_string(&report.act),
              "This scanner sees to density 3.02 at least, where the wedge ends; flare at most "
              "0.44 % of open light; codes are not light but encoded, gamma "
              "2.19 (2.16 to 2.22).");
    test_holds("why", ww__text_string(&report.why), "21 steps of a certified wedge were fitted; ");
    test_text("marked", find_block(&report, sees)->item[2 * 7 + 1], "3.02 +");
    test_holds("mark", find_block(&report, "Marks")->item[0], "What is marked + is at least that");
    ww__report_release(&report);
    made.scanner.encoding = WW_ENCODING_SRGB;
    ww__scanner_report(&made.scanner, &report);
    test_holds("sRGB", ww__text_string(&report.act), "codes are not light but encoded as sRGB.");
    ww__report_release(&report);
}

static void says_what_is_not_known(void **state) {
    struct scanner_case made;
    ww_scanner none = WW_SCANNER_INIT;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__scanner_report(&none, &report);
    test_text("nothing", ww__text_string(&report.act), "No calibration: no channel was fitted.");
    ww__report_release(&report);

    scan_case_scanner(&made, false);
    made.scanner.gamma.how = WW_ABSENT;
    made.scanner.wedge = WW_WEDGE_UNKNOWN;
    made.scanner.channel[WW_VISUAL].dmax.how = WW_ABSENT;
    made.scanner.channel[WW_VISUAL].flare.how = WW_ABSENT;
    made.scanner.channel[WW_VISUAL].n_points = 0;
    ww__scanner_report(&made.scanner, &report);
    test_text("act", ww__text_string(&report.act),
              "How dense a film this scanner sees through is not known; encoding not known.");
    test_text("why", ww__text_string(&report.why),
              "21 steps of a wedge of unknown pedigree were fitted; the model leaves 0.006 D, at "
              "most 0.031 D.");
    ww__report_release(&report);
}

/* Source: encodings that exports make begin at 1.4 (common practice); 1 - 1/1.025 is 2.4 %; steps
 * clipped to black end codes, not the wedge, and black that was taken off hides flare (the model's
 * one constant). */
static void what_the_wedge_cannot_tell_is_not_said(void **state) {
    struct scanner_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_scanner(&made, false);
    made.scanner.gamma = (ww_quantity){1.025, 1.02, 1.03, WW_FITTED};
    made.scanner.channel[WW_VISUAL].dark = (ww_quantity){-0.0016, -0.0017, -0.0015, WW_FITTED};
    made.scanner.channel[WW_VISUAL].dmax = (ww_quantity){2.87, 2.86, 2.88, WW_MEASURED};
    made.scanner.channel[WW_VISUAL].step[SCAN_CASE_STEPS - 1].clipped = true;
    made.scanner.channel[WW_VISUAL].step[SCAN_CASE_STEPS - 1].density = 3.1;
    ww__scanner_report(&made.scanner, &report);
    test_text("act", ww__text_string(&report.act),
              "This scanner sees to density 2.87 (2.86 to 2.88), as denser steps of the wedge are "
              "clipped to black; flare cannot be told, as black was taken off; codes are linear, "
              "but the wedge or the scanner is off by 2.4 %.");
    assert_null(find_block(&report, "Marks"));
    ww__report_release(&report);
}

/* No figure of a calibration that is not to be trusted is a headline. */
static void a_misfit_has_no_figures_in_its_headline(void **state) {
    struct scanner_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_scanner(&made, false);
    made.scanner.misfit = true;
    made.scanner.gamma = (ww_quantity){1.11, 1.10, 1.12, WW_FITTED};
    ww__scanner_report(&made.scanner, &report);
    test_text("act", ww__text_string(&report.act),
              "Trust nothing that is read by this calibration, as the first note says.");
    test_lacks("no trust", ww__text_string(&report.why), "trusted");
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_colour),
        cmocka_unit_test(the_least_channel_is_named_where_it_is_one),
        cmocka_unit_test(encoded_and_ended_by_the_wedge),
        cmocka_unit_test(says_what_is_not_known),
        cmocka_unit_test(what_the_wedge_cannot_tell_is_not_said),
        cmocka_unit_test(a_misfit_has_no_figures_in_its_headline),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
