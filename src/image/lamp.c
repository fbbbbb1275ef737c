/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/lamp.h"
#include "image/order.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/number.h>

static const double quiet = 0.002;   /* D, one sd of the change within a step */
static const double robust = 1.4826; /* sd by median absolute deviation, normal */
static const double of_median = 1.2533;
static const double surely = 3.0; /* standard errors */
enum { STEPS_LEAST = 5 };

static double density_of(const ww_measured *m, const ww_scanner *scanner, double code) {
    const double light = scanner ? ww_scanner_light(scanner, code) : code / m->white;
    return light > 0.0 ? -log10(light) : HUGE_VAL;
}

/* Changes of the quiet steps of a channel; returns how many. */
static size_t collect(const ww_measured *m, int c, const ww_scanner *scanner, double change[]) {
    size_t n = 0;
    for (size_t i = 0; i < m->n; i++) {
        const ww_patch_channel *p = &m->patch[i].channel[c];
        const double half = 0.5 * p->along;
        /* Two halves, whose means lie half of the way apart. */
        const double error = 4.0 * p->sd / sqrt((double)m->patch[i].n);
        const double noise =
            density_of(m, scanner, p->code - error) - density_of(m, scanner, p->code);
        if (noise < quiet && p->code > fabs(half) && p->clipped == 0.0)
            change[n++] =
                density_of(m, scanner, p->code + half) - density_of(m, scanner, p->code - half);
    }
    return n;
}

/* Of the whole strip, from left to right or from top to bottom; 0 where it cannot be told from
 * none. */
static double fall_of(double change[], size_t n, double steps) {
    if (n < STEPS_LEAST)
        return 0.0;
    const double middle = ww__order_median(change, n);
    for (size_t i = 0; i < n; i++)
        change[i] = fabs(change[i] - middle);
    const double error = of_median * robust * ww__order_median(change, n) / sqrt((double)n);
    const double fall = steps * middle;
    return fabs(middle) > surely * error && fabs(fall) > WW__LAMP_FALL ? fall : 0.0;
}

static void doubt(ww_measured *m, int c) {
    const double sd = fabs(m->lamp[c]) / sqrt(6.0);
    for (size_t i = 0; i < m->n; i++) {
        ww_cell *cell = &m->patch[i].channel[c].density;
        if (cell->sd.set)
            cell->sd.value = hypot(cell->sd.value, sd);
    }
}

ww_status ww__lamp_find(ww_measured *measured, double share, const ww_scanner *scanner,
                        ww_error *err) {
    assert(measured && measured->n > 0 && share > 0.0);
    double worst = 0.0;
    char fall[32];
    double *change = calloc(measured->n, sizeof *change);
    if (!change)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare %zu steps", measured->n);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const size_t n = measured->has[c] ? collect(measured, c, scanner, change) : 0;
        measured->lamp[c] = fall_of(change, n, (double)measured->n / share);
        if (fabs(measured->lamp[c]) > fabs(worst))
            worst = measured->lamp[c];
        doubt(measured, c);
    }
    free(change);
    if (worst == 0.0)
        return WW_OK;
    const bool at_first = (worst > 0.0) == measured->reversed;
    ww_number_format(fabs(worst), 2, fall, sizeof fall);
    return ww_notes_add(&measured->notes, err,
                        "Along the strip the light falls by about %s D towards step '%.40s', as "
                        "it does a little within every step; densities are the more doubtful. "
                        "Lay it where the lamp is even, or across the way that it falls",
                        fall, measured->patch[at_first ? 0 : measured->n - 1].step);
}
