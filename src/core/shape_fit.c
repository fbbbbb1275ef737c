/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shape_fit.h"
#include "guess.h"
#include "lsq.h"
#include "model.h"
#include "spline.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Rows of the least-squares problem: readings, the base reading, then the rows that keep the fit in
 * hand where readings do not: a spline's roughness, or fences. A fence costs nothing inside a wide
 * range of the parameter's logarithm and grows slowly outside, so that a toe which no reading
 * resolves ends at a finite softness instead of wandering off.
 */
typedef struct problem {
    const ww__series *series;
    ww_shape shape; /* template: model, counts, knots; parameters are scratch */
    double smoothing;
    size_t data_rows;
    size_t rows;
    const double *basis; /* spline: values of every rise at every reading row, row by row */
} problem;

static const double fence_weight = 0.002; /* D per e-fold beyond the fence */

typedef struct fence {
    double low, high;
} fence;

/* Natural limits within which a photographic material lies with room to spare. */
static const fence logistic_fence[WW__LOGISTIC_COUNT] = {
    [WW__LOGISTIC_RANGE] = {0.02, 12.0},
    [WW__LOGISTIC_SLOPE] = {0.2, 60.0},
    [WW__LOGISTIC_ASYMMETRY] = {0.02, 50.0},
};
static const fence line_fence[WW__LINE_COUNT] = {
    [WW__LINE_GAMMA] = {0.02, 20.0},
    [WW__LINE_TOE_SOFTNESS] = {0.02, 2.0},
    [WW__LINE_LENGTH] = {0.02, 6.0},
    [WW__LINE_SHOULDER_SOFTNESS] = {0.02, 2.0},
};
static const double rise_floor = -14.0; /* a rise of 1e-6 D is flat */

static fence fence_of(ww_model_kind model, size_t i) {
    return model == WW_MODEL_LOGISTIC ? logistic_fence[i] : line_fence[i];
}

void ww__shape_fit_natural(const double working[], ww_shape *shape) {
    for (size_t i = 0; i < shape->n; i++)
        shape->parameter[i] = ww__model_positive(shape, i) ? exp(working[i]) : working[i];
}

double ww__shape_fit_gradient(const ww_shape *shape, double u, double gradient[]) {
    const double log_h = shape->falling ? -u : u;
    ww__model_gradient(shape, log_h, gradient);
    for (size_t i = 0; i < shape->n; i++)
        if (ww__model_positive(shape, i))
            gradient[i] *= shape->parameter[i];
    return ww_model_density(shape, log_h, NULL);
}

static size_t penalty_rows(const ww_shape *shape) {
    if (shape->model == WW_MODEL_SPLINE)
        return (shape->n - 3) + (shape->n - 1); /* second differences of n - 1 rises; floors */
    size_t rows = 0;
    for (size_t i = 0; i < shape->n; i++)
        rows += ww__model_positive(shape, i);
    return rows;
}

static void spline_penalty(const problem *p, const double w[], double f[], double j[]) {
    const size_t n = p->shape.n;
    const double rough = sqrt(p->smoothing);
    size_t row = p->data_rows;
    for (size_t k = 1; k + 2 < n; k++, row++) {
        if (f)
            f[row] = rough * (w[k] - 2.0 * w[k + 1] + w[k + 2]);
        if (j) {
            j[row * n + k] = rough;
            j[row * n + k + 1] = -2.0 * rough;
            j[row * n + k + 2] = rough;
        }
    }
    for (size_t k = 1; k < n; k++, row++) {
        const double below = fmin(0.0, w[k] - rise_floor);
        if (f)
            f[row] = fence_weight * below;
        if (j)
            j[row * n + k] = below < 0.0 ? fence_weight : 0.0;
    }
}

static void fence_penalty(const problem *p, const double w[], double f[], double j[]) {
    size_t row = p->data_rows;
    for (size_t k = 0; k < p->shape.n; k++) {
        if (!ww__model_positive(&p->shape, k))
            continue;
        const fence limit = fence_of(p->shape.model, k);
        const double above = fmax(0.0, w[k] - log(limit.high));
        const double below = fmin(0.0, w[k] - log(limit.low));
        if (f)
            f[row] = fence_weight * (above + below);
        if (j)
            j[row * p->shape.n + k] = above + below != 0.0 ? fence_weight : 0.0;
        row++;
    }
}

