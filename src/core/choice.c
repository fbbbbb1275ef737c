/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choice.h"
#include "model.h"

#include <assert.h>
#include <math.h>

static const double worth_a_spline = 2.0; /* AICc */
static const double share_scale = 3.0;    /* AICc */
static const double share_least = 0.02;
static const double known_within = 0.7; /* standard error of a logarithm: a factor of two */

/* Whether the readings say where the shoulder is: else no shoulder is reported. */
static bool determined(const ww__shape_fit *fit) {
    size_t i;
    if (fit->shape.model == WW_MODEL_TOE_LINE_SHOULDER)
        i = WW__LINE_LENGTH;
    else if (fit->shape.model == WW_MODEL_LOGISTIC)
        i = WW__LOGISTIC_RANGE;
    else
        return true;
    const double variance = fit->unscaled[i * fit->shape.n + i];
    if (!(variance > 0.0)) /* a parameter without effect comes back with none */
        return false;
    return fit->residual_sd * sqrt(variance) < known_within;
}

static void choose(ww__choice *choice) {
    double least = HUGE_VAL;
    choice->best = 0;
    for (size_t c = 0; c < choice->n; c++) {
        const double here =
            choice->candidate[c].fit.aicc +
            (choice->candidate[c].fit.shape.model == WW_MODEL_SPLINE ? worth_a_spline : 0.0);
        if (c == 0 || here < least) {
            least = here;
            choice->best = c;
        }
    }
}

static void share_out(ww__choice *choice) {
    double least = HUGE_VAL, sum = 0.0;
    for (size_t c = 0; c < choice->n; c++)
        least = fmin(least, choice->candidate[c].fit.aicc);
    for (size_t c = 0; c < choice->n; c++) {
        const double above = choice->candidate[c].fit.aicc - least;
        /* Too few readings to judge: no AICc at all, and the choice stands alone. */
        double share = isfinite(least) ? exp(-above / share_scale) : (double)(c == choice->best);
        if (share < share_least && c != choice->best)
            share = 0.0;
        choice->candidate[c].share = share;
        sum += share;
    }
    for (size_t c = 0; c < choice->n; c++)
        choice->candidate[c].share /= sum;
}

ww_status ww__choice_make(const ww__series *series, bool falling, const ww_model_kind *only,
                          ww__choice *choice, ww_error *err) {
    assert(series && choice);
    /* The simplest first: where too few readings leave no AICc, it is the one. */
    static const ww_model_kind order[WW_MODEL_COUNT] = {
        WW_MODEL_TOE_LINE, WW_MODEL_TOE_LINE_SHOULDER, WW_MODEL_LOGISTIC, WW_MODEL_SPLINE};
    ww__choice made = {.n = 0};
    ww_status status = WW_ENODATA;
    for (size_t m = 0; m < WW_MODEL_COUNT; m++) {
        if (only && order[m] != *only)
            continue;
        const ww_status one =
            ww__shape_fit_solve(series, order[m], falling, NULL, &made.candidate[made.n].fit, err);
        if (one == WW_EMEMORY)
            return one;
        if (one != WW_OK) {
            status = one;
            continue;
        }
        if (only || determined(&made.candidate[made.n].fit))
            made.n++;
    }
    if (made.n == 0)
        return status;
    choose(&made);
    share_out(&made);
    *choice = made;
    return WW_OK;
}
