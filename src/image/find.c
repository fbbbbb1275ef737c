/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find.h"
#include "core/picture.h"
#include "image/find_other.h"
#include "image/find_steps.h"
#include "image/find_words.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum {
    PREVIEW_MOST = 800,
    SEARCH_MOST = 480,
    SIDE_LEAST = 8,
    STEPS_LEAST = 3,
    STEPS_SOME = 5,
    STEPS_SURE = 8,
    SAMPLES_OF_CELL = 4
};

static const double degrees = 57.29577951308232; /* a radian */
static const double most_alike = 1.05; /* widest over narrowest: even steps may stray as far */

/* The search as far as it went. */
typedef struct hunt {
    const ww_picture *picture;
    ww_region where;
    size_t steps;
    const double *widths;
    size_t threads;
    ww__tone fine, coarse;
    size_t shrink; /* cells of fine to a cell of coarse, each way */
    ww__place place[WW__PLACES_MOST];
    size_t n_places;
    ww__find_seen seen;
    ww__band band; /* of the strip of another number of steps in it */
} hunt;

void ww__strip_found_release(ww__strip_found *found) {
    if (!found)
        return;
    free(found->edge);
    free(found->level);
    *found = (ww__strip_found)WW__STRIP_FOUND_INIT;
}

/* Widths that are alike say no more than none: where the steps begin is then told by their ends. */
static bool are_alike(const double widths[], size_t n) {
    double least = widths[0], most = widths[0];
    for (size_t k = 1; k < n; k++) {
        least = fmin(least, widths[k]);
        most = fmax(most, widths[k]);
    }
    return most < most_alike * least;
}

static ww_status check(const hunt *h, ww_error *err) {
    const char *file = h->picture->file;
    if (h->steps < STEPS_LEAST || h->steps > WW__STEPS_MOST)
        return ww_error_set_at(err, WW_EDOMAIN, file, 0,
                               "a strip of %zu steps was asked for; %d to %d can be found",
                               h->steps, STEPS_LEAST, WW__STEPS_MOST);
    for (size_t k = 0; h->widths && k < h->steps; k++)
        if (!(h->widths[k] > 0.0 && isfinite(h->widths[k])))
            return ww_error_set_at(err, WW_EDOMAIN, file, 0,
                                   "width %g of step %zu is not above 0; give relative widths",
                                   h->widths[k], k + 1);
    return ww__picture_check(h->picture, &h->where, err);
}

static double mean_light(const ww__grid *g) {
    double sum = 0.0;
    for (size_t i = 0; i < g->nu * g->nv; i++)
        sum += fmax(g->light[i], 0.0);
    return sum / (double)(g->nu * g->nv);
}

/* Cells of the preview are as large as they must be for it to have at most PREVIEW_MOST a side. */
static ww_status look(hunt *h, ww_error *err) {
    const size_t longer = h->where.width > h->where.height ? h->where.width : h->where.height;
    const size_t cell = (longer + PREVIEW_MOST - 1) / PREVIEW_MOST;
    const size_t skip = cell / SAMPLES_OF_CELL > 0 ? cell / SAMPLES_OF_CELL : 1;
    ww__grid g = {.x = (double)h->where.x,
                  .y = (double)h->where.y,
                  .along = {1.0, 0.0},
                  .across = {0.0, 1.0},
                  .step_u = (double)cell,
                  .step_v = (double)cell,
                  .nu = h->where.width / cell,
                  .nv = h->where.height / cell};
    if (g.nu < SIDE_LEAST || g.nv < SIDE_LEAST)
        return ww__find_refuse_small(&h->seen, &h->where, err);
    const double quantum = ww__picture_quantum(h->picture);
    h->shrink = ((g.nu > g.nv ? g.nu : g.nv) + SEARCH_MOST - 1) / SEARCH_MOST;
    ww_status status = ww__grid_read(h->picture, &h->where, skip, h->threads, &g, err);
    if (status == WW_OK)
        status = ww__picture_scale_check(h->picture, h->picture->white * mean_light(&g), err);
    if (status == WW_OK)
        status = ww__tone_new(&g, 1, quantum, &h->fine, err);
    if (status == WW_OK)
        status = ww__tone_new(&g, h->shrink, quantum, &h->coarse, err);
    ww__grid_release(&g);
    return status;
}

/* From the coarse map to the fine one. */
static ww__place enlarged(const ww__place *place, double times) {
    ww__place p = *place;
    p.x *= times, p.y *= times, p.length *= times, p.pitch *= times;
    return p;
}

