/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"
#include <math.h>

/*
 * Read noise alone, no flare: with r, the difference asked for, and c = 10^d of a cloud d above the
 * base, both in units of what one scan tells at the base, m scans tell c / sqrt m, and merged with
 * n of t stops more (weights 1 and 4^t of 1 + 4^t, variances 1 / m and 1 / (4^t n))
 *
 *   c / (1 + 4^t) sqrt(1 / m + 4^t / n),  of one and one c / sqrt(1 + 4^t)
 *
 * from c = 0.95 / 0.98 2^t 10^0.1 on; the second clips where that is 10^0.1 times less. Source of
 * what follows, where nothing else is said: hand calculation with it.
 */
static double merged(double c, double t, double m, double n) {
    const double four = exp2(2.0 * t);
    return c / (1.0 + four) * sqrt(1.0 / m + four / n);
}

static double clipped_at(double t) {
    return 0.95 / 0.98 * exp2(t);
}

/* c / r = 2^0.999 takes 4^t of 2.99 or more: one stop, merged noise then 1 / sqrt 5. The first
 * tells it up to c = r. */
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
    test_close("gain", channel->gain, sqrt(5.0), 1e-3);
    test_close("told", channel->second_told / channel->told, 1.0 / sqrt(5.0), 1e-4);
    test_true("thinner tones are told", channel->between <= 0.01 && plan.throughout_first == 0);
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

/* As it would be drawn: pixels of either exposure, mixed with the weights. */
static void pixels_tell_as_much(const scan_pixels_truth *truth, const ww_scan_plan *plan,
                                double cloud) {
    const ww_scan_channel *channel = &plan->channel[WW_VISUAL];
    const double stops = channel->stops.value, more = channel->second_stops;
    const double w = 1.0 - 1.0 / (1.0 + exp2(2.0 * more));
    const scan_pixels_seen once = scan_pixels_see(truth, stops, cloud, 1, 2200);
    const scan_pixels_seen first = scan_pixels_see(truth, stops, cloud, (int)plan->first, 2200);
    const scan_pixels_seen second =
        scan_pixels_see(truth, stops + more, cloud, (int)plan->second, 2200);
    test_close("told", channel->second_told / hypot((1.0 - w) * first.told, w * second.told), 1.0,
               0.1);
    test_close("gain of pixels",
               channel->gain / (1.0 / once.snr / hypot((1.0 - w) / first.snr, w / second.snr)), 1.0,
               0.1);
}

/*
 *   r 16, c 300: one and one want 4^t of 351, over 4 stops; three alike tell 173; one and two with
 *     4 stops 13.3 (with 11/3 16.7), and the first 15.5 where they clip
 *   r 1.5, c 3.2: one and one with 1 stop tell 1.43; where the second clips the first tells 1.94.
 *     Two and one with 1 stop tell 1.36 and there 1.37; one and two want under 2/3 stop for that,
 *     and tell 1.66 with 1/3; three alike 1.85
 *   r 2.34, c 10: one and one want 4^t of 17.2 (7/3), clipping at 4.9. By 3 scans none tells all:
 *     3.46 by one and two, 2.94 by two and one; by four 2.12 and 2.18, two and two with 5/3
 */
