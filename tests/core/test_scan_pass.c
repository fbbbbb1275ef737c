/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_pixels.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/scan_pass.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

static ww_scan_pass pass_of(const ww_scanner *scanner, double stops, double frames) {
    return (ww_scan_pass){scanner, WW_VISUAL, stops, frames};
}

/* Source: facts, differences of density per code of a linear file, log10((c + 1) / c) with
 * c = (2^n - 1) 10^-D, and `about`, the table's 0.43429 / c, which is larger by half its square
 * over log10 e. */
static void one_code_in_density(void **state) {
    static const struct {
        const char *row;
        unsigned bits;
        double density, step, about;
    } rows[] = {
        {"8 bit, D 1", 8, 1.0, 0.0167057, 0.01703},
        {"8 bit, D 2", 8, 2.0, 0.1436882, 0.1703},
        {"12 bit, D 2", 12, 2.0, 0.0104781, 0.01061},
        {"12 bit, D 3", 12, 3.0, 0.0948903, 0.1061},
        {"14 bit, D 3", 14, 3.0, 0.0257313, 0.02651},
        {"16 bit, D 3", 16, 3.0, 0.0065769, 0.00663},
        {"16 bit, D 3.5", 16, 3.5, 0.0204662, 0.02096},
        {"16 bit, D 4", 16, 4.0, 0.0616749, 0.06627},
    };
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made, (scan_pixels_truth){.k = 1.0, .bits = 16, .gamma = 1.0});
    const ww_scan_pass pass = pass_of(&made.scanner, 0.0, 1.0);
    for (size_t i = 0; i < COUNT(rows); i++) {
        const double step = ww_scan_pass_step(&pass, rows[i].density, rows[i].bits);
        const double about = rows[i].about;
        test_close(rows[i].row, step, rows[i].step, 1e-6);
        test_true(rows[i].row, step < about && about - step < 1.1513 * about * about + 1e-5);
    }
    test_close("its own bits", ww_scan_pass_step(&pass, 3.0, 0), ww_scan_pass_step(&pass, 3.0, 16),
               0.0);
}

/* Source: facts: bits for a code of 0.01 D or less, 8.77 at D 1, 12.08 at 2, 15.41 at 3. */
static void bits_that_it_takes(void **state) {
    static const unsigned enough[] = {9, 13, 16};
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made, (scan_pixels_truth){.k = 1.0, .bits = 16, .gamma = 1.0});
    const ww_scan_pass pass = pass_of(&made.scanner, 0.0, 1.0);
    for (unsigned d = 0; d < COUNT(enough); d++) {
        test_true("enough", ww_scan_pass_step(&pass, d + 1.0, enough[d]) <= 0.01);
        test_true("not enough", ww_scan_pass_step(&pass, d + 1.0, enough[d] - 1) > 0.01);
    }
}

/* Source: facts: without noise a bit depth ends at log10(2^n - 1): 3.0, 3.6, 4.2144, 4.8165 for 10,
 * 12, 14, 16 bits. Rounding's own noise takes log10 hypot(1, 1/sqrt 12) = 0.017 of it. */
static void ceiling_of_a_bit_depth(void **state) {
    static const struct {
        unsigned bits;
        double ceiling;
    } rows[] = {{10, 3.01}, {12, 3.61}, {14, 4.2144}, {16, 4.8165}};
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct scan_pixels made;
        scan_pixels_scanner(&made,
                            (scan_pixels_truth){.k = 1.0, .bits = rows[i].bits, .gamma = 1.0});
        const ww_scan_pass pass = pass_of(&made.scanner, 0.0, 1.0);
        test_close("ends", ww_scan_pass_reaches_sight(&pass), rows[i].ceiling - 0.017, 0.002);
    }
}

/* Source: dynamic range as ISO 21550 has it: from the lightest that does not clip to where the
 * incremental signal-to-noise is 1; incremental signal: what light does when density moves. Read
 * noise alone: 1 / read. With flare, in pixels drawn around the end. */
