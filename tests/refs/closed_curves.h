/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_TESTS_CLOSED_CURVES_H
#define WW_TESTS_CLOSED_CURVES_H

#include <wedgework/model.h>

/*
 * Curves whose densities have a closed form, with values worked out from it: two films of the form
 * D = Dmin + a1 ln(1 + e^(a2 (x - x0))) (B meets the ISO triangle at 100) and a logistic paper.
 * gamma = a1 a2, toe softness = 1/a2.
 */
static const ww_shape curve_a = {WW_MODEL_TOE_LINE, false, 4, {0.25, 0.7, -2.0, 1 / 2.8}, 0, 0};
static const ww_shape curve_b = {
    WW_MODEL_TOE_LINE, false, 4, {0.25, 0.184483 * 4.0, -2.014623, 0.25}, 0, 0};
static const ww_shape paper = {WW_MODEL_LOGISTIC, false, 5, {0.07, 2.0, 5.79909, 0.5, 1.0}, 0, 0};
/* The square of a logistic: D - D0 = 2 / (1 + e^-z)^2. */
static const ww_shape square = {WW_MODEL_LOGISTIC, false, 5, {0.07, 2.0, 3.1, 0.5, 2.0}, 0, 0};

static const struct form_row {
    const char *name;
    const char *source;
    const ww_shape *shape;
    double x, density, slope; /* slope 0: not stated */
    double tolerance;
} forms[] = {
    {"A at net 0.10", "D = Dmin + a1 ln(1 + e^(a2 (x - x0))), worked out", &curve_a, -2.253440,
     0.35, 0.230776, 1e-6},
    {"A at net 0.10 + 1.30", "likewise: rise 0.645592", &curve_a, -0.953440, 0.995592, 0, 1e-6},
    {"A, upper arc point", "likewise", &curve_a, -0.515439, 1.293077, 0, 1e-6},
    {"A, lower arc point", "likewise", &curve_a, -2.276353, 0.344825, 0, 1e-6},
    {"A at x0", "Dmin + a1 ln 2, slope gamma/2", &curve_a, -2.0, 0.25 + 0.25 * 0.693147180559945,
     0.35, 1e-15},
    {"B at net 0.10", "likewise: log 0.8/100", &curve_b, -2.096910, 0.35, 0, 1e-6},
    {"B at net 0.10 + 1.30", "likewise: rise 0.799999", &curve_b, -0.796910, 1.149999, 0, 2e-6},
    {"paper, net 0.04", "x0 - ln 49 / s", &paper, 0.5 - 3.89182029811063 / 5.79909, 0.11,
     2.0 * 5.79909 * 0.02 * 0.98, 1e-14},
    {"paper, net 0.60", "x0 - ln(7/3) / s", &paper, 0.5 - 0.847297860387203 / 5.79909, 0.67,
     2.0 * 5.79909 * 0.3 * 0.7, 1e-14},
    {"paper, 0.9 of the range", "x0 + ln 9 / s", &paper, 0.5 + 2.19722457733622 / 5.79909, 1.87,
     2.0 * 5.79909 * 0.9 * 0.1, 1e-14},
    {"square of a logistic", "ln 2 from the middle: 2 (2/3)^2", &square,
     0.5 + 0.693147180559945 / 3.1, 0.07 + 8.0 / 9.0, 2.0 * 2.0 * 4.0 / 9.0 / 3.0 * 3.1, 1e-14},
};

#endif
