/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "story.h"
#include "departure.h"
#include "rows.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const double false_alarm = 0.0075;    /* over all readings of a set */
static const double least_departure = 0.02; /* D */
static const double robust_limit = 3.5;
static const double screen = 0.8;          /* a story must lower the sum of squares at least so */
static const double pattern_margin = 10.0; /* AICc: no support for the other side beyond that */
enum { LEAST_EACH_SIDE = 3 };

size_t ww__story_partner(const ww__series *s, size_t i) {
    for (i++; i < s->n && !(s->weight[i] > 0.0); i++)
        ;
    return i;
}

/* Exposure that point i would have one step on or back, in the order of the readings. */
static double moved_exposure(const ww__series *s, size_t i, int moved) {
    const size_t on = i + 1, back = i - 1; /* beyond the series where i has no such neighbour */
    const size_t to = moved > 0 ? on : back, from = moved > 0 ? back : on;
    if (to < s->n)
        return s->u[to];
    return from < s->n ? 2.0 * s->u[i] - s->u[from] : s->u[i];
}

static void move_points(ww__series *s, size_t first, int moved) {
    assert(moved > 0 || first > 0);
    const double last = moved_exposure(s, s->n - 1, moved);
    const size_t from = moved > 0 ? first + 1 : first - 1;
    memmove(&s->u[first], &s->u[from], (s->n - 1 - first) * sizeof *s->u);
    s->u[s->n - 1] = last;
}

/* What a story changes in the series that is fitted. Swapped readings are put right here only to
 * see whether that explains them. */
static void tell(const ww__series *from, const ww__story *st, ww__series *to) {
    if (st->cause == WW_CAUSE_SWAPPED) {
        const size_t other = ww__story_partner(from, st->point);
        to->density[st->point] = from->density[other];
        to->density[other] = from->density[st->point];
    } else if (st->moved) {
        move_points(to, st->point, st->moved);
    } else {
        to->weight[st->point] = 0.0;
    }
}

/* Sum of squares after a change of the weighted readings, to first order: |(I - H)(r + change)|^2.
 */
static double changed_squares(const ww__rows *rows, const double change[]) {
    double sum = 0.0;
    for (size_t i = 0; i < rows->n; i++) {
        double left = rows->residual[i] + change[i];
        for (size_t j = 0; j < rows->n; j++)
            left -= rows->hat[i * rows->n + j] * change[j];
        sum += left * left;
    }
    return sum;
}

/* Places worth a full fit, by first-order sums of squares. A fit bent by one bad reading may point
 * at its neighbour first, so the best three single readings are tried. */
enum { SINGLES = 3, SWAP = SINGLES, SKIP, REPEAT, PLACES };
typedef struct places {
    ww__story item[PLACES];
    double squares[PLACES];
} places;

static void consider(places *p, size_t from, size_t to, ww__story st, double squares) {
    for (size_t i = from; i < to; i++) {
        if (!(squares < p->squares[i]))
            continue;
        for (size_t k = to - 1; k > i; k--) {
            p->item[k] = p->item[k - 1];
            p->squares[k] = p->squares[k - 1];
        }
        p->item[i] = st;
        p->squares[i] = squares;
        return;
    }
}

/* A step skipped, or read twice: all readings from one on belong elsewhere. Goes from the end, so
 * that each place adds one reading to those that move; leaves `change` at 0 as it was. */
static void screen_moves(const ww__series *s, const ww__rows *rows, size_t points, size_t which,
                         double change[], places *found) {
    const ww_cause cause = which == SKIP ? WW_CAUSE_SKIPPED : WW_CAUSE_SLIP;
    const int moved = which == SKIP ? 1 : -1;
    for (size_t k = points; k-- > LEAST_EACH_SIDE;) {
        const double by = moved_exposure(s, rows->point[k], moved) - rows->u[k];
        change[k] = -rows->root_weight[k] * rows->slope[k] * by;
        if (k + LEAST_EACH_SIDE <= points)
            consider(found, which, which + 1, (ww__story){cause, moved, rows->point[k], 0.0},
                     changed_squares(rows, change));
    }
    memset(change, 0, points * sizeof *change);
}

