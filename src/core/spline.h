/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SPLINE_H
#define WW_CORE_SPLINE_H

#include <stddef.h>

enum { WW__SPLINE_ORDER = 4, WW__SPLINE_BASIS_MAX = 24 };

/*
 * ww__spline_rise - integrated cubic B-splines on uniform knots at x: value and derivative of each.
 *
 * The j-th rises from 0 to 1 over four knot intervals; any non-negative combination rises. The
 * first begins three intervals before `low`, the last ends three after `high`.
 *
 * Given     low < high  ends of the n - 3 intervals that the data cover
 *           n           number of basis functions, 4 to WW__SPLINE_BASIS_MAX
 * Returned  value[n], slope[n] (NULL allowed)
 */
void ww__spline_rise(double low, double high, size_t n, double x, double value[], double slope[]);

/*
 * ww__spline_sum - sum of rise[j] times the j-th of them, and its slope (NULL allowed): at any x at
 *                  most four are under way, the others have risen or not begun.
 */
double ww__spline_sum(double low, double high, const double rise[], size_t n, double x,
                      double *slope);

#endif
