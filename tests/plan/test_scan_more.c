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
    /* What the pattern alone hides is left, however many there are. */
    test_true("least", plan.least > 1.01 * 0.01 && plan.least < plan.channel[WW_VISUAL].told);
    ww_scan_plan_release(&plan);
}

/* Read noise alone: in units of what one scan tells at the base, m scans tell 10^d / sqrt m at a
 * density d above it, and n with t stops more 10^d / (2^t sqrt n), from 2^t 10^0.1 on. Source: hand
 * calculation with r, the difference asked for, and c = 10^d of the cloud, in that unit:
 *   r 16, c 300: 16 scans tell 75, two 300 / 12.7 = 23.6 (t 11/3, as 2^t 10^0.1 may not exceed r);
 *     three 16.7; one and three 13.6, with t 11/3 the least of 300 / (16 sqrt 3) = 10.8 <= 2^t
 *   r 1.5, c 3.2: one scan tells 1.5 only up to what clips with 1/3 stop more; three alike tell
 *     1.85, two and one 2.02; two and two 1.43, with 2/3 stop; four alike 1.6 */
static void a_second_exposure_averaged(void **state) {
    static const struct {
        double asked, cloud;
        unsigned first, second;
        double stops;
    } rows[] = {{16.0, 300.0, 1, 3, 11.0 / 3.0}, {1.5, 3.2, 2, 2, 2.0 / 3.0}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double read = 0.01 / rows[i].asked * 3.0 * log(10.0) * 0.95 / 2.8;
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, read, 0.0, 0.0, 16, 1.0});
        scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
        scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 0.25 + log10(rows[i].cloud));
        scan_plan_case_make("both", &c, &plan);
        const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
        test_text("way", ww_scan_way_name(plan.way), "both");
        test_close("first", plan.first, rows[i].first, 0.0);
        test_true("for the cloud",
                  test_noted(&plan.notes, "For 'cloud' one scan") == (rows[i].first > 1));
        test_close("second", plan.second, rows[i].second, 0.0);
        test_close("in all", plan.passes, rows[i].first + rows[i].second, 0.0);
        test_close("stops", channel->second_stops, rows[i].stops, 1e-12);
        test_close("switch", channel->switch_at, 0.25 + log10(rows[i].asked * sqrt(rows[i].first)),
                   1e-4);
        test_close("gain", channel->gain, exp2(rows[i].stops) * sqrt(rows[i].second), 1e-3);
        /* And in pixels drawn so: what nine of them tell at the cloud, and one first scan's. */
        const double cloud = 0.25 + log10(rows[i].cloud), first = channel->stops.value;
        const scan_pixels_truth truth = {0.7, 0.0, 0.0, read, 0.0, 0.0, 16, 1.0};
        const scan_pixels_seen once = scan_pixels_see(&truth, first, cloud, 1, 20000);
        const scan_pixels_seen mean =
            scan_pixels_see(&truth, first + channel->second_stops, cloud, (int)plan.second, 20000);
        test_close("told", channel->second_told * 3.0 / mean.separable, 1.0, 0.2);
        test_close("gain of pixels", channel->gain / (mean.snr / once.snr), 1.0, 0.1);
        ww_scan_plan_release(&plan);
    }
}

/* As above, c 1000 and too little asked for: of 16 scans 2 and 14 with 4 stops more tell least,
 * 62.5 / sqrt 14 = 16.7; 1 and 15 tell 20.1 where the second exposure begins. */
static void the_least_of_sixteen_scans(void **state) {
    const double read = 1e-3, unit = 2.8 * read / (3.0 * log(10.0) * 0.95);
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, read, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 3.25);
    c.request.separate = 16.0 * unit;
    scan_plan_case_make("no way", &c, &plan);
    test_true("no way", plan.way == WW_SCAN_NO_WAY && !plan.holds);
    test_close("least", plan.least / unit, 62.5 / sqrt(14.0), 0.01);
    ww_scan_plan_release(&plan);
    c.request.separate = 17.0 * unit;
    scan_plan_case_make("asked for that", &c, &plan);
    test_true("two and 14", plan.holds && plan.first == 2 && plan.second == 14);
    test_true("but for the cloud", test_noted(&plan.notes, "For 'cloud' one scan of the first "
                                                           "exposure is enough: 1 more tell"));
    test_true("how to make means", test_noted(&plan.notes, "of 2, 4 or 8 scans alike with `scan"));
    ww_scan_plan_release(&plan);
}

