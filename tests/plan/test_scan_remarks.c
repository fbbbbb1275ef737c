/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"
#include <math.h>

static void what_it_was_made_on(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_says("base", &c, "No row gives the film's base", false);
    scan_plan_case_says("status", &c, "stand in for this scanner's own", false);
    scan_plan_case_says("linear", &c, "encoded", false);
    scan_plan_case_says("always", &c, "Lock exposure", true);
    scan_plan_case_says("base's code", &c, "near code 62258 of 65535", true);
    scan_plan_case_says("which way", &c, "less light than the wedge reads 0.30 D too dense", true);
    scan_plan_case_says("preview", &c, "set itself, for the scan or before, for the preview", true);
    scan_plan_case_says("densities", &c, "need a scanner file made from a wedge at its", true);
    scan_plan_case_says("trusted to 0.1", &c, "lie between 'base' and clipping", false);
    for (int i = 0; i < SCAN_PIXELS_POINTS; i++)
        c.made.point[WW_VISUAL][i].doubt = 0.05;
    scan_plan_case_says("trusted to 0.2", &c,
                        "trusted to 0.2, and 0.07 lie between 'base' and clipping", true);
    scan_plan_case_says("inside the wedge", &c, "denser than the wedge", false);
    c.row[0].cell[WW_VISUAL].value = 0.01;
    scan_plan_case_says("clear", &c, "'base' reads 0.01 D (visual), clearer than any film", true);
    c.row[0].cell[WW_VISUAL].value = -0.015;
    scan_plan_case_says("an error of reading", &c, "clearer than open light", false);
    c.row[0].cell[WW_VISUAL].value = -0.03;
    scan_plan_case_says("off", &c, "light: the preview got more light than the wedge", true);
    c.row[0].cell[WW_VISUAL].value = 0.25;
    scan_plan_case_says("a base", &c, "clearer than any film", false);
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

/* Half of the light is flare where it is as large as 10^-D. Source: definition. */
static void what_flare_does(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.7);
    c.made.scanner.channel[WW_VISUAL].n_points = 0;
    c.made.scanner.channel[WW_VISUAL].flare = scan_pixels_given(0.05 * pow(10.0, -1.7));
    scan_plan_case_says("95 %", &c, "Flare leaves", false);
    c.made.scanner.channel[WW_VISUAL].flare = scan_pixels_given(pow(10.0, -1.7));
    scan_plan_case_says("half", &c,
                        "Flare leaves 50 % of the contrast in 'cloud' (visual): 0.01 D on the film "
                        "are 0.005 D",
                        true);
    c.row[2].part = WW_PART_DENSE;
    scan_plan_case_grey(&c, "cloud", WW_PART_THIN, 1.62);
    scan_plan_case_says("its ends", &c, "0.08 D on the film are 0.04 D", true);
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
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, 1e-5, 0.0, 0.0, 8, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.85);
    scan_plan_case_says("codes", &c, "One code of 8 bits is 0.066 D at 'cloud'", true);
    scan_plan_case_says("codes", &c, "break into steps", true);
    c.made.scanner.channel[WW_VISUAL].noise.read = 1.0 / 255.0;
    scan_plan_case_says("noise hides them", &c, "noise alone carries clouds across", true);
    scan_plan_case_says("all of them", &c, "come in steps", false);
    scan_plan_case_usual(&c, 1.85);
    c.made.scanner.step = 257.0;
    scan_plan_case_says("saved in 16", &c, "they hold 8 bits in a file of 16", true);
    scan_plan_case_says("saved in 16", &c, "One code of 8 bits is 0.066 D at 'cloud'", true);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_it_was_made_on),
                                       cmocka_unit_test(what_flare_does),
                                       cmocka_unit_test(what_it_takes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
