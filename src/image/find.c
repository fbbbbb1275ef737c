/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find.h"
#include "core/picture.h"
#include "image/find_other.h"
#include "image/find_steps.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/number.h>

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
    ww__steps there;   /* the clearest strip of another number of steps; seen = 0: none */
    ww__band band;     /* of that */
    double turned_deg; /* of a strip that is turned too far; 0: none */
    size_t parts;      /* of the longest flight anywhere */
    double part_px;    /* width of one of them, median */
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
        return ww_error_set_at(err, WW_ENODATA, h->picture->file, 0,
                               "%zu x %zu px are too few to find a stepped strip in; give a larger "
                               "picture, or a larger --strip",
                               h->where.width, h->where.height);
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
    if (h->steps < STEPS_SURE || h->turned_deg != 0.0)
        return WW_ENODATA;
    ww__steps there;
    ww__strip_found found = WW__STRIP_FOUND_INIT;
    const ww_status status = ww__steps_find(h->picture, &h->where, band, h->steps, h->widths,
                                            h->threads, &there, &found, err);
    ww__strip_found_release(&found);
    if (status == WW_OK)
        h->turned_deg = band->angle * degrees;
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
    if (h->there.seen + h->there.contradicts <= there->seen || band->upright != h->band.upright)
        return false;
    ww__place_axes(h->band.angle, h->band.upright, along, across);
    const double dx = band->x - h->band.x, dy = band->y - h->band.y;
    const double shift = dx * along[0] + dy * along[1];
    return fabs(dx * across[0] + dy * across[1]) < h->band.half + band->half &&
           there->from + shift < h->there.to && there->to + shift > h->there.from;
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
    if (status == WW_EMISMATCH && there.seen > h->there.seen)
        h->there = there, h->band = band;
    if (status == WW_OK && is_outdone(h, &band, &there)) {
        ww__strip_found_release(found);
        return WW_EMISMATCH;
    }
    return status;
}

static ww_status refuse_widths(const hunt *h, const ww__width_misfit *misfit, ww_error *err) {
    char given[32], seen[32];
    ww_number_format(misfit->given, 2, given, sizeof given);
    ww_number_format(misfit->seen, 2, seen, sizeof seen);
    return ww_error_set_at(err, WW_EMISMATCH, h->picture->file, 0,
                           "%zu steps lie there, but not as wide as was said: step %zu of them, "
                           "given as %s wide, is %s wide beside the others; correct the column "
                           "width, or leave it out: then steps are taken as wide as they are seen",
                           h->steps, misfit->step + 1, given, seen);
}

/* Steps at the end of the codes look like each other, and like what lies beside the strip. */
static ww_status refuse_few(const hunt *h, ww_error *err) {
    static const char check_them[] =
        "check that none is cut off, out of order, as light as the bare glass beside it, or too "
        "like its neighbour to have an edge; give --strip, or read them with --spot";
    const size_t missing = h->steps - h->there.n, *hidden = h->there.hidden;
    const size_t dark = hidden[1] < missing ? hidden[1] : missing;
    const size_t light = hidden[0] < missing ? hidden[0] : missing;
    const char *file = h->picture->file;
    const bool is_dark = dark > 0 && dark >= light;
    if (!is_dark && light == 0)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "found %zu steps where %zu were asked for; %s", h->there.n, h->steps,
                               check_them);
    return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                           "found %zu steps where %zu were asked for: beyond the %s of them all is "
                           "at %s, where %zu may be hidden; scan %s levels and automatic exposure, "
                           "so that no step is clipped. Or else %s",
                           h->there.n, h->steps, is_dark ? "darkest" : "lightest",
                           is_dark ? "code 0" : "the greatest code", is_dark ? dark : light,
                           is_dark ? "without black point," : "with less exposure, without",
                           check_them);
}

