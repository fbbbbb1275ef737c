/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_LSQ_H
#define WW_CORE_LSQ_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

/*
 * The one least-squares core: weighted non-linear least squares by Levenberg-Marquardt on GSL's
 * trust-region solver, with analytic Jacobians. Curve fits, resamples and the reference data sets
 * of the tests all go through it.
 */
typedef struct ww__lsq_problem {
    size_t n; /* residuals, at least p */
    size_t p; /* parameters */
    /* residual[i] = model_i - observed_i, unweighted; false where the parameters are impossible */
    bool (*residual)(const void *self, const double parameter[], double residual[]);
    /* jacobian[i * p + j] = d residual_i / d parameter_j */
    bool (*jacobian)(const void *self, const double parameter[], double jacobian[]);
    const void *self;
    const double *weight; /* n weights 1/sigma^2, or NULL for 1 */
} ww__lsq_problem;

typedef struct ww__lsq_result {
    double chi_squared; /* sum of weighted squared residuals */
    size_t iterations;
} ww__lsq_result;

typedef struct ww__lsq ww__lsq; /* workspace for one problem size, used again and again */

/* Status WW_OK; WW_EDOMAIN n < p; WW_EMEMORY */
ww_status ww__lsq_new(size_t n, size_t p, ww__lsq **lsq, ww_error *err);
void ww__lsq_free(ww__lsq *lsq);

/*
 * ww__lsq_solve - least squares from a start point.
 *
 *   Steps by the Cholesky solver (fast). Where that does not settle, or settles where a parameter
 * has no effect at all (a plateau), once more from the start, unhurried: QR solver, a trust region
 *   that does not stretch along weak parameters, geodesic second-order correction. A run that ended
 *   beats one that did not, then the lower sum of squares counts. Trial steps into impossible
 *   parameters are shortened.
 *
 * Given     parameter  start point, finite
 * Returned  parameter  the solution; on failure the best point found (a caller may want it), or the
 *                      start point where that is impossible
 *           *result    (NULL allowed) likewise
 * Status    WW_OK; WW_ECONVERGE no tolerance was reached, or the start point is impossible;
 *           WW_EMEMORY
 * Accuracy  relative step below 1e-12, or gradient below 1e-15 of its scale, or no step goes down
 * and the residuals stand square to the Jacobian within 1e-6. Where the readings leave a direction
 * all but open, 15 steps that lower the sum of squares by less than 1e-7 of itself: about a
 * thousandth of a standard error
 */
ww_status ww__lsq_solve(ww__lsq *lsq, const ww__lsq_problem *problem, double parameter[],
                        ww__lsq_result *result, ww_error *err);

/*
 * ww__lsq_covariance - (J^T W J)^-1 at the last solution; times chi^2/(n - p) it is the covariance
 *                      where the weights are relative.
 *
 * Returned  covariance  p x p, row by row; singular directions come back as zero
 */
void ww__lsq_covariance(ww__lsq *lsq, double covariance[]);

#endif
