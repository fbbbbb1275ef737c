/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/curve_vary.h"
#include "support/support.h"
#include <math.h>

/* A covariance made of `n_factors` vectors: fewer than 5, and it is of less than full rank. */
static const double factor[5][5] = {{0.011, 0.0, -0.3, 0.02, 0.7},
                                    {0.0, 0.023, 0.1, -0.013, 0.0},
                                    {0.004, 0.01, 0.0, 0.007, -0.2},
                                    {0.0, 0.0, 0.09, 0.0, 0.05},
                                    {0.002, -0.003, 0.0, 0.001, 0.03}};

static void sum_up(size_t n_factors, double covariance[25]) {
    for (size_t i = 0; i < 5; i++)
        for (size_t j = 0; j < 5; j++) {
            covariance[5 * i + j] = 0.0;
            for (size_t k = 0; k < n_factors; k++)
                covariance[5 * i + j] += factor[k][i] * factor[k][j];
        }
}

static ww_channel_curve curve_of(double covariance[25]) {
    return (ww_channel_curve){
        .present = true,
        .fitted = true,
        .covariance = covariance,
        .domain_low = -2.0,
        .domain_high = 2.0,
        .shape = {.model = WW_MODEL_LOGISTIC, .n = 5, .parameter = {0.07, 2.0, 3.1, 0.2, 1.3}}};
}

/* Source: definition: v v' summed is the covariance. */
static void directions_make_the_covariance(void **state) {
    (void)state;
    for (size_t n = 1; n <= 5; n++) {
        double covariance[25];
        ww__curve_directions d;
        sum_up(n, covariance);
        const ww_channel_curve curve = curve_of(covariance);
        ww__curve_vary_find(&curve, &d);
        assert_int_equal(d.n, n);
        for (size_t i = 0; i < 5; i++)
            for (size_t j = 0; j < 5; j++) {
                double sum = 0.0;
                for (size_t k = 0; k < d.n; k++)
                    sum += d.v[k][i] * d.v[k][j];
                test_close("entry", sum, covariance[5 * i + j], 1e-9);
            }
    }
}

/* Source: ww_curve_density_sd, which goes by the covariance itself. */
static void moved_curves_have_its_variance(void **state) {
    (void)state;
    double covariance[25];
    ww__curve_directions d;
    const double amount = 1e-4;
    sum_up(4, covariance);
    const ww_channel_curve curve = curve_of(covariance);
    ww__curve_vary_find(&curve, &d);
    for (double log_h = -1.7; log_h < 2.0; log_h += 0.31) {
        double variance = 0.0, sd;
        for (size_t k = 0; k < d.n; k++) {
            const ww_channel_curve up = ww__curve_vary(&curve, &d, k, amount);
            const ww_channel_curve down = ww__curve_vary(&curve, &d, k, -amount);
            const double rise = (ww_model_density(&up.shape, log_h, NULL) -
                                 ww_model_density(&down.shape, log_h, NULL)) /
                                (2.0 * amount);
            variance += rise * rise;
        }
        test_status("sd", ww_curve_density_sd(&curve, log_h, &sd, NULL), WW_OK, NULL);
        test_close("sd", sqrt(variance), sd, 1e-6);
    }
}

static void without_a_covariance(void **state) {
    (void)state;
    ww__curve_directions d;
    const ww_channel_curve curve = curve_of(NULL);
    ww__curve_vary_find(&curve, &d);
    assert_int_equal(d.n, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(directions_make_the_covariance),
                                       cmocka_unit_test(moved_curves_have_its_variance),
                                       cmocka_unit_test(without_a_covariance)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
