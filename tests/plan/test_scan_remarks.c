/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"

static void what_it_was_made_on(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_says("base", &c, "No row gives the film's base", false);
    scan_plan_case_says("status", &c, "stand in for this scanner's own", false);
    scan_plan_case_says("linear", &c, "encoded", false);
    scan_plan_case_says("always", &c, "Lock exposure", true);
    scan_plan_case_says("base's code", &c, "near code 62258", true);
    scan_plan_case_says("inside the wedge", &c, "denser than the wedge", false);
    c.negative.meta.status = WW_STATUS_M;
    scan_plan_case_says("status M", &c, "status M) stand in", true);
    c.made.scanner.gamma = scan_pixels_given(2.2);
    scan_plan_case_says("gamma", &c, "gamma 2.20", true);
    scan_plan_case_says("a stop", &c, "a factor of 1.37 in code", true);
    c.made.scanner.encoding = WW_ENCODING_SRGB;
    scan_plan_case_says("sRGB", &c, "sRGB", true);
    scan_plan_case_says("misfit", &c, "far from its wedge", false);
    c.made.scanner.misfit = true;
    scan_plan_case_says("misfit", &c, "far from its wedge", true);
    scan_plan_case_usual(&c, 4.2);
    scan_plan_case_says("beyond", &c, "denser than the wedge", true);
    scan_plan_case_start(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_grey(&c, "shadow", WW_PART_WHOLE, 0.4);
    scan_plan_case_grey(&c, "cloud", WW_PART_THIN, 1.50);
    scan_plan_case_grey(&c, "cloud", WW_PART_DENSE, 1.52);
    scan_plan_case_says("stands in", &c, "'shadow' (0.40 D, visual), the thinnest", true);
    scan_plan_case_says("no detail", &c, "holds 0.020 D", true);
    c.row[2].cell[WW_VISUAL].value = 1.57;
    scan_plan_case_says("detail", &c, "between its ends", false);
    c.request.separate = 0.1;
    scan_plan_case_says("more than the detail", &c, "holds 0.070 D between its ends (visual)",
                        true);
    c.request.separate = 0.01;
    scan_plan_case_grey(&c, "sun", WW_PART_WHOLE, 0.0)->state = WW_CELL_OVER;
    scan_plan_case_says("over", &c, "'sun' reads beyond the instrument", true);
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_colour(&c, SCAN_PLAN_CASE_TRUTH);
    scan_plan_case_says("visual serves", &c, "visual densities serve for red", true);
    scan_plan_case_says("alike", &c, "colour the light", false);
}

static void what_it_takes(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.3);
    c.made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){1e-4, 3e-4, 1e-3};
    scan_plan_case_says("one", &c, "--separate", false);
    scan_plan_case_says("more light", &c, "lamp and time are fixed", true);
    c.made.scanner.channel[WW_VISUAL].k = 2.0;
    c.made.scanner.channel[WW_VISUAL].n_points = 0;
    scan_plan_case_says("less light", &c, "lamp and time are fixed", false);
    scan_plan_case_usual(&c, 1.7);
    c.made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){9e-4, 1e-3, 1e-3};
    scan_plan_case_says("second", &c, "ratio measured where both see", true);
    scan_plan_case_says("or else", &c, "One scan tells", true);
    scan_plan_case_says("or averaged", &c, "scans alike would do", true);
    c.made.scanner.channel[WW_VISUAL].noise.fixed = 0.1;
    scan_plan_case_says("neither", &c, "Neither a second scan", true);
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, 1e-5, 0.0, 0.0, 8, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.85);
    scan_plan_case_says("codes", &c, "One code of 8 bits is 0.066 D at 'cloud'", true);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_it_was_made_on),
                                       cmocka_unit_test(what_it_takes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
