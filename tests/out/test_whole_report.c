/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/scan_case.h"

/* Source: the interface's rules for text; the numbers are those of the made case, by hand. */

static const char densities[] =
    "Densities (scanner): this share of the pixels is no denser, trust 95 %";
static const char codes[] = "Code values: this share of the pixels is no lighter";

static void with_a_scanner_file(void **state) {
    ww_whole whole = scan_case_whole(true);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__whole_report(&whole, &report);
    /* Green is 0.21 denser than red's 0.31, 0.87 and 1.72. */
    test_text("act", ww__text_string(&report.act),
              "Density 0.52 to 1.93 in green, without the outermost 0.1 % at either end; median "
              "1.08 D; trust +-0.02; 24.0 million pixels.");
    test_text("why", ww__text_string(&report.why),
              "Every pixel was counted. 0.06 % of the pixels are at the greatest code in blue. The "
              "file has 16 bits, no resolution and no colour profile.");
    expect_row("heading", &report, densities, 0, "share|red|trust|green|trust|blue|trust");
    expect_row("thinnest", &report, densities, 2, "thinnest|0.24|0.02|0.45|0.02|0.66|0.02");
    expect_row("median", &report, densities, 5, "median|0.87|0.02|1.08|0.02|1.29|0.02");
    expect_row("densest", &report, densities, 8, "densest|over||over||over|");
    test_holds("trust", find_block(&report, "Trust")->item[0], "The noise of single pixels");
    expect_row("red", &report, codes, 2, "red|334|1457|1792|8517|28803|30147|35367|0.00|0.00");
    ww__report_release(&report);

    whole.density[WW_GREEN][WW_WHOLE_P99_9].sd.value = 0.004;
    whole.density[WW_GREEN][WW_WHOLE_P0_1].sd.value = 0.03;
    ww__whole_report(&whole, &report);
    test_holds("two ends", ww__text_string(&report.act),
               "; trust +-0.01 at the thin end, +-0.06 at the dense end; ");
    ww__report_release(&report);

    whole.off = true;
    whole.pixels = 1;
    for (int i = 0; i < WW_WHOLE_COUNT; i++) /* as measured, where all are off */
        whole.density[WW_GREEN][i].sd.set = false;
    ww__whole_report(&whole, &report);
    test_holds("off", ww__text_string(&report.act),
               "All densities here are off, as a note says: density 0.52 to 1.93 in green, ");
    test_holds("one", ww__text_string(&report.act), "; median 1.08 D; 1 pixel.");
    assert_null(find_block(&report, "Trust"));
    ww__report_release(&report);

    whole.off = false;
    whole.density[WW_GREEN][WW_WHOLE_P0_1].state = WW_CELL_OVER;
    ww__whole_report(&whole, &report);
    test_holds("beyond", ww__text_string(&report.act),
               "Density 0.52 D to beyond the scanner's wedge in green, ");
    ww__report_release(&report);
}

static void without_one(void **state) {
    ww_whole whole = scan_case_whole(false);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    whole.pixels = 4711;
    whole.clipped_low[WW_RED] = 0.00001;
    whole.clipped_high[WW_GREEN] = whole.clipped_high[WW_BLUE] = 0.0;
    ww__whole_report(&whole, &report);
    test_text("act", ww__text_string(&report.act),
              "Code 1012 to 18702 in green, without the outermost 0.1 % at either end; median "
              "5365; 4711 pixels.");
    test_holds("clipped", ww__text_string(&report.why),
               "Under 0.01 % of the pixels are at code 0 in red. The file has ");
    test_holds("no scanner", ww__text_string(&report.why), ". Densities need a scanner file");
    assert_null(find_block(&report, densities));
    ww__report_release(&report);

    whole.clipped_low[WW_RED] = 0.0;
    ww__whole_report(&whole, &report);
    test_holds("none", ww__text_string(&report.why), "Every pixel was counted. None is clipped.");
    ww__report_release(&report);

    whole.left_out[WW_RED] = 1;
    ww__whole_report(&whole, &report);
    test_holds("one", ww__text_string(&report.why),
               "All pixels were counted but 1, which is no number in red (NaN or infinite). None");
    ww__report_release(&report);

    whole.left_out[WW_GREEN] = 37;
    ww__whole_report(&whole, &report);
    test_holds("more", ww__text_string(&report.why),
               "All pixels were counted but 37, which are no numbers in green (NaN or infinite).");
    ww__report_release(&report);
}

/* Ten bins of 0.02 to a row, empty rows left out; what has no density stands last. */
static void a_histogram_in_rows(void **state) {
    ww_whole whole = scan_case_whole(true);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    whole.pixels = 1000;
    whole.bins = (ww_whole_bins){.from = 0.0, .width = 0.02, .n = 45};
    for (int c = 0; c < 3; c++)
        whole.bins.count[c][0] = 600, whole.bins.count[c][9] = 100, whole.bins.count[c][44] = 260;
    whole.bins.darker[WW_BLUE] = 40;
    ww__whole_report(&whole, &report);
    expect_row("heading", &report, "Histogram", 0, "density|red|green|blue");
    expect_row("units", &report, "Histogram", 1, "D|% of pixels|% of pixels|% of pixels");
    expect_row("first", &report, "Histogram", 2, "0.00 to 0.20|70.00|70.00|70.00");
    expect_row("last", &report, "Histogram", 3, "0.80 to 1.00|26.00|26.00|26.00");
    expect_row("rest", &report, "Histogram", 4, "darker, no density|0.00|0.00|4.00");
    ww__report_release(&report);
}

static void nothing_counted(void **state) {
    ww_whole whole = WW_WHOLE_INIT;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    assert_int_equal(ww_notes_add(&whole.notes, NULL, "Invented."), WW_OK);
    ww__whole_report(&whole, &report);
    test_text("act", ww__text_string(&report.act), "Nothing was counted.");
    test_text("note", find_block(&report, "Notes")->item[0], "Invented.");
    ww__report_release(&report);
    ww_notes_release(&whole.notes);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(with_a_scanner_file),
        cmocka_unit_test(without_one),
        cmocka_unit_test(a_histogram_in_rows),
        cmocka_unit_test(nothing_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
