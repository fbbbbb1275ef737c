/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/rounding.h"
#include "support/support.h"
#include <math.h>

/* A tone's rounded readings: a code's share of a normal's integral, in closed form. */
static void moments(double tone, double noise, double *bias, double *scatter) {
    const double unit = noise * sqrt(2.0);
    double mean = 0.0, square = 0.0;
    for (int code = -30; code <= 30; code++) {
        const double share =
            0.5 * (erf((code + 0.5 - tone) / unit) - erf((code - 0.5 - tone) / unit));
        mean += share * code;
        square += share * code * code;
    }
    *bias = mean - tone;
    *scatter = square - mean * mean;
}

/* Source: the definition, by brute force: means over tones between two codes. */
static void by_all_tones(void **state) {
    static const double noise[] = {0.013, 0.05, 0.0999, 0.1001, 0.17, 0.25, 0.37, 0.61, 1.3, 2.9};
    enum { TONES = 2000 };
    (void)state;
    for (size_t i = 0; i < sizeof noise / sizeof noise[0]; i++) {
        double bias_2 = 0.0, scatter = 0.0;
        for (int t = 0; t < TONES; t++) {
            double bias, own;
            moments((t + 0.5) / TONES - 0.5, noise[i], &bias, &own);
            bias_2 += bias * bias / TONES;
            scatter += own / TONES;
        }
        test_close("bias", ww__rounding_bias_2(noise[i]), bias_2, 1e-6);
        test_close("scatter", scatter, noise[i] * noise[i] + 1.0 / 12.0 - bias_2, 1e-6);
        test_close("noise", ww__rounding_noise(scatter), noise[i], 1e-5);
    }
}

/* Source: limits: all of a uniform error, or none; where two codes alone are met, the scatter is
 * noise over root pi, the integral of p (1 - p). */
static void limits(void **state) {
    (void)state;
    test_close("no noise", ww__rounding_bias_2(0.0), 1.0 / 12.0, 1e-15);
    test_close("no scatter", ww__rounding_noise(0.0), 0.0, 1e-15);
    test_close("two codes", ww__rounding_noise(0.04 / sqrt(3.14159265358979324)), 0.04, 1e-9);
    test_close("two forms meet", ww__rounding_bias_2(0.1 - 1e-13), ww__rounding_bias_2(0.1), 2e-11);
    test_close("much noise", ww__rounding_noise(49.0 + 1.0 / 12.0), 7.0, 1e-12);
    for (double noise = 0.0; noise < 1.2; noise += 0.03)
        test_true("falls", ww__rounding_bias_2(noise + 0.03) < ww__rounding_bias_2(noise));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(by_all_tones), cmocka_unit_test(limits)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
