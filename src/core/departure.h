/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_DEPARTURE_H
#define WW_CORE_DEPARTURE_H

#include "rows.h"
#include "trace.h"
#include <gsl/gsl_rng.h>
#include <stddef.h>
#include <wedgework/error.h>

/*
 * No emulsion is any of the models. A departure is what a true curve has on top of the fitted one:
 * a row of small bumps along the exposure axis, heights normal with a common scale. How large that
 * scale and the scatter of the readings may be is learned from the residuals together with what
 * published curves say about the model; the pair is drawn anew for every resample.
 */
enum { WW__DEPARTURE_BUMPS_MAX = 32, WW__DEPARTURE_SCALES = 13, WW__DEPARTURE_SCATTERS = 25 };

typedef struct ww__departure {
    size_t n_bumps;
    double first, spacing;              /* centres along u; the width of a bump is the spacing */
    double scale[WW__DEPARTURE_SCALES]; /* of bump heights [D] */
    double scatter[WW__DEPARTURE_SCATTERS]; /* of a reading of weight 1 [D] */
    double cumulative[WW__DEPARTURE_SCALES * WW__DEPARTURE_SCATTERS]; /* of their joint weight */
} ww__departure;

/* ww__departure_layout - centres over the measured range along u, about eight over the rise of the
 *                        curve: anything shorter is scatter of the readings. */
void ww__departure_layout(const ww__rows *rows, double low, double high, ww__departure *departure);

/*
 * ww__departure_typical - rms departure of true curves from a fitted model [D].
 *
 *   0.0035 log H (logistic 0.007) times the steepest slope, and what ww__departure_between adds
 *
 * Source    published curves: a toe-line-shoulder left 0.006 D, a logistic 0.014 D, rms at the
 *           median of 244 (figures given in the project's issue), digitisation being a part of it
 */
double ww__departure_typical(const ww__rows *rows, ww_model_kind model);

/*
 * ww__departure_between - what readings far apart leave open where the curve has a slope [D].
 *
 *   0.0035 log H times the slope times (largest rise between neighbours / a fifth of the range)^2
 *
 * Source    common practice: its effect on intervals and on false alarms is shown by
 *           tests/core/test_resample.c
 */
double ww__departure_between(const ww__rows *rows, double slope);

ww__bump ww__departure_bump(const ww__departure *departure, size_t k);

/* ww__departure_at - height of bump k, of height 1, at u. */
double ww__departure_at(const ww__departure *departure, size_t k, double u);

/*
 * ww__departure_learn - joint weight of scale and scatter by the restricted likelihood of the
 *                       residuals, times a half-normal weight of the scale.
 *
 *   residual = (I - H)(Z c + e),  c ~ N(0, scale^2),  e ~ N(0, scatter^2)
 *
 * Source    restricted likelihood: Patterson and Thompson, Biometrika 58 (1971) 545-554.
 * Given     n          rows
 *           residual   of the fit, times the square root of each row's weight
 *           hat        n x n, H of the weighted problem
 *           bumps      n x n_bumps, each bump at each row, weighted likewise
 *           typical    ww__departure_typical [D]
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__departure_learn(ww__departure *departure, size_t n, const double residual[],
                              const double hat[], const double bumps[], double typical,
                              ww_error *err);

/* ww__departure_draw - one scale and scatter, and heights of all bumps. */
void ww__departure_draw(const ww__departure *departure, gsl_rng *rng, double height[],
                        double *scatter);

#endif
