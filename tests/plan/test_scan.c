/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"
#include <math.h>

/* Pixels drawn at the exposure that the plan gives: base at 95 % within 0.1 stop, signal-to-noise
 * and the difference told apart within 20 %. Source: the aims, the model's definition. */
static void simulated_scanners(void **state) {
    static const struct {
        const char *row;
        scan_pixels_truth truth;
        double base, cloud;
    } rows[] = {
        {"dark scan", {0.21, 0.002, 0.002, 4e-4, 2e-3, 4e-3, 16, 1.0}, 0.23, 1.43},
        {"clipping scan", {1.93, 0.001, 0.001, 4e-4, 2e-3, 4e-3, 16, 1.0}, 0.19, 1.57},
        {"flare", {0.62, 0.0, 0.012, 3e-4, 1e-3, 3e-3, 16, 1.0}, 0.34, 2.07},
        {"noisy 12 bit", {0.83, 0.001, 0.001, 1.7e-3, 4e-3, 2e-3, 12, 1.0}, 0.22, 1.74},
        {"8 bit, gamma 2.2", {0.55, 0.0, 0.003, 8e-4, 3e-3, 3e-3, 8, 2.2}, 0.27, 1.46},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_start(&c, rows[i].truth);
        scan_plan_case_grey(&c, "base", WW_PART_WHOLE, rows[i].base);
        scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, rows[i].cloud);
        scan_plan_case_make(rows[i].row, &c, &plan);
        const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
        const double stops = channel->stops.value;
        const scan_pixels_seen base = scan_pixels_see(&rows[i].truth, stops, rows[i].base, 1, 440);
        const scan_pixels_seen cloud =
            scan_pixels_see(&rows[i].truth, stops, rows[i].cloud, 1, 2200);
        test_close(rows[i].row, log2(base.light / 0.95), 0.0, 0.05);
        test_close(rows[i].row, channel->tone[channel->highlight].snr / cloud.snr, 1.0, 0.2);
        test_close(rows[i].row, channel->separable / cloud.separable, 1.0, 0.2);
        test_close(rows[i].row, channel->told / cloud.told, 1.0, 0.2);
        /* A lamp that stays as it is: codes are multiplied, signal over noise is as it was. */
        const scan_pixels_seen lamp = scan_pixels_see(&rows[i].truth, 0.0, rows[i].cloud, 1, 2200);
        test_close(rows[i].row, channel->snr_before.value / lamp.snr, 1.0, 0.2);
        ww_scan_plan_release(&plan);
    }
}

/* A masked film: base .32/.63/.72, cloud 1.30/1.77/2.03 (trade, 2A: one film's process note), on a
 * scanner alike in all channels. Source: hand calculation: without flare and dark, channels lie
 * apart by their bases over log10 2, and light by 10 to the same. */
static void masked_film(void **state) {
    static const double base[] = {0.32, 0.63, 0.72}, cloud[] = {1.30, 1.77, 2.03};
    const scan_pixels_truth truth = {0.6, 0.0, 0.0, 4e-4, 2e-3, 4e-3, 16, 1.0};
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, truth);
    scan_plan_case_colour(&c, truth);
    c.negative.meta.emulsion = WW_EMULSION_COLOUR_NEGATIVE;
    scan_plan_case_tone(&c, "base", WW_PART_WHOLE, WW_RED, 3, base);
    scan_plan_case_tone(&c, "cloud", WW_PART_WHOLE, WW_RED, 3, cloud);
    scan_plan_case_make("masked", &c, &plan);
    for (int k = 0; k < 3; k++) {
        test_close("stops", plan.channel[k].stops.value,
                   log2(0.95 / 0.6) + base[k] / 0.30102999566398, 1e-9);
        test_close("light", plan.channel[k].light, pow(10.0, base[k] - base[0]), 1e-9);
        test_close("base code", plan.channel[k].base_code, 0.95 * 65535.0, 1e-6);
    }
    test_close("one for all", plan.stops, plan.channel[WW_RED].stops.value, 0.0);
    test_true("weakest", plan.weakest == WW_BLUE);
    test_true("not grey", !plan.channel[WW_VISUAL].present);
    test_true("loses", plan.channel[WW_BLUE].snr_together.value <
                           plan.channel[WW_BLUE].tone[plan.channel[WW_BLUE].highlight].snr);
    test_true("said", test_noted(&plan.notes, "1.00 : 2.04 : 2.51 (red, green, blue)"));
    ww_scan_plan_release(&plan);
}

