/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_rest.h"

#include <assert.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>

static const double length = 0.5;     /* D over which a scanner's departure changes */
static const double singular = 1e-12; /* part of a parameter that is its own */
static const double earned = 2.0;     /* gain of log likelihood that a size above 0 must bring */

static const double sizes[] = {0.0,    0.0028, 0.004,  0.0056, 0.008,  0.0113, 0.016,
                               0.0226, 0.032,  0.0453, 0.064,  0.0905, 0.128};
enum { SIZES = sizeof sizes / sizeof sizes[0] };

struct ww__scanner_rest {
    ww__scanner_light light;
    size_t n, p;     /* rows that count; parameters */
    size_t *row;     /* of the strip */
    double *density; /* the members of each row: */
    double *slope;   /* d share / dD */
    double *error;   /* sd of its share without `scatter` */
    double *scale;   /* with it: rows below are divided by this */
    double amplitude, scatter;
    gsl_vector *residual; /* n, scaled */
    gsl_matrix *gradient; /* n x p, scaled */
    gsl_matrix *root;     /* n x n, Cholesky factor of the scaled covariance B */
    gsl_matrix *whitened; /* n x p, B^-1 gradient */
    gsl_vector *direct;   /* n, B^-1 residual */
    gsl_matrix *normal;   /* p x p, Cholesky factor of gradient' B^-1 gradient */
    gsl_vector *shift;    /* p, b */
    gsl_vector *weight;   /* n, B^-1 (residual - gradient b) */
    gsl_vector *work;     /* n */
    gsl_vector *small;    /* p */
};

void ww__scanner_rest_free(ww__scanner_rest *rest) {
    if (!rest)
        return;
    free(rest->row);
    free(rest->density);
    free(rest->slope);
    free(rest->error);
    free(rest->scale);
    gsl_vector_free(rest->residual);
    gsl_matrix_free(rest->gradient);
    gsl_matrix_free(rest->root);
    gsl_matrix_free(rest->whitened);
    gsl_vector_free(rest->direct);
    gsl_matrix_free(rest->normal);
    gsl_vector_free(rest->shift);
    gsl_vector_free(rest->weight);
    gsl_vector_free(rest->work);
    gsl_vector_free(rest->small);
    free(rest);
}

static ww__scanner_rest *allocate(size_t n, size_t p) {
    ww__scanner_rest *rest = calloc(1, sizeof *rest);
    if (!rest)
        return NULL;
    rest->n = n;
    rest->p = p;
    rest->row = calloc(n, sizeof *rest->row);
    rest->density = calloc(n, sizeof *rest->density);
    rest->slope = calloc(n, sizeof *rest->slope);
    rest->error = calloc(n, sizeof *rest->error);
    rest->scale = calloc(n, sizeof *rest->scale);
    rest->residual = gsl_vector_alloc(n);
    rest->gradient = gsl_matrix_alloc(n, p);
    rest->root = gsl_matrix_alloc(n, n);
    rest->whitened = gsl_matrix_alloc(n, p);
    rest->direct = gsl_vector_alloc(n);
    rest->normal = gsl_matrix_alloc(p, p);
    rest->shift = gsl_vector_alloc(p);
    rest->weight = gsl_vector_alloc(n);
    rest->work = gsl_vector_alloc(n);
    rest->small = gsl_vector_alloc(p);
    if (rest->row && rest->density && rest->slope && rest->error && rest->scale && rest->residual &&
        rest->gradient && rest->root && rest->whitened && rest->direct && rest->normal &&
        rest->shift && rest->weight && rest->work && rest->small)
        return rest;
    ww__scanner_rest_free(rest);
    return NULL;
}

static double likeness(double a, double b) {
    return exp(-0.5 * pow((a - b) / length, 2.0));
}

static void fill(ww__scanner_rest *rest, const ww__scanner_strip *strip) {
    size_t at = 0;
    for (size_t i = 0; i < strip->n; i++) {
        const ww__scanner_row *row = &strip->row[i];
        if (row->clipped || row->suspect)
            continue;
        rest->row[at] = i;
        rest->density[at] = row->density;
        (void)ww__scanner_share(&rest->light, row->density, &rest->slope[at]);
        rest->error[at] = ww__scanner_model_error(&rest->light, row, 0.0);
        at++;
    }
}

