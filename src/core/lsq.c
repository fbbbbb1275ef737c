/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lsq.h"

#include <assert.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Trust-region settings, tried in this order until one converges. */
enum { QUICK, CAREFUL, SETTINGS };

static const double step_tolerance = 1e-12;
static const double gradient_tolerance = 1e-15;
static const size_t max_iterations[SETTINGS] = {200, 2000};

struct ww__lsq {
    size_t n, p;
    gsl_multifit_nlinear_workspace *workspace[SETTINGS]; /* the careful one is made when needed */
    gsl_matrix *covariance;
    double *start;
    int solved_by;
};

static gsl_multifit_nlinear_workspace *workspace_new(int setting, size_t n, size_t p)
{
    gsl_multifit_nlinear_parameters options = gsl_multifit_nlinear_default_parameters();
    options.scale = gsl_multifit_nlinear_scale_more;
    options.solver = setting == QUICK ? gsl_multifit_nlinear_solver_cholesky
                                      : gsl_multifit_nlinear_solver_qr;
    options.trs = setting == QUICK ? gsl_multifit_nlinear_trs_lm : gsl_multifit_nlinear_trs_lmaccel;
    return gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &options, n, p);
}

ww_status ww__lsq_new(size_t n, size_t p, ww__lsq **lsq, ww_error *err)
{
    assert(lsq && n > 0 && p > 0);
    if (n < p)
        return ww_error_set(err, WW_EDOMAIN, "%zu readings cannot determine %zu parameters", n, p);
    ww__lsq *made = calloc(1, sizeof *made);
    if (made) {
        made->n = n;
        made->p = p;
        made->workspace[QUICK] = workspace_new(QUICK, n, p);
        made->covariance = gsl_matrix_alloc(p, p);
        made->start = malloc(p * sizeof *made->start);
    }
    if (!made || !made->workspace[QUICK] || !made->covariance || !made->start) {
        ww__lsq_free(made);
        return ww_error_set(err, WW_EMEMORY, "no memory for a least-squares fit");
    }
    *lsq = made;
    return WW_OK;
}

void ww__lsq_free(ww__lsq *lsq)
{
    if (!lsq)
        return;
    for (int i = 0; i < SETTINGS; i++)
        if (lsq->workspace[i])
            gsl_multifit_nlinear_free(lsq->workspace[i]);
    if (lsq->covariance)
        gsl_matrix_free(lsq->covariance);
    free(lsq->start);
    free(lsq);
}

static int residual_for_gsl(const gsl_vector *x, void *data, gsl_vector *f)
{
    const ww__lsq_problem *problem = data;
    assert(x->stride == 1 && f->stride == 1);
    if (!problem->residual(problem->self, x->data, f->data))
        return GSL_EDOM;
    for (size_t i = 0; i < problem->n; i++)
        if (!isfinite(f->data[i]))
            return GSL_EDOM;
    return GSL_SUCCESS;
}

static int jacobian_for_gsl(const gsl_vector *x, void *data, gsl_matrix *j)
{
    const ww__lsq_problem *problem = data;
    assert(x->stride == 1 && j->tda == j->size2);
    return problem->jacobian(problem->self, x->data, j->data) ? GSL_SUCCESS : GSL_EDOM;
}

/* One run with one setting; `parameter` is moved only to a point that is better than it was. */
static bool run(ww__lsq *lsq, int setting, const ww__lsq_problem *problem, double parameter[],
                double *chi_squared, size_t *iterations)
{
    if (!lsq->workspace[setting])
        lsq->workspace[setting] = workspace_new(setting, lsq->n, lsq->p);
    gsl_multifit_nlinear_workspace *w = lsq->workspace[setting];
    if (!w)
        return false;

    gsl_multifit_nlinear_fdf fdf = {.f = residual_for_gsl,
                                    .df = jacobian_for_gsl,
                                    .n = lsq->n,
                                    .p = lsq->p,
                                    .params = (void *)(uintptr_t)problem};
    gsl_vector_const_view start = gsl_vector_const_view_array(parameter, lsq->p);
    int status;
    if (problem->weight) {
        gsl_vector_const_view weight = gsl_vector_const_view_array(problem->weight, lsq->n);
        status = gsl_multifit_nlinear_winit(&start.vector, &weight.vector, &fdf, w);
    } else {
        status = gsl_multifit_nlinear_init(&start.vector, &fdf, w);
    }
    if (status != GSL_SUCCESS)
        return false;

    int info = 0;
    status = gsl_multifit_nlinear_driver(max_iterations[setting], step_tolerance,
                                         gradient_tolerance, 0.0, NULL, NULL, &info, w);
    *iterations += gsl_multifit_nlinear_niter(w);
    double found;
    gsl_blas_ddot(w->f, w->f, &found);
    if (isfinite(found) && found <= *chi_squared) {
        *chi_squared = found;
        memcpy(parameter, w->x->data, lsq->p * sizeof *parameter);
    }
    lsq->solved_by = setting;
    /* "No progress" at full precision is the bottom of the valley, not a failure. */
    return status == GSL_SUCCESS;
}

ww_status ww__lsq_solve(ww__lsq *lsq, const ww__lsq_problem *problem, double parameter[],
                        ww__lsq_result *result, ww_error *err)
{
    assert(lsq && problem && parameter && problem->n == lsq->n && problem->p == lsq->p);
    double chi_squared = HUGE_VAL;
    size_t iterations = 0;
    memcpy(lsq->start, parameter, lsq->p * sizeof *parameter);

    bool done = run(lsq, QUICK, problem, parameter, &chi_squared, &iterations);
    if (!done)
        done = run(lsq, CAREFUL, problem, parameter, &chi_squared, &iterations);
    if (!done) {
        double again[64];
        assert(lsq->p <= sizeof again / sizeof *again);
        memcpy(again, lsq->start, lsq->p * sizeof *again);
        double other = HUGE_VAL;
        done = run(lsq, CAREFUL, problem, again, &other, &iterations);
        if (done && other <= chi_squared) {
            chi_squared = other;
            memcpy(parameter, again, lsq->p * sizeof *again);
        }
    }
    if (result) {
        result->chi_squared = chi_squared;
        result->iterations = iterations;
    }
    if (!done)
        return ww_error_set(err, WW_ECONVERGE,
                            "the least-squares fit did not settle in %zu steps; the readings may "
                            "not determine this curve",
                            iterations);
    return WW_OK;
}

void ww__lsq_covariance(ww__lsq *lsq, double covariance[])
{
    assert(lsq && covariance);
    gsl_multifit_nlinear_covar(gsl_multifit_nlinear_jac(lsq->workspace[lsq->solved_by]), 0.0,
                               lsq->covariance);
    for (size_t i = 0; i < lsq->p; i++)
        for (size_t j = 0; j < lsq->p; j++)
            covariance[i * lsq->p + j] = gsl_matrix_get(lsq->covariance, i, j);
}
