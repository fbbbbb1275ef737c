/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/lamp.h"
#include "image/density.h"
#include "image/grain.h"
#include "image/order.h"
#include "image/patch.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/number.h>

static const double quiet = 2.0;     /* of the noise of the fifth quietest step */
static const double robust = 1.4826; /* sd by median absolute deviation, normal */
static const double of_median = 1.2533;
static const double surely = 4.0;       /* standard errors */
static const double least_noise = 1e-6; /* D, of drawn steps that have none */
enum { STEPS_LEAST = 5, PIXELS_LEAST = 4 };

static const double beside_leak = 2.5; /* standard errors of a fall once a leak is taken off */
static const double core = 0.75;       /* of what is read of a step, along: little leaks in there */
static const double beside = 0.85; /* of a step, from the middle of the last to what is beyond */

/* One way over the strip. */
typedef struct way {
    bool across;
    double reach; /* px, of the whole picture, or of the strip's length where that is more */
    double strip; /* px, of the strip */
    bool beyond;  /* the picture */
} way;

/* Changes within the steps of a channel, as far as they would go on over the picture, what noise
 * and grain make of each, what a leak of neighbours does, and room for as many. */
typedef struct changes {
    double *change, *noise, *leak, *work; /* D, one sd; leak: relative, before what is leaked */
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
    return (way){across, fmax(reach, length), across ? side_of(p, true) / share : length,
                 length > reach};
}

static double density_of(const ww_measured *m, const ww_scanner *scanner, double code) {
    const double light = ww__density_light(scanner, m->white, code);
    return light > 0.0 ? -log10(light) : HUGE_VAL;
}

/* By how much more light lies before a step than behind it, a share of the step's own; cores
 * without pixels tell nothing. */
static bool leak_of(const ww_measured *m, const ww__lamp_cores *cores, size_t i, int c,
                    const ww_scanner *scanner, double *leak) {
    const ww_patch *const part = &cores->patch[i]; /* before, its own, behind */
    double light[3];
    bool seen = true;
    for (size_t k = 0; k < 3; k++) {
        light[k] = ww__density_light(scanner, m->white, part[k].channel[c].code);
        seen = seen && part[k].n > 0;
    }
    *leak = (m->reversed ? light[2] - light[0] : light[0] - light[2]) / light[1];
    return seen && light[1] > 0.0;
}

static void collect(const ww_measured *m, int c, const way *w, const ww__lamp_cores *cores,
                    const ww_scanner *scanner, changes *of) {
    of->n = 0;
    for (size_t i = 0; i < m->n; i++) {
        const ww_patch_channel *p = &m->patch[i].channel[c];
        const double half = 0.5 * (w->across ? p->across : p->along);
        of->leak[of->n] = 0.0;
        if (p->clipped > 0.0 || (cores && !leak_of(m, cores, i, c, scanner, &of->leak[of->n])))
            continue;
        const double error = ww__grain_drift_error(m, i, c);
        if (p->code <= fmax(fabs(half), error))
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
            of->leak[n] = of->leak[i];
            of->noise[n++] = of->noise[i];
        }
    of->n = n;
}

static double median_of(const double value[], changes *of) {
    for (size_t i = 0; i < of->n; i++)
        of->work[i] = value[i];
    return ww__order_median(of->work, of->n);
}

/* Takes off what changes as the leak does, by least squares, weighted by noise; returns the
 * variance by which the coefficient is off, in D^2. */
static double take_leak(changes *of) {
    double w = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
    for (size_t i = 0; i < of->n; i++) {
        const double weight = pow(fmax(of->noise[i], least_noise), -2.0);
        w += weight, x += weight * of->leak[i], y += weight * of->change[i];
        xx += weight * of->leak[i] * of->leak[i], xy += weight * of->leak[i] * of->change[i];
    }
    xx -= x * x / w, xy -= x * y / w;
    for (size_t i = 0; i < of->n && xx > 0.0; i++)
        of->change[i] -= xy / xx * of->leak[i];
    return xx > 0.0 ? 1.0 / xx : HUGE_VAL;
}

