/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "spline.h"

#include <assert.h>

/* The cardinal cubic B-spline on [0, 4] and its integral, piece by piece. */
static double bump(double t)
{
    if (t <= 0.0 || t >= 4.0)
        return 0.0;
    if (t > 2.0)
        t = 4.0 - t; /* symmetric about 2 */
    if (t <= 1.0)
        return t * t * t / 6.0;
    const double s = t - 1.0;
    return (1.0 + 3.0 * s * (1.0 + s * (1.0 - s))) / 6.0;
}

static double bump_integral(double t)
{
    if (t <= 0.0)
        return 0.0;
    if (t >= 4.0)
        return 1.0;
    if (t > 2.0)
        return 1.0 - bump_integral(4.0 - t);
    if (t <= 1.0)
        return t * t * t * t / 24.0;
    const double s = t - 1.0;
    return (1.0 + s * (4.0 + s * (6.0 + s * (4.0 - 3.0 * s)))) / 24.0;
}

void ww__spline_rise(double low, double high, size_t n, double x, double value[], double slope[])
{
    assert(n >= WW__SPLINE_ORDER && n <= WW__SPLINE_BASIS_MAX && low < high);
    const double interval = (high - low) / (double)(n - 3);
    for (size_t j = 0; j < n; j++) {
        const double t = (x - low) / interval - ((double)j - 3.0);
        value[j] = bump_integral(t);
        if (slope)
            slope[j] = bump(t) / interval;
    }
}

double ww__spline_sum(double low, double high, const double rise[], size_t n, double x,
                      double *slope) {
    assert(n >= WW__SPLINE_ORDER && n <= WW__SPLINE_BASIS_MAX && low < high);
    const double interval = (high - low) / (double)(n - 3);
    double sum = 0.0, steep = 0.0;
    for (size_t j = 0; j < n; j++) {
        const double t = (x - low) / interval - ((double)j - 3.0);
        if (t <= 0.0)
            break;
        sum += t >= 4.0 ? rise[j] : rise[j] * bump_integral(t);
        if (slope && t < 4.0)
            steep += rise[j] * bump(t);
    }
    if (slope)
        *slope = steep / interval;
    return sum;
}
