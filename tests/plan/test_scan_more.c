/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"
#include <math.h>

/* Read noise alone, no flare: told = 2.8 s / (3 ln 10 light), which is 0.01 at light L1. Source:
 * hand calculation: with a cloud of half that light, the least of thirds of a stop that tells it is
 * one stop; it is switched where light is L1; the gain is 2. */
static void second_scan(void **state) {
    const double read = 3e-4, enough = 2.8 * read / (3.0 * log(10.0) * 0.01);
    const double at = 0.25 + log10(0.95 / enough), cloud = at + 0.999 * log10(2.0);
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, read, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, cloud);
    scan_plan_case_make("second", &c, &plan);
    const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
    test_true("way", plan.way == WW_SCAN_SECOND && plan.passes == 2 && plan.holds);
    test_close("stops", channel->second_stops, 1.0, 1e-12);
    test_close("the plan's", plan.second_stops, 1.0, 1e-12);
    test_close("switch", channel->switch_at, at, 1e-6);
    test_close("gain", channel->gain, 2.0, 1e-9);
    test_close("told", channel->second_told, 0.5 * channel->told, 1e-9);
    /* Noise falls by the root of the number: four scans halve it. */
    test_close("average", channel->average, 4.0, 0.0);
    ww_scan_plan_release(&plan);
}

/* Four times as noisy a cloud takes 16 scans, unless half of its noise is the same in all: then no
 * number does. Source: root of the number. */
static void average_and_fixed_pattern(void **state) {
    const double light = 0.95 * pow(10.0, -1.25), enough = 0.01 * 3.0 * log(10.0) / 2.8 * light;
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, 3.99 * enough, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 1.5);
    scan_plan_case_make("sixteen", &c, &plan);
    test_close("average", plan.channel[WW_VISUAL].average, 16.0, 0.0);
    ww_scan_plan_release(&plan);
    c.made.scanner.channel[WW_VISUAL].noise.fixed = 1.01 * enough / light;
    scan_plan_case_make("fixed", &c, &plan);
    test_close("average", plan.channel[WW_VISUAL].average, 0.0, 0.0);
    test_close("second", plan.channel[WW_VISUAL].second_stops, 0.0, 0.0);
    test_true("no way", plan.way == WW_SCAN_NO_WAY && plan.passes == 1 && !plan.holds);
    ww_scan_plan_release(&plan);
}

/* What a second scan clips the first must tell: more light than that is not taken. Source:
 * definition, on every plan of a row of noises. */
static void switch_lies_clear_of_clipping(void **state) {
    size_t taken = 0;
    (void)state;
    for (int i = 0; i < 40; i++) {
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_usual(&c, 1.2 + 0.03 * i);
        c.made.scanner.channel[WW_VISUAL].noise.read = 2e-4 * pow(1.07, i);
        scan_plan_case_make("row", &c, &plan);
        const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
        if (plan.way == WW_SCAN_SECOND) {
            const ww_scan_pass second = {&c.made.scanner, WW_VISUAL,
                                         channel->stops.value + channel->second_stops, 1.0};
            const ww_scan_pass first = {&c.made.scanner, WW_VISUAL, channel->stops.value, 1.0};
            test_true("unclipped",
                      ww_scan_pass_light(&second, channel->switch_at - 0.0999) < 0.951);
            test_true("told before",
                      ww_scan_pass_told(&first, channel->switch_at - 0.001, WW_SCAN_PATCH) <= 0.01);
            test_true("told after", channel->second_told <= 0.01);
            taken++;
        }
        ww_scan_plan_release(&plan);
    }
    test_true("some were", taken >= 5);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(second_scan),
                                       cmocka_unit_test(average_and_fixed_pattern),
                                       cmocka_unit_test(switch_lies_clear_of_clipping)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
