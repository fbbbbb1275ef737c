/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/picture.h"
#include "image/density.h"
#include "image/direction.h"
#include "image/encoding.h"
#include "image/fault.h"
#include "image/find.h"
#include "image/lamp.h"
#include "image/measure.h"
#include "image/measure_notes.h"
#include "image/plateau.h"
#include "image/settings.h"
#include "image/sharpened.h"
#include "image/staircase.h"
#include "image/surround.h"
#include "image/wedge_end.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Of a step, along and across. */
static const double middle = 0.6;

enum { NUMBER = 24 };

/* The steps that are looked for, in their own order. */
typedef struct steps {
    size_t n;
    ww_readings wedge; /* repeats averaged; nothing where steps are numbered */
    const char **name;
    char (*number)[NUMBER]; /* what name points to where steps are numbered */
    double *density;
    ww__area *area;
} steps;

static void release(steps *s) {
    ww_readings_release(&s->wedge);
    free((void *)s->name);
    free(s->number);
    free(s->density);
    free(s->area);
}

static ww_status reserve(steps *s, size_t n, ww_error *err) {
    const size_t room = n > 0 ? n : 1;
    s->name = calloc(room, sizeof *s->name);
    s->number = calloc(room, sizeof *s->number);
    s->density = calloc(room, sizeof *s->density);
    s->area = calloc(room, sizeof *s->area);
    if (!s->name || !s->number || !s->density || !s->area)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", n);
    return WW_OK;
}

/* The column by which a wedge's direction is told: nearest to what the scan is judged by. */
static int column_of(const ww_picture *picture, const ww_readings *wedge) {
    const int order[] = {picture->channels == 1 ? WW_VISUAL : WW_GREEN, WW_VISUAL, WW_GREEN, WW_RED,
                         WW_BLUE};
    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++)
        if (wedge->has[order[i]])
            return order[i];
    return -1;
}

static ww_status steps_of_wedge(const ww_picture *picture, const ww_readings *wedge, steps *s,
                                ww_error *err) {
    ww_status status = ww_readings_pool(wedge, &s->wedge, err);
    if (status == WW_OK)
        status = reserve(s, s->wedge.n, err);
    if (status != WW_OK)
        return status;
    const int column = column_of(picture, &s->wedge);
    if (column < 0)
        return ww_error_set_at(err, WW_ENODATA, wedge->file, 0,
                               "the wedge has no density column; add visual");
    for (size_t i = 0; i < s->wedge.n; i++) {
        const ww_row *row = &s->wedge.row[i];
        const ww_cell *cell = &row->cell[column];
        if (row->is_base)
            continue;
        s->name[s->n] = row->step;
        s->density[s->n++] = cell->state == WW_CELL_VALUE ? cell->value : (double)NAN;
    }
    return WW_OK;
}

/* More than can be found are not made, only counted: whoever looks for them refuses the number. */
static ww_status steps_by_number(size_t n, steps *s, ww_error *err) {
    const size_t room = n < WW__STEPS_MOST ? n : WW__STEPS_MOST;
    const ww_status status = reserve(s, room, err);
    for (size_t i = 0; i < room && status == WW_OK; i++) {
        snprintf(s->number[i], sizeof s->number[i], "%zu", i + 1);
        s->name[i] = s->number[i];
    }
    s->n = n;
    return status;
}

static ww_status refuse_order(const ww_picture *picture, const char *wedge,
                              const ww__strip_found *found, double rounding, ww_error *err) {
    size_t clipped[2];
    char why[200] = "";
    ww__direction_clipped(found->level, found->n, rounding, clipped);
    if (clipped[0] + clipped[1] > 1)
        snprintf(why, sizeof why,
                 ": %zu of them are clipped at code 0 and %zu at the greatest code; scan without "
                 "black point, levels and automatic exposure, so that few or none are. Or else",
                 clipped[0], clipped[1]);
    return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                           "the steps of the scan do not grow darker as those of %.200s do, "
                           "either way round%s check its densities and their order, or whether "
                           "this is that wedge",
                           wedge, *why ? why : ";");
}