static void the_least_scans(void **state) {
    static const struct {
        const char *row;
        double asked, cloud;
        unsigned first, second;
        double stops;
        unsigned all_first, all_second;
        double all_stops;
    } rows[] = {{"averaged", 16.0, 300.0, 1, 2, 4.0, 0, 0, 0.0},
                {"thin cloud", 1.5, 3.2, 1, 1, 1.0, 2, 1, 1.0},
                {"much asked", 2.34, 10.0, 1, 1, 7.0 / 3.0, 2, 2, 5.0 / 3.0}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double read = 0.01 / rows[i].asked * 3.0 * log(10.0) * 0.95 / 2.8;
        const double unit = 0.01 / rows[i].asked, t = rows[i].stops;
        const scan_pixels_truth truth = {0.7, 0.0, 0.0, read, 0.0, 0.0, 16, 1.0};
        const double cloud = 0.25 + log10(rows[i].cloud);
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_start(&c, truth);
        scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
        scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, cloud);
        scan_plan_case_make(rows[i].row, &c, &plan);
        const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
        test_close(rows[i].row, plan.first, rows[i].first, 0.0);
        test_close(rows[i].row, plan.second, rows[i].second, 0.0);
        test_close(rows[i].row, plan.passes, rows[i].first + rows[i].second, 0.0);
        test_close(rows[i].row, channel->second_stops, t, 1e-12);
        test_close(rows[i].row, channel->second_told / unit,
                   merged(rows[i].cloud, t, rows[i].first, rows[i].second), 1e-3 * rows[i].asked);
        test_close(rows[i].row, channel->gain,
                   rows[i].cloud / merged(rows[i].cloud, t, rows[i].first, rows[i].second), 0.01);
        test_close(rows[i].row, channel->between / unit, clipped_at(t), 1e-3 * clipped_at(t));
        test_close(rows[i].row, channel->switch_at,
                   0.25 + fmax(log10(rows[i].asked), log10(clipped_at(t)) + 0.1), 1e-4);
        test_close(rows[i].row, plan.throughout_first, rows[i].all_first, 0.0);
        test_close(rows[i].row, plan.throughout_second, rows[i].all_second, 0.0);
        test_close(rows[i].row, plan.throughout_stops, rows[i].all_stops, 1e-12);
        pixels_tell_as_much(&truth, &plan, cloud);
        ww_scan_plan_release(&plan);
    }
}

/* r 2.34, c 10 as above, but a tone of 4.9 is to be kept, too, which clips with the 7/3 that one
 * and one want. One and two tell the cloud with 5/3 (2.22; 2.78 with 4/3), clipping at 3.1. */
static void a_thinner_tone_that_is_kept(void **state) {
    static const char *keep[] = {"cloud", "wall"};
    const double read = 0.01 / 2.34 * 3.0 * log(10.0) * 0.95 / 2.8;
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, (scan_pixels_truth){0.7, 0.0, 0.0, read, 0.0, 0.0, 16, 1.0});
    scan_plan_case_grey(&c, "base", WW_PART_WHOLE, 0.25);
    scan_plan_case_grey(&c, "wall", WW_PART_WHOLE, 0.25 + log10(4.9));
    scan_plan_case_grey(&c, "cloud", WW_PART_WHOLE, 0.25 + log10(10.0));
    scan_plan_case_make("cloud", &c, &plan);
    test_true("cloud alone", plan.passes == 2);
    ww_scan_plan_release(&plan);
    c.request.keep = keep;
    c.request.n_keep = 2;
    scan_plan_case_make("both", &c, &plan);
    test_true("both are told", plan.holds && plan.first == 1 && plan.second == 2);
    test_close("stops", plan.second_stops, 5.0 / 3.0, 1e-12);
    ww_scan_plan_release(&plan);
}

/* c 1000: of 16 scans one and 15 with 4 stops more tell least, 16.5; that is too much for r 16 and
 * does for 17, where 15 do not. */
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
    test_close("least", plan.least / unit, merged(1000.0, 4.0, 1.0, 15.0), 0.01);
    ww_scan_plan_release(&plan);
    c.request.separate = 17.0 * unit;
    scan_plan_case_make("asked for that", &c, &plan);
    test_text("way", ww_scan_way_name(plan.way), "both");
    test_true("one and 15", plan.holds && plan.first == 1 && plan.second == 15);
    test_true("how to make means", test_noted(&plan.notes, "of 2, 4 or 8 scans alike with `scan"));
    ww_scan_plan_release(&plan);
}

/* Channels apart: red's cloud is so near to its base that a second exposure clips it and it wants 3
 * scans alike; blue's lies far off and wants a second exposure: r 0.7 in red with c 1.2 (2 alike
 * tell 0.85, 3 0.69; 1/3 stop more clips up to 1.22), r 16 in blue with c 200 (15.7 with 11/3). */
