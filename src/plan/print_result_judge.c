/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include <math.h>

static bool fits(const ww_miss_hypothesis *hypothesis) {
    return hypothesis->tried && hypothesis->chance >= WW__RESULT_RARE;
}

/* The single cause that leaves least, and how much; WW_MISS_NOTHING where none could be tried. */
static ww_miss_cause find_single(const ww_miss_hypothesis h[], double *least) {
    ww_miss_cause single = WW_MISS_NOTHING;
    *least = HUGE_VAL;
    for (ww_miss_cause c = WW_MISS_EXPOSURE; c <= WW_MISS_LIGHT_END; c++)
        if (h[c].tried && h[c].chi_squared < *least)
            *least = h[c].chi_squared, single = c;
    return single;
}

static bool is_nothing(const ww_miss_hypothesis h[], double least) {
    const double none = h[WW_MISS_NOTHING].chi_squared;
    return fits(&h[WW_MISS_NOTHING]) && none - least < WW__RESULT_BETTER &&
           !(h[WW_MISS_BOTH].tried && none - h[WW_MISS_BOTH].chi_squared > WW__RESULT_BETTER_TWO);
}

/*
 * Exposure and contrast each lie inside both together, so that chance tells when both are needed.
 * Fog does not: more exposure on a softer paper looks much like it, and is named beside it early.
 */
static void support_singles(ww_miss_hypothesis h[], ww_miss_cause single, double least) {
    for (ww_miss_cause c = WW_MISS_EXPOSURE; c <= WW_MISS_LIGHT_END; c++)
        h[c].supported = fits(&h[c]) && h[c].chi_squared <= least + WW__RESULT_NEAR;
    h[WW_MISS_BOTH].supported = single == WW_MISS_LIGHT_END && fits(&h[WW_MISS_BOTH]) &&
                                h[WW_MISS_BOTH].chi_squared < least - WW__RESULT_HINT;
}

/* Without a dark tone that stands fog is not told: what else fits is. */
static void drop_light_end(ww_print_miss *miss) {
    ww_miss_hypothesis *h = miss->hypothesis;
    h[WW_MISS_LIGHT_END].supported = false;
    if (miss->best != WW_MISS_LIGHT_END)
        return;
    miss->best = WW_MISS_BOTH;
    for (ww_miss_cause c = WW_MISS_EXPOSURE; c <= WW_MISS_CONTRAST; c++)
        if (h[c].supported &&
            (miss->best == WW_MISS_BOTH || h[c].chi_squared < h[miss->best].chi_squared))
            miss->best = c;
    if (miss->best == WW_MISS_BOTH)
        h[WW_MISS_BOTH].supported = fits(&h[WW_MISS_BOTH]);
}

static size_t count_supported(const ww_miss_hypothesis h[]) {
    size_t n = 0;
    for (size_t c = 0; c < WW_MISS_CAUSES; c++)
        n += h[c].supported;
    return n;
}

void ww__result_causes_judge(const ww__result_fit *fit, ww_print_miss *miss) {
    ww_miss_hypothesis *h = miss->hypothesis;
    double least = HUGE_VAL;
    const ww_miss_cause single = find_single(h, &least);
    const double both = h[WW_MISS_BOTH].tried ? h[WW_MISS_BOTH].chi_squared : HUGE_VAL;
    if (is_nothing(h, least)) {
        h[WW_MISS_NOTHING].supported = true;
        miss->best = WW_MISS_NOTHING;
    } else if (fits(&h[single]) && single != WW_MISS_NOTHING &&
               !(fits(&h[WW_MISS_BOTH]) && least - both > WW__RESULT_BOTH)) {
        support_singles(h, single, least);
        miss->best = single;
    } else {
        h[WW_MISS_BOTH].supported = fits(&h[WW_MISS_BOTH]);
        miss->best = h[WW_MISS_BOTH].supported || both < least ? WW_MISS_BOTH : single;
    }
    if (h[WW_MISS_LIGHT_END].supported &&
        (fit->dark_read ? !fit->dark_stands : count_supported(h) == 1))
        drop_light_end(miss);
    miss->n_supported = count_supported(h);
}