/* One scan where it does; a second, an average, or neither where it does not. What they tell is
 * looked at in pixels elsewhere; here, that the way fits the noise. */
static void ways(void **state) {
    static const char *const keep[] = {"cloud"};
    static const struct {
        const char *row;
        double read, shot, fixed, cloud, separate;
        ww_scan_way way;
        bool seen;
    } rows[] = {
        {"little noise", 1e-4, 3e-4, 1e-3, 1.6, 0.01, WW_SCAN_ONE, true},
        {"read noise", 9e-4, 1e-3, 1e-3, 1.8, 0.01, WW_SCAN_SECOND, true},
        /* The cloud is so thin that a second scan would clip just beside it. */
        {"thin cloud", 4e-4, 4.5e-2, 1e-3, 0.33, 0.02, WW_SCAN_AVERAGE, true},
        {"fixed pattern", 1e-4, 3e-4, 0.1, 1.6, 0.01, WW_SCAN_NO_WAY, true},
        {"less asked of it", 1e-4, 3e-4, 0.1, 1.6, 0.06, WW_SCAN_ONE, true},
        {"blind there", 9e-3, 1e-3, 1e-3, 3.1, 0.01, WW_SCAN_NO_WAY, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_usual(&c, rows[i].cloud);
        c.made.scanner.channel[WW_VISUAL].noise =
            (ww_scanner_noise){rows[i].read, rows[i].shot, rows[i].fixed};
        c.request.separate = rows[i].separate;
        c.request.keep = keep;
        c.request.n_keep = 1;
        scan_plan_case_make(rows[i].row, &c, &plan);
        test_text(rows[i].row, ww_scan_way_name(plan.way), ww_scan_way_name(rows[i].way));
        test_true(rows[i].row, plan.holds == (rows[i].way != WW_SCAN_NO_WAY));
        test_true(rows[i].row, plan.channel[WW_VISUAL].seen == rows[i].seen);
        test_true(rows[i].row, plan.passes == 1 || plan.way == WW_SCAN_AVERAGE ||
                                   (plan.passes == 2 && plan.way == WW_SCAN_SECOND));
        ww_scan_plan_release(&plan);
    }
}

static void refusals(void **state) {
    scan_plan_case c;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    c.request.separate = 0.0001;
    scan_plan_case_refused("separate", &c, WW_EDOMAIN, "0.001 to 1 D");
    scan_plan_case_usual(&c, 1.5);
    c.made.scanner.density = WW_DENSITY_REFLECTION;
    scan_plan_case_refused("reflection", &c, WW_EMISMATCH, "film wedge");
    scan_plan_case_usual(&c, 1.5);
    c.negative.meta.process = WW_PROCESS_REVERSAL;
    scan_plan_case_refused("reversal", &c, WW_EMISMATCH, "reversal");
    scan_plan_case_usual(&c, 1.5);
    c.negative.meta.material = WW_MATERIAL_PRINT;
    scan_plan_case_refused("a print", &c, WW_EMISMATCH, "print");
    scan_plan_case_usual(&c, 1.5);
    c.made.scanner.channel[WW_VISUAL].present = false;
    scan_plan_case_refused("no channel", &c, WW_ENODATA, "calibrate");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(simulated_scanners),
                                       cmocka_unit_test(masked_film), cmocka_unit_test(ways),
                                       cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
