/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lsq.h"

#include <assert.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlin.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Trust-region settings, tried in this order until one converges. */
enum { QUICK, CAREFUL, SETTINGS };

static const double step_tolerance = 1e-12; /* of each parameter */
static const double gradient_tolerance = 1e-15;
static const double bottom_cosine = 1e-6;        /* between residuals and a Jacobian column */
static const double bottom_step = 1e-8;          /* of each parameter */
static const double plateau = 1e-12;             /* effect of a whole parameter, of the residuals */
static const double rounding = 1e-7;             /* of a sum of squares, generously */
static const double impossible_residual = 1e100; /* its square is still finite */

/* A run stalls where this many steps lower the sum of squares by less than this part of itself. */
enum { STALL_STEPS = 15 };
static const double stall[SETTINGS] = {1e-12, 1e-7}; /* 1e-7: a thousandth of a standard error */
static const size_t max_iterations[SETTINGS] = {200, 2000};

struct ww__lsq {
    size_t n, p;
    gsl_multifit_nlinear_workspace *workspace[SETTINGS]; /* the careful one is made when needed */
    int solved_by;
    gsl_matrix *factor, *covariance;
    gsl_vector *tau, *norm;
    gsl_permutation *order;
};

static gsl_multifit_nlinear_workspace *workspace_new(int setting, size_t n, size_t p) {
    gsl_multifit_nlinear_parameters options = gsl_multifit_nlinear_default_parameters();
    options.scale =
        setting == QUICK ? gsl_multifit_nlinear_scale_more : gsl_multifit_nlinear_scale_levenberg;
    options.solver =
        setting == QUICK ? gsl_multifit_nlinear_solver_cholesky : gsl_multifit_nlinear_solver_qr;
    options.trs = setting == QUICK ? gsl_multifit_nlinear_trs_lm : gsl_multifit_nlinear_trs_lmaccel;
    return gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &options, n, p);
}

ww_status ww__lsq_new(size_t n, size_t p, ww__lsq **lsq, ww_error *err) {
    assert(lsq && n > 0 && p > 0);
    if (n < p)
        return ww_error_set(err, WW_EDOMAIN, "%zu readings cannot determine %zu parameters", n, p);
    ww__lsq *made = calloc(1, sizeof *made);
    if (made) {
        made->n = n;
        made->p = p;
        made->workspace[QUICK] = workspace_new(QUICK, n, p);
        made->factor = gsl_matrix_alloc(n, p);
        made->covariance = gsl_matrix_alloc(p, p);
        made->tau = gsl_vector_alloc(p);
        made->norm = gsl_vector_alloc(p);
        made->order = gsl_permutation_alloc(p);
    }
    if (!made || !made->workspace[QUICK] || !made->factor || !made->covariance || !made->tau ||
        !made->norm || !made->order) {
        ww__lsq_free(made);
        return ww_error_set(err, WW_EMEMORY, "no memory for a least-squares fit");
    }
    *lsq = made;
    return WW_OK;
}

void ww__lsq_free(ww__lsq *lsq) {
    if (!lsq)
        return;
    for (int i = 0; i < SETTINGS; i++)
        if (lsq->workspace[i])
            gsl_multifit_nlinear_free(lsq->workspace[i]);
    gsl_matrix_free(lsq->factor);
    gsl_matrix_free(lsq->covariance);
    gsl_vector_free(lsq->tau);
    gsl_vector_free(lsq->norm);
    gsl_permutation_free(lsq->order);
    free(lsq);
}

/* What GSL's callbacks are given. */
typedef struct ww__lsq_call {
    const ww__lsq_problem *problem;
    bool impossible; /* the last point was */
} ww__lsq_call;

/*
 * GSL goes on from the same point, for ever, where a callback fails at a trial step. A step into
 * impossible parameters shall only be refused and shortened, so they look like a very bad fit.
 */
static int residual_for_gsl(const gsl_vector *x, void *data, gsl_vector *f) {
    ww__lsq_call *call = data;
    const ww__lsq_problem *problem = call->problem;
    assert(x->stride == 1 && f->stride == 1);
    bool possible = problem->residual(problem->self, x->data, f->data);
    for (size_t i = 0; i < problem->n && possible; i++)
        possible = fabs(f->data[i]) < impossible_residual;
    call->impossible = !possible;
    if (!possible)
        gsl_vector_set_all(f, impossible_residual);
    return GSL_SUCCESS;
}

static int jacobian_for_gsl(const gsl_vector *x, void *data, gsl_matrix *j) {
    const ww__lsq_call *call = data;
    assert(x->stride == 1 && j->tda == j->size2);
    return call->problem->jacobian(call->problem->self, x->data, j->data) ? GSL_SUCCESS : GSL_EDOM;
}

static double column_norm(const gsl_multifit_nlinear_workspace *w, size_t j) {
    gsl_vector_const_view column = gsl_matrix_const_column(w->J, j);
    return gsl_blas_dnrm2(&column.vector);
}

/*
 * No step goes down any more: the bottom of the valley at full precision, if the residuals stand
 * square on every column of the Jacobian, or what a step could still gain is lost in rounding.
 */
static bool at_bottom(const gsl_multifit_nlinear_workspace *w) {
    const double size = gsl_blas_dnrm2(w->f);
    for (size_t j = 0; j < w->x->size; j++) {
        const double norm = column_norm(w, j), along = fabs(gsl_vector_get(w->g, j));
        const double lost = bottom_step * (fabs(gsl_vector_get(w->x, j)) + bottom_step);
        if (!(along <= bottom_cosine * norm * size) && !(along <= lost * norm * norm))
            return false;
    }
    return true;
}

