/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_noise.h"
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

static void match(const made_scan *s, ww__scanner_strips *strips) {
    ww_error err = WW_ERROR_INIT;
    test_status("match", ww__scanner_steps_match(&s->measured, &s->wedge, strips, &err), WW_OK,
                &err);
}

static ww__scanner_light light_of(const made_truth *t) {
    return (ww__scanner_light){t->gamma > 0.0 ? WW_ENCODING_POWER : WW_ENCODING_SRGB, t->gamma,
                               t->k, t->k * t->flare + t->dark};
}

/* Source: definition; sd made by the formula, no scatter. */
static void gives_back_the_noise_that_was_there(void **state) {
    static const struct {
        const char *row;
        double gamma, dark, read, shot, fixed;
    } rows[] = {
        {"all three", 1.0, 0.0, 2e-4, 1.5e-3, 0.004},
        {"with dark", 1.0, 0.003, 2e-4, 1.5e-3, 0.004},
        {"encoded", 2.2, 0.0, 2e-4, 1.5e-3, 0.004},
        {"sRGB", 0.0, 0.0, 2e-4, 1.5e-3, 0.004},
        {"read alone", 1.0, 0.0, 7.31e-4, 0.0, 0.0},
        {"shot alone", 1.0, 0.0, 0.0, 2.9e-3, 0.0},
        {"fixed alone", 1.0, 0.0, 0.0, 0.0, 0.0123},
        {"read and fixed", 1.0, 0.0, 3e-4, 0.0, 0.006},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        made_truth truth = made_usual(rows[i].gamma);
        made_scan s;
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        ww_scanner_noise noise;
        double relative_sd;
        truth.dark = rows[i].dark;
        truth.read = rows[i].read;
        truth.shot = rows[i].shot;
        truth.fixed = rows[i].fixed;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
        match(&s, &strips);
        const ww__scanner_light light = light_of(&truth);
        ww__scanner_noise_fit(&strips.strip[0], &light, truth.dark, 0.0, &noise, &relative_sd);
        test_close(rows[i].row, noise.read, rows[i].read, 2e-7);
        test_close(rows[i].row, noise.shot, rows[i].shot, 2e-6);
        test_close(rows[i].row, noise.fixed, rows[i].fixed, 2e-6);
        test_close(rows[i].row, relative_sd, 0.0, 1e-4);
        ww__scanner_steps_release(&strips);
    }
}

/* Source: issue's aim, 20 %; sd scattered by 3 % as patches of film grain are. */
static void noise_within_a_fifth_in_spite_of_scatter(void **state) {
    const size_t n = test_quick() ? 20 : 200;
    uint64_t seed = made_seed(2463534242u);
    size_t good = 0;
    (void)state;
    for (size_t k = 0; k < n; k++) {
        const made_truth truth = made_usual(1.0);
        made_scan s;
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        ww_scanner_noise noise;
        double relative_sd;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
        match(&s, &strips);
        for (size_t i = 0; i < 21; i++)
            strips.strip[0].row[i].pixel_sd *= 1.0 + 0.03 * made_normal(&seed);
        const ww__scanner_light light = light_of(&truth);
        ww__scanner_noise_fit(&strips.strip[0], &light, 0.0, 0.0, &noise, &relative_sd);
        good += fabs(noise.read / truth.read - 1.0) < 0.2 &&
                fabs(noise.shot / truth.shot - 1.0) < 0.2 &&
                fabs(noise.fixed / truth.fixed - 1.0) < 0.2;
        test_true("its own doubt", relative_sd > 0.002 && relative_sd < 0.03);
        ww__scanner_steps_release(&strips);
    }
    test_true("19 of 20 within a fifth", (double)good >= 0.95 * (double)n);
}

/* Source: closed form: rounding leaves 1/12 of a step squared. */
static void patches_of_one_code_have_the_noise_of_rounding(void **state) {
    made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww_scanner_noise noise;
    double relative_sd;
    (void)state;
    truth.read = truth.shot = truth.fixed = 0.0;
    made_wedge(&s, 21, 0.05, 0.15, 8);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    match(&s, &strips);
    const ww__scanner_light light = light_of(&truth);
    ww__scanner_noise_fit(&strips.strip[0], &light, 0.0, 1.0 / 255.0, &noise, &relative_sd);
    test_close("read", noise.read * 255.0, 0.288675, 1e-5);
    ww__scanner_noise_fit(&strips.strip[0], &light, 0.0, 0.0, &noise, &relative_sd);
    test_close("floating point, none", noise.read + noise.shot + noise.fixed, 0.0, 0.0);
    ww__scanner_steps_release(&strips);
}