/* The same strip as a place, now that it is known how far it reaches. */
static ww__place place_of(const hunt *h, const ww__band *band, const ww__steps *there) {
    double along[2], across[2];
    const double middle = 0.5 * (there->from + there->to), scale = h->fine.scale;
    ww__place_axes(band->angle, band->upright, along, across);
    return (ww__place){.x = (band->x + middle * along[0] - h->fine.x) / scale,
                       .y = (band->y + middle * along[1] - h->fine.y) / scale,
                       .length = (there->to - there->from) / scale,
                       .pitch = band->pitch / scale,
                       .angle = band->angle,
                       .upright = band->upright,
                       .falling = band->falling,
                       .parts = there->seen};
}

/* Whether the steps asked for lie in a band that is turned further than is read. A few are soon
 * found by chance. */
static ww_status look_at_turned(hunt *h, const ww__band *band, ww_error *err) {
    if (h->steps < STEPS_SURE || h->seen.turned_deg != 0.0)
        return WW_ENODATA;
    ww__steps there;
    ww__strip_found found = WW__STRIP_FOUND_INIT;
    const ww_status status = ww__steps_find(h->picture, &h->where, band, h->steps, h->widths,
                                            h->threads, &there, &found, err);
    ww__strip_found_release(&found);
    if (status == WW_OK)
        h->seen.turned_deg = band->angle * degrees;
    return status == WW_OK || status == WW_EMISMATCH ? WW_ENODATA : status;
}

static ww_status try_band(hunt *h, const ww__place *place, ww__band *band, ww__steps *there,
                          ww__strip_found *found, ww_error *err) {
    const ww_status status = ww__band_find(&h->fine, place, band, err);
    if (status == WW_EMISMATCH)
        return look_at_turned(h, band, err);
    if (status != WW_OK)
        return status;
    return ww__steps_find(h->picture, &h->where, band, h->steps, h->widths, h->threads, there,
                          found, err);
}

/* Whether a strip of another number of steps that was seen more clearly lies in the same place, or
 * one of other widths as clearly. */
static bool is_outdone(const hunt *h, const ww__band *band, const ww__steps *there) {
    double along[2], across[2];
    if (h->seen.there.seen + h->seen.there.contradicts <= there->seen ||
        band->upright != h->band.upright)
        return false;
    ww__place_axes(h->band.angle, h->band.upright, along, across);
    const double dx = band->x - h->band.x, dy = band->y - h->band.y;
    const double shift = dx * along[0] + dy * along[1];
    return fabs(dx * across[0] + dy * across[1]) < h->band.half + band->half &&
           there->from + shift < h->seen.there.to && there->to + shift > h->seen.there.from;
}

/* A flight of the coarse map may hold more than the strip; a second look knows how long it is. One
 * that sees no strip, as between edges that lie close together, leaves what the first saw, but for
 * three or four steps and for uncertain ends: those must be seen twice. */
static ww_status look_again(hunt *h, ww_status first, ww__band *band, ww__steps *there,
                            ww__strip_found *found, ww_error *err) {
    const ww__place place = place_of(h, band, there);
    ww__band other_band;
    ww__steps other_there;
    ww__strip_found other = WW__STRIP_FOUND_INIT;
    const ww_status status = try_band(h, &place, &other_band, &other_there, &other, err);
    if (status == WW_ENODATA && first == WW_OK && h->steps >= STEPS_SOME && found->certain)
        return first;
    ww__strip_found_release(found);
    *band = other_band, *there = other_there, *found = other;
    return status;
}

static ww_status try_place(hunt *h, const ww__place *coarse, ww__strip_found *found,
                           ww_error *err) {
    ww__band band;
    ww__steps there;
    const ww__place place = enlarged(coarse, (double)h->shrink);
    ww_status status = try_band(h, &place, &band, &there, found, err);
    const bool found_some = status == WW_OK || status == WW_EMISMATCH;
    if (found_some && (status == WW_EMISMATCH || there.from > band.from + band.pitch ||
                       there.to < band.to - band.pitch))
        status = look_again(h, status, &band, &there, found, err);
    if (status == WW_EMISMATCH && there.seen > h->seen.there.seen)
        h->seen.there = there, h->band = band;
    if (status == WW_OK && is_outdone(h, &band, &there)) {
        ww__strip_found_release(found);
        return WW_EMISMATCH;
    }
    return status;
}