static void dynamic_range(void **state) {
    const scan_pixels_truth truth = {0.7, 0.003, 0.004, 5e-4, 2e-3, 4e-3, 16, 1.0};
    const double stops = 0.4, half = 0.1;
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made, (scan_pixels_truth){.k = 0.7, .read = 4e-4, .bits = 16, .gamma = 1});
    const ww_scan_pass bare = pass_of(&made.scanner, stops, 1.0);
    test_close("read noise", ww_scan_pass_reaches_sight(&bare) - ww_scan_pass_lightest(&bare, 1.0),
               log10(1.0 / 4e-4), 1e-3);
    scan_pixels_scanner(&made, truth);
    const ww_scan_pass pass = pass_of(&made.scanner, stops, 1.0);
    const double end = ww_scan_pass_reaches_sight(&pass);
    const double lighter = scan_pixels_see(&truth, stops, end - half, 1, 4400).light;
    const double darker = scan_pixels_see(&truth, stops, end + half, 1, 4400).light;
    const double signal = exp2(stops) * truth.k * pow(10.0, -end);
    const double sd = signal / scan_pixels_see(&truth, stops, end, 1, 4400).snr;
    const double gain = (lighter - darker) / (pow(10.0, half) - pow(10.0, -half)) / signal;
    test_close("light moves with density", gain, 1.0, 0.05);
    test_close("signal to noise there", gain * signal / sd, 1.0, 0.1);
}

/* Source: what flare makes of densities, in the trade's table (2C), to 0.01 D: slope between two of
 * them. */
static void contrast_that_flare_leaves(void **state) {
    static const struct {
        double flare, thin, thin_read, dense, dense_read;
    } rows[] = {{0.001, 2.5, 2.38, 3.0, 2.70},
                {0.005, 1.5, 1.44, 2.0, 1.83},
                {0.005, 2.0, 1.83, 2.5, 2.09},
                {0.01, 1.5, 1.38, 2.0, 1.70}};
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct scan_pixels made;
        scan_pixels_scanner(
            &made, (scan_pixels_truth){.k = 0.9, .flare = rows[i].flare, .bits = 16, .gamma = 1.0});
        const ww_scan_pass pass = pass_of(&made.scanner, 0.0, 1.0);
        test_close("slope", ww_scan_pass_contrast(&pass, 0.5 * (rows[i].thin + rows[i].dense)),
                   (rows[i].dense_read - rows[i].thin_read) / (rows[i].dense - rows[i].thin), 0.02);
    }
}

/* Source: photon noise of 50 000 electrons at full scale, base at 95 %: sd of 0.008, 0.013, 0.020 D
 * at 1.2, 1.6, 2.0 above base (trade, 2C). */
static void photon_noise_of_the_handbook(void **state) {
    static const double above[] = {1.2, 1.6, 2.0}, sd[] = {0.008, 0.013, 0.020};
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(
        &made,
        (scan_pixels_truth){.k = 1.0, .shot = sqrt(1.0 / 50000.0), .bits = 16, .gamma = 1.0});
    const double stops = ww_scan_pass_stops_to(&made.scanner, WW_VISUAL, 0.27, 0.95);
    const ww_scan_pass pass = pass_of(&made.scanner, stops, 1.0);
    for (size_t i = 0; i < COUNT(above); i++)
        test_close("sd", ww_scan_pass_noise(&pass, 0.27 + above[i]), sd[i], 0.0005);
}

/* Pixels drawn by the model's own definition, rounded to codes, at the exposure foretold. */
static const struct {
    const char *row;
    scan_pixels_truth truth;
    double base, cloud, frames;
} pixels[] = {
    {"16 bit", {0.71, 0.003, 0.002, 4e-4, 2e-3, 4e-3, 16, 1.0}, 0.24, 1.61, 1},
    {"flare", {0.62, 0.0, 0.011, 3e-4, 1.5e-3, 3e-3, 16, 1.0}, 0.31, 1.83, 1},
    {"12 bit", {0.83, 0.001, 0.001, 5e-4, 2e-3, 2e-3, 12, 1.0}, 0.22, 1.74, 1},
    {"gamma 2.2", {0.55, 0.0, 0.003, 8e-4, 3e-3, 3e-3, 8, 2.2}, 0.27, 1.46, 1},
    {"8 bit, little noise", {0.9, 0.0, 0.0, 2e-4, 0.0, 0.0, 8, 1.0}, 0.2, 1.1, 1},
    {"four scans", {0.71, 0.003, 0.002, 9e-4, 2e-3, 6e-3, 16, 1.0}, 0.24, 1.61, 4},
    {"close down", {1.62, 0.002, 0.002, 4e-4, 2e-3, 4e-3, 16, 1.0}, 0.14, 1.51, 1},
};

