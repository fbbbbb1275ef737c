/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_GLS_H
#define WEDGEWORK_CORE_GLS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Generalised least squares: numbers whose errors hang together are turned into as many whose
 * errors are 1 and independent, and then plain least squares serves.
 *
 *   C = F F^T,  whitened r = F^-1 r,  chi^2 = |F^-1 r|^2 = r^T C^-1 r
 *
 * Source    definition (Cholesky)
 */

/* C, n x n row by row, becomes F in its lower half; false, and C spoilt, where C is not positive
 * definite. */
bool ww__gls_factor(double covariance[], size_t n);

/* v becomes F^-1 v; or F^-T v. */
void ww__gls_whiten(const double factor[], size_t n, double v[]);
void ww__gls_whiten_transposed(const double factor[], size_t n, double v[]);

/* a^T b; and v less what lies along another, which is not 0. */
double ww__gls_dot(const double a[], const double b[], size_t n);
void ww__gls_make_square(double v[], const double along[], size_t n);

/* Chance of so large a chi^2 or a larger one; 1 without any freedom. Source: chi-square law. */
double ww__gls_chance(double chi_squared, size_t freedom);

#endif
