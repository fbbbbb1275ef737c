/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include <assert.h>
#include <math.h>
#include <wedgework/curve.h>

#define HALF_WIDTH 1.959963984540054 /* 95 % of a normal, in sd */

static const double rise = 0.10;      /* [net D] of the speed point of a black-and-white film */
static const double film_range = 1.5; /* [log H] of the average gradient that `fit` tells */

static ww_status ends_of(const ww_channel_curve *curve, double range, double *from, ww_error *err) {
    const ww_quantity base = curve->figure[WW_FIGURE_BASE_FOG];
    ww_status status;
    if (!ww_quantity_present(base))
        return ww_error_set(err, WW_ENODATA,
                            "base+fog is not known; read the unexposed, developed film as the row "
                            "base");
    status = ww_curve_log_h(curve, base.value + rise, from, err);
    if (status != WW_OK)
        return status;
    if (*from + range > curve->domain_high)
        return ww_error_set(err, WW_ENODATA,
                            "the steps end %.2f log H over net 0.10, short of %.2f; expose more "
                            "steps on the dense side",
                            curve->domain_high - *from, range);
    return WW_OK;
}

/* Standard error of G by the covariance; net 0.10 moves with base+fog and with the shape. */
static ww_status error_of(const ww_channel_curve *curve, double from, double range, double *sd,
                          ww_error *err) {
    const ww_quantity base = curve->figure[WW_FIGURE_BASE_FOG];
    const size_t n = curve->shape.n;
    double a[WW_MODEL_PARAMETERS_MAX], b[WW_MODEL_PARAMETERS_MAX], slope_a, slope_b;
    double variance = 0.0, density;
    ww_status status = ww_curve_density(curve, from, &density, &slope_a, err);
    if (status == WW_OK)
        status = ww_curve_density(curve, from + range, &density, &slope_b, err);
    if (status == WW_OK && (!curve->covariance || !(slope_a > 0.0)))
        status = ww_error_set(err, WW_ENODATA,
                              "the curve does not tell its doubt; fit the readings again");
    if (status != WW_OK)
        return status;
    const double steeper = slope_b / slope_a;
    ww__model_gradient(&curve->shape, from, a);
    ww__model_gradient(&curve->shape, from + range, b);
    for (size_t i = 0; i < n; i++)
        b[i] -= steeper * a[i];
    if (base.how == WW_FITTED) /* the shape's own */
        b[0] += steeper - 1.0;
    else
        variance = pow((steeper - 1.0) * (base.high - base.low) / (2.0 * HALF_WIDTH), 2.0);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++)
            variance += b[i] * curve->covariance[i * n + k] * b[k];
    *sd = sqrt(fmax(variance, 0.0)) / range;
    return WW_OK;
}

/* By how much the interval of the average gradient is wider than its covariance makes it. */
static double wider_of(const ww_channel_curve *curve) {
    const ww_quantity told = curve->figure[WW_FIGURE_AVERAGE_GRADIENT];
    double from, sd;
    if (!ww_quantity_present(told) || ends_of(curve, film_range, &from, NULL) != WW_OK ||
        error_of(curve, from, film_range, &sd, NULL) != WW_OK || !(sd > 0.0))
        return 1.0;
    return fmax((told.high - told.low) / (2.0 * HALF_WIDTH * sd), 1.0);
}

ww_status ww_curve_gradient_over(const ww_channel_curve *curve, double range, ww_quantity *gradient,
                                 ww_error *err) {
    double from, density, sd;
    assert(curve && gradient);
    if (!(isfinite(range) && range > 0.0))
        return ww_error_set(err, WW_EDOMAIN, "a range of %g log H is none; it must be > 0", range);
    ww_status status = ends_of(curve, range, &from, err);
    if (status == WW_OK)
        status = ww_curve_density(curve, from + range, &density, NULL, err);
    if (status == WW_OK)
        status = error_of(curve, from, range, &sd, err);
    if (status != WW_OK)
        return status;
    const double value = (density - curve->figure[WW_FIGURE_BASE_FOG].value - rise) / range;
    const double half = HALF_WIDTH * sd * wider_of(curve);
    *gradient = (ww_quantity){value, value - half, value + half, WW_FITTED};
    return WW_OK;
}
