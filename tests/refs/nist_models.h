/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_TESTS_NIST_MODELS_H
#define WW_TESTS_NIST_MODELS_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

/*
 * The model functions that NIST StRD states for the sets of nist_nonlinear.h, with their
 * derivatives by parameter (worked out by hand; the test checks them against differences).
 */
typedef double nist_model(const double b[], const double x[], double g[]);

static const double nist_pi = 3.14159265358979323846;

/* b1 (1 - e^(-b2 x)): Misra1a, BoxBOD */
static double nist_saturation(const double b[], const double x[], double g[]) {
    const double e = exp(-b[1] * x[0]);
    g[0] = 1.0 - e;
    g[1] = b[0] * x[0] * e;
    return b[0] * (1.0 - e);
}

/* e^(-b1 x) / (b2 + b3 x): Chwirut2 */
static double nist_chwirut(const double b[], const double x[], double g[]) {
    const double below = b[1] + b[2] * x[0], y = exp(-b[0] * x[0]) / below;
    g[0] = -x[0] * y;
    g[1] = -y / below;
    g[2] = -x[0] * y / below;
    return y;
}

/* b1 x^b2: DanWood */
static double nist_power(const double b[], const double x[], double g[]) {
    g[0] = pow(x[0], b[1]);
    g[1] = b[0] * g[0] * log(x[0]);
    return b[0] * g[0];
}

/* height e^(-(x - middle)^2 / width^2), one of the two peaks of Gauss1 */
static double nist_peak(const double b[], double x, double g[]) {
    const double z = (x - b[1]) / b[2];
    g[0] = exp(-z * z);
    g[1] = b[0] * g[0] * 2.0 * z / b[2];
    g[2] = g[1] * z;
    return b[0] * g[0];
}

/* b1 e^(-b2 x) and two peaks: Gauss1 */
static double nist_gauss(const double b[], const double x[], double g[]) {
    g[0] = exp(-b[1] * x[0]);
    g[1] = -x[0] * b[0] * g[0];
    return b[0] * g[0] + nist_peak(b + 2, x[0], g + 2) + nist_peak(b + 5, x[0], g + 5);
}

/* three exponentials: Lanczos3 */
static double nist_lanczos(const double b[], const double x[], double g[]) {
    double y = 0.0;
    for (size_t i = 0; i < 6; i += 2) {
        g[i] = exp(-b[i + 1] * x[0]);
        g[i + 1] = -x[0] * b[i] * g[i];
        y += b[i] * g[i];
    }
    return y;
}

/* ratio of polynomials with `over` terms above and 1 + ... with `under` terms below */
static double nist_ratio(const double b[], double x, double g[], size_t over, size_t under) {
    double above = 0.0, below = 1.0, power = 1.0;
    for (size_t i = 0; i < over; i++, power *= x)
        above += b[i] * (g[i] = power);
    power = x;
    for (size_t i = over; i < over + under; i++, power *= x)
        below += b[i] * (g[i] = power);
    const double y = above / below;
    for (size_t i = 0; i < over + under; i++)
        g[i] *= i < over ? 1.0 / below : -y / below;
    return y;
}

static double nist_kirby(const double b[], const double x[], double g[]) {
    return nist_ratio(b, x[0], g, 3, 2);
}

/* cubic over cubic: Thurber, Hahn1 */
static double nist_cubics(const double b[], const double x[], double g[]) {
    return nist_ratio(b, x[0], g, 4, 3);
}

/* ln y = b1 - b2 x1 e^(-b3 x2): Nelson */
static double nist_nelson(const double b[], const double x[], double g[]) {
    const double e = exp(-b[2] * x[1]);
    g[0] = 1.0;
    g[1] = -x[0] * e;
    g[2] = b[1] * x[0] * x[1] * e;
    return b[0] - b[1] * x[0] * e;
}

/* b1 + b2 e^(-x b4) + b3 e^(-x b5): MGH17 */
static double nist_mgh17(const double b[], const double x[], double g[]) {
    g[0] = 1.0;
    g[1] = exp(-x[0] * b[3]);
    g[2] = exp(-x[0] * b[4]);
    g[3] = -x[0] * b[1] * g[1];
    g[4] = -x[0] * b[2] * g[2];
    return b[0] + b[1] * g[1] + b[2] * g[2];
}

/* b1 - b2 x - arctan(b3 / (x - b4)) / pi: Roszman1 */
static double nist_roszman(const double b[], const double x[], double g[]) {
    const double away = x[0] - b[3];
    const double square = (away * away + b[2] * b[2]) * nist_pi;
    g[0] = 1.0;
    g[1] = -x[0];
    g[2] = -away / square;
    g[3] = -b[2] / square;
    return b[0] - b[1] * x[0] - atan(b[2] / away) / nist_pi;
}