static ww_status say_what_was_seen(const hunt *h, ww_error *err) {
    static const char remedy[] = "a strip may be turned by up to 8 degrees; give --strip X,Y,W,H "
                                 "around it, or --spot";
    const char *file = h->picture->file;
    if (h->turned_deg != 0.0)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "the strip seems to be turned %s by about %.0f degrees, and up to 8 "
                               "are read; lay it or the picture straight, or read the steps with "
                               "--spot",
                               h->turned_deg > 0.0 ? "clockwise" : "anticlockwise",
                               fabs(h->turned_deg));
    if (h->there.contradicts)
        return refuse_widths(h, &h->there.misfit, err);
    if (h->there.seen > 0 && h->there.n < h->steps)
        return refuse_few(h, err);
    if (h->there.seen > 0)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "found %zu steps where %zu were asked for; check the number, or "
                               "give --strip around the steps alone",
                               h->there.n, h->steps);
    if (h->parts > 0 && h->part_px < WW__STEP_PX_LEAST)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "no stepped strip of %zu steps can be read there: %zu tones in a "
                               "row grow darker, but they are about %.1f px wide, and a step needs "
                               "%.0f; scan with more pixels to the inch",
                               h->steps, h->parts, h->part_px, WW__STEP_PX_LEAST);
    if (h->parts > 0)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "no stepped strip of %zu steps is there: nothing but %zu tones in a "
                               "row that grow darker, and those are no strip; %s",
                               h->steps, h->parts, remedy);
    return ww_error_set_at(err, WW_ENODATA, file, 0,
                           "no stepped strip of %zu steps is there: nothing in the picture grows "
                           "darker step by step; %s",
                           h->steps, remedy);
}

static ww_status refuse_two(const hunt *h, const ww__area *a, const ww__area *b, ww_error *err) {
    const ww_region one = ww__other_strip(a, h->picture), other = ww__other_strip(b, h->picture);
    return ww_error_set_at(err, WW_EMISMATCH, h->picture->file, 0,
                           "more than one strip of %zu steps lies there; choose with --strip "
                           "%zu,%zu,%zu,%zu or --strip %zu,%zu,%zu,%zu",
                           h->steps, one.x, one.y, one.width, one.height, other.x, other.y,
                           other.width, other.height);
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
            return refuse_two(h, &strip, &second, err);
    }
    if (h->there.seen + 1 < STEPS_SURE)
        return WW_OK;
    const ww__area second = ww__other_area_seen(&h->band, &h->there);
    if (ww__other_apart(&strip, &second)) {
        found->other = h->there.n;
        found->where = ww__other_strip(&second, h->picture);
    }
    return WW_OK;
}

static ww_status search_along(hunt *h, bool level, ww__strip_found *found, ww_error *err) {
    ww_status status = ww__rows_find(&h->coarse, level, h->threads, h->place, &h->n_places, err);
    for (size_t i = 0; status == WW_OK && i < h->n_places; i++) {
        const ww_status found_there = try_place(h, &h->place[i], found, err);
        if (found_there == WW_OK)
            return look_for_others(h, i + 1, found, err);
        if (found_there != WW_ENODATA && found_there != WW_EMISMATCH)
            return found_there;
        if (h->place[i].parts > h->parts) {
            h->parts = h->place[i].parts;
            h->part_px = h->place[i].pitch * (double)h->shrink * h->fine.scale;
        }
    }
    return status == WW_OK ? WW_ENODATA : status;
}

/* Most strips lie nearly level or upright; all other ways are looked along where that finds none.
 * Few steps are soon found by chance, so that the best of all ways must come first. */
static ww_status search(hunt *h, ww__strip_found *found, ww_error *err) {
    ww_status status = h->steps >= STEPS_SURE ? search_along(h, true, found, err) : WW_ENODATA;
    if (status == WW_ENODATA)
        status = search_along(h, false, found, err);
    return status == WW_ENODATA ? say_what_was_seen(h, err) : status;
}

ww_status ww__find_strip(const ww_picture *picture, const ww_region *where, size_t steps,
                         const double *widths, size_t threads, ww__strip_found *found,
                         ww_error *err) {
    assert(picture && found);
    hunt h = {.picture = picture,
              .where = where ? *where : (ww_region){0, 0, picture->width, picture->height},
              .steps = steps,
              .widths = widths,
              .threads = threads};
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
