/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_result_parts.h"
#include <math.h>

/*
 * Chi-square of a cause as it counts beside the others. One tone alone was picked of so many, any
 * of which chance may have thrown off: that costs 2 ln of them, and each reading of it beyond one
 * as much as keeps two sizes as rare as one.
 */
static double weigh(const ww__result_fit *fit, const ww_miss_hypothesis h[], ww_miss_cause cause) {
    const ww__result_odd *one = &fit->one;
    if (cause != WW_MISS_ONE || !h[cause].tried)
        return h[cause].chi_squared;
    return h[cause].chi_squared + 2.0 * log((double)one->choices) +
           ((double)one->freedom - 1.0) * (WW__RESULT_BETTER_TWO - WW__RESULT_BETTER);
}

/* The single cause that leaves least, and how much; WW_MISS_NOTHING where none could be tried. */
static ww_miss_cause find_single(const ww__result_fit *fit, const ww_miss_hypothesis h[],
                                 double *least) {
    ww_miss_cause single = WW_MISS_NOTHING;
    *least = HUGE_VAL;
    for (ww_miss_cause c = WW_MISS_EXPOSURE; c <= WW_MISS_ONE; c++)
        if (h[c].tried && weigh(fit, h, c) < *least)
            *least = weigh(fit, h, c), single = c;
    return single;
}

static bool is_nothing(const ww_miss_hypothesis h[], double least) {
    const double none = h[WW_MISS_NOTHING].chi_squared;
    return h[WW_MISS_NOTHING].fits && none - least < WW__RESULT_BETTER &&
           !(h[WW_MISS_BOTH].tried && none - h[WW_MISS_BOTH].chi_squared > WW__RESULT_BETTER_TWO);
}

/*
 * Exposure and contrast each lie inside both together, so that chance tells when both are needed.
 * Fog does not, nor does one tone alone: more exposure on a softer paper looks much like them, and
 * is named beside them early. A burn goes wrong as often as a lamp, a reading seldom: one tone that
 * had no local work is named only where it leaves least.
 */
static void support_singles(const ww__result_fit *fit, ww_miss_hypothesis h[], ww_miss_cause single,
                            double least) {
    const bool inside = single == WW_MISS_EXPOSURE || single == WW_MISS_CONTRAST;
    for (ww_miss_cause c = WW_MISS_EXPOSURE; c <= WW_MISS_ONE; c++)
        h[c].supported = h[c].fits && weigh(fit, h, c) <= least + WW__RESULT_NEAR;
    if (single != WW_MISS_ONE && !fit->one_worked)
        h[WW_MISS_ONE].supported = false;
    h[WW_MISS_BOTH].supported =
        !inside && h[WW_MISS_BOTH].fits && h[WW_MISS_BOTH].chi_squared < least - WW__RESULT_HINT;
}

static size_t count_supported(const ww_miss_hypothesis h[]) {
    size_t n = 0;
    for (size_t c = 0; c < WW_MISS_CAUSES; c++)
        n += h[c].supported;
    return n;
}

/*
 * Without a dark tone that stands fog is not told alone. Where exposure and contrast together fit
 * no better for the size that they have more, it stays open; where they don't fit, nor another, fog
 * does with the dark tone in it. Else what else fits is told.
 */
static void doubt_light_end(const ww__result_fit *fit, ww_print_miss *miss) {
    ww_miss_hypothesis *h = miss->hypothesis;
    const bool best = miss->best == WW_MISS_LIGHT_END;
    const double ahead = h[WW_MISS_BOTH].chi_squared - h[WW_MISS_LIGHT_END].chi_squared;
    if (best && h[WW_MISS_BOTH].fits && ahead > -WW__RESULT_HINT) {
        h[WW_MISS_BOTH].supported = true;
        return;
    }
    if (best && !h[WW_MISS_BOTH].fits && fit->dark_read && count_supported(h) == 1)
        return;
    h[WW_MISS_LIGHT_END].supported = false;
    if (!best)
        return;
    miss->best = WW_MISS_BOTH;
    for (ww_miss_cause c = WW_MISS_EXPOSURE; c <= WW_MISS_ONE; c++)
        if (h[c].supported &&
            (miss->best == WW_MISS_BOTH || h[c].chi_squared < h[miss->best].chi_squared))
            miss->best = c;
    if (miss->best == WW_MISS_BOTH)
        h[WW_MISS_BOTH].supported = h[WW_MISS_BOTH].fits;
}

bool ww__result_lit_again(const ww__result *result, const ww_print_miss *miss) {
    return result->request->lift.set && miss->hypothesis[WW_MISS_LIGHT_END].supported;
}

void ww__result_causes_judge(const ww__result_fit *fit, ww_print_miss *miss) {
    ww_miss_hypothesis *h = miss->hypothesis;
    double least = HUGE_VAL;
    const ww_miss_cause single = find_single(fit, h, &least);
    const double both = h[WW_MISS_BOTH].tried ? h[WW_MISS_BOTH].chi_squared : HUGE_VAL;
    if (is_nothing(h, least)) {
        h[WW_MISS_NOTHING].supported = true;
        miss->best = WW_MISS_NOTHING;
    } else if (h[single].fits && single != WW_MISS_NOTHING &&
               !(h[WW_MISS_BOTH].fits && least - both > WW__RESULT_BOTH)) {
        support_singles(fit, h, single, least);
        miss->best = single;
    } else {
        h[WW_MISS_BOTH].supported = h[WW_MISS_BOTH].fits;
        miss->best = h[WW_MISS_BOTH].supported || both < least ? WW_MISS_BOTH : single;
    }
    if (h[WW_MISS_LIGHT_END].supported &&
        (fit->dark_read ? !fit->dark_stands : count_supported(h) == 1))
        doubt_light_end(fit, miss);
    miss->n_supported = count_supported(h);
}