/* Residuals and gradients of all rows, divided by their errors. */
static void rescale(ww__scanner_rest *rest, const ww__scanner_strip *strip) {
    for (size_t i = 0; i < rest->n; i++) {
        double gradient[3];
        rest->scale[i] = hypot(rest->error[i], rest->slope[i] * rest->scatter);
        const double share = ww__scanner_share(&rest->light, rest->density[i], NULL);
        gsl_vector_set(rest->residual, i,
                       (strip->row[rest->row[i]].share - share) / rest->scale[i]);
        ww__scanner_model_gradient(&rest->light, rest->density[i], gradient);
        for (size_t j = 0; j < rest->p; j++)
            gsl_matrix_set(rest->gradient, i, j, gradient[j] / rest->scale[i]);
    }
}

static bool factor(ww__scanner_rest *rest) {
    for (size_t i = 0; i < rest->n; i++)
        for (size_t j = 0; j < rest->n; j++)
            gsl_matrix_set(rest->root, i, j,
                           (i == j ? 1.0 : 0.0) + pow(rest->amplitude, 2.0) * rest->slope[i] /
                                                      rest->scale[i] * rest->slope[j] /
                                                      rest->scale[j] *
                                                      likeness(rest->density[i], rest->density[j]));
    if (gsl_linalg_cholesky_decomp1(rest->root) != GSL_SUCCESS)
        return false;
    gsl_matrix_memcpy(rest->whitened, rest->gradient);
    for (size_t j = 0; j < rest->p; j++) {
        gsl_vector_view column = gsl_matrix_column(rest->whitened, j);
        gsl_linalg_cholesky_svx(rest->root, &column.vector);
    }
    gsl_blas_dgemm(CblasTrans, CblasNoTrans, 1.0, rest->gradient, rest->whitened, 0.0,
                   rest->normal);
    for (size_t j = 0; j < rest->p; j++)
        gsl_vector_set(rest->small, j, gsl_matrix_get(rest->normal, j, j));
    if (gsl_linalg_cholesky_decomp1(rest->normal) != GSL_SUCCESS)
        return false;
    for (size_t j = 0; j < rest->p; j++) /* a parameter that the others can take the place of */
        if (!(pow(gsl_matrix_get(rest->normal, j, j), 2.0) >
              singular * gsl_vector_get(rest->small, j)))
            return false;
    return true;
}

/* Restricted log likelihood of the sizes in force; -inf where they cannot be. */
static double solve(ww__scanner_rest *rest, const ww__scanner_strip *strip) {
    rescale(rest, strip);
    if (!factor(rest))
        return -HUGE_VAL;
    gsl_linalg_cholesky_solve(rest->root, rest->residual, rest->direct);
    gsl_blas_dgemv(CblasTrans, 1.0, rest->gradient, rest->direct, 0.0, rest->shift);
    gsl_linalg_cholesky_svx(rest->normal, rest->shift);
    gsl_vector_memcpy(rest->weight, rest->direct);
    gsl_blas_dgemv(CblasNoTrans, -1.0, rest->whitened, rest->shift, 1.0, rest->weight);

    double fit, log_size = 0.0;
    gsl_blas_ddot(rest->residual, rest->weight, &fit);
    for (size_t i = 0; i < rest->n; i++)
        log_size += log(gsl_matrix_get(rest->root, i, i)) + log(rest->scale[i]);
    for (size_t j = 0; j < rest->p; j++)
        log_size += log(gsl_matrix_get(rest->normal, j, j));
    return -0.5 * fit - log_size;
}

/* Scatter is taken where it is likelier; a departure of the scanner must be likelier by far. */
static bool learn(ww__scanner_rest *rest, const ww__scanner_strip *strip) {
    double best = -HUGE_VAL, amplitude = 0.0, scatter = 0.0;
    for (size_t a = 0; a < SIZES; a++) {
        const double wanted = a > 0 && amplitude == 0.0 ? earned : 0.0;
        for (size_t s = 0; s < SIZES; s++) {
            rest->amplitude = sizes[a];
            rest->scatter = sizes[s];
            const double likelihood = solve(rest, strip);
            if (likelihood > best + (a > 0 && amplitude == 0.0 ? wanted : 0.0)) {
                best = likelihood;
                amplitude = sizes[a];
                scatter = sizes[s];
            }
        }
    }
    rest->amplitude = amplitude;
    rest->scatter = scatter;
    return solve(rest, strip) > -HUGE_VAL;
}

