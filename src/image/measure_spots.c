/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include "image/density.h"
#include "image/measure.h"
#include "image/measure_notes.h"
#include "image/settings.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

static ww_status check(const ww_picture *picture, const ww_spot *spot, ww_error *err) {
    const double r = spot->radius;
    if (r > 0.0 && spot->x - r >= 0.0 && spot->y - r >= 0.0 &&
        spot->x + r <= (double)picture->width && spot->y + r <= (double)picture->height)
        return WW_OK;
    char x[40], y[40], radius[40];
    ww_number_format(spot->x, 1, x, sizeof x);
    ww_number_format(spot->y, 1, y, sizeof y);
    ww_number_format(r, 1, radius, sizeof radius);
    if (!(r > 0.0))
        return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                               "the radius of spot '%.40s' is %s px; give one above 0", spot->name,
                               radius);
    return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                           "spot '%.40s' at %s,%s with radius %s reaches outside of the picture of "
                           "%zu x %zu px; move it or make it smaller",
                           spot->name, x, y, radius, picture->width, picture->height);
}

/* What is read may be left half done where the status is not WW_OK. */
static ww_status read_spots(const ww_picture *picture, const ww_spot spot[], size_t n,
                            const ww_measure_request *request, ww_measured *made, ww_error *err) {
    ww_status status = WW_OK;
    ww__area *area = calloc(n, sizeof *area);
    const char **name = calloc(n, sizeof *name);
    if (!area || !name)
        status = ww_error_set(err, WW_EMEMORY, "no memory for %zu spots", n);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        assert(spot[i].name);
        status = check(picture, &spot[i], err);
        area[i] = ww__area_disc(spot[i].x, spot[i].y, spot[i].radius);
        name[i] = spot[i].name;
    }
    made->n_spots = n;
    if (status == WW_OK)
        status = ww__measure_patches(picture, request, area, name, n, "spot", made, err);
    if (status == WW_OK)
        status = ww__measure_notes(made, "spot", request, err);
    free((void *)name);
    free(area);
    return status;
}

static ww_status note_glass(ww_measured *made, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < made->n && made->calibrated && status == WW_OK; i++)
        if (ww__readings_is_glass_word(made->patch[i].step))
            status = ww_notes_add(&made->notes, err,
                                  "Spot '%.40s' is no row of the readings: open light is no tone, "
                                  "it only checks the exposure",
                                  made->patch[i].step);
    return status;
}

ww_status ww_measure_spots(const ww_picture *picture, const ww_spot spot[], size_t n,
                           const ww_measure_request *request, ww_measured *measured,
                           ww_error *err) {
    ww_measured made = WW_MEASURED_INIT;
    assert(picture && spot && n > 0 && request && measured);
    ww_status status = read_spots(picture, spot, n, request, &made, err);
    if (status == WW_OK && request->scanner)
        status = ww__settings_note(&made, false, request->scanner, err);
    if (status == WW_OK)
        status = note_glass(&made, err);
    if (status == WW_OK)
        *measured = made;
    else
        ww_measured_release(&made);
    return status;
}

/* ------------------------------------------------------------------------- beside a strip */

static ww_status note_rowless(const ww_measured *spots, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < spots->n && spots->calibrated && status == WW_OK; i++)
        if (!ww__readings_is_base_word(spots->patch[i].step))
            status = ww_notes_add(notes, err,
                                  "Spot '%.40s' is no row of the readings: of what lies beside a "
                                  "strip, they hold its base alone",
                                  spots->patch[i].step);
    return status;
}

/* What is off in one of them is off in all: it is the same scan. */
static ww_status join(ww_measured *spots, ww_measured *strip, ww_error *err) {
    const size_t n = strip->n + spots->n;
    ww_patch *patch = realloc(strip->patch, n * sizeof *patch);
    if (!patch)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu patches", n);
    memcpy(patch + strip->n, spots->patch, spots->n * sizeof *patch);
    strip->patch = patch;
    strip->n = n;
    strip->n_spots = spots->n;
    spots->n = 0;
    if (strip->off || spots->off)
        ww__density_put_off(strip);
    return WW_OK;
}

ww_status ww__measure_beside(const ww_picture *picture, const ww_measure_request *request,
                             ww_measured *strip, ww_error *err) {
    ww_measured spots = WW_MEASURED_INIT;
    assert(picture && request && strip);
    if (request->n_spots == 0)
        return WW_OK;
    ww_status status = read_spots(picture, request->spot, request->n_spots, request, &spots, err);
    if (status == WW_OK)
        status = ww_notes_copy(&spots.notes, &strip->notes, err);
    if (status == WW_OK)
        status = note_rowless(&spots, &strip->notes, err);
    if (status == WW_OK)
        status = join(&spots, strip, err);
    ww_measured_release(&spots);
    return status;
}
