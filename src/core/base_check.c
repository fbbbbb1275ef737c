/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base_check.h"
#include "choice.h"

#include <assert.h>
#include <math.h>

static const double toe_shows = 0.05;       /* D between the asymptote and the first step */
static const double least_conflict = 0.025; /* D, on a flat toe */
static const double thinner_least = 0.03;   /* D, of two steps or more under the base */
static const double toe_conflict = 0.06;    /* D, where the toe still rises */
static const double errors_apart = 4.5;     /* standard errors */

typedef struct ends {
    double thin, dense, second; /* least, greatest and second least density of the steps */
} ends;

static ends ends_of(const ww__series *s) {
    ends e = {HUGE_VAL, -HUGE_VAL, HUGE_VAL};
    for (size_t i = 0; i < s->n; i++) {
        if (s->density[i] < e.thin) {
            e.second = e.thin;
            e.thin = s->density[i];
        } else {
            e.second = fmin(e.second, s->density[i]);
        }
        e.dense = fmax(e.dense, s->density[i]);
    }
    return e;
}

/* Standard error of base less asymptote. The asymptote is parameter 0 of every model. */
static double error_of(const ww__series *s, const ww__shape_fit *fit) {
    return fit->residual_sd * sqrt(1.0 / s->base_weight + fmax(0.0, fit->unscaled[0]));
}

ww_status ww__base_check(const ww__series *series, bool falling, const ww_model_kind *only,
                         ww__base_verdict *verdict, double *expected, ww_error *err) {
    assert(series && verdict && expected);
    *verdict = WW__BASE_FITS;
    if (!series->has_base || !(series->base_weight > 0.0) || series->n == 0)
        return WW_OK;
    const ends e = ends_of(series);
    if (falling && series->base > 0.5 * (e.thin + e.dense)) {
        *verdict = WW__BASE_UNEXPOSED;
        return WW_OK;
    }
    ww__series steps = *series;
    steps.has_base = false;
    steps.base_weight = 0.0;
    ww__choice choice;
    const ww_status status = ww__choice_make(&steps, falling, only, &choice, NULL);
    if (status == WW_EMEMORY)
        return ww_error_set(err, status, "no memory for a fit");

    double thinner = thinner_least;
    const size_t first = series->order[0];
    if (status == WW_OK) {
        const ww__shape_fit *fit = &choice.candidate[choice.best].fit;
        const double asymptote = fit->shape.parameter[0];
        const double begins =
            ww_model_density(&fit->shape, falling ? -series->u[first] : series->u[first], NULL);
        if (begins - asymptote < toe_shows) {
            const double apart = fabs(series->base - asymptote);
            const double limit =
                fmax(least_conflict, fmin(2.0 * (begins - asymptote), toe_conflict));
            if (apart > limit && apart > errors_apart * error_of(series, fit)) {
                *verdict = WW__BASE_OFF;
                *expected = asymptote;
                return WW_OK;
            }
        }
        thinner = fmax(thinner, errors_apart * fit->residual_sd);
    }
    if (series->base - e.second > thinner) {
        *verdict = WW__BASE_OFF;
        *expected = e.thin;
    }
    return WW_OK;
}