ww_status ww__scanner_rest_new(const ww__scanner_strip *strip, const ww__scanner_light *light,
                               bool encoded, ww__scanner_rest **rest, ww_error *err) {
    assert(strip && light && rest);
    size_t n = 0;
    for (size_t i = 0; i < strip->n; i++)
        n += !strip->row[i].clipped && !strip->row[i].suspect;
    assert(n >= WW__SCANNER_STEPS_LEAST);
    ww__scanner_rest *made = allocate(n, encoded ? 3 : 2);
    if (!made)
        return ww_error_set(err, WW_EMEMORY, "no memory for a calibration of %zu steps", n);
    made->light = *light;
    fill(made, strip);
    if (!learn(made, strip)) {
        ww__scanner_rest_free(made);
        return ww_error_set(err, WW_ECONVERGE,
                            "the steps (%s) do not determine light, flare and dark; scan a wedge "
                            "whose steps lie further apart",
                            ww_channel_name(strip->channel));
    }
    *rest = made;
    return WW_OK;
}

double ww__scanner_rest_scatter(const ww__scanner_rest *rest) {
    return rest->scatter;
}

double ww__scanner_rest_amplitude(const ww__scanner_rest *rest) {
    return rest->amplitude;
}

void ww__scanner_rest_at(const ww__scanner_rest *rest, double density, double *share,
                         double *share_sd) {
    double gradient[3], slope, drift = 0.0, along, known, shifted;
    (void)ww__scanner_share(&rest->light, density, &slope);
    ww__scanner_model_gradient(&rest->light, density, gradient);
    const double own = pow(rest->amplitude, 2.0) * slope;
    for (size_t i = 0; i < rest->n; i++)
        gsl_vector_set(rest->work, i,
                       own * rest->slope[i] / rest->scale[i] * likeness(density, rest->density[i]));
    gsl_blas_ddot(rest->work, rest->weight, &along);
    for (size_t j = 0; j < rest->p; j++)
        drift += gradient[j] * gsl_vector_get(rest->shift, j);
    *share = drift + along;

    /* variance: what g could be, less what the rows say of it, plus what they leave of b */
    for (size_t j = 0; j < rest->p; j++)
        gsl_vector_set(rest->small, j, gradient[j]);
    gsl_blas_dgemv(CblasTrans, -1.0, rest->whitened, rest->work, 1.0, rest->small);
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, rest->normal, rest->small);
    gsl_blas_ddot(rest->small, rest->small, &shifted);
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, rest->root, rest->work);
    gsl_blas_ddot(rest->work, rest->work, &known);
    *share_sd = sqrt(fmax(own * slope - known, 0.0) + shifted);
}

ww__scanner_deleted ww__scanner_rest_deleted(const ww__scanner_rest *rest, size_t i) {
    ww__scanner_deleted deleted = {.counts = false};
    size_t at = 0;
    while (at < rest->n && rest->row[at] != i)
        at++;
    if (at == rest->n)
        return deleted;
    /* Q_ii of Q = B^-1 - B^-1 h (h' B^-1 h)^-1 h' B^-1; weight is Q residual */
    double q, taken;
    gsl_vector_set_basis(rest->work, at);
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, rest->root, rest->work);
    gsl_blas_ddot(rest->work, rest->work, &q);
    for (size_t j = 0; j < rest->p; j++)
        gsl_vector_set(rest->small, j, gsl_matrix_get(rest->whitened, at, j));
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, rest->normal, rest->small);
    gsl_blas_ddot(rest->small, rest->small, &taken);
    q = fmax(q - taken, 1e-12);
    const double weight = gsl_vector_get(rest->weight, at);
    deleted.counts = true;
    deleted.z = weight / sqrt(q);
    /* brighter than the others say: thinner */
    if (rest->slope[at] < 0.0)
        deleted.departure = weight / q * rest->scale[at] / rest->slope[at];
    return deleted;
}
