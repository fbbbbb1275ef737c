/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "guess.h"
#include "model.h"
#include "spline.h"

#include <assert.h>
#include <math.h>

/* What the eye takes from a plot. */
typedef struct look {
    double low, high;   /* ends along u */
    double thin, dense; /* least and greatest density */
    double gamma;       /* steepest secant over about half a log unit */
    double middle;      /* u at half the density range */
} look;

static bool counts(const ww__series *s, size_t rank) {
    return s->weight[s->order[rank]] > 0.0;
}

static look look_at(const ww__series *s) {
    look l = {.low = HUGE_VAL, .high = -HUGE_VAL, .thin = HUGE_VAL, .dense = -HUGE_VAL};
    for (size_t i = 0; i < s->n; i++) {
        if (!(s->weight[i] > 0.0))
            continue;
        l.low = fmin(l.low, s->u[i]);
        l.high = fmax(l.high, s->u[i]);
        l.thin = fmin(l.thin, s->density[i]);
        l.dense = fmax(l.dense, s->density[i]);
    }
    if (s->has_base && s->base_weight > 0.0)
        l.thin = fmin(l.thin, s->base);
    if (l.high <= l.low) { /* a single exposure: any width will do */
        l.low -= 0.5;
        l.high += 0.5;
    }

    const double span = fmin(0.45, 0.5 * (l.high - l.low)), half = 0.5 * (l.thin + l.dense);
    l.middle = 0.5 * (l.low + l.high);
    bool crossed = false;
    for (size_t i = 0; i < s->n; i++) {
        if (!counts(s, i))
            continue;
        const size_t from = s->order[i];
        if (!crossed && s->density[from] >= half) {
            l.middle = s->u[from];
            crossed = true;
        }
        for (size_t j = i + 1; j < s->n; j++) {
            const size_t to = s->order[j];
            if (!counts(s, j) || s->u[to] - s->u[from] < span)
                continue;
            l.gamma = fmax(l.gamma, (s->density[to] - s->density[from]) / (s->u[to] - s->u[from]));
            break;
        }
    }
    l.gamma = fmax(l.gamma, 0.05);
    return l;
}

void ww__guess_layout(const ww__series *series, ww_shape *shape) {
    const look l = look_at(series);
    shape->knot_low = l.low;
    shape->knot_high = l.high;
    switch (shape->model) {
    case WW_MODEL_LOGISTIC:
        shape->n = WW__LOGISTIC_COUNT;
        break;
    case WW_MODEL_TOE_LINE_SHOULDER:
        shape->n = WW__LINE_COUNT;
        break;
    case WW_MODEL_TOE_LINE:
        shape->n = WW__TOE_LINE_COUNT;
        break;
    default: {
        /* About two rises to three readings: the penalty, not the count, decides the smoothness. */
        const size_t rows = ww__series_rows(series);
        const size_t most = WW_MODEL_PARAMETERS_MAX - 1;
        size_t rises = 3 + (2 * rows) / 3;
        if (rises > most)
            rises = most;
        shape->n = 1 + rises;
    }
    }
}

void ww__guess_make(const ww__series *series, const ww_shape *shape, size_t which,
                    double working[]) {
    static const double softness[WW__GUESS_COUNT] = {0.2, 0.08, 0.4};
    static const double asymmetry[WW__GUESS_COUNT] = {1.0, 0.4, 2.5};
    assert(which < WW__GUESS_COUNT);
    const look l = look_at(series);
    const double range = fmax(l.dense - l.thin, 0.05);

    working[0] = l.thin;
    if (shape->model == WW_MODEL_LOGISTIC) {
        working[WW__LOGISTIC_RANGE] = log(range * 1.05);
        working[WW__LOGISTIC_SLOPE] = log(4.0 * l.gamma / range / fmin(1.0, asymmetry[which]));
        working[WW__LOGISTIC_MIDDLE] = l.middle;
        working[WW__LOGISTIC_ASYMMETRY] = log(asymmetry[which]);
    } else if (shape->model == WW_MODEL_SPLINE) {
        /* An even rise over the whole width, so that the first look is a straight line. */
        for (size_t k = 1; k < shape->n; k++)
            working[k] = log(range / (double)(shape->n - 4));
    } else {
        working[WW__LINE_GAMMA] = log(l.gamma * 1.05);
        working[WW__LINE_TOE] = l.middle - 0.5 * range / l.gamma;
        working[WW__LINE_TOE_SOFTNESS] = log(softness[which]);
        if (shape->model == WW_MODEL_TOE_LINE_SHOULDER) {
            working[WW__LINE_LENGTH] = log(range / l.gamma);
            working[WW__LINE_SHOULDER_SOFTNESS] = log(softness[which]);
        }
    }
}
