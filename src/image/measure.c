/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/measure.h"
#include "core/picture.h"

#include "core/readings.h"
#include "image/density.h"
#include "image/patch.h"
#include "image/scratch.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

/* ------------------------------------------------------------------------------- settings */

static ww_status compare_channels(const ww_picture *picture, const ww_scanner *scanner,
                                  const char *made_from, ww_error *err) {
    for (size_t c = 0; c < picture->channels; c++)
        if (!scanner->channel[ww__patch_channel(picture, c)].present)
            return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                                   picture->channels == 1
                                       ? "the scan is grey, but the scanner file was made from the "
                                         "colour scan '%.200s'; scan both the same way"
                                       : "the scan has red, green and blue, but the scanner file "
                                         "was made from the grey scan '%.200s'; scan both the same "
                                         "way",
                                   made_from);
    return WW_OK;
}

ww_status ww__measure_settings(const ww_picture *picture, const ww_scanner *scanner,
                               ww_error *err) {
    assert(picture);
    if (!scanner)
        return WW_OK;
    const char *const made_from = scanner->name ? scanner->name : "";
    if (picture->bits != scanner->bits)
        return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                               "the scan has %u bits a sample, but the scanner file was made from "
                               "'%.200s' with %u; scan both with the same settings",
                               picture->bits, made_from, scanner->bits);
    if (picture->white != scanner->white) {
        char ours[40], theirs[40];
        ww_number_format(picture->white, 0, ours, sizeof ours);
        ww_number_format(scanner->white, 0, theirs, sizeof theirs);
        return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                               "the greatest code of the scan is %s, but the scanner file was made "
                               "from '%.200s' with %s; scan both with the same settings",
                               ours, made_from, theirs);
    }
    if (picture->profile && scanner->profile && strcmp(picture->profile, scanner->profile) != 0)
        return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                               "the scan carries the profile '%.80s', but '%.200s', from which the "
                               "scanner file was made, '%.80s': their codes mean different light; "
                               "scan both with the same settings",
                               picture->profile, made_from, scanner->profile);
    return compare_channels(picture, scanner, made_from, err);
}

ww_status ww__measure_profile_note(const ww_picture *picture, const ww_scanner *scanner,
                                   ww_notes *notes, ww_error *err) {
    assert(picture && notes);
    if (!scanner || (picture->profile != NULL) == (scanner->profile != NULL))
        return WW_OK;
    return ww_notes_add(notes, err,
                        "%s carries the colour profile '%.80s', but %s carries none: whether their "
                        "codes mean the same light, nothing says; export both alike, or calibrate "
                        "anew with the settings of this scan",
                        picture->profile ? "This scan" : "The scan of the scanner file",
                        picture->profile ? picture->profile : scanner->profile,
                        picture->profile ? "that of the scanner file" : "this scan");
}

ww_optional ww__measure_resolution(const ww_picture *picture) {
    const ww_optional x = picture->px_per_mm_x, y = picture->px_per_mm_y;
    const ww_optional none = {false, 0.0};
    return x.set && y.set && fabs(x.value - y.value) <= 0.005 * x.value ? x : none;
}

/* --------------------------------------------------------------------------------- patches */

static ww_status begin(const ww_picture *picture, const ww_scanner *scanner, size_t n,
                       ww_measured *m, ww_error *err) {
    ww_status status = WW_OK;
    m->width = picture->width;
    m->height = picture->height;
    m->page = picture->page;
    m->bits = picture->bits;
    m->white = picture->white;
    m->px_per_mm = ww__measure_resolution(picture);
    for (size_t i = 0; i < picture->channels; i++) {
        const ww_channel c = ww__patch_channel(picture, i);
        m->has[c] = true;
        m->clips[c] = scanner ? scanner->channel[c].clips : (ww_optional){.set = false};
    }
    if (picture->file)
        status = ww__readings_text_copy(picture->file, &m->file, err);
    if (status == WW_OK && picture->profile)
        status = ww__readings_text_copy(picture->profile, &m->profile, err);
    if (status == WW_OK)
        status = ww_notes_copy(&picture->notes, &m->notes, err);
    if (status == WW_OK)
        status = ww__measure_profile_note(picture, scanner, &m->notes, err);
    if (status != WW_OK)
        return status;
    m->patch = calloc(n, sizeof *m->patch);
    if (!m->patch)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu patches", n);
    m->n = n;
    return WW_OK;
}

/* Also counts pixels: a patch is never an empty one. */
static ww_status check_areas(const ww_picture *picture, const ww__area area[],
                             const char *const name[], size_t n, const char *what, ww_error *err) {
    for (size_t i = 0; i < n; i++)
        if (ww__area_pixels(&area[i], picture->width, picture->height) == 0)
            return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                                   "%s '%.40s' holds no pixel of the picture of %zu x %zu px; take "
                                   "a larger one, or scan with more pixels",
                                   what, name[i], picture->width, picture->height);
    return WW_OK;
}

static ww_status name_patches(const ww_picture *picture, const char *const name[], const char *what,
                              ww_measured *m, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < m->n && status == WW_OK; i++) {
        if (m->patch[i].n == 0)
            status = ww_error_set_at(err, WW_ENODATA, picture->file, 0,
                                     "%s '%.40s' has a channel without any number in it; export "
                                     "the scan anew",
                                     what, name[i]);
        else
            status = ww__readings_text_copy(name[i], &m->patch[i].step, err);
    }
    return status;
}

static void add_densities(const ww_scanner *scanner, ww_measured *m) {
    m->calibrated = scanner != NULL;
    for (size_t i = 0; scanner && i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            if (m->has[c])
                ww__density_of_patch(scanner, (ww_channel)c, &m->patch[i]);
}

ww_status ww__measure_patches(const ww_picture *picture, const ww_measure_request *request,
                              const ww__area area[], const char *const name[], size_t n,
                              const char *what, ww_measured *measured, ww_error *err) {
    assert(picture && request && area && name && n > 0 && what && measured && !measured->patch);
    ww_status status = ww__measure_settings(picture, request->scanner, err);
    if (status == WW_OK)
        status = check_areas(picture, area, name, n, what, err);
    if (status == WW_OK)
        status = begin(picture, request->scanner, n, measured, err);
    if (status == WW_OK)
        status = ww__patch_read(picture, area, n, request->scanner, request->threads,
                                measured->patch, err);
    for (size_t i = 0; i < n * WW_CHANNEL_COUNT && status == WW_OK; i++)
        status = ww__picture_scale_check(
            picture, measured->patch[i / WW_CHANNEL_COUNT].channel[i % WW_CHANNEL_COUNT].code, err);
    if (status == WW_OK && !area[0].disc)
        status = ww__scratch_find(picture, area, n, request->threads, measured->patch, err);
    if (status == WW_OK)
        status = name_patches(picture, name, what, measured, err);
    if (status == WW_OK)
        add_densities(request->scanner, measured);
    return status;
}