/* Channels apart: red's cloud is so near to its base that a second exposure would clip beside it
 * and wants 3 scans alike; blue's lies far off and wants a second exposure. Source: hand
 * calculation as above, r 1 in red with c 1.55 (2 alike tell 1.10, 3 0.89; 1/3 stop more clips up
 * to 1.59), r 16 in blue with c 200 (a second scan tells 15.7). */
static void channels_that_want_different_things(void **state) {
    static const double base[] = {0.3, 0.3, 0.3};
    const double cloud[] = {0.3 + log10(1.55), 0.4, 0.3 + log10(200.0)};
    const double unit = 0.01 * 3.0 * log(10.0) * 0.95 / 2.8;
    const scan_pixels_truth truth = {0.7, 0.0, 0.0, unit / 16.0, 0.0, 0.0, 16, 1.0};
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, truth);
    scan_plan_case_colour(&c, truth);
    c.made.scanner.channel[WW_RED].noise.read = unit;
    scan_plan_case_tone(&c, "base", WW_PART_WHOLE, WW_RED, 3, base);
    scan_plan_case_tone(&c, "cloud", WW_PART_WHOLE, WW_RED, 3, cloud);
    scan_plan_case_make("apart", &c, &plan);
    test_text("way", ww_scan_way_name(plan.way), "both");
    test_true("three and one", plan.first == 3 && plan.second == 1 && plan.passes == 4);
    test_close("red stays", plan.channel[WW_RED].second_stops, 0.0, 0.0);
    test_close("green stays", plan.channel[WW_GREEN].second_stops, 0.0, 0.0);
    test_true("blue", plan.channel[WW_BLUE].second_stops > 2.0);
    test_close("the plan's", plan.second_stops, plan.channel[WW_BLUE].second_stops, 0.0);
    ww_scan_plan_release(&plan);
}

/* Green and blue want a second scan: blue, r 16 and c 200, with 3 2/3 stops more (200 / 12.7 =
 * 15.7). So much serves green, too, where its r is 16 (20 / 1.26 = 15.9 with 1/3 would do); where
 * its r is 3 it would clip what one scan does not tell, and c 4 takes 2/3 (4 / 1.59 = 2.5). Source:
 * hand calculation as above. */
static void one_setting_where_it_serves(void **state) {
    static const double base[] = {0.3, 0.3, 0.3};
    static const struct {
        double asked, cloud, stops;
    } green[] = {{16.0, 20.0, 11.0 / 3.0}, {3.0, 4.0, 2.0 / 3.0}};
    const double unit = 0.01 * 3.0 * log(10.0) * 0.95 / 2.8;
    const scan_pixels_truth truth = {0.7, 0.0, 0.0, unit / 16.0, 0.0, 0.0, 16, 1.0};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        const double cloud[] = {0.4, 0.3 + log10(green[i].cloud), 0.3 + log10(200.0)};
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_start(&c, truth);
        scan_plan_case_colour(&c, truth);
        c.made.scanner.channel[WW_GREEN].noise.read = unit / green[i].asked;
        scan_plan_case_tone(&c, "base", WW_PART_WHOLE, WW_RED, 3, base);
        scan_plan_case_tone(&c, "cloud", WW_PART_WHOLE, WW_RED, 3, cloud);
        scan_plan_case_make("setting", &c, &plan);
        test_text("way", ww_scan_way_name(plan.way), "second scan");
        test_close("red", plan.channel[WW_RED].second_stops, 0.0, 0.0);
        test_close("green", plan.channel[WW_GREEN].second_stops, green[i].stops, 1e-12);
        test_close("blue", plan.channel[WW_BLUE].second_stops, 11.0 / 3.0, 1e-12);
        test_close("the plan's", plan.second_stops, 11.0 / 3.0, 1e-12);
        ww_scan_plan_release(&plan);
    }
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
                                       cmocka_unit_test(a_second_exposure_averaged),
                                       cmocka_unit_test(the_least_of_sixteen_scans),
                                       cmocka_unit_test(channels_that_want_different_things),
                                       cmocka_unit_test(one_setting_where_it_serves),
                                       cmocka_unit_test(switch_lies_clear_of_clipping)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