static void pixels_come_out_as_foretold(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(pixels); i++) {
        const char *row = pixels[i].row;
        const scan_pixels_truth *truth = &pixels[i].truth;
        const double white = exp2(truth->bits) - 1.0;
        struct scan_pixels made;
        scan_pixels_scanner(&made, *truth);
        const double stops = ww_scan_pass_stops_to(&made.scanner, WW_VISUAL, pixels[i].base, 0.95);
        const ww_scan_pass pass = pass_of(&made.scanner, stops, pixels[i].frames);
        const scan_pixels_seen base = scan_pixels_see(truth, stops, pixels[i].base, 1, 440);
        const scan_pixels_seen cloud =
            scan_pixels_see(truth, stops, pixels[i].cloud, (int)pixels[i].frames, 2200);
        test_close(row, log2(base.light / 0.95), 0.0, 0.02); /* stops */
        test_close(row, ww_scan_pass_code(&pass, pixels[i].base), base.code, 2e-3 * white);
        test_close(row, ww_scan_pass_code(&pass, pixels[i].cloud), cloud.code,
                   fmax(0.6, 2e-3 * cloud.code));
        test_close(row, ww_scan_pass_snr(&pass, pixels[i].cloud) / cloud.snr, 1.0, 0.2);
        test_close(row, ww_scan_pass_told(&pass, pixels[i].cloud, 1.0) / cloud.separable, 1.0, 0.2);
        test_close(row, ww_scan_pass_told(&pass, pixels[i].cloud, 9.0) / cloud.told, 1.0, 0.2);
    }
}

/* Pixels that nearly all fall on one code are as far off as rounding is, however many they are, and
 * so are the means of scans; where noise spreads them over some codes, means are not. Source:
 * closed form for little noise s: 1/12 + s^2 - s / sqrt pi stays, s / sqrt pi falls. */
static void noise_that_hides_no_codes(void **state) {
    const double pi = 3.14159265358979324;
    struct scan_pixels made;
    (void)state;
    scan_pixels_truth truth = {.k = 1.0, .bits = 8, .gamma = 1.0};
    scan_pixels_scanner(&made, truth);
    const ww_scan_pass bare = pass_of(&made.scanner, 0.0, 1.0);
    const double code = 1.0 / (255.0 * log(10.0) * pow(10.0, -1.6)); /* D */
    test_close("uniform error", ww_scan_pass_told(&bare, 1.6, 400.0), 2.8 * code / sqrt(12.0),
               1e-9);
    const double s = 0.07, scatter = s / sqrt(pi), stays = 1.0 / 12.0 + s * s - scatter;
    truth.read = sqrt(s * s + 1.0 / 12.0) / 255.0;
    scan_pixels_scanner(&made, truth);
    const ww_scan_pass few = pass_of(&made.scanner, 0.0, 1.0),
                       many = pass_of(&made.scanner, 0.0, 5);
    test_close("one pixel", ww_scan_pass_told(&few, 1.6, 1.0), 2.8 * code * sqrt(stays + scatter),
               1e-9);
    test_close("nine", ww_scan_pass_told(&few, 1.6, 9.0), 2.8 * code * sqrt(stays + scatter / 9.0),
               1e-9);
    test_close("five scans", ww_scan_pass_told(&many, 1.6, 9.0),
               2.8 * code * sqrt(stays + scatter / 45.0), 1e-9);
    truth.read = 1.0 / 255.0;
    scan_pixels_scanner(&made, truth);
    const ww_scan_pass noisy = pass_of(&made.scanner, 0.0, 1.0);
    test_close("mean of many", ww_scan_pass_told(&noisy, 1.6, 400.0),
               ww_scan_pass_told(&noisy, 1.6, 1.0) / 20.0, 1e-12);
}