/* Readings' rows: calls `at` for each reading that counts with its row, u and observed density. */
static void data_rows(const problem *p, const double w[], double f[], double j[]) {
    const ww__series *s = p->series;
    ww_shape shape = p->shape;
    ww__shape_fit_natural(w, &shape);
    const size_t n = shape.n;
    const bool spline = shape.model == WW_MODEL_SPLINE;
    double height[WW_MODEL_PARAMETERS_MAX], scratch[WW_MODEL_PARAMETERS_MAX];
    if (spline)
        for (size_t k = 1; k < n; k++)
            height[k] = exp(w[k]);

    size_t row = 0;
    for (size_t i = 0; i < s->n; i++) {
        if (!(s->weight[i] > 0.0))
            continue;
        double *gradient = j ? j + row * n : scratch;
        double density;
        if (spline) {
            const double *basis = p->basis + row * (n - 1);
            density = w[0];
            gradient[0] = 1.0;
            for (size_t k = 1; k < n; k++) {
                gradient[k] = height[k] * basis[k - 1];
                density += gradient[k];
            }
        } else if (j) {
            density = ww__shape_fit_gradient(&shape, s->u[i], gradient);
        } else {
            density = ww_model_density(&shape, shape.falling ? -s->u[i] : s->u[i], NULL);
        }
        if (f)
            f[row] = density - s->density[i];
        row++;
    }
    if (s->has_base && s->base_weight > 0.0) {
        if (f)
            f[row] = w[0] - s->base;
        if (j)
            j[row * n] = 1.0;
    }
}

static bool residual(const void *self, const double w[], double f[]) {
    const problem *p = self;
    data_rows(p, w, f, NULL);
    if (p->shape.model == WW_MODEL_SPLINE)
        spline_penalty(p, w, f, NULL);
    else
        fence_penalty(p, w, f, NULL);
    return true;
}

static bool jacobian(const void *self, const double w[], double j[]) {
    const problem *p = self;
    memset(j, 0, p->rows * p->shape.n * sizeof *j);
    data_rows(p, w, NULL, j);
    if (p->shape.model == WW_MODEL_SPLINE)
        spline_penalty(p, w, NULL, j);
    else
        fence_penalty(p, w, NULL, j);
    return true;
}

/* Effective parameters: trace of (J'WJ + S)^-1 J'WJ over the readings' rows. */
static double effective(const problem *p, const double weight[], const double jac[],
                        const double unscaled[]) {
    const size_t n = p->shape.n;
    double trace = 0.0;
    for (size_t row = 0; row < p->data_rows; row++)
        for (size_t a = 0; a < n; a++)
            for (size_t b = 0; b < n; b++)
                trace += weight[row] * jac[row * n + a] * unscaled[a * n + b] * jac[row * n + b];
    return trace;
}

static void score(const problem *p, const double weight[], const double f[], const double jac[],
                  ww__shape_fit *fit) {
    double rss = 0.0;
    for (size_t row = 0; row < p->data_rows; row++)
        rss += weight[row] * f[row] * f[row];
    const double rows = (double)p->data_rows;
    fit->rss = rss;
    fit->rows = p->data_rows;
    fit->smoothing = p->smoothing;
    fit->used = effective(p, weight, jac, fit->unscaled);
    const double k = fit->used + 1.0; /* the variance is estimated too */
    const double floor = 1e-12 * rows;
    fit->aicc = rows - k - 1.0 > 0.0 ? rows * log(fmax(rss, floor) / rows) + 2.0 * k +
                                           2.0 * k * (k + 1.0) / (rows - k - 1.0)
                                     : HUGE_VAL;
    fit->residual_sd = rows > fit->used ? sqrt(rss / (rows - fit->used)) : 0.0;
}

/* Working space of one solve: freed in one place. */
typedef struct space {
    double *weight, *f, *jac, *basis;
    ww__lsq *lsq;
} space;

static void space_release(space *s) {
    free(s->weight);
    free(s->f);
    free(s->jac);
    free(s->basis);
    ww__lsq_free(s->lsq);
}

static ww_status space_new(problem *p, space *s, ww_error *err) {
    const size_t n = p->shape.n;
    p->data_rows = ww__series_rows(p->series);
    p->rows = p->data_rows + penalty_rows(&p->shape);
    *s = (space){.weight = malloc(p->rows * sizeof(double)),
                 .f = calloc(p->rows, sizeof(double)),
                 .jac = calloc(p->rows * n, sizeof(double)),
                 .basis = malloc((p->data_rows + 1) * n * sizeof(double))};
    if (!s->weight || !s->f || !s->jac || !s->basis)
        return ww_error_set(err, WW_EMEMORY, "no memory for a fit of %zu readings", p->data_rows);

    size_t row = 0;
    for (size_t i = 0; i < p->series->n; i++) {
        if (!(p->series->weight[i] > 0.0))
            continue;
        s->weight[row] = p->series->weight[i];
        if (p->shape.model == WW_MODEL_SPLINE)
            ww__spline_rise(p->shape.knot_low, p->shape.knot_high, n - 1, p->series->u[i],
                            s->basis + row * (n - 1), NULL);
        row++;
    }
    if (row < p->data_rows)
        s->weight[row++] = p->series->base_weight;
    for (; row < p->rows; row++)
        s->weight[row] = 1.0;
    p->basis = s->basis;
    return ww__lsq_new(p->rows, n, &s->lsq, err);
}

