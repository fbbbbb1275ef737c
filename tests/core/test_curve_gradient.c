/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>
#include <wedgework/curve.h>

/* Source: D = 0.25 + 0.25 ln(1 + e^(2.8 (x + 2))), of which an average gradient of 0.520067 over
 * 1.50 and a chord of 0.562232 over 2.00 from net 0.10 were computed apart from this program. */
static ww_channel_curve softplus(double covariance[16]) {
    ww_channel_curve curve = {
        .present = true,
        .fitted = true,
        .shape = {.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.25, 0.7, -2.0, 1.0 / 2.8}},
        .covariance = covariance,
        .domain_low = -3.1,
        .domain_high = 0.0};
    curve.figure[WW_FIGURE_BASE_FOG] = (ww_quantity){0.25, 0.25, 0.25, WW_MEASURED};
    return curve;
}

static void values(void **state) {
    double covariance[16] = {0.0};
    const ww_channel_curve curve = softplus(covariance);
    ww_quantity g;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("1.5", ww_curve_gradient_over(&curve, 1.5, &g, &err), WW_OK, &err);
    test_close("1.5", g.value, 0.520067, 1e-6);
    test_status("2.0", ww_curve_gradient_over(&curve, 2.0, &g, &err), WW_OK, &err);
    test_close("2.0", g.value, 0.562232, 1e-6);
    test_close("no error, no interval", g.high - g.low, 0.0, 0.0);
}

/* Gradient of the softplus from net 0.10, everything computed here. */
static double direct(const double p[4], double base, double range) {
    const double a = p[1] * p[3], x = p[2] + p[3] * log(exp((base + 0.1 - p[0]) / a) - 1.0);
    return (p[0] + a * log1p(exp((x + range - p[2]) / p[3])) - base - 0.1) / range;
}

/* Source: differences of the closed form. */
static void errors(void **state) {
    const double truth[4] = {0.25, 0.7, -2.0, 1.0 / 2.8}, step = 1e-6;
    const double sd[4] = {0.004, 0.01, 0.02, 0.015};
    (void)state;
    for (int which = 0; which < 5; which++) {
        double covariance[16] = {0.0}, p[4] = {truth[0], truth[1], truth[2], truth[3]};
        double base = 0.25;
        ww_channel_curve curve = softplus(covariance);
        ww_quantity g;
        if (which < 4) {
            covariance[which * 5] = sd[which] * sd[which];
            p[which] += step;
        } else { /* base+fog, read by itself */
            curve.figure[WW_FIGURE_BASE_FOG].low -= 1.959963984540054 * 0.004;
            curve.figure[WW_FIGURE_BASE_FOG].high += 1.959963984540054 * 0.004;
            base += step;
        }
        const double slope = (direct(p, base, 1.8) - direct(truth, 0.25, 1.8)) / step;
        test_status("error", ww_curve_gradient_over(&curve, 1.8, &g, NULL), WW_OK, NULL);
        test_close("half-width", (g.high - g.low) / 2.0,
                   1.959963984540054 * fabs(slope) * (which < 4 ? sd[which] : 0.004), 2e-6);
    }
}

/* Source: definition: the interval is as much wider as that of the average gradient. */
static void wider(void **state) {
    double covariance[16] = {0.0};
    ww_channel_curve curve = softplus(covariance);
    ww_quantity narrow, wide, told;
    (void)state;
    covariance[5] = 1e-4;
    (void)ww_curve_gradient_over(&curve, 1.8, &narrow, NULL);
    (void)ww_curve_gradient_over(&curve, 1.5, &told, NULL);
    told.low = told.value - 3.0 * (told.value - told.low);
    told.high = told.value + 3.0 * (told.high - told.value);
    curve.figure[WW_FIGURE_AVERAGE_GRADIENT] = told;
    (void)ww_curve_gradient_over(&curve, 1.8, &wide, NULL);
    test_close("three times", wide.high - wide.low, 3.0 * (narrow.high - narrow.low), 1e-12);
    /* base+fog of the shape itself moves with it: a shift of all densities changes nothing */
    covariance[5] = 0.0;
    covariance[0] = 1e-4;
    curve.figure[WW_FIGURE_AVERAGE_GRADIENT].how = WW_ABSENT;
    curve.figure[WW_FIGURE_BASE_FOG].how = WW_FITTED;
    (void)ww_curve_gradient_over(&curve, 1.8, &narrow, NULL);
    test_close("shift of density", narrow.high - narrow.low, 0.0, 1e-12);
}

static void refusals(void **state) {
    double covariance[16] = {0.0};
    ww_channel_curve curve = softplus(covariance);
    ww_quantity g = {7.0, 7.0, 7.0, WW_GIVEN};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("range", ww_curve_gradient_over(&curve, 0.0, &g, &err), WW_EDOMAIN, &err);
    test_status("too long", ww_curve_gradient_over(&curve, 2.3, &g, &err), WW_ENODATA, &err);
    curve.covariance = NULL;
    test_status("no covariance", ww_curve_gradient_over(&curve, 1.5, &g, &err), WW_ENODATA, &err);
    curve.figure[WW_FIGURE_BASE_FOG].value = 9.0;
    test_status("never reached", ww_curve_gradient_over(&curve, 1.5, &g, &err), WW_ENODATA, &err);
    curve.figure[WW_FIGURE_BASE_FOG].how = WW_ABSENT;
    test_status("no base", ww_curve_gradient_over(&curve, 1.5, &g, &err), WW_ENODATA, &err);
    curve.fitted = false;
    test_status("not fitted", ww_curve_gradient_over(&curve, 1.5, &g, &err), WW_ENODATA, &err);
    test_close("untouched", g.value, 7.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(values), cmocka_unit_test(errors),
                                       cmocka_unit_test(wider), cmocka_unit_test(refusals)};
    return cmocka_run_group_tests_name("gradient over a range", tests, NULL, NULL);
}
