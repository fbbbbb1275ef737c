/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_model.h"
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/start.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

static const double no_scatter[WW_CHANNEL_COUNT];

static void match(const made_scan *s, ww__scanner_strips *strips) {
    ww_error err = WW_ERROR_INIT;
    test_status("match", ww__scanner_steps_match(&s->measured, &s->wedge, strips, &err), WW_OK,
                &err);
}

/* Source: closed form; codes are made by the model. */
static void gives_back_the_model_that_made_the_codes(void **state) {
    static const struct {
        const char *row;
        double gamma, k, flare, dark;
        ww_encoding encoding;
    } rows[] = {
        {"linear", 1.0, 0.93, 0.0031, 0.0, WW_ENCODING_POWER},
        {"linear, dark", 1.0, 0.4, 0.001, 0.02, WW_ENCODING_POWER},
        {"linear, no flare", 1.0, 0.93, 0.0, 0.0, WW_ENCODING_POWER},
        {"linear, black cut", 1.0, 0.93, 0.0, -0.0005, WW_ENCODING_POWER},
        {"1.8", 1.8, 0.9, 0.002, 0.0, WW_ENCODING_POWER},
        {"2.2", 2.2, 0.71, 0.0013, 0.0, WW_ENCODING_POWER},
        {"2.2, much flare", 2.2, 0.9, 0.02, 0.001, WW_ENCODING_POWER},
        {"sRGB", 0.0, 0.9, 0.002, 0.0, WW_ENCODING_SRGB},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        made_truth truth = made_usual(rows[i].gamma);
        made_scan s;
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        ww__scanner_model model;
        ww_error err = WW_ERROR_INIT;
        truth.k = rows[i].k;
        truth.flare = rows[i].flare;
        truth.dark = rows[i].dark;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        made_scan_channel(&s, WW_RED, &truth, 0.0, NULL);
        truth.k *= 0.6; /* another channel shares the encoding, nothing else */
        truth.flare *= 2.0;
        made_scan_channel(&s, WW_BLUE, &truth, 0.0, NULL);
        match(&s, &strips);
        test_status(rows[i].row, ww__scanner_model_fit(&strips, no_scatter, NULL, &model, &err),
                    WW_OK, &err);
        assert_int_equal(model.encoding, rows[i].encoding);
        if (rows[i].gamma > 0.0)
            test_close(rows[i].row, model.gamma, rows[i].gamma, 1e-6);
        test_close(rows[i].row, model.k[0] / rows[i].k, 1.0, 1e-6);
        test_close(rows[i].row, model.constant[0], rows[i].k * rows[i].flare + rows[i].dark, 1e-8);
        test_close(rows[i].row, model.k[1] / (0.6 * rows[i].k), 1.0, 1e-6);
        ww__scanner_steps_release(&strips);
    }
}

/* Source: definition, by difference quotients. */
static void gradients_are_those_of_the_model(void **state) {
    static const double gammas[] = {1.0, 2.2, 0.0};
    (void)state;
    for (size_t g = 0; g < COUNT(gammas); g++)
        for (double density = 0.05; density < 3.1; density += 0.431) {
            const ww__scanner_light at = {gammas[g] > 0.0 ? WW_ENCODING_POWER : WW_ENCODING_SRGB,
                                          gammas[g], 0.81, 0.0021};
            const double h = 1e-6;
            double gradient[3];
            ww__scanner_light low = at, high = at;
            ww__scanner_model_gradient(&at, density, gradient);
            low.k = at.k * exp(-h);
            high.k = at.k * exp(h);
            test_close(
                "ln k",
                (ww__scanner_share(&high, density, NULL) - ww__scanner_share(&low, density, NULL)) /
                    (2.0 * h * gradient[0]),
                1.0, 1e-6);
            low = high = at;
            low.constant -= 1e-3 * h;
            high.constant += 1e-3 * h;
            test_close(
                "constant",
                (ww__scanner_share(&high, density, NULL) - ww__scanner_share(&low, density, NULL)) /
                    (2e-3 * h * gradient[1]),
                1.0, 1e-5);
            if (at.encoding == WW_ENCODING_SRGB)
                continue;
            low = high = at;
            low.gamma -= h;
            high.gamma += h;
            test_close(
                "gamma",
                (ww__scanner_share(&high, density, NULL) - ww__scanner_share(&low, density, NULL)) /
                    (2.0 * h * gradient[2]),
                1.0, 1e-6);
        }
}