/* A parameter without any effect: the run went off along a plateau and stopped where it is flat. */
static bool on_plateau(const gsl_multifit_nlinear_workspace *w) {
    const double size = gsl_blas_dnrm2(w->f);
    for (size_t j = 0; j < w->x->size; j++) {
        const double reach = fmax(1.0, fabs(gsl_vector_get(w->x, j)));
        if (column_norm(w, j) * reach < plateau * size)
            return true;
    }
    return false;
}

static int start_run(gsl_multifit_nlinear_workspace *w, gsl_multifit_nlinear_fdf *fdf,
                     const double start[], const double weight[]) {
    gsl_vector_const_view from = gsl_vector_const_view_array(start, fdf->p);
    if (!weight)
        return gsl_multifit_nlinear_init(&from.vector, fdf, w);
    gsl_vector_const_view weights = gsl_vector_const_view_array(weight, fdf->n);
    return gsl_multifit_nlinear_winit(&from.vector, &weights.vector, fdf, w);
}

static double chi_squared_of(const gsl_multifit_nlinear_workspace *w) {
    double sum;
    gsl_blas_ddot(w->f, w->f, &sum);
    return sum;
}

static bool stalls(int setting, double before, double now) {
    return before - now <= stall[setting] * now;
}

/* How a run ended: STALLED where steps are still made, but gain nothing. */
typedef enum ending { FAILED, STALLED, SETTLED } ending;

/* One run with one setting; the place where it ended is in the workspace. */
static ending run(ww__lsq *lsq, int setting, const ww__lsq_problem *problem, const double start[],
                  size_t *iterations) {
    ww__lsq_call call = {.problem = problem};
    gsl_multifit_nlinear_fdf fdf = {
        .f = residual_for_gsl, .df = jacobian_for_gsl, .n = lsq->n, .p = lsq->p, .params = &call};
    gsl_multifit_nlinear_workspace *w = lsq->workspace[setting];
    if (start_run(w, &fdf, start, problem->weight) != GSL_SUCCESS || call.impossible)
        return FAILED;

    double before = HUGE_VAL;
    for (size_t i = 1; i <= max_iterations[setting]; i++) {
        int info;
        int status = gsl_multifit_nlinear_iterate(w);
        ++*iterations;
        if (status == GSL_ENOPROG && at_bottom(w))
            return SETTLED;
        if (status == GSL_ENOPROG && !call.impossible && stalls(setting, before, chi_squared_of(w)))
            return STALLED;
        if (status != GSL_SUCCESS)
            return FAILED;
        if (gsl_multifit_nlinear_test(step_tolerance, gradient_tolerance, 0.0, &info, w) ==
            GSL_SUCCESS)
            return SETTLED;
        if (i % STALL_STEPS == 0) {
            const double now = chi_squared_of(w);
            if (stalls(setting, before, now))
                return STALLED;
            before = now;
        }
    }
    return FAILED;
}

/* An end beats a failure, then the lower sum of squares counts, then the firmer end. */
static bool better(ending how, double chi_squared, ending before, double chi_squared_before) {
    if ((how == FAILED) != (before == FAILED))
        return before == FAILED;
    return chi_squared < chi_squared_before * (how > before ? 1.0 + rounding : 1.0 - rounding);
}

ww_status ww__lsq_solve(ww__lsq *lsq, const ww__lsq_problem *problem, double parameter[],
                        ww__lsq_result *result, ww_error *err) {
    assert(lsq && problem && parameter && problem->n == lsq->n && problem->p == lsq->p);
    ww__lsq_result ended = {0};
    ending how = run(lsq, QUICK, problem, parameter, &ended.iterations);
    lsq->solved_by = QUICK;
    ended.chi_squared = chi_squared_of(lsq->workspace[QUICK]);

    if (how != SETTLED || on_plateau(lsq->workspace[QUICK])) {
        if (!lsq->workspace[CAREFUL])
            lsq->workspace[CAREFUL] = workspace_new(CAREFUL, lsq->n, lsq->p);
        if (!lsq->workspace[CAREFUL])
            return ww_error_set(err, WW_EMEMORY, "no memory for a least-squares fit");
        const ending again = run(lsq, CAREFUL, problem, parameter, &ended.iterations);
        const double other = chi_squared_of(lsq->workspace[CAREFUL]);
        if (better(again, other, how, ended.chi_squared)) {
            how = again;
            lsq->solved_by = CAREFUL;
            ended.chi_squared = other;
        }
    }
    if (ended.chi_squared < impossible_residual) {
        memcpy(parameter, lsq->workspace[lsq->solved_by]->x->data, lsq->p * sizeof *parameter);
        if (result)
            *result = ended;
    }
    if (how == FAILED)
        return ww_error_set(err, WW_ECONVERGE,
                            "the least-squares fit did not settle in %zu steps; the readings may "
                            "not determine this curve",
                            ended.iterations);
    return WW_OK;
}

/* gsl_multifit_nlinear_covar would allocate, and go on where there is no memory. */
void ww__lsq_covariance(ww__lsq *lsq, double covariance[]) {
    assert(lsq && covariance);
    int sign;
    gsl_matrix_memcpy(lsq->factor, gsl_multifit_nlinear_jac(lsq->workspace[lsq->solved_by]));
    gsl_linalg_QRPT_decomp(lsq->factor, lsq->tau, lsq->order, &sign, lsq->norm);
    gsl_multifit_covar_QRPT(lsq->factor, lsq->order, 0.0, lsq->covariance);
    memcpy(covariance, lsq->covariance->data, lsq->p * lsq->p * sizeof *covariance);
}