/* Whether a place lies off a strip that was found, and holds enough to be another. */
static bool may_be_other(const hunt *h, const ww__place *coarse, const ww__area *strip) {
    const ww__place p = enlarged(coarse, (double)h->shrink);
    const double dx = h->fine.x + p.x * h->fine.scale - strip->centre[0];
    const double dy = h->fine.y + p.y * h->fine.scale - strip->centre[1];
    return 2 * p.parts >= h->steps &&
           (fabs(dx * strip->across[0] + dy * strip->across[1]) > strip->half_v ||
            fabs(dx * strip->along[0] + dy * strip->along[1]) > strip->half_u);
}

/* Of two strips that would do, none is taken. One of another number of steps is only told. */
static ww_status look_for_others(hunt *h, size_t first, ww__strip_found *found, ww_error *err) {
    const ww__area strip = ww__other_area(found);
    for (size_t i = first; i < h->n_places; i++) {
        ww__strip_found other = WW__STRIP_FOUND_INIT;
        if (!may_be_other(h, &h->place[i], &strip))
            continue;
        const ww_status status = try_place(h, &h->place[i], &other, err);
        if (status == WW_ENODATA || status == WW_EMISMATCH)
            continue;
        const ww__area second = status == WW_OK ? ww__other_area(&other) : strip;
        ww__strip_found_release(&other);
        if (status != WW_OK)
            return status;
        if (ww__other_apart(&strip, &second))
            return ww__find_refuse_two(&h->seen, &strip, &second, err);
    }
    if (h->seen.there.seen + 1 < STEPS_SURE)
        return WW_OK;
    const ww__area second = ww__other_area_seen(&h->band, &h->seen.there);
    if (ww__other_apart(&strip, &second)) {
        found->other = h->seen.there.n;
        found->where = ww__other_strip(&second, h->picture);
    }
    return WW_OK;
}

/* The longest flight, for what is said where nothing is found. */
static void keep_parts(hunt *h, const ww__place *coarse) {
    const ww__place p = enlarged(coarse, (double)h->shrink);
    if (p.parts <= h->seen.parts)
        return;
    h->seen.parts = p.parts;
    h->seen.part_px = p.pitch * h->fine.scale;
    h->seen.at[0] = h->fine.x + p.x * h->fine.scale;
    h->seen.at[1] = h->fine.y + p.y * h->fine.scale;
}

static ww_status search_along(hunt *h, bool level, ww__strip_found *found, ww_error *err) {
    ww_status status = ww__rows_find(&h->coarse, level, h->threads, h->place, &h->n_places, err);
    for (size_t i = 0; status == WW_OK && i < h->n_places; i++) {
        const ww_status found_there = try_place(h, &h->place[i], found, err);
        if (found_there == WW_OK)
            return look_for_others(h, i + 1, found, err);
        if (found_there != WW_ENODATA && found_there != WW_EMISMATCH)
            return found_there;
        keep_parts(h, &h->place[i]);
    }
    return status == WW_OK ? WW_ENODATA : status;
}

/* Most strips lie nearly level or upright; all other ways are looked along where that finds none.
 * Few steps are soon found by chance, so that the best of all ways must come first. */
static ww_status search(hunt *h, ww__strip_found *found, ww_error *err) {
    ww_status status = h->steps >= STEPS_SURE ? search_along(h, true, found, err) : WW_ENODATA;
    if (status == WW_ENODATA)
        status = search_along(h, false, found, err);
    return status == WW_ENODATA ? ww__find_refuse(&h->seen, err) : status;
}

ww_status ww__find_strip(const ww_picture *picture, const ww_region *where, size_t steps,
                         const double *widths, size_t threads, ww__strip_found *found,
                         ww_error *err) {
    assert(picture && found);
    hunt h = {.picture = picture,
              .where = where ? *where : (ww_region){0, 0, picture->width, picture->height},
              .steps = steps,
              .widths = widths,
              .threads = threads,
              .seen = {.picture = picture, .in_strip = where != NULL, .steps = steps}};
    ww__strip_found f = WW__STRIP_FOUND_INIT;
    ww_status status = check(&h, err);
    if (status == WW_OK)
        h.widths = widths && !are_alike(widths, steps) ? widths : NULL;
    if (status == WW_OK)
        status = look(&h, err);
    if (status == WW_OK)
        status = search(&h, &f, err);
    if (status == WW_OK)
        *found = f;
    else
        ww__strip_found_release(&f);
    ww__tone_release(&h.fine);
    ww__tone_release(&h.coarse);
    return status;
}
