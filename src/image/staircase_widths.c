/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_widths.h"
#include "image/order.h"
#include "image/staircase.h"

#include <assert.h>
#include <math.h>

/* Of the narrower of two widths: half of it still leaves the middle of a step to itself. */
static const double most_apart = 0.25;

/* Sum of the departures, and the worst of them; `apart` is that as a share of the narrower. */
static double compare(const double edge[], const double widths[], size_t n, bool turned,
                      ww__width_misfit *misfit, double *apart) {
    double ratio[WW__STEPS_MOST], sum = 0.0;
    for (size_t k = 0; k < n; k++)
        ratio[k] = (edge[k + 1] - edge[k]) / widths[turned ? n - 1 - k : k];
    const double scale = ww__order_median(ratio, n);
    *misfit = (ww__width_misfit){.step = 0};
    *apart = -1.0;
    for (size_t k = 0; k < n; k++) {
        const size_t step = turned ? n - 1 - k : k;
        const double given = widths[step], seen = (edge[k + 1] - edge[k]) / scale;
        const bool outermost = k == 0 || k + 1 == n;
        const double off = outermost && seen > given ? 0.0 : fabs(seen - given) / fmin(seen, given);
        sum += fmin(off, 1.0);
        if (off > *apart) {
            *misfit = (ww__width_misfit){step, given, seen};
            *apart = off;
        }
    }
    return sum;
}

bool ww__widths_misfit(const double edge[], const double widths[], size_t n,
                       ww__width_misfit *misfit) {
    ww__width_misfit turned;
    double apart, turned_apart;
    assert(edge && widths && n > 0 && n <= WW__STEPS_MOST && misfit);
    const double sum = compare(edge, widths, n, false, misfit, &apart);
    if (compare(edge, widths, n, true, &turned, &turned_apart) < sum) {
        *misfit = turned;
        apart = turned_apart;
    }
    return apart > most_apart;
}