typedef struct fall {
    double by; /* D over the picture, from left to right or from top to bottom */
    bool told; /* surely none of noise */
    bool soft; /* but it may be of neighbours that run into each step */
} fall;

/* What noise alone would make of it is taken off, as squares; what then is left and may still be
 * noise is no more than a lamp has. Few steps may agree by chance: they are not surer than their
 * noise lets them be. */
static fall fall_of(changes *of, double leak_variance, double sure) {
    if (of->n < STEPS_LEAST)
        return (fall){0.0, false, false};
    keep_quiet(of);
    const double middle = median_of(of->change, of), leak = median_of(of->leak, of);
    for (size_t i = 0; i < of->n; i++)
        of->work[i] = fabs(of->change[i] - middle);
    const double scatter = robust * ww__order_median(of->work, of->n);
    const double sd = fmax(scatter, median_of(of->noise, of));
    const double error = hypot(of_median * sd / sqrt((double)of->n), leak * sqrt(leak_variance));
    const bool told = fabs(middle) > sure * error && fabs(middle) > WW__LAMP_FALL;
    const double by = sqrt(fmax(middle * middle - error * error, 0.0));
    return (fall){copysign(told ? by : fmin(by, WW__LAMP_UNTOLD), middle), told, false};
}

/* Where a leak explains most of it, or nothing tells the two apart, it may be either, and no less
 * doubtful for that. */
static fall beside_a_leak(fall plain, fall rest) {
    plain.soft = plain.told && !(rest.told && rest.by / plain.by > 0.5);
    return plain;
}

/* The middles say less than the whole steps, but hardly what leaks in. That grows darker towards
 * the darker neighbour: it makes no fall the other way. */
static fall find_fall(const ww_measured *m, int c, const way *w, const ww__lamp_cores *cores,
                      const ww_scanner *scanner, changes *of) {
    collect(m, c, w, NULL, scanner, of);
    const fall plain = fall_of(of, 0.0, surely);
    if (!cores)
        return plain;
    ww_measured middles = *m;
    middles.patch = cores->patch + 1;
    collect(&middles, c, w, cores, scanner, of);
    if (of->n == 0)
        return beside_a_leak(plain, (fall){0.0, false, false});
    if (plain.by * median_of(of->leak, of) < 0.0)
        return plain;
    const double variance = take_leak(of);
    return beside_a_leak(plain, fall_of(of, variance, beside_leak));
}

static void doubt(ww_measured *m, int c) {
    const double sd = hypot(m->lamp[c].along, m->lamp[c].across) / sqrt(12.0);
    for (size_t i = 0; i < m->n; i++) {
        ww_cell *cell = &m->patch[i].channel[c].density;
        if (cell->sd.set)
            cell->sd.value = hypot(cell->sd.value, sd);
    }
}

static ww_status note(ww_measured *m, const way *w, fall f, ww_error *err) {
    char over[32], all[32], where[64];
    if (f.by == 0.0)
        return WW_OK;
    const double strip = fabs(f.by) * w->strip / w->reach;
    const bool at_first = (f.by > 0.0) == m->reversed;
    if (!w->across)
        snprintf(where, sizeof where, "step '%.40s'", m->patch[at_first ? 0 : m->n - 1].step);
    else
        snprintf(where, sizeof where, "its %s side",
                 m->upright   ? (f.by > 0.0 ? "right" : "left")
                 : f.by > 0.0 ? "lower"
                              : "upper");
    ww_number_format(strip, strip < 0.0095 ? 3 : 2, over, sizeof over);
    ww_number_format(fabs(f.by), 2, all, sizeof all);
    return ww_notes_add(
        &m->notes, err,
        "%s the strip the light falls by about %s D towards %s, as it does a little within every "
        "step%s; over %s that is %s D, and densities are the more doubtful. Lay the strip and the "
        "scanner's wedge in the same place, where the lamp is even%s",
        w->across ? "Across" : "Along", over, where,
        f.soft ? ", or the steps run into their neighbours, by blur or a halo" : "",
        w->beyond ? "as much glass as the strip is long" : "the whole picture", all,
        f.soft ? ", and see to the focus" : "");
}