/* Solve from fit->working; on success fit is complete. */
static ww_status solve_from(problem *p, space *s, ww__shape_fit *fit, ww_error *err) {
    const ww__lsq_problem lsq = {.n = p->rows,
                                 .p = p->shape.n,
                                 .residual = residual,
                                 .jacobian = jacobian,
                                 .self = p,
                                 .weight = s->weight};
    ww__shape_fit found = *fit;
    found.shape = p->shape;
    const ww_status status = ww__lsq_solve(s->lsq, &lsq, found.working, NULL, err);
    if (status != WW_OK)
        return status;
    ww__lsq_covariance(s->lsq, found.unscaled);
    residual(p, found.working, s->f);
    jacobian(p, found.working, s->jac);
    score(p, s->weight, s->f, s->jac, &found);
    ww__shape_fit_natural(found.working, &found.shape);
    *fit = found;
    return WW_OK;
}

/* Rough-to-smooth is a walk: each smoothing starts from the last one's solution. */
static ww_status solve_spline(problem *p, space *s, ww__shape_fit *fit, ww_error *err) {
    enum { GRID = 15 };
    ww__shape_fit walk = *fit, best = *fit;
    best.aicc = HUGE_VAL;
    ww_status status = WW_ECONVERGE;
    for (int i = 0; i < GRID; i++) {
        p->smoothing = pow(10.0, -0.5 * i); /* from stiff to loose */
        const ww_status step = solve_from(p, s, &walk, err);
        if (step == WW_EMEMORY)
            return step;
        if (step == WW_OK && (walk.aicc < best.aicc || status != WW_OK)) {
            best = walk;
            status = WW_OK;
        }
    }
    if (status == WW_OK)
        *fit = best;
    return status;
}

static ww_status solve_starts(problem *p, space *s, ww__shape_fit *fit, ww_error *err) {
    ww__shape_fit best = *fit;
    ww_status status = WW_ECONVERGE;
    for (size_t k = 0; k < WW__GUESS_COUNT; k++) {
        ww__shape_fit trial = *fit;
        ww__guess_make(p->series, &p->shape, k, trial.working);
        const ww_status one = solve_from(p, s, &trial, err);
        if (one == WW_EMEMORY)
            return one;
        if (one == WW_OK && (status != WW_OK || trial.rss < best.rss)) {
            best = trial;
            status = WW_OK;
        }
    }
    if (status == WW_OK)
        *fit = best;
    return status;
}

size_t ww__shape_fit_minimum(ww_model_kind model) {
    switch (model) {
    case WW_MODEL_TOE_LINE:
        return WW__TOE_LINE_COUNT + 1;
    case WW_MODEL_LOGISTIC:
        return WW__LOGISTIC_COUNT + 1;
    case WW_MODEL_TOE_LINE_SHOULDER:
        return WW__LINE_COUNT + 1;
    default:
        return 6;
    }
}

ww_status ww__shape_fit_solve(const ww__series *series, ww_model_kind model, bool falling,
                              const ww__shape_fit *start, ww__shape_fit *fit, ww_error *err) {
    assert(series && fit);
    problem p = {.series = series};
    p.shape.model = model;
    p.shape.falling = falling;
    const size_t rows = ww__series_rows(series);
    if (rows < ww__shape_fit_minimum(model))
        return ww_error_set(err, WW_ENODATA,
                            "%zu readings are too few for a %s curve, which needs %zu", rows,
                            ww_model_name(model), ww__shape_fit_minimum(model));
    ww__guess_layout(series, &p.shape);

    ww__shape_fit found = {.rows = rows};
    space s = {0};
    ww_status status = space_new(&p, &s, err);
    if (status == WW_OK && start) {
        found = *start;
        p.smoothing = start->smoothing;
        status = solve_from(&p, &s, &found, err);
    } else if (status == WW_OK && model == WW_MODEL_SPLINE) {
        ww__guess_make(series, &p.shape, 0, found.working);
        status = solve_spline(&p, &s, &found, err);
    } else if (status == WW_OK) {
        status = solve_starts(&p, &s, &found, err);
    }
    space_release(&s);
    if (status == WW_OK)
        *fit = found;
    return status;
}
