/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SHAPE_FIT_H
#define WW_CORE_SHAPE_FIT_H

#include "series.h"
#include <wedgework/model.h>

/*
 * One model fitted to one series. The fit works in "working" parameters: the natural ones, with the
 * logarithm of those that must be positive, so that every step stays strictly rising.
 */
typedef struct ww__shape_fit {
    ww_shape shape;
    double working[WW_MODEL_PARAMETERS_MAX];
    double unscaled[WW_MODEL_PARAMETERS_MAX * WW_MODEL_PARAMETERS_MAX]; /* (J'WJ + S)^-1, n x n,
                                                                           working parameters */
    double smoothing;   /* weight of the spline's roughness, 0 for the others */
    double rss;         /* weighted sum of squares of the readings alone */
    size_t rows;        /* readings that counted, the base among them */
    double used;        /* effective number of parameters */
    double aicc;        /* HUGE_VAL where there are too few readings for the model */
    double residual_sd; /* sqrt(rss / (rows - used)) */
} ww__shape_fit;

/*
 * ww__shape_fit_solve - weighted least squares of one model; the spline's smoothing is chosen by
 *                       AICc over a grid.
 *
 * Given     series  sorted
 *           start   a fit of the same model to start from, or NULL
 * Status    WW_OK; WW_ENODATA too few readings for the model; WW_ECONVERGE; WW_EMEMORY
 */
ww_status ww__shape_fit_solve(const ww__series *series, ww_model_kind model, bool falling,
                              const ww__shape_fit *start, ww__shape_fit *fit, ww_error *err);

/* ww__shape_fit_minimum - fewest rows that the model can be fitted to. */
size_t ww__shape_fit_minimum(ww_model_kind model);

/* ww__shape_fit_natural - shape parameters from working ones. */
void ww__shape_fit_natural(const double working[], ww_shape *shape);

/*
 * ww__shape_fit_jacobian - d density / d working parameter at u, n values, and the density.
 */
double ww__shape_fit_gradient(const ww_shape *shape, double u, double gradient[]);

#endif