static ww_status find_direction(const ww_picture *picture, const ww_measure_request *request,
                                const steps *s, const ww__strip_found *found, bool *reversed,
                                ww_error *err) {
    const char *const wedge =
        request->wedge && request->wedge->file ? request->wedge->file : "the wedge";
    const double rounding = 0.5 * ww__picture_quantum(picture);
    if (!request->wedge) {
        *reversed = request->reverse;
        return WW_OK;
    }
    switch (ww__direction_find(s->density, found->level, s->n, rounding)) {
    case WW__DIRECTION_ALIKE:
        return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                               "both ends of %.200s are alike, so that its densities do not tell "
                               "which way round it lies; give the densities of its steps, or "
                               "--steps and, where step 1 lies at the other end, --reverse",
                               wedge);
    case WW__DIRECTION_NEITHER:
        return refuse_order(picture, wedge, found, rounding, err);
    case WW__DIRECTION_REVERSED:
        *reversed = true;
        return WW_OK;
    default:
        *reversed = false;
        return WW_OK;
    }
}

/* The middle of the step at a place, counted from the left or top. */
static ww__area area_of(const ww__strip_found *found, size_t place) {
    const double from = found->edge[place], to = found->edge[place + 1];
    const double at = 0.5 * (from + to);
    return (ww__area){.centre = {found->origin[0] + at * found->along[0],
                                 found->origin[1] + at * found->along[1]},
                      .along = {found->along[0], found->along[1]},
                      .across = {found->across[0], found->across[1]},
                      .half_u = 0.5 * middle * (to - from),
                      .half_v = middle * found->half};
}

/* Light that goes through and light that comes back meet different glass, flare and lamps: by how
 * much densities are off then, nobody knows. */
static ww_status note_kind(const ww_measure_request *request, ww_measured *made, ww_error *err) {
    const ww_density_kind kind = request->wedge ? request->wedge->meta.density : request->density;
    const ww_scanner *scanner = request->scanner;
    if (!scanner || kind == WW_DENSITY_UNKNOWN || scanner->density == WW_DENSITY_UNKNOWN ||
        kind == scanner->density)
        return WW_OK;
    ww__density_put_off(made);
    return ww_notes_add(&made->notes, err,
                        "The strip has %s densities, but the scanner file was made with a wedge of "
                        "%s densities, and for those alone its trust holds: light takes another "
                        "way; calibrate with a %s wedge, scanned as the strip is",
                        ww_density_kind_name(kind), ww_density_kind_name(scanner->density),
                        ww_density_kind_name(kind));
}

static ww_status note_end(const ww_measure_request *request, size_t n, ww_measured *made,
                          ww_error *err) {
    char shown[200];
    const char *const by = !request->wedge ? "asked for"
                           : request->wedge->file
                               ? ww__escape_message(request->wedge->file, shown, sizeof shown)
                               : "the wedge file";
    return ww_notes_add(&made->notes, err,
                        "Where the strip ends was decided by the number of steps %s%s, %zu; "
                        "count those on the glass, or see by measure --overlay whether all of them "
                        "are on it",
                        request->wedge ? "in " : "", by, n);
}

static ww_status note_sharpened(double by, ww_measured *made, ww_error *err) {
    char share[32];
    if (!(by > WW__SHARPENED))
        return WW_OK;
    return ww_notes_add(&made->notes, err,
                        "At the edges of steps the light goes beyond both of them, by about %s %% "
                        "of their difference: most likely the scan was sharpened, which makes dust "
                        "and grain stronger and may move narrow steps; switch sharpening off and "
                        "scan again",
                        ww__fault_percent(by, share, sizeof share));
}

static double greatest_code(const ww_measured *m) {
    double most = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        for (size_t i = 0; i < m->n; i++)
            most = fmax(most, m->patch[i].channel[c].code);
        if (m->surround[c].seen)
            most = fmax(most, m->surround[c].code);
    }
    return most;
}