/* An 8 bit scan that was saved in 16 bit has codes in steps of 257: it tells and sees what 8 bits
 * do. Source: definition. */
static void eight_bits_in_sixteen(void **state) {
    struct scan_pixels made, padded;
    scan_pixels_truth truth = {.k = 1.0, .read = 1e-5, .bits = 8, .gamma = 1.0};
    (void)state;
    scan_pixels_scanner(&made, truth);
    truth.bits = 16;
    scan_pixels_scanner(&padded, truth);
    padded.scanner.step = 257.0;
    const ww_scan_pass eight = pass_of(&made.scanner, 0.3, 1.0),
                       sixteen = pass_of(&padded.scanner, 0.3, 1.0);
    test_close("code", ww_scan_pass_step(&sixteen, 1.4, 0), ww_scan_pass_step(&eight, 1.4, 8),
               1e-12);
    test_close("told", ww_scan_pass_told(&sixteen, 1.4, 9.0), ww_scan_pass_told(&eight, 1.4, 9.0),
               1e-12);
    test_close("sees", ww_scan_pass_reaches_sight(&sixteen), ww_scan_pass_reaches_sight(&eight),
               1e-9);
}

/* Source: definition: read and shot noise fall by the root of the number, a fixed pattern does not.
 */
static void averaging(void **state) {
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made,
                        (scan_pixels_truth){.k = 0.9, .read = 7e-4, .bits = 16, .gamma = 1.0});
    const ww_scan_pass one = pass_of(&made.scanner, 0.3, 1.0),
                       nine = pass_of(&made.scanner, 0.3, 9);
    test_close("read", ww_scan_pass_snr(&nine, 1.7) / ww_scan_pass_snr(&one, 1.7), 3.0, 1e-9);
    scan_pixels_scanner(&made,
                        (scan_pixels_truth){.k = 0.9, .fixed = 0.02, .bits = 16, .gamma = 1.0});
    test_close("fixed", ww_scan_pass_snr(&nine, 1.7), 50.0, 1e-9);
}

/* Read noise alone: the second, with twice the light, has a quarter of the variance and four fifths
 * of the weight: (1/5)^2 + (4/5)^2 / 4 = 1/5 of the first's; each the mean of 2 and 8 scans,
 * (1/25) / 2 + (4/25) / 8 = 1/25. Source: hand calculation. */
static void two_exposures(void **state) {
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made,
                        (scan_pixels_truth){.k = 0.9, .read = 7e-4, .bits = 16, .gamma = 1.0});
    const ww_scan_pass first = pass_of(&made.scanner, 0.3, 1.0);
    const double noise = ww_scan_pass_noise(&first, 1.7);
    const ww_scan_pair pair = ww_scan_pass_pair(&first, 1.0, 1.7, 1.0);
    test_close("weight", pair.weight, 0.8, 1e-12);
    test_close("both", ww_scan_pair_noise(&pair, 1, 1) / noise, sqrt(0.2), 1e-4);
    test_close("averaged", ww_scan_pair_noise(&pair, 2, 8) / noise, 0.2, 1e-4);
    /* The second clips at 0.98, which is 0.9 2^1.3 10^-D, and counts in full 0.1 D beyond. */
    const ww_scan_fade fade = ww_scan_pass_fade(&first, 1.0);
    test_close("from", fade.from, log10(0.9 * exp2(1.3) / 0.98), 1e-9);
    test_close("in full", fade.full, fade.from + 0.1, 1e-9);
    test_close("half", ww_scan_pass_pair(&first, 1.0, fade.from + 0.05, 1.0).weight, 0.4, 1e-9);
    test_close("clips", ww_scan_pass_pair(&first, 1.0, fade.from - 1e-9, 1.0).weight, 0.0, 0.0);
    /* What is the same in both stays. */
    made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){0.0, 0.0, 0.02};
    const ww_scan_pair fixed = ww_scan_pass_pair(&first, 1.0, 1.7, 9.0);
    test_close("pattern", ww_scan_pair_noise(&fixed, 4, 4) * log(10.0), 0.02 / 3.0, 1e-6);
}