/* The most promising places for each kind of story under one fit; squares relative to the fit's. */
static ww_status screen_rows(const ww__series *s, const ww__rows *rows, places *found,
                             ww_error *err) {
    for (size_t i = 0; i < PLACES; i++)
        found->squares[i] = HUGE_VAL;
    double *change = calloc(rows->n, sizeof *change);
    if (!change)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", rows->n);
    double squares = 0.0;
    for (size_t i = 0; i < rows->n; i++)
        squares += rows->residual[i] * rows->residual[i];
    const size_t points = rows->n - (rows->point[rows->n - 1] == SIZE_MAX ? 1 : 0);

    for (size_t i = 0; i < points; i++) {
        const double open = 1.0 - rows->hat[i * rows->n + i];
        if (open > 1e-6)
            consider(found, 0, SINGLES, (ww__story){WW_CAUSE_UNKNOWN, 0, rows->point[i], 0.0},
                     squares - rows->residual[i] * rows->residual[i] / open);
    }
    for (size_t i = 0; i + 1 < points; i++) {
        const double difference = s->density[rows->point[i + 1]] - s->density[rows->point[i]];
        if (fabs(difference) < least_departure)
            continue;
        change[i] = rows->root_weight[i] * difference;
        change[i + 1] = -rows->root_weight[i + 1] * difference;
        consider(found, SWAP, SKIP, (ww__story){WW_CAUSE_SWAPPED, 0, rows->point[i], 0.0},
                 changed_squares(rows, change));
        change[i] = change[i + 1] = 0.0;
    }
    screen_moves(s, rows, points, SKIP, change, found);
    screen_moves(s, rows, points, REPEAT, change, found);
    free(change);
    for (size_t i = 0; i < PLACES; i++)
        found->squares[i] /= fmax(squares, 1e-300);
    return WW_OK;
}

/* AICc on all rows; `extra` parameters beyond the fit's own. */
static double score_of(const ww__shape_fit *fit, size_t rows, double extra) {
    const double n = (double)rows, k = fit->used + 1.0 + extra;
    if (!(n - k - 1.0 > 0.0))
        return HUGE_VAL;
    return n * log(fmax(fit->rss, 1e-12 * n) / n) + 2.0 * k + 2.0 * k * (k + 1.0) / (n - k - 1.0);
}

/* Median absolute residual of a fit, as a standard deviation of normal scatter. */
static double robust_deviation(ww__rows *rows, double scratch[]) {
    for (size_t i = 0; i < rows->n; i++)
        scratch[i] = fabs(rows->residual[i]);
    gsl_sort(scratch, 1, rows->n);
    return 1.4826 * gsl_stats_median_from_sorted_data(scratch, 1, rows->n);
}

/* Is the reading that was left out beyond what the others allow? */
static ww_status is_beyond(const ww__series *told, const ww__series *s, const ww__shape_fit *fit,
                           size_t point, bool *beyond, ww_error *err) {
    ww__rows rows = WW__ROWS_INIT;
    ww_status status = ww__rows_new(told, fit, &rows, err);
    if (status != WW_OK)
        return status;
    double *scratch = malloc(rows.n * sizeof *scratch);
    if (!scratch) {
        ww__rows_release(&rows);
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", rows.n);
    }
    double gradient[WW_MODEL_PARAMETERS_MAX], spread = 0.0;
    const size_t p = fit->shape.n;
    const double departure =
        s->density[point] - ww__shape_fit_gradient(&fit->shape, s->u[point], gradient);
    for (size_t a = 0; a < p; a++)
        for (size_t b = 0; b < p; b++)
            spread += gradient[a] * fit->unscaled[a * p + b] * gradient[b];
    double slope;
    (void)ww_model_density(&fit->shape, fit->shape.falling ? -s->u[point] : s->u[point], &slope);
    const double freedom = (double)rows.n - fit->used;
    const double sd = hypot(fit->residual_sd * sqrt(1.0 / s->weight[point] + spread),
                            ww__departure_between(&rows, fabs(slope)));
    const double limit =
        freedom > 0.5 ? gsl_cdf_tdist_Qinv(false_alarm / 2.0 / ((double)rows.n + 1.0), freedom)
                      : HUGE_VAL;
    const double robust = robust_deviation(&rows, scratch) / sqrt(s->weight[point]);
    *beyond = fabs(departure) > least_departure && fabs(departure) > robust_limit * robust &&
              fabs(departure) > limit * sd;
    free(scratch);
    ww__rows_release(&rows);
    return WW_OK;
}