/* Tones anywhere between two codes, rounded: what pixels scatter by is less than the noise and
 * rounding make, by what rounding does to the mean. Source: s^2 + 1/12; a rounded normal's moments
 * in closed form. */
static void rounding_is_counted_in_full(void **state) {
    static const double noise_in_codes[] = {0.08, 0.13, 0.22, 0.4, 1.1};
    const made_truth truth = made_usual(1.0);
    const ww__scanner_light light = light_of(&truth);
    (void)state;
    for (size_t k = 0; k < COUNT(noise_in_codes); k++) {
        enum { STEPS = 60 };
        ww__scanner_row row[STEPS];
        const ww__scanner_strip strip = {.row = row, .n = STEPS};
        const double s = noise_in_codes[k], unit = s * sqrt(2.0);
        ww_scanner_noise noise;
        double relative_sd;
        for (int i = 0; i < STEPS; i++) {
            const double tone = 20.0 + 3.0 * i + (i + 0.5) / STEPS;
            double mean = 0.0, square = 0.0;
            for (int code = (int)tone - 8; code <= (int)tone + 8; code++) {
                const double share =
                    0.5 * (erf((code + 0.5 - tone) / unit) - erf((code - 0.5 - tone) / unit));
                mean += share * code;
                square += share * (code - tone) * (code - tone);
            }
            row[i] = (ww__scanner_row){
                .share = mean / 255.0,
                .pixel_sd = sqrt(fmax(square - (mean - tone) * (mean - tone), 0.0)) / 255.0};
        }
        ww__scanner_noise_fit(&strip, &light, 0.0, 1.0 / 255.0, &noise, &relative_sd);
        const double half = 110.0 / 255.0;
        test_close("in codes",
                   255.0 * ww__scanner_noise_sd(&noise, half) / sqrt(s * s + 1.0 / 12.0), 1.0,
                   0.03);
    }
}

/* Source: closed form. Read: k 10^-D = read. Shot without flare: S = shot^2. All with flare: the
 * root of S^2 = read^2 + shot^2 (S + F) + fixed^2 (S + F)^2, by the quadratic formula. */
static void density_where_noise_is_as_large_as_light(void **state) {
    static const struct {
        const char *row;
        double k, constant, dark;
        ww_scanner_noise noise;
        double end;
    } rows[] = {
        {"read", 0.9, 0.0, 0.0, {2e-4, 0.0, 0.0}, 3.6532125},
        {"read, dark plays no part", 0.9, 0.01, 0.01, {2e-4, 0.0, 0.0}, 3.6532125},
        {"shot", 0.9, 0.0, 0.0, {0.0, 0.01, 0.0}, 3.9542425},
        {"fixed: never", 0.9, 0.0, 0.0, {0.0, 0.0, 0.01}, 8.0},
        {"fixed with flare", 0.9, 0.009, 0.0, {0.0, 0.0, 0.01}, 3.9956352},
        {"all", 0.8, 0.0016, 0.0, {3e-4, 2e-3, 0.005}, 3.4080494},
    };
    const ww__scanner_rounding fine = {0.0, 1.0};
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const ww__scanner_light light = {WW_ENCODING_POWER, 1.0, rows[i].k, rows[i].constant};
        test_close(rows[i].row, ww__scanner_noise_end(&rows[i].noise, &light, rows[i].dark, fine),
                   rows[i].end, 1e-6);
    }
    const ww__scanner_light light = {WW_ENCODING_POWER, 1.0, 0.9, 0.0};
    const ww_scanner_noise none = {0.0, 0.0, 0.0};
    test_true("no noise", ww__scanner_noise_end(&none, &light, 0.0, fine) == HUGE_VAL);
}

/* Source: closed form. Rounding's own noise is 1/root 12 of a code; where noise hides the steps
 * light ends as it does with that noise, k 10^-D = 0.288675/255, and where nothing does it must be
 * a code besides, root (1 + 1/12) of one. Half hidden: root (1/4 + 1/12). With a square root as the
 * encoding a code is 2 root S wide as light: S^2 = 4 S / 255^2. */
