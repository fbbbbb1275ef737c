/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/lamp.h"
#include "image/density.h"
#include "image/grain.h"
#include "image/order.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/number.h>

static const double quiet = 2.0;     /* of the noise of the fifth quietest step */
static const double robust = 1.4826; /* sd by median absolute deviation, normal */
static const double of_median = 1.2533;
static const double surely = 4.0; /* standard errors */
enum { STEPS_LEAST = 5 };

/* Changes within the steps of a channel, what noise and grain make of each, and room for as many.
 */
typedef struct changes {
    double *change, *noise, *work; /* D, one sd */
    size_t n;
} changes;

static double density_of(const ww_measured *m, const ww_scanner *scanner, double code) {
    const double light = ww__density_light(m, scanner, code);
    return light > 0.0 ? -log10(light) : HUGE_VAL;
}

static void collect(const ww_measured *m, int c, const ww_scanner *scanner, changes *of) {
    of->n = 0;
    for (size_t i = 0; i < m->n; i++) {
        const ww_patch_channel *p = &m->patch[i].channel[c];
        const double half = 0.5 * p->along, error = ww__grain_drift_error(m, i, c);
        if (p->clipped > 0.0 || p->code <= fmax(fabs(half), error))
            continue;
        of->change[of->n] =
            density_of(m, scanner, p->code + half) - density_of(m, scanner, p->code - half);
        of->noise[of->n++] =
            density_of(m, scanner, p->code - error) - density_of(m, scanner, p->code);
    }
}

/* Dense steps say little through their noise; what few quiet ones say is not lost in that. */
static void keep_quiet(changes *of) {
    size_t n = 0;
    for (size_t i = 0; i < of->n; i++)
        of->work[i] = of->noise[i];
    const double limit = quiet * ww__order_nth(of->work, of->n, STEPS_LEAST - 1);
    for (size_t i = 0; i < of->n; i++)
        if (of->noise[i] <= limit) {
            of->change[n] = of->change[i];
            of->noise[n++] = of->noise[i];
        }
    of->n = n;
}

/* Of the whole strip, from left to right or from top to bottom; 0 where it cannot be told from
 * none. Few steps may agree by chance: they are not surer than their noise lets them be. */
static double fall_of(changes *of, double steps) {
    if (of->n < STEPS_LEAST)
        return 0.0;
    keep_quiet(of);
    const double middle = ww__order_median(of->change, of->n);
    for (size_t i = 0; i < of->n; i++)
        of->change[i] = fabs(of->change[i] - middle);
    const double scatter = robust * ww__order_median(of->change, of->n);
    const double sd = fmax(scatter, ww__order_median(of->noise, of->n));
    const double error = of_median * sd / sqrt((double)of->n);
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
    double *const room = calloc(3 * measured->n, sizeof *room);
    if (!room)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare %zu steps", measured->n);
    changes of = {room, room + measured->n, room + 2 * measured->n, 0};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!measured->has[c])
            continue;
        collect(measured, c, scanner, &of);
        measured->lamp[c] = fall_of(&of, (double)measured->n / share);
        if (fabs(measured->lamp[c]) > fabs(worst))
            worst = measured->lamp[c];
        doubt(measured, c);
    }
    free(room);
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
