/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suspect.h"
#include "story.h"

#include <assert.h>
#include <math.h>

/* Readings to 0.01 D leave less than this; more may hide two that are wrong. */
static const double unusual = 0.012; /* D, residual standard deviation */
enum { LEAST_READINGS = 8, PAIRS_MOST = 45 };

static double least_aicc(const ww__choice *choice) {
    double least = HUGE_VAL;
    for (size_t c = 0; c < choice->n; c++)
        least = fmin(least, choice->candidate[c].fit.aicc);
    return least;
}

typedef struct search {
    bool falling;
    const ww_model_kind *only;
    bool moved; /* readings were moved already, or must not be: no second time */
} search;

/* The best story of the series after `first` is told; score HUGE_VAL where none beats no story. */
static ww_status best_after(const search *look, const ww__series *series, const ww__story *first,
                            ww__story *best, ww_error *err) {
    ww__series told = WW__SERIES_INIT;
    ww__choice choice;
    best->score = HUGE_VAL;
    ww_status status = ww__series_copy(series, &told, err);
    if (status != WW_OK)
        return status;
    status = ww__story_apply(&told, first, err);
    if (status == WW_OK)
        status = ww__choice_make(&told, look->falling, look->only, &choice, err);
    if (status == WW_ENODATA || status == WW_ECONVERGE)
        status = WW_OK; /* without it there is no curve: it hides nothing */
    else if (status == WW_OK)
        status = ww__story_best(&told, &choice, look->moved, best, err);
    if (status == WW_OK && !(best->score < least_aicc(&choice)))
        best->score = HUGE_VAL;
    ww__series_release(&told);
    return status;
}

/*
 * Two wrong readings can hide each other: neither stands out while the other bends the curve and
 * swells the scatter. So each reading in turn is left out; where that lets another stand out, and
 * the first still stands out once the other is gone, the other is the story.
 */
static ww_status hidden_story(const search *look, const ww__series *series, ww__story *best,
                              ww_error *err) {
    best->score = HUGE_VAL;
    for (size_t i = 0; i < series->n; i++) {
        const ww__story first = {WW_CAUSE_UNKNOWN, 0, i, HUGE_VAL};
        ww__story second;
        if (!(series->weight[i] > 0.0))
            continue;
        ww_status status = best_after(look, series, &first, &second, err);
        if (status != WW_OK)
            return status;
        if (second.score < best->score)
            *best = second;
    }
    if (!(best->score < HUGE_VAL))
        return WW_OK;
    ww__story confirmed;
    const ww_status status = best_after(look, series, best, &confirmed, err);
    if (status == WW_OK && !(confirmed.score < HUGE_VAL))
        best->score = HUGE_VAL;
    return status;
}

static ww_status next_story(const search *look, const ww__series *series, const ww__choice *choice,
                            ww__story *best, ww_error *err) {
    ww_status status = ww__story_best(series, choice, look->moved, best, err);
    if (status != WW_OK || best->score < least_aicc(choice))
        return status;
    best->score = HUGE_VAL;
    if (series->n > PAIRS_MOST || choice->candidate[choice->best].fit.residual_sd < unusual)
        return WW_OK;
    return hidden_story(look, series, best, err);
}

ww_status ww__suspect_find(ww__series *series, bool falling, const ww_model_kind *only,
                           bool may_move, ww__choice *choice, ww__findings *findings,
                           ww_error *err) {
    assert(series && choice && findings);
    findings->n = 0;
    search look = {falling, only, !may_move};
    const size_t most = series->n / 4 < WW__SUSPECT_MAX ? series->n / 4 : WW__SUSPECT_MAX;
    while (findings->n < most && ww__series_rows(series) >= LEAST_READINGS) {
        ww__story best;
        ww_status status = next_story(&look, series, choice, &best, err);
        if (status != WW_OK)
            return status;
        if (!(best.score < HUGE_VAL))
            break;
        const bool swapped = best.cause == WW_CAUSE_SWAPPED;
        const size_t other = swapped ? ww__story_partner(series, best.point) : best.point;
        findings->item[findings->n++] = (ww__finding){best.cause, best.moved, best.point, other};
        look.moved = look.moved || best.moved;
        status = ww__story_apply(series, &best, err);
        if (status == WW_OK)
            status = ww__choice_make(series, falling, only, choice, err);
        if (status != WW_OK)
            return status;
    }
    return WW_OK;
}
