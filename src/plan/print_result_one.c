/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "plan/print_result_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * One tone alone: what was done to it by hand, or how it was read, may be wrong by any amount. Its
 * readings then count for nothing, which is to give each of them a free size: of whitened residuals
 * r, the part along its unit vector e, with what the cause could do (slopes J) taken out of that.
 *
 *   u = F^-1 e, square to J and to those of the tone's other readings;  gain = (u^T r)^2 / u^T u
 *
 * Source    the mean-shift test of one outlier, in linear least squares: closed form
 */

static const double bears = 1e-6; /* of F^-1 e: less is left of it only by rounding */

enum { MOST = WW_PRINT_RESULT_TONES_MOST, PARTS = 3 };

typedef struct along {
    double row[WW__RESULT_PARAMETERS + PARTS][MOST]; /* square to each other */
    size_t n;
} along;

/* Takes v in where anything of it is left that is square to what is there. */
static bool take_in(along *all, const double v[], size_t n) {
    double *row = all->row[all->n];
    memcpy(row, v, n * sizeof *v);
    for (size_t k = 0; k < all->n; k++)
        ww__gls_make_square(row, all->row[k], n);
    if (!(ww__gls_dot(row, row, n) > bears * ww__gls_dot(v, v, n)))
        return false;
    all->n++;
    return true;
}

/* The slopes of a cause. */
static void start(const ww__result *result, const ww__result_fit *fit, ww_miss_cause cause,
                  along *all) {
    double slope[WW__RESULT_PARAMETERS][MOST], *row[] = {slope[0], slope[1]};
    size_t count = 0;
    all->n = 0;
    if (cause != WW_MISS_NOTHING && cause != WW_MISS_ONE)
        count = ww__result_slopes(result, cause, fit->fog, fit->parameter[cause], row);
    for (size_t k = 0; k < count; k++)
        (void)take_in(all, slope[k], result->n);
}

/* What goes where the readings of a spot are free. */
static ww__result_odd free_spot(const ww__result *result, const along *cause, const double r[],
                                const ww__print_spot *spot) {
    ww__result_odd odd = {.spot = spot};
    along all = *cause;
    for (size_t i = 0; i < result->n; i++) {
        double unit[MOST] = {0.0}, part;
        if (result->point[i].spot != spot)
            continue;
        assert(all.n < WW__RESULT_PARAMETERS + PARTS);
        unit[i] = 1.0;
        ww__gls_whiten(result->factor, result->n, unit);
        if (!take_in(&all, unit, result->n))
            continue;
        part = ww__gls_dot(all.row[all.n - 1], r, result->n);
        odd.gain += part * part / ww__gls_dot(all.row[all.n - 1], all.row[all.n - 1], result->n);
        odd.freedom++;
    }
    return odd;
}

ww__result_odd ww__result_odd_find(const ww__result *result, const ww__result_fit *fit,
                                   ww_miss_cause cause) {
    ww__result_odd odd = {.spot = NULL};
    double r[MOST];
    along slopes;
    size_t choices = 0;
    if (!ww__result_residual(result, cause, fit->fog, fit->parameter[cause], r))
        return odd;
    start(result, fit, cause, &slopes);
    for (size_t i = 0; i < result->n; i++) {
        ww__result_odd next;
        if (i > 0 && result->point[i].spot == result->point[i - 1].spot)
            continue;
        next = free_spot(result, &slopes, r, result->point[i].spot);
        choices++;
        if (!odd.spot || next.gain - (double)next.freedom > odd.gain - (double)odd.freedom)
            odd = next;
    }
    odd.choices = choices;
    return odd;
}

double ww__result_odd_chance(const ww__result_odd *odd) {
    return fmin(1.0, (double)odd->choices * ww__gls_chance(odd->gain, odd->freedom));
}

/* By how much the spot came out darker, at the reading that is farthest off. */
static double off_of(const ww__result *result, const ww__print_spot *spot) {
    double off = 0.0;
    for (size_t i = 0; i < result->n; i++) {
        const ww__result_point *point = &result->point[i];
        if (point->spot == spot && fabs(point->came - point->foretold) >= fabs(off))
            off = point->came - point->foretold;
    }
    return off;
}

