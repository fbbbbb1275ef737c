/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/sharpened.h"
#include "image/order.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static const double rim = 0.2; /* of a step, beside its middle, by which its level is told */
static const double surely = 3.0;

/* The most by which light between two places in px lies above a level, or below it. */
static double beyond(const ww__sharpened_profile *p, double from, double to, double level,
                     double sign) {
    const double end = fmin((to - p->from) / p->step, (double)p->n);
    double most = 0.0;
    for (double at = fmax(floor((from - p->from) / p->step), 0.0); at < end; at += 1.0) {
        const size_t i = (size_t)at;
        if (p->light[i] >= 0.0)
            most = fmax(most, sign * (p->light[i] - level) - surely * p->error[i]);
    }
    return most;
}

ww_status ww__sharpened_by(const ww__sharpened_profile *profile, const double edge[],
                           const double level[], size_t steps, double *by, ww_error *err) {
    size_t edges = 0;
    assert(profile && edge && level && steps > 1 && by);
    double *share = malloc(steps * sizeof *share);
    if (!share)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", steps);
    for (size_t k = 1; k < steps; k++) {
        const double fall = level[k - 1] - level[k], sign = fall > 0.0 ? 1.0 : -1.0;
        const double before = rim * (edge[k] - edge[k - 1]), behind = rim * (edge[k + 1] - edge[k]);
        if (fall == 0.0)
            continue;
        const double over = beyond(profile, edge[k] - before, edge[k], level[k - 1], sign);
        const double under = beyond(profile, edge[k], edge[k] + behind, level[k], -sign);
        share[edges++] = fmin(over, under) / fabs(fall);
    }
    *by = edges > 0 ? ww__order_nth(share, edges, 3 * edges / 4) : 0.0;
    free(share);
    return WW_OK;
}
