/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

static const double base_u = -1e6; /* where the base was exposed: nowhere */

void ww__rows_release(ww__rows *rows) {
    if (!rows)
        return;
    free(rows->point);
    free(rows->u);
    free(rows->root_weight);
    free(rows->fitted);
    free(rows->slope);
    free(rows->residual);
    free(rows->gain);
    free(rows->hat);
    *rows = (ww__rows)WW__ROWS_INIT;
}

static bool allocate(ww__rows *rows) {
    const size_t n = rows->n, p = rows->p;
    if (n > SIZE_MAX / sizeof(double) / n || p > SIZE_MAX / sizeof(double) / n)
        return false;
    rows->point = malloc(n * sizeof *rows->point);
    rows->u = malloc(n * sizeof *rows->u);
    rows->root_weight = malloc(n * sizeof *rows->root_weight);
    rows->fitted = malloc(n * sizeof *rows->fitted);
    rows->slope = malloc(n * sizeof *rows->slope);
    rows->residual = malloc(n * sizeof *rows->residual);
    rows->gain = malloc(p * n * sizeof *rows->gain);
    rows->hat = malloc(n * n * sizeof *rows->hat);
    return rows->point && rows->u && rows->root_weight && rows->fitted && rows->slope &&
           rows->residual && rows->gain && rows->hat;
}

static void fill(const ww__series *s, const ww_shape *shape, ww__rows *rows) {
    size_t row = 0;
    for (size_t i = 0; i <= s->n; i++) {
        const bool base = i == s->n;
        const double weight = base ? (s->has_base ? s->base_weight : 0.0) : s->weight[i];
        if (!(weight > 0.0))
            continue;
        const double u = base ? base_u : s->u[i];
        double slope;
        rows->point[row] = base ? SIZE_MAX : i;
        rows->u[row] = u;
        rows->root_weight[row] = sqrt(weight);
        rows->fitted[row] = ww_model_density(shape, shape->falling ? -u : u, &slope);
        rows->slope[row] = shape->falling ? -slope : slope;
        rows->residual[row] =
            rows->root_weight[row] * ((base ? s->base : s->density[i]) - rows->fitted[row]);
        row++;
    }
}

/* gain = unscaled J'W; hat = W^(1/2) J gain W^(-1/2). */
static void weigh(const ww__shape_fit *fit, double jacobian[], ww__rows *rows) {
    const size_t n = rows->n, p = rows->p;
    for (size_t i = 0; i < n; i++)
        (void)ww__shape_fit_gradient(&fit->shape, rows->u[i], jacobian + i * p);
    for (size_t a = 0; a < p; a++) {
        for (size_t i = 0; i < n; i++) {
            double sum = 0.0;
            for (size_t b = 0; b < p; b++)
                sum += fit->unscaled[a * p + b] * jacobian[i * p + b];
            rows->gain[a * n + i] = sum * rows->root_weight[i] * rows->root_weight[i];
        }
    }
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j < n; j++) {
            double sum = 0.0;
            for (size_t a = 0; a < p; a++)
                sum += jacobian[i * p + a] * rows->gain[a * n + j];
            rows->hat[i * n + j] = sum * rows->root_weight[i] / rows->root_weight[j];
        }
    }
}

ww_status ww__rows_new(const ww__series *series, const ww__shape_fit *fit, ww__rows *rows,
                       ww_error *err) {
    assert(series && fit && rows);
    ww__rows made = {.n = ww__series_rows(series), .p = fit->shape.n};
    assert(made.n > 0);
    double *jacobian = malloc((made.n * made.p + 1) * sizeof *jacobian);
    if (!jacobian || !allocate(&made)) {
        free(jacobian);
        ww__rows_release(&made);
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", series->n);
    }
    fill(series, &fit->shape, &made);
    weigh(fit, jacobian, &made);
    free(jacobian);
    *rows = made;
    return WW_OK;
}