/* Fit a story in full; its score is HUGE_VAL where it does not hold. */
static ww_status judge(const ww__series *s, const ww__shape_fit *fit, size_t rows, ww__story *st,
                       ww_error *err) {
    ww__series told = WW__SERIES_INIT;
    st->score = HUGE_VAL;
    ww_status status = ww__series_copy(s, &told, err);
    if (status != WW_OK)
        return status;
    tell(s, st, &told);
    status = ww__series_sort(&told, err);
    ww__shape_fit refit;
    if (status == WW_OK) {
        const bool spline = fit->shape.model == WW_MODEL_SPLINE;
        status = ww__shape_fit_solve(&told, fit->shape.model, fit->shape.falling,
                                     spline ? NULL : fit, &refit, NULL);
        if (status == WW_OK) {
            const bool one = st->cause == WW_CAUSE_UNKNOWN;
            bool holds = true;
            if (one)
                status = is_beyond(&told, s, &refit, st->point, &holds, err);
            if (holds)
                st->score = score_of(&refit, rows, one ? 1.0 : 0.0) + 2.0 * log((double)rows) +
                            (one ? 0.0 : pattern_margin);
        } else {
            status = status == WW_EMEMORY
                         ? ww_error_set(err, status, "no memory for %zu readings", s->n)
                         : WW_OK; /* this story has no fit: it is not the one */
        }
    }
    ww__series_release(&told);
    return status;
}

/* The best story over all models, or none: score HUGE_VAL. */
ww_status ww__story_best(const ww__series *s, const ww__choice *choice, bool moved_before,
                         ww__story *best, ww_error *err) {
    const size_t rows = ww__series_rows(s);
    *best = (ww__story){.score = HUGE_VAL};
    for (size_t c = 0; c < choice->n; c++) {
        const ww__shape_fit *fit = &choice->candidate[c].fit;
        ww__rows seen = WW__ROWS_INIT;
        ww_status status = ww__rows_new(s, fit, &seen, err);
        if (status != WW_OK)
            return status;
        places found = {{{0}}, {0}};
        status = screen_rows(s, &seen, &found, err);
        ww__rows_release(&seen);
        for (size_t i = 0; i < PLACES && status == WW_OK; i++) {
            if (!(found.squares[i] < screen) || (moved_before && found.item[i].moved))
                continue;
            status = judge(s, fit, rows, &found.item[i], err);
            if (status == WW_OK && found.item[i].score < best->score)
                *best = found.item[i];
        }
        if (status != WW_OK)
            return status;
    }
    return WW_OK;
}

/* From story to series: what is suspect loses its weight; what has slid along is put back. */
ww_status ww__story_apply(ww__series *s, const ww__story *st, ww_error *err) {
    if (st->cause == WW_CAUSE_SWAPPED) {
        s->weight[ww__story_partner(s, st->point)] = 0.0;
        s->weight[st->point] = 0.0;
    } else if (st->moved) {
        move_points(s, st->point, st->moved);
    } else {
        s->weight[st->point] = 0.0;
    }
    return ww__series_sort(s, err);
}