/* All channels, one way. */
static ww_status look(ww_measured *m, const way *w, const ww__lamp_cores *cores,
                      const ww_scanner *scanner, changes *of, ww_error *err) {
    fall worst = {0.0, false, false};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!m->has[c])
            continue;
        const fall f = find_fall(m, c, w, cores, scanner, of);
        *(w->across ? &m->lamp[c].across : &m->lamp[c].along) = f.by;
        if (f.told && fabs(f.by) > fabs(worst.by))
            worst = f;
    }
    return note(m, w, worst, err);
}

ww_status ww__lamp_find(ww_measured *measured, double share, const ww__lamp_cores *cores,
                        const ww_scanner *scanner, ww_error *err) {
    assert(measured && measured->n > 0 && share > 0.0);
    assert(!cores || cores->n == measured->n);
    ww_status status = WW_OK;
    const size_t n = measured->n;
    double *const room = calloc(4 * n, sizeof *room);
    if (!room)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare %zu steps", n);
    changes of = {room, room + n, room + 2 * n, room + 3 * n, 0};
    for (int across = 0; across < 2 && status == WW_OK; across++) {
        const way w = way_of(measured, share, across);
        status = look(measured, &w, across ? NULL : cores, scanner, &of, err);
    }
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        doubt(measured, c);
    free(room);
    return status;
}

/* So many steps as wide as a step beyond it, away from its neighbour. */
static ww__area onward(const ww__area *step, const ww__area *neighbour, double share,
                       double steps) {
    ww__area area = *step;
    const double to[2] = {step->centre[0] - neighbour->centre[0],
                          step->centre[1] - neighbour->centre[1]};
    const double by = steps * 2.0 * step->half_u / share / hypot(to[0], to[1]);
    area.centre[0] += by * to[0], area.centre[1] += by * to[1];
    return area;
}

/* The outer edge of a blurred step at an end is the least sure: it is taken to be as wide as the
 * next one, and what lies beyond is looked at close to it. */
static void place_end(const ww__area *next, const ww__area *inner, double share, ww__area *end,
                      ww__area *beyond) {
    *end = onward(next, inner, share, 1.0);
    *beyond = onward(next, inner, share, 1.0 + beside);
}

/* Where a part has hardly a pixel, a step is read in its place, and then does not count. */
static ww_status read_parts(const ww_picture *picture, const ww__area area[], ww__area part[],
                            size_t n, const ww_scanner *scanner, size_t threads, ww_patch patch[],
                            ww_error *err) {
    for (size_t i = 0; i < n; i++) {
        part[i].half_u *= core;
        if (ww__area_pixels(&part[i], picture->width, picture->height) < PIXELS_LEAST)
            part[i] = area[0], part[i].disc = true;
    }
    const ww_status status = ww__patch_read(picture, part, n, scanner, threads, patch, err);
    for (size_t i = 0; i < n && status == WW_OK; i++)
        if (part[i].disc)
            patch[i].n = 0;
    return status;
}

ww_status ww__lamp_read(const ww_picture *picture, const ww__area area[], size_t n, double share,
                        const ww_scanner *scanner, size_t threads, ww__lamp_cores *cores,
                        ww_error *err) {
    assert(picture && area && n > 2 && share > 0.0 && cores);
    ww__area *const part = calloc(n + 2, sizeof *part);
    ww_patch *const patch = calloc(n + 2, sizeof *patch);
    ww_status status = WW_OK;
    if (!part || !patch)
        status = ww_error_set(err, WW_EMEMORY, "no memory to compare %zu steps", n);
    if (status == WW_OK) {
        for (size_t i = 1; i + 1 < n; i++)
            part[i + 1] = area[i];
        place_end(&area[1], &area[2], share, &part[1], &part[0]);
        place_end(&area[n - 2], &area[n - 3], share, &part[n], &part[n + 1]);
        status = read_parts(picture, area, part, n + 2, scanner, threads, patch, err);
    }
    free(part);
    if (status == WW_OK)
        *cores = (ww__lamp_cores){patch, n};
    else
        free(patch);
    return status;
}
