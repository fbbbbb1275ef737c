/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bend.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

static const double straight = 0.95;    /* of the steepest slope: definition of gamma's run */
static const double least_fall = 0.1;   /* of the slope, over the run */
static const double best_trust = 0.003; /* D: readings are told to 0.01 */
static const double chance = 0.01;
enum { LEAST = 4 };

static double slope_at(const ww__series *s, const ww_shape *shape, size_t i) {
    double slope;
    (void)ww_model_density(shape, shape->falling ? -s->u[i] : s->u[i], &slope);
    return fabs(slope);
}

/* Points from the thinnest on that lie on the straight part; 0 where the thinnest does not. */
static size_t straight_points(const ww__series *s, const ww_shape *shape) {
    double steepest = 0.0;
    for (size_t i = 0; i < s->n; i++)
        steepest = fmax(steepest, slope_at(s, shape, i));
    size_t k = 0;
    while (k < s->n && slope_at(s, shape, s->order[k]) >= straight * steepest)
        k++;
    return k;
}

/* A parabola through the first k points in order: polynomials orthogonal on their places. */
typedef struct parabola {
    size_t n;
    double mean_u, slope; /* slope at the mean */
    double bend;          /* coefficient of the square */
    double bend_error;
    double low, high; /* of u */
} parabola;

static bool fit_parabola(const ww__series *s, size_t k, parabola *p) {
    double w = 0.0, wu = 0.0, wd = 0.0;
    *p = (parabola){.low = HUGE_VAL, .high = -HUGE_VAL};
    for (size_t j = 0; j < k; j++) {
        const size_t i = s->order[j];
        if (!(s->weight[i] > 0.0))
            continue;
        p->n++;
        p->low = fmin(p->low, s->u[i]);
        p->high = fmax(p->high, s->u[i]);
        w += s->weight[i];
        wu += s->weight[i] * s->u[i];
        wd += s->weight[i] * s->density[i];
    }
    if (p->n < LEAST || !(p->high > p->low))
        return false;
    p->mean_u = wu / w;
    const double mean_d = wd / w;
    double s2 = 0.0, s3 = 0.0, up = 0.0;
    for (size_t j = 0; j < k; j++) {
        const size_t i = s->order[j];
        const double x = s->u[i] - p->mean_u;
        s2 += s->weight[i] * x * x;
        s3 += s->weight[i] * x * x * x;
        up += s->weight[i] * x * (s->density[i] - mean_d);
    }
    double across = 0.0, bent = 0.0, total = 0.0;
    for (size_t j = 0; j < k; j++) {
        const size_t i = s->order[j];
        const double x = s->u[i] - p->mean_u, q = x * x - s2 / w - s3 / s2 * x;
        across += s->weight[i] * q * q;
        bent += s->weight[i] * q * (s->density[i] - mean_d);
        total += s->weight[i] * (s->density[i] - mean_d) * (s->density[i] - mean_d);
    }
    if (!(across > 0.0))
        return false; /* two exposures only */
    p->bend = bent / across;
    p->slope = up / s2 - p->bend * s3 / s2;
    const double left = fmax(0.0, total - up * up / s2 - bent * bent / across);
    const double variance = left / ((double)p->n - 3.0);
    p->bend_error = sqrt(fmax(variance, best_trust * best_trust) / across);
    return true;
}

bool ww__bend_found(const ww__series *series, const ww_shape *shape) {
    assert(series && shape);
    parabola p;
    if (!fit_parabola(series, straight_points(series, shape), &p))
        return false;
    const double first = p.slope + 2.0 * p.bend * (p.low - p.mean_u);
    const double last = p.slope + 2.0 * p.bend * (p.high - p.mean_u);
    const double limit = gsl_cdf_tdist_Qinv(chance, (double)p.n - 3.0);
    return -p.bend > limit * p.bend_error && first - last > least_fall * first;
}
