/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MODEL_H
#define WEDGEWORK_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

/*
 * Curve models: density against log10 exposure, each strictly rising for every parameter vector
 * inside its bounds. Reversal materials use the same models on a mirrored axis (ww_shape.falling).
 */
enum { WW_MODEL_PARAMETERS_MAX = 24 };

typedef enum ww_model_kind {
    WW_MODEL_LOGISTIC,           /* five-parameter logistic */
    WW_MODEL_TOE_LINE_SHOULDER,  /* base+fog, gamma, toe, straight part, shoulder */
    WW_MODEL_TOE_LINE,           /* the same without a shoulder */
    WW_MODEL_SPLINE,             /* monotone penalised spline */
    WW_MODEL_COUNT
} ww_model_kind;

/* A model with its parameters: all that is needed to draw the curve. */
typedef struct ww_shape {
    ww_model_kind model;
    bool falling;       /* density falls with exposure: the model runs along -log H */
    size_t n;           /* parameters in use */
    double parameter[WW_MODEL_PARAMETERS_MAX];
    double knot_low;    /* spline: ends of the knots, on the axis along which density rises */
    double knot_high;
} ww_shape;

#define WW_SHAPE_INIT                                                                              \
    {                                                                                              \
        .model = WW_MODEL_LOGISTIC                                                                 \
    }

/*
 * ww_model_name - "logistic", "toe-line-shoulder", "toe-line", "spline":
 *                 what files and --model use.
 * ww_model_brief - one line on what the model is for.
 * ww_model_find - the model of that name. Status WW_OK; WW_EDOMAIN no such model (err lists them).
 * ww_model_parameter_name - name of parameter i of a shape: "base_fog", "gamma", ... For a spline
 *                           "base_fog", then "rise_1", "rise_2", ... (text holds the name).
 */
const char *ww_model_name(ww_model_kind model);
const char *ww_model_brief(ww_model_kind model);
ww_status ww_model_find(const char *name, ww_model_kind *model, ww_error *err);
const char *ww_model_parameter_name(const ww_shape *shape, size_t i, char text[32]);

/*
 * ww_model_density - density and slope of a shape, anywhere on the axis (no domain
 *                    is checked here).
 *
 *   toe-line-shoulder  u = a ln(1 + e^((x - x_t)/a)),
 *                      D = D0 + gamma [b ln(1 + e^(-L/b)) - b ln(e^(-u/b) + e^(-L/b))]
 *   toe-line           D = D0 + gamma u
 *   logistic           D = D0 + range / (1 + e^(-slope (x - x_m)))^asymmetry
 *   spline             D = D0 + sum of r_j I_j(x), I_j integrated cubic B-splines, r_j > 0
 *
 * Source    the model family is named in the project's issue; softplus and logistic are textbook
 *           functions; integrated splines after Ramsay, Statistical Science 3 (1988) 425-441.
 * Given     shape
 *           log_h    log10 exposure
 * Returned  density; *slope dD/dlogH (NULL allowed), negative for falling shapes
 * Accuracy  1e-12 relative
 */
double ww_model_density(const ww_shape *shape, double log_h, double *slope);

/*
 * ww_model_log_h - the inverse, between two limits.
 *
 * Given     shape, low < high  limits of log_h
 * Returned  *log_h
 * Status    WW_OK; WW_ENODATA the shape does not reach the density between the limits
 * Accuracy  |density(log_h) - density| <= 1e-10
 */
ww_status ww_model_log_h(const ww_shape *shape, double density, double low, double high,
                         double *log_h, ww_error *err);

#endif
