/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_CURVE_VARY_H
#define WW_CORE_CURVE_VARY_H

#include <wedgework/curve.h>

/*
 * Directions in which a curve's parameters may be off, each by one standard deviation and
 * independent of the others: v v' summed over them is the covariance. What follows from the curve
 * by however long a way has the variance sum of (dy/dv)^2, to first order.
 */
typedef struct ww__curve_directions {
    size_t n; /* 0: the curve carries no covariance */
    double v[WW_MODEL_PARAMETERS_MAX][WW_MODEL_PARAMETERS_MAX]; /* direction, parameter */
} ww__curve_directions;

void ww__curve_vary_find(const ww_channel_curve *curve, ww__curve_directions *directions);

/* The curve moved along direction k by `amount` standard deviations. It borrows all that `curve`
 * owns: nothing of it is released. */
ww_channel_curve ww__curve_vary(const ww_channel_curve *curve,
                                const ww__curve_directions *directions, size_t k, double amount);

#endif
