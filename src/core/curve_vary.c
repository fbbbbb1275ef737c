/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/curve_vary.h"
#include <assert.h>
#include <math.h>

enum { MAX = WW_MODEL_PARAMETERS_MAX };

/* What rounding leaves of a variance of 1. */
static const double nothing = 1e-12;

/* Of correlations, so that units of parameters do not matter. Parameters that nothing is known to
 * be wrong with keep 0. */
static void take_correlation(const ww_channel_curve *curve, double sd[MAX], double rest[MAX][MAX]) {
    const size_t n = curve->shape.n;
    for (size_t i = 0; i < n; i++)
        sd[i] = sqrt(fmax(curve->covariance[i * n + i], 0.0));
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            rest[i][j] =
                sd[i] > 0.0 && sd[j] > 0.0 ? curve->covariance[i * n + j] / (sd[i] * sd[j]) : 0.0;
}

static size_t largest(double rest[MAX][MAX], size_t n) {
    size_t most = 0;
    for (size_t i = 1; i < n; i++)
        if (rest[i][i] > rest[most][most])
            most = i;
    return most;
}

/* Cholesky's factor, the largest variance that is left first: a covariance of parameters that go
 * together has fewer directions than parameters, and ends early. */
void ww__curve_vary_find(const ww_channel_curve *curve, ww__curve_directions *directions) {
    double sd[MAX] = {0.0}, rest[MAX][MAX];
    const size_t n = curve->shape.n;
    assert(curve && directions && n <= MAX);
    *directions = (ww__curve_directions){.n = 0};
    if (!curve->covariance || n == 0)
        return;
    take_correlation(curve, sd, rest);
    while (directions->n < n) {
        const size_t most = largest(rest, n);
        const double root = sqrt(fmax(rest[most][most], 0.0));
        double *v = directions->v[directions->n];
        if (!(rest[most][most] > nothing))
            break;
        for (size_t i = 0; i < n; i++)
            v[i] = rest[i][most] / root;
        for (size_t i = 0; i < n; i++)
            for (size_t j = 0; j < n; j++)
                rest[i][j] -= v[i] * v[j];
        for (size_t i = 0; i < n; i++)
            v[i] *= sd[i];
        directions->n++;
    }
}

ww_channel_curve ww__curve_vary(const ww_channel_curve *curve,
                                const ww__curve_directions *directions, size_t k, double amount) {
    ww_channel_curve moved = *curve;
    assert(k < directions->n);
    for (size_t i = 0; i < curve->shape.n; i++)
        moved.shape.parameter[i] += amount * directions->v[k][i];
    return moved;
}
