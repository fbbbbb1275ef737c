/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/lamp.h"
#include "image/density.h"
#include "image/grain.h"
#include "image/order.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/number.h>

static const double quiet = 2.0;     /* of the noise of the fifth quietest step */
static const double robust = 1.4826; /* sd by median absolute deviation, normal */
static const double of_median = 1.2533;
static const double surely = 4.0; /* standard errors */
enum { STEPS_LEAST = 5 };

/* One way over the strip. */
typedef struct way {
    bool across;
    double reach; /* px, of the whole picture */
    double strip; /* px, of the strip */
} way;

/* Changes within the steps of a channel, as far as they would go on over the picture, what noise
 * and grain make of each, and room for as many. */
typedef struct changes {
    double *change, *noise, *work; /* D, one sd */
    size_t n;
} changes;

static double side_of(const ww_patch *p, bool across) {
    const double *const from = p->corner[across ? 1 : 0], *const to = p->corner[across ? 2 : 1];
    return hypot(to[0] - from[0], to[1] - from[1]);
}

/* A picture may be a piece of the glass that is cut out close: it was as large as the strip is long
 * at least. */
static way way_of(const ww_measured *m, double share, bool across) {
    const ww_patch *const p = &m->patch[0];
    const double *const from = p->corner[across ? 1 : 0], *const to = p->corner[across ? 2 : 1];
    double length = 0.0;
    for (size_t i = 0; i < m->n; i++)
        length += side_of(&m->patch[i], false) / share;
    const double reach =
        (fabs(to[0] - from[0]) * (double)m->width + fabs(to[1] - from[1]) * (double)m->height) /
        side_of(p, across);
    return (way){across, fmax(reach, length), across ? side_of(p, true) / share : length};
}

static double density_of(const ww_measured *m, const ww_scanner *scanner, double code) {
    const double light = ww__density_light(m, scanner, code);
    return light > 0.0 ? -log10(light) : HUGE_VAL;
}

static void collect(const ww_measured *m, int c, const way *w, const ww_scanner *scanner,
                    changes *of) {
    of->n = 0;
    for (size_t i = 0; i < m->n; i++) {
        const ww_patch_channel *p = &m->patch[i].channel[c];
        const double half = 0.5 * (w->across ? p->across : p->along);
        const double error = ww__grain_drift_error(m, i, c);
        if (p->clipped > 0.0 || p->code <= fmax(fabs(half), error))
            continue;
        const double times = w->reach / side_of(&m->patch[i], w->across);
        of->change[of->n] = times * (density_of(m, scanner, p->code + half) -
                                     density_of(m, scanner, p->code - half));
        of->noise[of->n++] =
            times * (density_of(m, scanner, p->code - error) - density_of(m, scanner, p->code));
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

typedef struct fall {
    double by; /* D over the picture, from left to right or from top to bottom */
    bool told; /* surely none of noise */
} fall;

/* What noise alone would make of it is taken off, as squares; what then is left and may still be
 * noise is no more than a lamp has. Few steps may agree by chance: they are not surer than their
 * noise lets them be. */
static fall fall_of(changes *of) {
    if (of->n < STEPS_LEAST)
        return (fall){0.0, false};
    keep_quiet(of);
    const double middle = ww__order_median(of->change, of->n);
    for (size_t i = 0; i < of->n; i++)
        of->change[i] = fabs(of->change[i] - middle);
    const double scatter = robust * ww__order_median(of->change, of->n);
    const double sd = fmax(scatter, ww__order_median(of->noise, of->n));
    const double error = of_median * sd / sqrt((double)of->n);
    const bool told = fabs(middle) > surely * error && fabs(middle) > WW__LAMP_FALL;
    const double by = sqrt(fmax(middle * middle - error * error, 0.0));
    return (fall){copysign(told ? by : fmin(by, WW__LAMP_UNTOLD), middle), told};
}

static void doubt(ww_measured *m, int c) {
    const double sd = hypot(m->lamp[c].along, m->lamp[c].across) / sqrt(12.0);
    for (size_t i = 0; i < m->n; i++) {
        ww_cell *cell = &m->patch[i].channel[c].density;
        if (cell->sd.set)
            cell->sd.value = hypot(cell->sd.value, sd);
    }
}

static ww_status note(ww_measured *m, const way *w, double by, ww_error *err) {
    char over[32], all[32], where[64];
    if (by == 0.0)
        return WW_OK;
    const double strip = fabs(by) * w->strip / w->reach;
    const bool at_first = (by > 0.0) == m->reversed;
    if (!w->across)
        snprintf(where, sizeof where, "step '%.40s'", m->patch[at_first ? 0 : m->n - 1].step);
    else
        snprintf(where, sizeof where, "its %s side",
                 m->upright ? (by > 0.0 ? "right" : "left")
                 : by > 0.0 ? "lower"
                            : "upper");
    ww_number_format(strip, strip < 0.0095 ? 3 : 2, over, sizeof over);
    ww_number_format(fabs(by), 2, all, sizeof all);
    return ww_notes_add(&m->notes, err,
                        "%s the strip the light falls by about %s D towards %s, as it does a "
                        "little within every step; over the whole picture that is %s D, and "
                        "densities are the more doubtful. Lay the strip and the scanner's wedge in "
                        "the same place, where the lamp is even",
                        w->across ? "Across" : "Along", over, where, all);
}

/* All channels, one way. */
static ww_status look(ww_measured *m, const way *w, const ww_scanner *scanner, changes *of,
                      ww_error *err) {
    double worst = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!m->has[c])
            continue;
        collect(m, c, w, scanner, of);
        const fall f = fall_of(of);
        *(w->across ? &m->lamp[c].across : &m->lamp[c].along) = f.by;
        if (f.told && fabs(f.by) > fabs(worst))
            worst = f.by;
    }
    return note(m, w, worst, err);
}

ww_status ww__lamp_find(ww_measured *measured, double share, const ww_scanner *scanner,
                        ww_error *err) {
    assert(measured && measured->n > 0 && share > 0.0);
    ww_status status = WW_OK;
    double *const room = calloc(3 * measured->n, sizeof *room);
    if (!room)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare %zu steps", measured->n);
    changes of = {room, room + measured->n, room + 2 * measured->n, 0};
    for (int across = 0; across < 2 && status == WW_OK; across++) {
        const way w = way_of(measured, share, across);
        status = look(measured, &w, scanner, &of, err);
    }
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        doubt(measured, c);
    free(room);
    return status;
}
