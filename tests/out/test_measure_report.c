/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/scan_case.h"

/* Source: the interface's rules for text; the numbers are those of the made case, by hand. */

static const char densities[] = "Densities (scanner), trust 95 %";
static const char codes[] = "Code values; noise is that of one pixel";
static const char codes_green[] = "Code values; noise is that of one pixel in green";

static void a_strip_in_grey(void **state) {
    struct scan_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_strip(&made, false);
    made.measured.calibrated = true;
    ww__measured_report(&made.measured, &report);
    /* 0.05 + 3 * 0.013 = 0.089; 0.05 + 19 * 0.1485 + 0.039 = 2.9105; 1.96 * 0.0116 = 0.0227. */
    test_text("act", ww__text_string(&report.act),
              "21 steps found, turned 1.7 degrees clockwise; densities 0.09 to 2.91 (scanner), "
              "trust +-0.01 at the thin end, +-0.03 at the dense end; 1 beyond what the scanner's "
              "wedge covered.");
    test_text("why", ww__text_string(&report.why),
              "Step 1 lies at the left, step 21 at the right. The middle 60 % of each was read: "
              "2960 to 2980 pixels, averaged as light; at most 1.2 % left out as dust or scratches "
              "(step 8). The file has 16 bits, 1200 px an inch and the profile 'Linear grey'.");
    expect_row("heading", &report, densities, 0, "step|density|trust");
    expect_row("units", &report, densities, 1, "|D|+-D");
    expect_row("first", &report, densities, 2, "1|0.09|0.01");
    expect_row("over", &report, densities, 22, "21|over|");
    expect_row("heading", &report, codes, 0, "step|mean|noise|kept|left out|drift");
    expect_row("step 8", &report, codes, 9, "8|4829|31|2973|1.23|0.2");
    /* What its column is; log10 1.01 = 0.0043. */
    const char *drift = find_block(&report, "Drift")->item[0];
    test_holds("drift", drift, "in % of its mean code");
    test_holds("as density", drift, "1 % is 0.004 D");
    ww__report_release(&report);
}

/* No trust is claimed for densities that a note calls off. */
static void all_of_them_off(void **state) {
    struct scan_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_strip(&made, false);
    made.measured.off = true;
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
        made.patch[i].channel[WW_VISUAL].density.sd.set = false;
    ww__measured_report(&made.measured, &report);
    test_text("act", ww__text_string(&report.act),
              "All densities here are off, as a note says: 21 steps found, turned 1.7 degrees "
              "clockwise; densities 0.09 to 2.91 (scanner); 1 beyond what the scanner's wedge "
              "covered.");
    expect_row("first", &report, densities, 2, "1|0.09|");
    ww__report_release(&report);
}

static void a_strip_and_its_base(void **state) {
    static char base[] = "base";
    struct scan_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_strip(&made, false);
    made.measured.n_spots = 1;
    made.patch[20].step = base;
    made.patch[20].radius = 40.0;
    made.patch[20].rejected = 0.02;
    ww__measured_report(&made.measured, &report);
    test_holds("act", ww__text_string(&report.act),
               "20 steps found, turned 1.7 degrees clockwise, and 1 spot read; densities ");
    test_holds("direction", ww__text_string(&report.why),
               "step 20 at the right. The middle 60 % "
               "of each was read, of a spot all: ");
    test_holds("worst", ww__text_string(&report.why), "left out as dust or scratches (base)");
    expect_row("heading", &report, densities, 0, "step, spot|density|trust");
    expect_row("base", &report, densities, 22, "base|over|");
    ww__report_release(&report);

    made.patch[20].channel[WW_VISUAL].no_number = 3;
    ww__measured_report(&made.measured, &report);
    test_holds("holes", ww__text_string(&report.why), "as dust, scratches or no numbers (base)");
    ww__report_release(&report);
}