/* Source: definition. 1 code of noise; density by the slope ln 10 k 10^-D of light. */
static void error_of_a_row(void **state) {
    const ww__scanner_light light = {WW_ENCODING_POWER, 1.0, 0.5, 0.0};
    const ww__scanner_row row = {.density = 1.0, .density_sd = 0.003, .mean_sd = 1e-4};
    (void)state;
    test_close("error", ww__scanner_model_error(&light, &row, 0.004),
               hypot(1e-4, 0.05 * 2.302585092994046 * 0.005), 1e-12);
}

/* Source: definition of a 95 % interval: chance of an interval wrong, 400 scanners; binomial. */
static void powers_are_covered_and_one_is_preferred(void **state) {
    static const double gammas[] = {1.0, 1.8, 2.2};
    const size_t n = test_quick() ? 3 : 400;
    (void)state;
    for (size_t g = 0; g < COUNT(gammas); g++) {
        uint64_t seed = made_seed(88172645463325252u + g);
        size_t covered = 0, linear = 0;
        for (size_t i = 0; i < n; i++) {
            const made_truth truth = made_usual(gammas[g]);
            made_scan s;
            ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
            ww__scanner_model model;
            ww_error err = WW_ERROR_INIT;
            made_wedge(&s, 21, 0.05, 0.15, 16);
            s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
            made_scan_channel(&s, WW_VISUAL, &truth, 0.005, &seed);
            match(&s, &strips);
            test_status("fit", ww__scanner_model_fit(&strips, no_scatter, NULL, &model, &err),
                        WW_OK, &err);
            covered += model.gamma_low <= gammas[g] && gammas[g] <= model.gamma_high;
            linear += model.gamma == 1.0;
            ww__scanner_steps_release(&strips);
        }
        if (test_quick())
            continue; /* a share of so few says nothing */
        test_true("interval", (double)covered >= 0.92 * (double)n);
        if (gammas[g] == 1.0)
            test_true("linear", (double)linear >= 0.98 * (double)n);
        else
            test_true("encoded", linear == 0);
    }
}

/* Source: a nominal wedge whose contrast is off by 0.08 D in 3 D, inside its tolerance. */
static void a_nominal_wedge_makes_no_encoding(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww__scanner_model model;
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    for (size_t i = 0; i < 21; i++)
        s.row[i].cell[WW_COLUMN_VISUAL].value *= 1.0 + 0.08 / 3.0;
    s.wedge.meta.wedge = WW_WEDGE_NOMINAL;
    match(&s, &strips);
    test_status("nominal", ww__scanner_model_fit(&strips, no_scatter, NULL, &model, NULL), WW_OK,
                NULL);
    test_close("linear", model.gamma, 1.0, 0.0);
    ww__scanner_steps_release(&strips);
    s.wedge.meta.wedge = WW_WEDGE_CERTIFIED;
    match(&s, &strips);
    test_status("certified", ww__scanner_model_fit(&strips, no_scatter, NULL, &model, NULL), WW_OK,
                NULL);
    test_true("not linear", model.gamma != 1.0);
    ww__scanner_steps_release(&strips);
}

/* Source: the truth. Where sRGB meets little flare a free power runs against its end, where light
 * ends at the densest step: sRGB is found all the same. */
