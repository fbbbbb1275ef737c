/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What the best and the next best supported cause make of a tone, and how far they are apart. */
static double apart_at(const ww__result *result, const ww__result_fit *fit,
                       const ww_print_miss *miss, double log_h) {
    double best = 0.0, other = 0.0, most = 0.0;
    int end = 0;
    if (!ww__result_foretell(result, miss->best, fit->fog, fit->parameter[miss->best], log_h, &best,
                             &end))
        return 0.0;
    for (ww_miss_cause c = WW_MISS_NOTHING; c < WW_MISS_CAUSES; c++)
        if (c != miss->best && miss->hypothesis[c].supported &&
            ww__result_foretell(result, c, fit->fog, fit->parameter[c], log_h, &other, &end))
            most = fmax(most, fabs(best - other));
    return most;
}

static bool was_read(const ww__result *result, const ww__print_spot *spot) {
    for (size_t i = 0; i < result->n; i++)
        if (result->point[i].spot == spot)
            return true;
    return false;
}

/* Where causes fit alike: the tone not yet read that they differ about most. */
static const char *find_unread(const ww__result *result, const ww__result_fit *fit,
                               const ww_print_miss *miss) {
    const char *telling = "";
    double most = WW__RESULT_TELLS;
    for (size_t i = 0; i < result->negative->n; i++) {
        const ww__print_spot *spot = &result->negative->spot[i];
        double apart;
        if (spot->base || !spot->known || was_read(result, spot))
            continue;
        apart = apart_at(result, fit, miss, ww__result_log_h(result, spot, spot->seen));
        if (apart > most)
            most = apart, telling = spot->name;
    }
    return telling;
}

static ww_status fill_tone(const ww__result *result, const ww__result_fit *fit, size_t i,
                           ww_print_miss *miss, ww_error *err) {
    const ww__result_point *point = &result->point[i];
    const size_t at = i * result->n + i;
    ww_miss_tone *tone = &miss->tone[i];
    double net = point->foretold;
    int end = 0;
    (void)ww__result_foretell(result, miss->best, fit->fog, fit->parameter[miss->best],
                              point->log_h, &net, &end);
    if (miss->best == WW_MISS_ONE && point->spot == fit->one.spot)
        net = point->came; /* whatever that is */
    *tone = (ww_miss_tone){.tone = strdup(point->spot->name),
                           .part = point->part,
                           .foretold = point->foretold,
                           .beyond = point->beyond,
                           .came = point->came,
                           .error = sqrt(result->own[at] + result->shared[at]),
                           .left = point->came - net};
    miss->n_tones++;
    return tone->tone ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory for a tone");
}

ww_status ww__result_telling_find(const ww__result *result, const ww__result_fit *fit,
                                  ww_print_miss *miss, ww_error *err) {
    const char *telling = "";
    char *copy;
    ww_status status = WW_OK;
    miss->tone = calloc(result->n, sizeof *miss->tone);
    if (!miss->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu tones", result->n);
    for (size_t i = 0; i < result->n && status == WW_OK; i++)
        status = fill_tone(result, fit, i, miss, err);
    if (status != WW_OK || miss->sight != WW_MISS_SEEN)
        return status;
    if (miss->n_supported > 1)
        telling = find_unread(result, fit, miss);
    else if (miss->n_supported == 0 && fit->odd.spot)
        telling = fit->odd.spot->name;
    copy = strdup(telling);
    if (!copy)
        return ww_error_set(err, WW_EMEMORY, "no memory for a name");
    free(miss->telling);
    miss->telling = copy;
    return WW_OK;
}