static void light_less_than_a_code_is_not_seen(void **state) {
    static const double step = 1.0 / 255.0;
    static const struct {
        const char *row;
        double gamma, read, hidden, end;
    } rows[] = {
        {"hidden", 1.0, 0.2886751346, 1.0, 2.9003733},
        {"half hidden", 1.0, 0.2886751346, 0.5, 2.5993433},
        {"seen", 1.0, 0.2886751346, 0.0, 2.3434016},
        {"square root", 2.0, 0.0, 0.0, 4.1652629},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const ww__scanner_light light = {WW_ENCODING_POWER, rows[i].gamma, 0.9, 0.0};
        const ww_scanner_noise noise = {rows[i].read * step, 0.0, 0.0};
        const ww__scanner_rounding rounding = {step, rows[i].hidden};
        test_close(rows[i].row, ww__scanner_noise_end(&noise, &light, 0.0, rounding), rows[i].end,
                   1e-6);
    }
}

/* Source: table of the density of a code of 8 bits. A code is -ln(10) times a slope, so that the
 * table's own digits hold where nothing else lies on the light. */
static void a_code_is_so_much_density(void **state) {
    const ww__scanner_light light = {WW_ENCODING_POWER, 1.0, 1.0, 0.0};
    (void)state;
    test_close("8 bit, D 1", ww__scanner_noise_code(&light, 1.0, 1.0 / 255.0), 0.01703, 5e-6);
    test_close("8 bit, D 2", ww__scanner_noise_code(&light, 2.0, 1.0 / 255.0), 0.1703, 5e-5);
    test_close("12 bit, D 2", ww__scanner_noise_code(&light, 2.0, 1.0 / 4095.0), 0.01061, 5e-6);
    test_close("16 bit, D 4", ww__scanner_noise_code(&light, 4.0, 1.0 / 65535.0), 0.06627, 5e-6);
}

/* Source: closed form. A mean between two codes has the variance f (1 - f) of them without any
 * noise; noise of half a code leaves exp(-pi^2 / 2) of a step. */
static void noise_hides_steps_of_codes(void **state) {
    static const struct {
        const char *row;
        double code, sd, hidden;
    } rows[] = {{"between two codes", 10.3, 0.4582576, 0.0},
                {"one code", 10.0, 0.0, 0.0},
                {"half a code", 10.0, 0.5, 1.0 - 0.0071919},
                {"many codes", 10.3, 6.0, 1.0}};
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww__scanner_row row[2] = {{.share = 100.0 / 255.0, .pixel_sd = 9.0 / 255.0},
                                  {.share = rows[i].code / 255.0, .pixel_sd = rows[i].sd / 255.0}};
        const ww__scanner_strip strip = {.row = row, .n = 2};
        const ww__scanner_rounding got = ww__scanner_noise_rounding(&strip, 1.0 / 255.0);
        test_close(rows[i].row, got.hidden, rows[i].hidden, 1e-5);
        test_close(rows[i].row, got.step, 1.0 / 255.0, 0.0);
        test_close("floating point", ww__scanner_noise_rounding(&strip, 0.0).hidden, 1.0, 0.0);
    }
}

/* Where only one part of the noise is there, its density is a closed form by hand:
 * sigma_D = sigma / (S ln 10), S = k 10^-D. */
static void noise_follows_its_model(void **state) {
    const double ln10 = 2.302585092994046;
    ww_scanner_channel channel = {.present = true, .k = 0.9};
    (void)state;
    channel.noise = (ww_scanner_noise){0.0013, 0.0, 0.0};
    test_close("read", ww_scanner_noise_at(&channel, 2.0), 0.0013 / (0.009 * ln10), 1e-12);
    channel.noise = (ww_scanner_noise){0.0, 0.004, 0.0};
    test_close("shot", ww_scanner_noise_at(&channel, 2.0), 0.004 * sqrt(0.009) / (0.009 * ln10),
               1e-12);
    channel.noise = (ww_scanner_noise){0.0, 0.0, 0.003};
    test_close("fixed", ww_scanner_noise_at(&channel, 2.0), 0.003 / ln10, 1e-12);
    /* Flare as strong as the image: its light makes noise too. */
    channel.flare = (ww_quantity){0.01, 0.009, 0.011, WW_FITTED};
    test_close("with flare", ww_scanner_noise_at(&channel, 2.0), 0.006 / ln10, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_back_the_noise_that_was_there),
        cmocka_unit_test(noise_within_a_fifth_in_spite_of_scatter),
        cmocka_unit_test(patches_of_one_code_have_the_noise_of_rounding),
        cmocka_unit_test(rounding_is_counted_in_full),
        cmocka_unit_test(density_where_noise_is_as_large_as_light),
        cmocka_unit_test(light_less_than_a_code_is_not_seen),
        cmocka_unit_test(a_code_is_so_much_density),
        cmocka_unit_test(noise_hides_steps_of_codes),
        cmocka_unit_test(noise_follows_its_model),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
