/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Two readings exchanged. By light alone a negative prints no two tones the other way round; by
 * hand it does, where a burn was far too long. So the exchange must explain the print: with it one
 * cause must fit all the tones, and leave less than any does that lets one tone be what it is.
 */

static const double sure = 3.0; /* sd of a difference that chance does not give */

static double error_of(const ww__result *result, size_t i) {
    const size_t at = i * result->n + i;
    return sqrt(result->own[at] + result->shared[at]);
}

bool ww__result_inverted(const ww__result *result, size_t i, size_t k) {
    const double foretold = result->point[i].foretold - result->point[k].foretold;
    const double came = result->point[i].came - result->point[k].came;
    return foretold * came < 0.0 &&
           fabs(came) > sure * hypot(error_of(result, i), error_of(result, k));
}

static bool is_worked(const ww__result *result, size_t i) {
    return fabs(ww__result_work(result, result->point[i].spot)) > 0.0;
}

static void exchange(ww__result *result, size_t one, size_t other) {
    const double came = result->point[one].came;
    result->point[one].came = result->point[other].came;
    result->point[other].came = came;
}

/* Whether no two tones without local work are the other way round. */
static bool is_sorted(const ww__result *result) {
    for (size_t i = 0; i < result->n; i++)
        for (size_t k = 0; k < i; k++)
            if (ww__result_inverted(result, i, k) && !is_worked(result, i) && !is_worked(result, k))
                return false;
    return true;
}

/* What the best cause leaves of it, HUGE_VAL where none fits. */
static ww_status weigh(const ww__result *result, bool without_one, double *left, ww_error *err) {
    ww__result_fit fit = {.fog = false};
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    const ww_status status = ww__result_causes_try(result, &fit, &miss, err);
    if (status == WW_OK)
        *left = ww__result_left(result, &fit, &miss, without_one);
    ww_print_miss_release(&miss);
    return status;
}

static bool may_be_swapped(const ww__result *result, size_t i, size_t k) {
    const ww__result_point *a = &result->point[i], *b = &result->point[k];
    return a->spot != b->spot && fabs(a->foretold - b->foretold) >= WW__RESULT_APART &&
           fabs(a->came - b->came) >= WW__RESULT_APART && ww__result_inverted(result, i, k);
}

/* The exchange that leaves least; `tried` is a copy of the print, to exchange readings in. */
static ww_status find_best(ww__result *tried, double *least, size_t *one, size_t *other,
                           ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < tried->n; i++) {
        for (size_t k = 0; k < i && status == WW_OK; k++) {
            double left = HUGE_VAL;
            if (!may_be_swapped(tried, i, k))
                continue;
            exchange(tried, i, k);
            if (is_sorted(tried))
                status = weigh(tried, false, &left, err);
            exchange(tried, i, k);
            if (left < *least)
                *least = left, *one = k, *other = i;
        }
    }
    return status;
}

ww_status ww__result_swapped_find(const ww__result *result, bool *swapped, size_t *one,
                                  size_t *other, ww_error *err) {
    const size_t size = result->n * sizeof *result->point;
    ww__result tried = *result; /* with points of its own; all else is the print's */
    double least = HUGE_VAL, as_read = HUGE_VAL;
    ww_status status;
    tried.point = malloc(size);
    if (!tried.point)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", result->n);
    memcpy(tried.point, result->point, size);
    status = find_best(&tried, &least, one, other, err);
    free(tried.point);
    if (status == WW_OK && least < HUGE_VAL)
        status = weigh(result, true, &as_read, err);
    *swapped = status == WW_OK && least < as_read;
    return status;
}