/* a year's wave and two of unknown periods b4 and b7: ENSO */
static double nist_enso(const double b[], const double x[], double g[]) {
    const double year = 2.0 * nist_pi * x[0] / 12.0;
    g[0] = 1.0;
    g[1] = cos(year);
    g[2] = sin(year);
    double y = b[0] + b[1] * g[1] + b[2] * g[2];
    for (size_t i = 3; i < 9; i += 3) {
        const double turn = 2.0 * nist_pi * x[0] / b[i];
        g[i + 1] = cos(turn);
        g[i + 2] = sin(turn);
        g[i] = (b[i + 1] * sin(turn) - b[i + 2] * cos(turn)) * turn / b[i];
        y += b[i + 1] * g[i + 1] + b[i + 2] * g[i + 2];
    }
    return y;
}

/* b1 (x^2 + x b2) / (x^2 + x b3 + b4): MGH09 */
static double nist_mgh09(const double b[], const double x[], double g[]) {
    const double above = x[0] * x[0] + x[0] * b[1], below = x[0] * x[0] + x[0] * b[2] + b[3];
    const double y = b[0] * above / below;
    g[0] = above / below;
    g[1] = b[0] * x[0] / below;
    g[2] = -y * x[0] / below;
    g[3] = -y / below;
    return y;
}

/* b1 / (1 + e^(b2 - b3 x)): Rat42 */
static double nist_rat42(const double b[], const double x[], double g[]) {
    const double e = exp(b[1] - b[2] * x[0]);
    g[0] = 1.0 / (1.0 + e);
    g[1] = -b[0] * e * g[0] * g[0];
    g[2] = -x[0] * g[1];
    return b[0] * g[0];
}

/* b1 / (1 + e^(b2 - b3 x))^(1/b4): Rat43 */
static double nist_rat43(const double b[], const double x[], double g[]) {
    const double e = exp(b[1] - b[2] * x[0]);
    g[0] = pow(1.0 + e, -1.0 / b[3]);
    const double y = b[0] * g[0];
    g[1] = -y * e / (1.0 + e) / b[3];
    g[2] = -x[0] * g[1];
    g[3] = y * log1p(e) / (b[3] * b[3]);
    return y;
}

/* b1 e^(b2 / (x + b3)): MGH10 */
static double nist_mgh10(const double b[], const double x[], double g[]) {
    const double away = x[0] + b[2];
    g[0] = exp(b[1] / away);
    const double y = b[0] * g[0];
    g[1] = y / away;
    g[2] = -y * b[1] / (away * away);
    return y;
}

/* b1 / b2 e^(-((x - b3) / b2)^2 / 2): Eckerle4 */
static double nist_eckerle(const double b[], const double x[], double g[]) {
    const double z = (x[0] - b[2]) / b[1];
    g[0] = exp(-0.5 * z * z) / b[1];
    const double y = b[0] * g[0];
    g[1] = y * (z * z - 1.0) / b[1];
    g[2] = y * z / b[1];
    return y;
}

/* b1 (b2 + x)^(-1/b3): Bennett5 */
static double nist_bennett(const double b[], const double x[], double g[]) {
    const double away = b[1] + x[0];
    g[0] = pow(away, -1.0 / b[2]);
    const double y = b[0] * g[0];
    g[1] = -y / (b[2] * away);
    g[2] = y * log(away) / (b[2] * b[2]);
    return y;
}

/* Which model belongs to which set; Nelson's is for the logarithm of the response. */
typedef struct nist_row {
    const char *name;
    nist_model *model;
    bool log_response;
} nist_row;

static const nist_row nist_rows[] = {
    {"Misra1a", nist_saturation, false}, {"Chwirut2", nist_chwirut, false},
    {"DanWood", nist_power, false},      {"Gauss1", nist_gauss, false},
    {"Lanczos3", nist_lanczos, false},   {"Kirby2", nist_kirby, false},
    {"Hahn1", nist_cubics, false},       {"Nelson", nist_nelson, true},
    {"MGH17", nist_mgh17, false},        {"Roszman1", nist_roszman, false},
    {"ENSO", nist_enso, false},          {"MGH09", nist_mgh09, false},
    {"Thurber", nist_cubics, false},     {"BoxBOD", nist_saturation, false},
    {"Rat42", nist_rat42, false},        {"MGH10", nist_mgh10, false},
    {"Eckerle4", nist_eckerle, false},   {"Rat43", nist_rat43, false},
    {"Bennett5", nist_bennett, false},
};

#endif