/* Source: each answer put back into what it answers. */
static void reaches(void **state) {
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made, pixels[0].truth);
    const ww_scan_pass pass = pass_of(&made.scanner, 0.4, 1.0);
    test_close("sight", ww_scan_pass_sight(&pass, ww_scan_pass_reaches_sight(&pass)), 1.0, 1e-6);
    test_close("told", ww_scan_pass_told(&pass, ww_scan_pass_reaches_told(&pass, 9.0, 0.01), 9.0),
               0.01, 1e-8);
    test_close("light", ww_scan_pass_light(&pass, ww_scan_pass_lightest(&pass, 0.95)), 0.95, 1e-9);
    test_close("contrast", ww_scan_pass_contrast(&pass, 2.0), 0.01 / 0.012, 1e-12);
    test_true("all too coarse", ww_scan_pass_reaches_told(&pass, 1.0, 1e-9) == -HUGE_VAL);
    test_true("not that light", ww_scan_pass_lightest(&pass, 1e6) == -HUGE_VAL);
}

/* What the calibration found beside the model: the points count, and on beyond them. Source: hand
 * calculation, 0.02 D more light than the model has is 10^0.02. */
static void points_count(void **state) {
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made, (scan_pixels_truth){.k = 0.5, .bits = 16, .gamma = 1.0});
    const ww_scan_pass pass = pass_of(&made.scanner, 0.0, 1.0);
    for (size_t i = 0; i < made.scanner.channel[WW_VISUAL].n_points; i++)
        made.point[WW_VISUAL][i].code *= pow(10.0, 0.02);
    test_close("between", ww_scan_pass_light(&pass, 0.73), 0.5 * pow(10.0, -0.71), 1e-12);
    test_close("beyond", ww_scan_pass_light(&pass, 3.9), 0.5 * pow(10.0, -3.88), 1e-12);
    test_close("stops", ww_scan_pass_stops_to(&made.scanner, WW_VISUAL, 0.02, 0.5), 0.0, 1e-12);
}

/* Source: hand calculation. */
static void doubt_of_stops(void **state) {
    struct scan_pixels made;
    (void)state;
    scan_pixels_scanner(&made, (scan_pixels_truth){.k = 0.8, .bits = 16, .gamma = 1.0});
    ww_scanner_channel *channel = &made.scanner.channel[WW_VISUAL];
    const ww_scan_doubt doubt = ww_scan_pass_doubt(&made.scanner, WW_VISUAL, 0.25, 0.01, 0.95);
    test_close("readings", doubt.readings, 1.959964 * 0.01 / 0.30103, 1e-6);
    test_close("calibration", doubt.calibration, SCAN_PIXELS_DOUBT / 0.30103, 1e-6);
    test_close("no dark", doubt.dark, 0.0, 0.0);
    channel->flare = (ww_quantity){0.01, 0.0, 0.01, WW_FITTED};
    channel->dark = (ww_quantity){0.0, 0.0, 0.008, WW_FITTED};
    const double light = 0.8 * pow(10.0, -0.25); /* by the points */
    test_close("dark", ww_scan_pass_doubt(&made.scanner, WW_VISUAL, 0.25, 0.01, 0.95).dark,
               0.5 * fabs(log2(0.942 / (light - 0.008)) - log2(0.95 / light)), 1e-4);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(one_code_in_density),
                                       cmocka_unit_test(bits_that_it_takes),
                                       cmocka_unit_test(ceiling_of_a_bit_depth),
                                       cmocka_unit_test(dynamic_range),
                                       cmocka_unit_test(contrast_that_flare_leaves),
                                       cmocka_unit_test(photon_noise_of_the_handbook),
                                       cmocka_unit_test(pixels_come_out_as_foretold),
                                       cmocka_unit_test(noise_that_hides_no_codes),
                                       cmocka_unit_test(eight_bits_in_sixteen),
                                       cmocka_unit_test(averaging),
                                       cmocka_unit_test(two_exposures),
                                       cmocka_unit_test(reaches),
                                       cmocka_unit_test(points_count),
                                       cmocka_unit_test(doubt_of_stops)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