static ww_status find_lamp(const ww_picture *picture, const ww_measure_request *request,
                           const steps *s, ww_measured *made, ww_error *err) {
    ww__lamp_cores cores;
    ww_status status = ww__lamp_read(picture, s->area, s->n, middle, request->scanner,
                                     request->threads, &cores, err);
    if (status != WW_OK)
        return status;
    status = ww__lamp_find(made, middle, &cores, request->scanner, err);
    free(cores.patch);
    return status;
}

static ww_status measure(const ww_picture *picture, const ww_measure_request *request, steps *s,
                         const ww__strip_found *found, ww_measured *made, ww_error *err) {
    ww_status status = find_direction(picture, request, s, found, &made->reversed, err);
    if (status != WW_OK)
        return status;
    for (size_t i = 0; i < s->n; i++)
        s->area[i] = area_of(found, made->reversed ? s->n - 1 - i : i);
    made->angle_deg = found->angle_deg;
    made->upright = found->upright;
    made->end_assumed = !found->certain;
    status = ww__measure_patches(picture, request, s->area, s->name, s->n, "step", made, err);
    if (status == WW_OK)
        status = ww__surround_read(picture, found, request->scanner, request->threads,
                                   made->surround, err);
    if (status == WW_OK)
        status = ww__plateau_find(made, err);
    if (status == WW_OK)
        status = find_lamp(picture, request, s, made, err);
    if (status == WW_OK && request->scanner && request->wedge)
        status = ww__encoding_check(made, &s->wedge, request->scanner, err);
    if (status == WW_OK && request->scanner && request->wedge)
        status = ww__wedge_end_check(made, &s->wedge, request->scanner, err);
    if (status == WW_OK)
        status = note_kind(request, made, err);
    if (status == WW_OK && !found->certain)
        status = note_end(request, s->n, made, err);
    if (status == WW_OK)
        status = note_sharpened(found->sharpened, made, err);
    if (status == WW_OK && found->other > 0)
        status =
            ww_notes_add(&made->notes, err,
                         "Another strip, of %zu steps, lies about %zu,%zu,%zu,%zu (x, y, "
                         "width, height in px); the one of %zu steps was read, as was asked for",
                         found->other, found->where.x, found->where.y, found->where.width,
                         found->where.height, s->n);
    if (status == WW_OK)
        status = ww__measure_notes(made, "step", request, err);
    if (status == WW_OK && !request->wedge)
        status = ww__measure_order_note(made, request->scanner, err);
    if (status == WW_OK && request->widths)
        status = ww__measure_width_note(made, request->widths, request->wedge != NULL, err);
    if (status == WW_OK && request->scanner && request->wedge)
        status = ww__measure_base_note(made, &s->wedge, request->scanner, err);
    if (status == WW_OK)
        status = ww__measure_beside(picture, request, made, err);
    if (status == WW_OK)
        status =
            ww__measure_dim_note(made->bits, made->white, greatest_code(made), &made->notes, err);
    if (status == WW_OK && request->scanner && !made->off)
        status = ww__surround_note(made, request->scanner, err);
    if (status == WW_OK && request->scanner)
        status = ww__settings_note(made, request->wedge != NULL, request->scanner, err);
    return status;
}

ww_status ww_measure_strip(const ww_picture *picture, const ww_measure_request *request,
                           ww_measured *measured, ww_error *err) {
    steps s = {.wedge = WW_READINGS_INIT};
    ww__strip_found found = WW__STRIP_FOUND_INIT;
    ww_measured made = WW_MEASURED_INIT;
    assert(picture && request && measured);
    ww_status status = ww__measure_settings(picture, request->scanner, err);
    if (status == WW_OK)
        status = request->wedge ? steps_of_wedge(picture, request->wedge, &s, err)
                                : steps_by_number(request->steps, &s, err);
    if (status == WW_OK)
        status = ww__find_strip(picture, request->strip.width > 0 ? &request->strip : NULL, s.n,
                                request->widths, request->threads, &found, err);
    if (status == WW_OK)
        status = measure(picture, request, &s, &found, &made, err);
    if (status == WW_OK)
        *measured = made;
    else
        ww_measured_release(&made);
    ww__strip_found_release(&found);
    release(&s);
    return status;
}
