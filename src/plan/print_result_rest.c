/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "plan/print_result_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * One tone taken out, the rest is a print of its own. A lamp that was off and a tone misread
 * besides leave nothing that explains all; without the tone the lamp does. What it costs: the tone
 * must be the one that counts, whatever the cause, and the rest must fit one cause alone with
 * readings left to deny it.
 */
static const size_t least_read = 3; /* of the rest: a cause has one size, and two can deny it */

/* Covariances of the points that stay. */
static double *keep(const double all[], size_t n, const size_t place[], size_t left) {
    double *kept = calloc(left * left, sizeof *kept);
    for (size_t i = 0; i < left && kept; i++)
        for (size_t k = 0; k < left; k++)
            kept[i * left + k] = all[place[i] * n + place[k]];
    return kept;
}

static ww_status take_out(const ww__result *result, const ww__print_spot *spot, ww__result *rest,
                          ww_error *err) {
    size_t place[WW_PRINT_RESULT_TONES_MOST] = {0}, left = 0;
    *rest = *result;
    rest->point = calloc(result->n, sizeof *rest->point);
    for (size_t i = 0; i < result->n && rest->point; i++)
        if (result->point[i].spot != spot)
            rest->point[left] = result->point[i], place[left++] = i;
    rest->n = left;
    rest->own = keep(result->own, result->n, place, left);
    rest->shared = keep(result->shared, result->n, place, left);
    rest->factor = calloc(left * left, sizeof *rest->factor);
    if (!rest->point || !rest->own || !rest->shared || !rest->factor)
        return ww_error_set(err, WW_EMEMORY, "no memory for the errors of %zu readings", left);
    for (size_t i = 0; i < left * left; i++)
        rest->factor[i] = rest->own[i] + rest->shared[i];
    if (!ww__gls_factor(rest->factor, left))
        assert(false); /* a part of what has been factored already */
    return WW_OK;
}

static bool has_left(const ww__result *result, const ww__print_spot *spot) {
    size_t left = 0;
    for (size_t i = 0; i < result->n; i++)
        left += result->point[i].spot != spot;
    return left >= least_read;
}

static ww_status try_rest(const ww__result *result, const ww__print_spot *spot,
                          ww__result_rest *rest, ww_error *err) {
    ww_status status = take_out(result, spot, &rest->result, err);
    return status == WW_OK ? ww__result_causes_try(&rest->result, &rest->fit, &rest->miss, err)
                           : status;
}

/* A cause of one size that all the rest agrees on. */
static bool is_told(const ww_print_miss *miss) {
    return miss->n_supported == 1 &&
           (miss->best == WW_MISS_EXPOSURE || miss->best == WW_MISS_CONTRAST ||
            miss->best == WW_MISS_LIGHT_END);
}

static ww_status tell(const ww__print_spot *spot, ww__result_rest *rest, ww__result_fit *fit,
                      ww_print_miss *miss, ww_error *err) {
    const ww__result_odd odd = fit->odd;
    char *name = strdup(spot->name), *other = miss->odd;
    if (!name)
        return ww_error_set(err, WW_EMEMORY, "no memory for a name");
    miss->besides = name;
    memcpy(miss->hypothesis, rest->miss.hypothesis, sizeof miss->hypothesis);
    miss->odd = rest->miss.odd;
    rest->miss.odd = other;
    miss->n_supported = 1;
    miss->best = rest->miss.best;
    *fit = rest->fit;
    fit->odd = odd;
    return WW_OK;
}

ww_status ww__result_rest_try(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss,
                              ww__result_rest *rest, ww_error *err) {
    const bool one = miss->n_supported == 1 && miss->best == WW_MISS_ONE;
    const ww__print_spot *spot = one ? fit->one.spot : fit->odd.spot;
    ww_status status;
    if (!one && (miss->n_supported > 0 || !spot || ww__result_odd_rivalled(result, fit, miss)))
        return WW_OK;
    if (!has_left(result, spot))
        return WW_OK;
    status = try_rest(result, spot, rest, err);
    if (status != WW_OK)
        return status;
    rest->used = one ? rest->miss.n_supported == 1 && rest->miss.best == WW_MISS_NOTHING
                     : is_told(&rest->miss);
    return rest->used && !one ? tell(spot, rest, fit, miss, err) : WW_OK;
}

ww_status ww__result_rest_learn(const ww__result *result, ww__result_rest *rest,
                                const ww__result_fit *fit, ww_print_miss *miss, ww_error *err) {
    const ww__print_spot *spot = miss->best == WW_MISS_ONE ? fit->one.spot : fit->odd.spot;
    ww_status status;
    if (!rest->used)
        return ww__result_learn(result, fit, miss, err);
    if (spot == ww__print_tones_first(result->negative))
        return WW_OK; /* on the print or on the negative: the next time hangs on which it was */
    status = ww__result_learn(&rest->result, &rest->fit, &rest->miss, err);
    if (status == WW_OK)
        status = ww_notes_copy(&rest->miss.notes, &miss->notes, err);
    miss->learned = status == WW_OK && rest->miss.learned;
    miss->offset = rest->miss.offset;
    rest->miss.offset = (ww_print_offset){.paper = NULL};
    return status;
}

void ww__result_rest_release(ww__result_rest *rest) {
    ww__result_release(&rest->result);
    ww_print_miss_release(&rest->miss);
}
