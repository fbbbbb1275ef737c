/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/scan_parts.h"
#include "support/scan_plan_case.h"
#include <math.h>

/* Source: as in test_scan_more.c, read noise alone, of 1e-3 and 0.9: one scan tells 2.8 read / (3
 * ln 10 light). */
static void a_smaller_goal(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 2.75);
    c.request.separate = 0.001;
    /* 0.135 by one; one and 15 with 4 stops more divide it by 257 / sqrt(1 + 256 / 15) = 60.5. */
    scan_plan_case_says("one", &c, "one scan tells 0.14 D", true);
    scan_plan_case_says("least", &c, "but 0.0023 D over 3 x 3", true);
    scan_plan_case_says("ask for one", &c, "Ask for one of these with --separate", true);
    c.made.scanner.channel[WW_VISUAL].noise.read = 0.02;
    scan_plan_case_says("not seen", &c, "it would tell 0.0", true);
    c.made.scanner.channel[WW_VISUAL].noise.read = 0.9;
    scan_plan_case_says("nor by any", &c, "Nor does it by 16 scans, or with 4 stops more", true);
}

static void other_ways(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.7);
    c.made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){9e-4, 1e-3, 1e-3};
    scan_plan_case_says("second", &c, "ratio measured where both see", true);
    scan_plan_case_says("or else", &c, "One scan tells", true);
    scan_plan_case_says("or averaged", &c, "scans alike would do, too", true);
    c.made.scanner.channel[WW_VISUAL].noise.fixed = 0.1;
    scan_plan_case_says("neither", &c, "16 scans, averaged and some", true);
}

/* Read noise alone, r 2.34 and c 10 as in test_scan_more.c: one and one with 2 1/3 stops tell the
 * cloud, and where they clip the first tells 4.9 / 2.34 of 0.01. Two of each with 1 2/3 tell all.
 * With a third of the noise the plan tells all itself. */
static void thinner_tones(void **state) {
    scan_plan_case c;
    const double read = 0.01 / 2.34 * 3.0 * log(10.0) * 0.95 / 2.8;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, read, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.25);
    scan_plan_case_says("told less", &c,
                        "Thinner tones than 'cloud' that clip in the second exposure, or nearly "
                        "so, are told to 0.021 D at worst (visual)",
                        true);
    scan_plan_case_says("what would do", &c,
                        "To tell 0.01 D there, too, merge the mean of 2 of the first exposure with "
                        "the mean of 2 of one with 1.7 stops more",
                        true);
    c.made.scanner.channel[WW_VISUAL].noise.read = read / 3.0;
    scan_plan_case_says("told", &c, "ratio measured where both see", true);
    scan_plan_case_says("told", &c, "Thinner tones", false);
}

/* In 8 bits a mean is rounded once more where it is kept in 8. Source: noise of 1.2 codes: of 4
 * scans 0.6, of one none is averaged. */
static void means_want_more_bits(void **state) {
    static const char words[] =
        "Keep a mean of scans in more than 8 bits (`scan --merge` writes 16)";
    scan_plan_case c;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, 1.2 / 255.0, 0.0, 0.0, 8, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.25);
    const double one = 2.8 * 1.2 / 255.0 / (3.0 * log(10.0) * 0.095);
    c.request.separate = 0.51 * one;
    scan_plan_case_says("four alike", &c, words, true);
    c.request.separate = 1.01 * one;
    scan_plan_case_says("one scan", &c, words, false);
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, 1.2 / 255.0, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.25);
    c.request.separate = 0.51 * one;
    scan_plan_case_says("in 16 bits", &c, words, false);
}

/* A scanner file tells the noise of one scan, and a merge takes both exposures for such. Source: a
 * mean of n has 1/sqrt(n) of the noise. */
static void means_have_noise_of_their_own(void **state) {
    static const char words[] = "A mean of 4 scans has 2.0 times less noise than the scanner file";
    scan_plan_case c;
    (void)state;
    for (int encoded = 0; encoded < 2; encoded++) {
        scan_plan_case_start(
            &c, (scan_pixels_truth){0.7, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, encoded ? 2.2 : 1.0});
        scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
        scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.25);
        ww_scan_plan plan;
        scan_plan_case_make("one", &c, &plan);
        test_true("one scan", plan.passes == 1 && !test_noted(&plan.notes, "A mean of"));
        plan.first = 4, plan.passes = 4;
        plan.way = WW_SCAN_AVERAGE;
        assert_int_equal(ww__scan_ways(&plan, NULL), WW_OK);
        test_true("mean", test_noted(&plan.notes, words));
        plan.second = 1;
        assert_int_equal(ww__scan_ways(&plan, NULL), WW_OK);
        test_true("merged", test_noted(&plan.notes, "`scan --merge` tells so with --scanner"));
        plan.second = 0;
        test_true("light", test_noted(&plan.notes, "leave --scanner out") == !encoded);
        test_true("encoded",
                  test_noted(&plan.notes, "a file made from a mean of as many scans") == encoded);
        ww_scan_plan_release(&plan);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_smaller_goal), cmocka_unit_test(other_ways),
        cmocka_unit_test(thinner_tones), cmocka_unit_test(means_want_more_bits),
        cmocka_unit_test(means_have_noise_of_their_own)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
