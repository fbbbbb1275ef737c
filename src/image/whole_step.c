/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/whole_step.h"

#include <assert.h>
#include <math.h>

enum { ALL = 1000, REACH_MOST = ALL / 10, GAPS_LEAST = 16 };

static double code_at(const ww__histogram *h, unsigned share) {
    return share > 0 ? ww__histogram_quantile(h, share) : ww__histogram_least(h);
}

static unsigned least_of(unsigned a, unsigned b) {
    return a < b ? a : b;
}

/* At the very ends, where nothing lies beyond, a thousandth of the pixels. */
static double gap_about(const ww__histogram *h, unsigned share) {
    const unsigned beyond = least_of(share, ALL - share);
    const unsigned reach = beyond > 0 ? least_of(beyond, REACH_MOST) : 1;
    const double low = code_at(h, share > reach ? share - reach : 0);
    const double high = code_at(h, least_of(share + reach, ALL));
    size_t gaps;
    /* Of a code alone, the gap beyond it. */
    const double gap = ww__histogram_gap_between(h, low, fmax(high, low + 1.0), &gaps);
    return gaps > 0 ? gap : ww__histogram_gap(h);
}

void ww__whole_steps(const ww__histogram *h, double common, const unsigned share[], size_t n,
                     double step[]) {
    size_t gaps;
    assert(h && h->n > 0 && share && step);
    (void)ww__histogram_gap_between(h, ww__histogram_least(h), ww__histogram_greatest(h), &gaps);
    for (size_t i = 0; i < n; i++)
        step[i] = gaps < GAPS_LEAST ? common : fmax(common, gap_about(h, share[i]));
}
