/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/spectrum_odd.h"
#include "support/support.h"
#include <math.h>
#include <stdio.h>

enum { BANDS = 36 };

/* Two dyes on white, 380 to 730 nm; how dense is up to the row. */
static void draw(ww_spectral_point p[BANDS], double dense) {
    for (int i = 0; i < BANDS; i++) {
        const double nm = 380.0 + 10.0 * i, a = (nm - 540.0) / 35.0, b = (nm - 650.0) / 42.0;
        p[i] = (ww_spectral_point){nm, 0.85 * pow(10.0, -dense * (exp(-a * a) + exp(-b * b)))};
    }
}

/* Source: definition. */
static void the_polynomial_of_four_values(void **state) {
    ww_spectral_point p[4];
    (void)state;
    for (int i = 0; i < 4; i++) {
        const double x = 400.0 + 10.0 * i + i * i;
        p[i] = (ww_spectral_point){x, 0.3 + 1e-3 * x - 2e-6 * x * x + 3e-9 * x * x * x};
    }
    test_close("cubic", ww__spectrum_cubic(p, 417.3),
               0.3 + 0.4173 - 2e-6 * 417.3 * 417.3 + 3e-9 * 417.3 * 417.3 * 417.3, 1e-12);
}

static void dyes_alone_have_none(void **state) {
    ww_spectral_point p[BANDS];
    size_t at = 99;
    double between;
    (void)state;
    for (double dense = 0.0; dense < 3.0; dense += 0.173) {
        const ww_spectrum whole = {p, BANDS, 0.0}, few = {p, 4, 0.0}, one = {p, 1, 0.0};
        draw(p, dense);
        test_true("dyes", !ww__spectrum_odd(&whole, &at, &between));
        test_true("too few to judge", !ww__spectrum_odd(&few, &at, &between));
        test_true("one", !ww__spectrum_odd(&one, &at, &between));
        for (int i = 0; i < BANDS / 2; i++)
            p[i] = (ww_spectral_point){380.0 + 20.0 * i, p[2 * i].value};
        const ww_spectrum coarse = {p, BANDS / 2, 0.0};
        test_true("every 20 nm", !ww__spectrum_odd(&coarse, &at, &between));
    }
    test_true("untouched", at == 99);
}

/* By hand, weights -1/6, 4/6, 4/6, -1/6: a step of 1 gives 1/2, and 1/6 beside it once mended; a
 * corner gives 2/3, and 1/9. */
static void steps_and_corners_are_none(void **state) {
    ww_spectral_point p[BANDS];
    const ww_spectrum spectrum = {p, BANDS, 0.0};
    size_t at;
    double between;
    (void)state;
    for (int i = 0; i < BANDS; i++)
        p[i] = (ww_spectral_point){380.0 + 10.0 * i, i < 18 ? 0.05 : 0.85};
    test_true("step", !ww__spectrum_odd(&spectrum, &at, &between));
    for (int i = 0; i < 100; i++) { /* an edge of some nm, anywhere */
        for (int b = 0; b < BANDS; b++)
            p[b].value = 0.05 + 0.8 / (1.0 + exp(-(p[b].nm - 520.0 - 0.1 * i) / (1.0 + i % 7)));
        test_true("edge", !ww__spectrum_odd(&spectrum, &at, &between));
    }
    for (int i = 0; i < BANDS; i++)
        p[i].value = i < 18 ? 0.1 : 0.1 + 0.045 * (i - 18);
    test_true("corner", !ww__spectrum_odd(&spectrum, &at, &between));
}

/* Source: definition: the band that was spoilt, and what stood there. */
static void a_spoilt_band_is_found(void **state) {
    static const struct {
        double dense, value;
        int at;
    } rows[] = {{0.6, -0.01, 20}, {0.6, 1.1, 3}, {0.2, 0.1, 33}, {1.3, 0.4, 18}, {0.9, 0.0, 2}};
    ww_spectral_point p[BANDS];
    const ww_spectrum spectrum = {p, BANDS, 0.0};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t at = 0;
        double between = 0.0, was;
        char row[32];
        snprintf(row, sizeof row, "row %zu", i);
        draw(p, rows[i].dense);
        was = p[rows[i].at].value;
        p[rows[i].at].value = rows[i].value;
        test_true(row, ww__spectrum_odd(&spectrum, &at, &between) == 1);
        test_true(row, at == (size_t)rows[i].at);
        test_close(row, between, was, 0.01);
    }
}

/* Source: definition, as above: two bands hide each other from a look at single ones. */
static void two_spoilt_bands_are_found(void **state) {
    static const struct {
        double dense, a, b;
        int at_a, at_b;
    } rows[] = {{0.6, 0.95, 0.9, 20, 21}, {0.6, 0.02, 1.1, 12, 13}, {0.9, 0.35, 0.7, 18, 20},
                {0.3, 0.1, 0.95, 8, 29},  {1.3, 0.5, 0.45, 15, 30}, {0.6, 1.1, 0.95, 2, 3}};
    ww_spectral_point p[BANDS];
    const ww_spectrum spectrum = {p, BANDS, 0.0};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t at = 0;
        double between = 0.0, was;
        char row[32];
        snprintf(row, sizeof row, "pair %zu", i);
        draw(p, rows[i].dense);
        was = p[rows[i].at_a].value;
        p[rows[i].at_a].value = rows[i].a;
        p[rows[i].at_b].value = rows[i].b;
        test_true(row, ww__spectrum_odd(&spectrum, &at, &between) == 2);
        test_true(row, at == (size_t)rows[i].at_a);
        test_close(row, between, was, 0.04);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_polynomial_of_four_values), cmocka_unit_test(dyes_alone_have_none),
        cmocka_unit_test(steps_and_corners_are_none), cmocka_unit_test(a_spoilt_band_is_found),
        cmocka_unit_test(two_spoilt_bands_are_found)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