static void channels_that_want_different_things(void **state) {
    static const double base[] = {0.3, 0.3, 0.3};
    const double cloud[] = {0.3 + log10(1.2), 0.4, 0.3 + log10(200.0)};
    const double unit = 0.01 * 3.0 * log(10.0) * 0.95 / 2.8;
    const scan_pixels_truth truth = {0.7, 0.0, 0.0, unit / 16.0, 0.0, 0.0, 16, 1.0};
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_start(&c, truth);
    scan_plan_case_colour(&c, truth);
    c.made.scanner.channel[WW_RED].noise.read = unit / 0.7;
    scan_plan_case_tone(&c, "base", WW_PART_WHOLE, WW_RED, 3, base);
    scan_plan_case_tone(&c, "cloud", WW_PART_WHOLE, WW_RED, 3, cloud);
    scan_plan_case_make("apart", &c, &plan);
    test_text("way", ww_scan_way_name(plan.way), "both");
    test_true("three and one", plan.first == 3 && plan.second == 1 && plan.passes == 4);
    test_close("red stays", plan.channel[WW_RED].second_stops, 0.0, 0.0);
    test_close("green stays", plan.channel[WW_GREEN].second_stops, 0.0, 0.0);
    test_close("blue", plan.channel[WW_BLUE].second_stops, 11.0 / 3.0, 1e-12);
    test_close("the plan's", plan.second_stops, plan.channel[WW_BLUE].second_stops, 0.0);
    ww_scan_plan_release(&plan);
}

/* Green and blue want a second scan: blue, r 16 and c 200, with 3 2/3 stops more (15.7). So much
 * serves green, too, where its r is 16 and c 20 (1/3 would do); where its r is 3 it would clip all
 * of it, and c 4 takes 1/3 (2.49). */
static void one_setting_where_it_serves(void **state) {
    static const double base[] = {0.3, 0.3, 0.3};
    static const struct {
        double asked, cloud, stops;
    } green[] = {{16.0, 20.0, 11.0 / 3.0}, {3.0, 4.0, 1.0 / 3.0}};
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

/* Where the second is taken it is clear of clipping, and between base and cloud no tone is told
 * less than is said. Source: definition, on every plan of a row of noises, at every 0.005 D. */
static void nothing_between_is_told_less(void **state) {
    size_t taken = 0;
    (void)state;
    for (int i = 0; i < 40; i++) {
        scan_plan_case c;
        ww_scan_plan plan;
        scan_plan_case_usual(&c, 1.2 + 0.03 * i);
        c.made.scanner.channel[WW_VISUAL].noise.read = 2e-4 * pow(1.07, i);
        scan_plan_case_make("row", &c, &plan);
        const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
        if (plan.second > 0) {
            const double stops = channel->stops.value, more = channel->second_stops;
            const ww_scan_pass second = {&c.made.scanner, WW_VISUAL, stops + more, 1.0};
            const ww_scan_pass first = {&c.made.scanner, WW_VISUAL, stops, 1.0};
            double most = 0.0;
            for (double density = 0.25; density < 1.2 + 0.03 * i; density += 0.005) {
                const ww_scan_pair pair = ww_scan_pass_pair(&first, more, density, WW_SCAN_PATCH);
                most = fmax(most, 2.8 * ww_scan_pair_noise(&pair, plan.first, plan.second));
            }
            test_true("unclipped",
                      ww_scan_pass_light(&second, channel->switch_at - 0.0999) < 0.981);
            test_close("between", fmax(channel->between, most) / most, 1.0, 0.02);
            test_true("told", channel->second_told <= 0.01 && most <= 1.02 * channel->between);
            taken++;
        }
        ww_scan_plan_release(&plan);
    }
    test_true("some were", taken >= 5);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(second_scan),
                                       cmocka_unit_test(average_and_fixed_pattern),
                                       cmocka_unit_test(the_least_scans),
                                       cmocka_unit_test(a_thinner_tone_that_is_kept),
                                       cmocka_unit_test(the_least_of_sixteen_scans),
                                       cmocka_unit_test(channels_that_want_different_things),
                                       cmocka_unit_test(one_setting_where_it_serves),
                                       cmocka_unit_test(nothing_between_is_told_less)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
