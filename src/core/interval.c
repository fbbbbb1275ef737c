/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "interval.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <math.h>

static const double bias_most = 0.8; /* normal units; a larger bias is not corrected in full */
static const double two_sided_95 = 1.959963984540054;

/* Quantile with straight lines between order statistics. */
static double quantile(const double sorted[], size_t n, double share) {
    const double at = fmin(fmax(share * (double)(n + 1) - 1.0, 0.0), (double)(n - 1));
    const size_t below = (size_t)at;
    const size_t above = below + 1 < n ? below + 1 : below;
    return sorted[below] + (at - (double)below) * (sorted[above] - sorted[below]);
}

ww_status ww__interval_of(double value[], size_t n, size_t under, double *low, double *high,
                          ww_error *err) {
    assert(value && low && high);
    if (n < 20)
        return ww_error_set(err, WW_ENODATA, "%zu resamples are too few for a 95 %% interval", n);
    gsl_sort(value, 1, n);
    const double share = fmin(fmax((double)under / (double)n, 0.01), 0.99);
    const double bias = fmin(fmax(gsl_cdf_ugaussian_Pinv(share), -bias_most), bias_most);
    *low = quantile(value, n, gsl_cdf_ugaussian_P(2.0 * bias - two_sided_95));
    *high = quantile(value, n, gsl_cdf_ugaussian_P(2.0 * bias + two_sided_95));
    return WW_OK;
}
