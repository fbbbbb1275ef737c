/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve.h>

static const char *const cause_names[] = {
    [WW_CAUSE_UNKNOWN] = "unknown",
    [WW_CAUSE_SLIP] = "slip",
    [WW_CAUSE_SWAPPED] = "swapped",
    [WW_CAUSE_SKIPPED] = "skipped",
    [WW_CAUSE_DECIMAL_POINT] = "decimal point",
    [WW_CAUSE_DUST] = "dust",
};
enum { CAUSE_COUNT = sizeof cause_names / sizeof cause_names[0] };

const char *ww_cause_name(ww_cause cause) {
    assert((size_t)cause < CAUSE_COUNT);
    return cause_names[cause];
}

ww_status ww_cause_find(const char *name, ww_cause *cause, ww_error *err) {
    assert(name && cause);
    for (size_t i = 0; i < CAUSE_COUNT; i++) {
        if (strcmp(name, cause_names[i]) == 0) {
            *cause = (ww_cause)i;
            return WW_OK;
        }
    }
    return ww_error_set(err, WW_EDOMAIN,
                        "'%.40s' is not a cause of a suspect reading; it must be slip, swapped, "
                        "skipped, decimal point, dust or unknown",
                        name);
}

bool ww_curve_origin_given(const ww_curve *curve) {
    assert(curve);
    switch (curve->exposure) {
    case WW_EXPOSURE_WEDGE:
        return curve->meta.log_h0.set || curve->meta.exposure_time_s.set;
    case WW_EXPOSURE_STOP:
        return curve->meta.log_h0.set;
    default:
        return true;
    }
}

static void release_channel(ww_channel_curve *channel) {
    for (size_t i = 0; i < channel->n_points; i++)
        free(channel->point[i].step);
    free(channel->point);
    free(channel->covariance);
    free(channel->suspect);
}

void ww_curve_release(ww_curve *curve) {
    if (!curve)
        return;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        release_channel(&curve->channel[c]);
    ww_meta_release(&curve->meta);
    ww_notes_release(&curve->notes);
    *curve = (ww_curve)WW_CURVE_INIT;
}

static ww_status check_fitted(const ww_channel_curve *curve, ww_error *err) {
    if (curve->present && curve->fitted)
        return WW_OK;
    return ww_error_set(err, WW_ENODATA,
                        "no curve was fitted to this channel; read at least 5 exposed steps");
}

/* Written so that a log_h that is not a number fails it. */
static ww_status check_domain(const ww_channel_curve *curve, double log_h, ww_error *err) {
    if (log_h >= curve->domain_low && log_h <= curve->domain_high)
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN,
                        "log H %.3f lies outside the measured range, %.3f to %.3f; read more steps "
                        "on that side",
                        log_h, curve->domain_low, curve->domain_high);
}

ww_status ww_curve_density(const ww_channel_curve *curve, double log_h, double *density,
                           double *slope, ww_error *err) {
    ww_status status;
    assert(curve && density);
    status = check_fitted(curve, err);
    if (status == WW_OK)
        status = check_domain(curve, log_h, err);
    if (status == WW_OK)
        *density = ww_model_density(&curve->shape, log_h, slope);
    return status;
}

ww_status ww_curve_log_h(const ww_channel_curve *curve, double density, double *log_h,
                         ww_error *err) {
    const ww_status status = check_fitted(curve, err);
    assert(log_h);
    if (status != WW_OK)
        return status;
    if (!isfinite(density))
        return ww_error_set(err, WW_EDOMAIN, "a density that is not finite has no log H");
    return ww_model_log_h(&curve->shape, density, curve->domain_low, curve->domain_high, log_h,
                          err);
}

/* g' C g */
static double quadratic_form(const double covariance[], const double gradient[], size_t n) {
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        double row = 0.0;
        for (size_t j = 0; j < n; j++)
            row += covariance[i * n + j] * gradient[j];
        sum += gradient[i] * row;
    }
    return sum;
}

static ww_status check_covariance(const ww_channel_curve *curve, ww_error *err) {
    if (curve->covariance)
        return WW_OK;
    return ww_error_set(err, WW_ENODATA,
                        "the curve carries no covariance, so its doubt is not known; fit the "
                        "readings again");
}

/* Parameters that pull against each other leave a sum of large terms that cancel; rounding may
 * then turn a variance of next to nothing negative, but never one that could be seen. */
static ww_status root(double variance, double log_h, double *sd, ww_error *err) {
    if (!isfinite(variance) || variance < -1e-10)
        return ww_error_set(err, WW_ENODATA,
                            "the covariance gives the impossible variance %g at log H %.3f; fit "
                            "the readings again",
                            variance, log_h);
    *sd = sqrt(fmax(variance, 0.0));
    return WW_OK;
}

ww_status ww_curve_density_sd(const ww_channel_curve *curve, double log_h, double *sd,
                              ww_error *err) {
    double gradient[WW_MODEL_PARAMETERS_MAX];
    ww_status status;
    assert(curve && sd);
    status = check_fitted(curve, err);
    if (status == WW_OK)
        status = check_domain(curve, log_h, err);
    if (status == WW_OK)
        status = check_covariance(curve, err);
    if (status != WW_OK)
        return status;
    ww__model_gradient(&curve->shape, log_h, gradient);
    return root(quadratic_form(curve->covariance, gradient, curve->shape.n), log_h, sd, err);
}

ww_status ww_curve_between_sd(const ww_channel_curve *curve, double log_h_a, double log_h_b,
                              double *sd, ww_error *err) {
    double a[WW_MODEL_PARAMETERS_MAX], b[WW_MODEL_PARAMETERS_MAX], density, slope_a, slope_b;
    ww_status status;
    assert(curve && sd);
    status = ww_curve_density(curve, log_h_a, &density, &slope_a, err);
    if (status == WW_OK)
        status = ww_curve_density(curve, log_h_b, &density, &slope_b, err);
    if (status == WW_OK)
        status = check_covariance(curve, err);
    if (status != WW_OK)
        return status;
    if (!(fabs(slope_a) > 0.0 && fabs(slope_b) > 0.0))
        return ww_error_set(err, WW_EDOMAIN,
                            "the curve has no slope at log H %.3f or %.3f; take densities between "
                            "paper white and black",
                            log_h_a, log_h_b);
    ww__model_gradient(&curve->shape, log_h_a, a);
    ww__model_gradient(&curve->shape, log_h_b, b);
    for (size_t i = 0; i < curve->shape.n; i++)
        a[i] = a[i] / slope_a - b[i] / slope_b;
    return root(quadratic_form(curve->covariance, a, curve->shape.n), log_h_a, sd, err);
}

ww_status ww_curve_black_and_white_channel(const ww_curve *curve, ww_channel *channel,
                                           ww_error *err) {
    const ww_channel printing = curve->meta.grain == WW_GRAIN_STAINED ? WW_BLUE : WW_GREEN;
    size_t only = 0, n = 0;
    assert(channel);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (curve->channel[c].present) {
            only = c;
            n++;
        }
    }
    if (curve->channel[WW_VISUAL].present)
        *channel = WW_VISUAL;
    else if (curve->channel[printing].present)
        *channel = printing;
    else if (n == 1)
        *channel = (ww_channel)only;
    else if (n == 0)
        return ww_error_set(err, WW_ENODATA, "the curve file has no channel; fit readings again");
    else
        return ww_error_set(err, WW_ENODATA,
                            "neither the visual nor the %s curve is there, by which a "
                            "black-and-white material is judged; read that channel",
                            ww_channel_name(printing));
    return WW_OK;
}