static void srgb_is_found_whatever_the_free_power_does(void **state) {
    const size_t n = test_quick() ? 10 : 100;
    uint64_t seed = made_seed(12);
    (void)state;
    for (size_t i = 0; i < n; i++) {
        made_truth truth = made_usual(0.0);
        made_scan s;
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        ww__scanner_model model;
        ww_error err = WW_ERROR_INIT;
        truth.flare = 5e-4 * made_uniform(&seed);
        truth.k = 0.2 + 0.75 * made_uniform(&seed);
        made_wedge(&s, 20 + i % 15, 0.05, 2.6 / 20.0, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, 0.004};
        made_scan_channel(&s, WW_VISUAL, &truth, 0.004, &seed);
        match(&s, &strips);
        test_status("fit", ww__scanner_model_fit(&strips, no_scatter, NULL, &model, &err), WW_OK,
                    &err);
        assert_int_equal(model.encoding, WW_ENCODING_SRGB);
        test_close("k", model.k[0] / truth.k, 1.0, 0.02);
        test_close("for show", model.gamma, 2.2, 0.0);
        test_true("no interval", model.gamma_low == 2.2 && model.gamma_high == 2.2);
        ww__scanner_steps_release(&strips);
    }
}

/* Source: closed form. Where codes are light, a share 10^-D, a power g reads g D. */
static void rivals_read_otherwise(void **state) {
    const ww__scanner_model model = {
        .gamma = 1.0,
        .k = {1.0},
        .rival = {{{WW_ENCODING_POWER, 1.1, 1.0, 0.0}}, {{WW_ENCODING_POWER, 0.8, 1.0, 0.0}}},
        .n_rivals = 2};
    ww__scanner_model alone = model;
    (void)state;
    test_close("1.3 x 0.8", ww__scanner_model_apart(&model, 0, 1.3), 0.26, 1e-9);
    alone.n_rivals = 1;
    test_close("1.3 x 1.1", ww__scanner_model_apart(&alone, 0, 1.3), 0.13, 1e-9);
    alone.n_rivals = 0;
    test_close("none", ww__scanner_model_apart(&alone, 0, 1.3), 0.0, 0.0);
}

typedef struct told_apart {
    const char *name;
    size_t steps;
    double gap, sd, gamma; /* 0: sRGB */
    double least, most;    /* shares of scanners where another encoding would do */
} told_apart;

/* Share of the densities within the wedge that their intervals hold. */
static double held(const told_apart *row, size_t scanners, size_t *told) {
    size_t n = 0, good = 0;
    for (size_t i = 0; i < scanners; i++) {
        uint64_t seed = made_seed(i);
        const made_truth truth = made_usual(row->gamma);
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        made_wedge(&s, row->steps, 0.05, row->gap, 16);
        s.wedge.meta.wedge_sd = (ww_optional){true, row->sd};
        made_scan_channel(&s, WW_VISUAL, &truth, row->sd, &seed);
        test_status(row->name, ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_OK,
                    &err);
        *told += test_noted(&scanner.notes, "Which encoding the codes have");
        for (double d = 0.25; d < row->gap * (double)(row->steps - 1); d += 0.1, n++) {
            ww_quantity q = WW_QUANTITY_INIT;
            const double code = s.measured.white * made_share(&truth, d);
            test_status(row->name, ww_scanner_density(&scanner, WW_VISUAL, code, &q, &err), WW_OK,
                        &err);
            good += q.low <= d && d <= q.high;
        }
        ww_scanner_release(&scanner);
    }
    return (double)good / (double)n;
}

/* Source: definition of a 95 % interval, against simulated scanners: it holds whatever encoding
 * the steps leave open. Those of a good wedge leave none. */
