/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"
#include <math.h>

/* Source: hand calculation. Without flare and dark: stops = log2(0.95 / (k 10^-D)), 8-bit code of
 * the cloud 255 * 0.95 * 10^-1.25, one code of it log10((c + 1) / c). */
static void figures(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.37, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.5);
    scan_plan_case_make("figures", &c, &plan);
    const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
    const ww_scan_tone *cloud = &channel->tone[channel->highlight];
    const double light = 0.95 * pow(10.0, -1.25);
    test_close("stops", channel->stops.value, log2(0.95 / 0.37) + 0.25 / 0.30102999566, 1e-6);
    test_close("code", cloud->code, 65535.0 * light, 1e-6);
    test_close("snr", cloud->snr, light / 1e-3, 1e-9);
    test_close("snr before", channel->snr_before.value, 0.37 * pow(10.0, -1.5) / 1e-3, 1e-6);
    test_close("separable", channel->separable, 2.8 * 1e-3 / light / log(10.0), 1e-12);
    test_close("told", channel->told, channel->separable / 3.0, 1e-12);
    test_close("8 bit", channel->step[0], log10(1.0 + 1.0 / (255.0 * light)), 1e-9);
    test_close("12 bit", channel->step[2], log10(1.0 + 1.0 / (4095.0 * light)), 1e-9);
    test_close("its own", channel->own_step, channel->step[4], 0.0);
    test_close("sees", channel->sees.value, 0.25 + log10(0.95 / 1e-3), 1e-6);
    test_true("seen", channel->seen && !channel->beyond);
    test_close("no flare", channel->contrast, 1.0, 1e-12);
    ww_scan_plan_release(&plan);
}

/* Source: hand calculation: codes that end at a quarter of the scale take two stops less. */
static void codes_that_end_below_full_scale(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.2, 0.0, 0.0, 1e-3, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.5);
    c.made.scanner.channel[WW_VISUAL].clips = (ww_optional){true, 65535.0 / 4.0};
    scan_plan_case_make("ends", &c, &plan);
    const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
    test_close("stops", channel->stops.value, log2(0.95 / 4.0 / 0.2) + 0.25 / 0.30102999566, 1e-6);
    test_close("base", channel->base_code, 0.95 * 65535.0 / 4.0, 1e-3);
    test_close("ends", channel->ends, 65535.0 / 4.0, 1e-9);
    bool told = false;
    for (size_t i = 0; i < plan.notes.n; i++)
        told = told || strstr(plan.notes.text[i], "(visual) end at 16384 of 65535");
    test_true("told", told);
    ww_scan_plan_release(&plan);
}

/* Source: definition of the 95 % interval, hand calculation: reading 0.01 D and calibration 0.006 D
 * (95 %), both over log10 2. */
static void doubt(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    c.made.scanner.channel[WW_VISUAL].flare = scan_pixels_given(0.0);
    scan_plan_case_make("doubt", &c, &plan);
    const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
    test_close("half", channel->stops.high - channel->stops.value,
               hypot(0.01 * 1.959964, 0.006) / 0.30103, 1e-6);
    ww_scan_plan_release(&plan);
}

/* Source: share that flare leaves, 10^-D / (10^-D + f): half where they are alike. */
static void flare(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.7);
    c.made.scanner.channel[WW_VISUAL].flare = scan_pixels_given(pow(10.0, -1.7));
    scan_plan_case_make("flare", &c, &plan);
    test_close("half", plan.channel[WW_VISUAL].contrast, 0.5, 1e-12);
    ww_scan_plan_release(&plan);
}

static void ends_of_sight(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 4.3);
    scan_plan_case_make("beyond the wedge", &c, &plan);
    test_true("beyond", plan.channel[WW_VISUAL].beyond);
    test_true("not seen", !plan.channel[WW_VISUAL].seen);
    ww_scan_plan_release(&plan);
    c.made.scanner.white = 1.0; /* floating point, and no noise */
    c.made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){0.0, 0.0, 0.01};
    c.made.scanner.channel[WW_VISUAL].flare = scan_pixels_given(0.0);
    c.made.scanner.channel[WW_VISUAL].n_points = 0;
    scan_plan_case_make("no end", &c, &plan);
    test_true("sees on",
              !ww_quantity_present(plan.channel[WW_VISUAL].sees) && plan.channel[WW_VISUAL].seen);
    test_close("no codes", plan.channel[WW_VISUAL].own_step, 0.0, 0.0);
    ww_scan_plan_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures), cmocka_unit_test(codes_that_end_below_full_scale),
        cmocka_unit_test(doubt), cmocka_unit_test(flare), cmocka_unit_test(ends_of_sight)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