/* Other tones must say that they came out as foretold. */
ww_status ww__result_one_try(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss,
                             ww_error *err) {
    const ww_miss_hypothesis *nothing = &miss->hypothesis[WW_MISS_NOTHING];
    ww_miss_hypothesis *hypothesis = &miss->hypothesis[WW_MISS_ONE];
    const ww__result_odd odd = ww__result_odd_find(result, fit, WW_MISS_NOTHING);
    char *name;
    if (!nothing->tried || odd.choices < 2)
        return WW_OK;
    name = strdup(odd.spot->name);
    if (!name)
        return ww_error_set(err, WW_EMEMORY, "no memory for a name");
    free(miss->odd);
    miss->odd = name;
    fit->one = odd;
    fit->one_worked = fabs(ww__result_work(result, odd.spot)) > 0.0;
    hypothesis->tried = true;
    hypothesis->freedom = result->n - odd.freedom;
    hypothesis->chi_squared = fmax(0.0, nothing->chi_squared - odd.gain);
    hypothesis->off = (ww_optional){true, off_of(result, odd.spot)};
    return WW_OK;
}

/* What is left where a cause is true and one tone is off besides: chi-square, and 2 for each size,
 * so that causes of one size and of two stand side by side. Source: Akaike's criterion. */
static double left_by(const ww_miss_hypothesis *hypothesis, const ww__result_odd *odd) {
    return hypothesis->chi_squared - odd->gain + 2.0 * (double)odd->freedom -
           2.0 * (double)hypothesis->freedom;
}

double ww__result_left(const ww__result *result, const ww__result_fit *fit,
                       const ww_print_miss *miss, bool without_one) {
    double least = HUGE_VAL;
    for (ww_miss_cause c = WW_MISS_NOTHING; c < WW_MISS_CAUSES; c++) {
        const ww_miss_hypothesis *hypothesis = &miss->hypothesis[c];
        ww__result_odd odd = {.spot = NULL};
        if (c == WW_MISS_ONE || !hypothesis->tried || (!without_one && !hypothesis->fits))
            continue;
        if (without_one)
            odd = ww__result_odd_find(result, fit, c);
        if (hypothesis->freedom > odd.freedom)
            least = fmin(least, left_by(hypothesis, &odd));
    }
    return least;
}

bool ww__result_odd_rivalled(const ww__result *result, const ww__result_fit *fit,
                             const ww_print_miss *miss) {
    const double least = left_by(&miss->hypothesis[miss->best], &fit->odd);
    double r[MOST];
    for (ww_miss_cause c = WW_MISS_NOTHING; c < WW_MISS_CAUSES; c++) {
        along slopes;
        if (c == WW_MISS_ONE || !miss->hypothesis[c].tried ||
            !ww__result_residual(result, c, fit->fog, fit->parameter[c], r))
            continue;
        start(result, fit, c, &slopes);
        for (size_t i = 0; i < result->n; i++) {
            ww__result_odd odd;
            if (result->point[i].spot == fit->odd.spot)
                continue;
            odd = free_spot(result, &slopes, r, result->point[i].spot);
            if (left_by(&miss->hypothesis[c], &odd) < least + WW__RESULT_NEAR)
                return true;
        }
    }
    return false;
}

void ww__result_odd_mark(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss) {
    double least = HUGE_VAL;
    fit->odd = ww__result_odd_find(result, fit, miss->best);
    if (miss->n_supported > 0)
        return;
    for (ww_miss_cause c = WW_MISS_NOTHING; c < WW_MISS_CAUSES; c++) {
        const ww_miss_hypothesis *hypothesis = &miss->hypothesis[c];
        ww__result_odd odd;
        double left;
        if (c == WW_MISS_ONE || !hypothesis->tried)
            continue;
        odd = ww__result_odd_find(result, fit, c);
        left = left_by(hypothesis, &odd);
        if (odd.spot && left < least)
            least = left, fit->odd = odd, miss->best = c;
    }
}
