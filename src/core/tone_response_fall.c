/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tone_response_fall.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

static const double real_fall = 0.05; /* D: more than readings are off by */

static int by_drive(const void *a, const void *b) {
    const ww_curve_point *one = a, *other = b;
    return (one->log_h > other->log_h) - (one->log_h < other->log_h);
}

static double middle_of(double a, double b, double c) {
    return fmax(fmin(a, b), fmin(fmax(a, b), c));
}

size_t ww__tone_response_fall_cut(ww__points *points) {
    assert(points);
    ww_curve_point *p = points->point;
    const size_t n = points->n;
    size_t top = 0;
    double most = -HUGE_VAL;
    qsort(p, n, sizeof *p, by_drive);
    for (size_t i = 1; i + 1 < n; i++) {
        const double here = middle_of(p[i - 1].density, p[i].density, p[i + 1].density);
        if (here > most) {
            most = here;
            top = i;
        }
    }
    const size_t beyond = n - 1 - top;
    if (beyond < 2 || 2 * beyond > n || most - fmax(p[n - 1].density, p[n - 2].density) < real_fall)
        return 0;
    for (size_t i = top + 1; i < n; i++)
        p[i].cut = true;
    return beyond;
}