static void encodings_that_steps_cannot_part_are_in_the_doubt(void **state) {
    static const told_apart rows[] = {
        {"2.2 by 11 steps", 11, 0.2, 0.02, 2.2, 0.5, 1.0},
        {"sRGB by 11 steps", 11, 0.2, 0.02, 0.0, 0.3, 1.0},
        {"2.2 by a good wedge", 21, 0.15, 0.005, 2.2, 0.0, 0.0},
        {"sRGB by a good wedge", 21, 0.15, 0.005, 0.0, 0.0, 0.0},
        {"light by a good wedge", 21, 0.15, 0.005, 1.0, 0.0, 0.0},
    };
    const size_t scanners = 120;
    (void)state;
    if (test_quick())
        skip();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        size_t told = 0;
        const double share = held(&rows[i], scanners, &told),
                     open = (double)told / (double)scanners;
        print_message("%s: held in %.1f %%, open in %.0f %%\n", rows[i].name, 100.0 * share,
                      100.0 * open);
        test_true(rows[i].name, share >= 0.95);
        test_true(rows[i].name, open >= rows[i].least && open <= rows[i].most);
    }
}

/* Source: the formula of ww__lamp_find: 0.06 D along and 0.08 across make 0.10, over the root of
 * 12, at 95 %; by codes of a power of 2.2 light falls 2.2 times as far. */
static void light_that_fell_over_the_wedge_is_in_the_doubt(void **state) {
    static const double gammas[] = {1.0, 2.2};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        const made_truth truth = made_usual(gammas[i]);
        double square[2];
        for (int falls = 0; falls < 2; falls++) {
            made_scan s;
            ww_scanner scanner = WW_SCANNER_INIT;
            made_wedge(&s, 21, 0.05, 0.15, 16);
            made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
            s.measured.lamp[WW_VISUAL] = falls ? (ww_lamp){-0.06, 0.08} : (ww_lamp){0.0, 0.0};
            test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, NULL), WW_OK,
                        NULL);
            square[falls] = pow(scanner.channel[WW_VISUAL].point[40].doubt, 2.0);
            ww_scanner_release(&scanner);
        }
        test_close("lamp", sqrt(square[1] - square[0]), gammas[i] * 1.96 * 0.1 / sqrt(12.0), 1e-4);
    }
}

static void suspects_have_no_weight(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww__scanner_model model;
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    match(&s, &strips);
    strips.strip[0].row[3].share *= 0.5;
    strips.strip[0].row[3].suspect = true;
    strips.strip[0].row[20].share *= 2.0;
    strips.strip[0].row[20].clipped = true;
    test_status("fit", ww__scanner_model_fit(&strips, no_scatter, NULL, &model, NULL), WW_OK, NULL);
    test_close("k", model.k[0], 0.9, 1e-7);
    test_close("constant", model.constant[0], 0.0018, 1e-8);
    ww__scanner_steps_release(&strips);
}

/* Codes that no scanner makes: light falls and then rises without end. Nothing fits, none is
 * believed: a status, or a model that all the same is one. */
static void nonsense_is_no_crash(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_VISUAL, &truth, 0.0, NULL);
    match(&s, &strips);
    for (size_t i = 0; i < 21; i++)
        strips.strip[0].row[i].share = i % 2 ? 0.9 : 1e-7;
    ww__scanner_model model = {.gamma = 7.0};
    const ww_status status = ww__scanner_model_fit(&strips, no_scatter, NULL, &model, &err);
    test_true("status", status == WW_OK || status == WW_ECONVERGE);
    test_true("finite or untouched",
              status == WW_OK ? isfinite(model.k[0]) && model.k[0] > 0.0 : model.gamma == 7.0);
    ww__scanner_steps_release(&strips);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_back_the_model_that_made_the_codes),
        cmocka_unit_test(gradients_are_those_of_the_model),
        cmocka_unit_test(error_of_a_row),
        cmocka_unit_test(powers_are_covered_and_one_is_preferred),
        cmocka_unit_test(a_nominal_wedge_makes_no_encoding),
        cmocka_unit_test(srgb_is_found_whatever_the_free_power_does),
        cmocka_unit_test(rivals_read_otherwise),
        cmocka_unit_test(encodings_that_steps_cannot_part_are_in_the_doubt),
        cmocka_unit_test(light_that_fell_over_the_wedge_is_in_the_doubt),
        cmocka_unit_test(suspects_have_no_weight),
        cmocka_unit_test(nonsense_is_no_crash),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