static void a_strip_in_colour(void **state) {
    struct scan_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_strip(&made, true);
    made.measured.angle_deg = -2.34;
    made.measured.upright = made.measured.reversed = true;
    made.patch[0].channel[WW_BLUE].clipped = 0.25;
    made.patch[3].channel[WW_RED].drift = -0.031 * made.patch[3].channel[WW_RED].code;
    ww__measured_report(&made.measured, &report);
    test_holds("turned", ww__text_string(&report.act), "turned 2.3 degrees anticlockwise; ");
    test_holds("channel", ww__text_string(&report.act), "densities 0.06 to 2.88 (scanner, green)");
    test_holds("direction", ww__text_string(&report.why),
               "Step 1 lies at the bottom, step 21 at the top.");
    expect_row("heading", &report, densities, 0, "step|red|trust|green|trust|blue|trust");
    expect_row("first", &report, densities, 2, "1|0.05|0.01|0.06|0.01|0.08|0.01");
    expect_row("heading", &report, codes_green, 0,
               "step|red|green|blue|noise|kept|left out|drift|clipped");
    expect_row("clipped", &report, codes_green, 2, "1|54615|53013|51459|224|2980|0.04|0.2|25.00");
    expect_row("drift", &report, codes_green, 5, "4|19770|19196|18638|89|2977|0.04|-3.1|0.00");
    ww__report_release(&report);
}

/* Without a scanner file the text says what to do next. */
static void codes_alone(void **state) {
    struct scan_case made;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    scan_case_spots(&made);
    ww__measured_report(&made.measured, &report);
    test_text("act", ww__text_string(&report.act),
              "3 spots read; code 3082 to 36102 of 65535, no densities.");
    test_holds("why", ww__text_string(&report.why), "(cloud). The file has 16 bits, ");
    test_holds("no scanner", ww__text_string(&report.why), ". There are no densities");
    test_holds("next", ww__text_string(&report.why), "Next, scan a known step wedge");
    assert_null(find_block(&report, densities));
    expect_row("heading", &report, codes, 0, "spot|mean|noise|kept|left out|drift");
    expect_row("spot", &report, codes, 2, "cloud|3082|80|490|0.10|0.0");
    ww__report_release(&report);

    made.measured.n = made.measured.n_spots = 1;
    made.patch[0].rejected = 0.0;
    made.measured.white = made.patch[0].channel[WW_VISUAL].code = 1.0;
    ww__measured_report(&made.measured, &report);
    test_text("float", ww__text_string(&report.act),
              "1 spot read; code 1.00000 of 1, no densities.");
    test_holds("clean", ww__text_string(&report.why), "averaged as light; none left out.");
    ww__report_release(&report);

    made.patch[0].n = 1;
    ww__measured_report(&made.measured, &report);
    test_holds("one", ww__text_string(&report.why), "1 pixel, averaged as light");
    ww__report_release(&report);
}

static void odd_ones(void **state) {
    struct scan_case made;
    ww_measured nothing = WW_MEASURED_INIT;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__measured_report(&nothing, &report);
    test_text("nothing", ww__text_string(&report.act), "Nothing was read.");
    ww__report_release(&report);

    scan_case_strip(&made, false);
    made.measured.angle_deg = -0.04;
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        ww_patch_channel *p = &made.patch[i].channel[WW_VISUAL];
        p->reach = i < 2 ? WW_REACH_LIGHT : i == 2 ? WW_REACH_NONE : WW_REACH_DARK;
        p->density = (ww_cell){.state = i < 2    ? WW_CELL_LESS
                                        : i == 2 ? WW_CELL_MISSING
                                                 : WW_CELL_OVER,
                               .value = 0.031};
    }
    assert_int_equal(ww_notes_add(&made.measured.notes, NULL, "Invented."), WW_OK);
    ww__measured_report(&made.measured, &report);
    test_text(
        "all beyond", ww__text_string(&report.act),
        "21 steps found, lying straight; 2 too light to be read; 18 beyond what the scanner's "
        "wedge covered; 1 of no one density.");
    expect_row("too light", &report, densities, 2, "1|<0.03|");
    expect_row("mixed", &report, densities, 4, "3|-|");
    test_text("note", find_block(&report, "Notes")->item[0], "Invented.");
    ww__report_release(&report);
    ww_notes_release(&made.measured.notes);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_strip_in_grey),      cmocka_unit_test(all_of_them_off),
        cmocka_unit_test(a_strip_and_its_base), cmocka_unit_test(a_strip_in_colour),
        cmocka_unit_test(codes_alone),          cmocka_unit_test(odd_ones),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
