/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include "core/readings.h"
#include "image/bands_map.h"
#include "image/density.h"
#include "image/fault.h"
#include "image/measure.h"
#include "image/patch.h"
#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <wedgework/number.h>
#include <wedgework/scan_densities.h>

enum { CHANNELS = 3, HALVINGS = 60 };
static const double told_from = 0.001; /* share of pixels beyond an end that a note tells */

void ww_scan_densities_release(ww_scan_densities *densities) {
    if (!densities)
        return;
    free(densities->file);
    ww_notes_release(&densities->notes);
    *densities = (ww_scan_densities)WW_SCAN_DENSITIES_INIT;
}

ww_picture_form ww_scan_densities_form(const ww_picture *picture) {
    assert(picture);
    const bool real = picture->sample == WW_SAMPLE_FLOAT;
    return (ww_picture_form){.width = picture->width,
                             .height = picture->height,
                             .channels = picture->channels,
                             .sample = real ? WW_SAMPLE_FLOAT : WW_SAMPLE_16,
                             .px_per_mm_x = picture->px_per_mm_x,
                             .px_per_mm_y = picture->px_per_mm_y,
                             .description = real ? "densities: sample = D"
                                                 : "densities: code = 10000 D + 5000"};
}

/* ------------------------------------------------------------------------------ what codes mean */

/* A channel's calibration, from the darkest code that it tells to the lightest. */
typedef struct meaning {
    const ww_scanner *scanner;
    ww_channel channel;
    double darkest, lightest; /* codes */
    uint16_t *table;          /* by code; NULL for floating point */
} meaning;

typedef struct job {
    const ww_picture *picture;
    meaning meaning[CHANNELS];
    size_t denser[WW__THREADS_MOST][CHANNELS], thinner[WW__THREADS_MOST][CHANNELS];
} job;

static bool is_told(const meaning *m, double code) {
    ww_quantity density;
    return ww_scanner_density(m->scanner, m->channel, code, &density, NULL) == WW_OK;
}

/* From a code that is told towards one that is not: the last that is. */
static double end_towards(const meaning *m, double told, double not_told) {
    if (is_told(m, not_told))
        return not_told;
    for (int i = 0; i < HALVINGS; i++) {
        const double middle = 0.5 * (told + not_told);
        if (is_told(m, middle))
            told = middle;
        else
            not_told = middle;
    }
    return told;
}

/* NAN stays one. */
static ww_quantity quantity_of(const meaning *m, double code) {
    ww_quantity density = {.value = (double)NAN};
    const double held = isnan(code) ? code : fmin(fmax(code, m->darkest), m->lightest);
    (void)ww_scanner_density(m->scanner, m->channel, held, &density, NULL);
    return density;
}

static double density_of(const meaning *m, double code) {
    return quantity_of(m, code).value;
}

static uint16_t scaled(double density) {
    const double code = WW_SCAN_DENSITIES_SCALE * density + WW_SCAN_DENSITIES_ZERO;
    return (uint16_t)(fmin(fmax(code, 0.0), 65535.0) + 0.5);
}

static ww_status find_meaning(const ww_picture *picture, const ww_scanner *scanner,
                              ww_channel channel, meaning *m, ww_error *err) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    ww_quantity density;
    *m = (meaning){.scanner = scanner, .channel = channel};
    if (!c->present || c->n_points < 2) /* says so */
        return ww_scanner_density(scanner, channel, 0.0, &density, err);
    m->darkest = end_towards(m, c->point[0].code, 0.0);
    m->lightest = end_towards(m, c->point[c->n_points - 1].code, scanner->white);
    if (picture->sample == WW_SAMPLE_FLOAT)
        return WW_OK;
    const size_t codes = picture->sample == WW_SAMPLE_8 ? 1 << 8 : 1 << 16;
    m->table = malloc(codes * sizeof *m->table);
    if (!m->table)
        return ww_error_set(err, WW_EMEMORY, "no memory for a table of densities");
    for (size_t i = 0; i < codes; i++)
        m->table[i] = scaled(density_of(m, (double)i));
    return WW_OK;
}

/* -------------------------------------------------------------------------------------- mapping */

static void map(const void *const pixel[], size_t n, void *made, size_t worker, void *context) {
    job *j = context;
    const size_t channels = j->picture->channels;
    const ww_block block = {.kind = j->picture->sample, .sample = pixel[0]};
    for (size_t c = 0; c < channels; c++) {
        const meaning *m = &j->meaning[c];
        size_t denser = 0, thinner = 0;
        for (size_t i = c; i < n * channels; i += channels) {
            const double code = ww_block_code(&block, (ptrdiff_t)i);
            denser += code < m->darkest;
            thinner += code > m->lightest;
            if (m->table)
                ((uint16_t *)made)[i] = m->table[(size_t)code];
            else
                ((float *)made)[i] = (float)density_of(m, code);
        }
        j->denser[worker][c] += denser;
        j->thinner[worker][c] += thinner;
    }
}

/* -------------------------------------------------------------------------------------- report */

static ww_status note_end(ww_scan_densities *d, ww_channel channel, bool dense, ww_error *err) {
    const ww_scan_densities_channel *c = &d->channel[channel];
    const double share = dense ? c->denser : c->thinner;
    char percent[32], end[32];
    if (share < told_from)
        return WW_OK;
    ww_number_format(dense ? c->dense : c->thin, 2, end, sizeof end);
    return ww_notes_add(&d->notes, err,
                        "%s %% of pixels (%s) are %s than the calibration reaches, and have the "
                        "density of its end, %s.",
                        ww__fault_percent(share, percent, sizeof percent), ww_channel_name(channel),
                        dense ? "denser" : "thinner", end);
}

static ww_status report_channel(const job *j, size_t c, ww_scan_densities *d, ww_error *err) {
    const meaning *m = &j->meaning[c];
    const double all = (double)j->picture->width * (double)j->picture->height;
    size_t denser = 0, thinner = 0;
    ww_status status;
    for (size_t i = 0; i < WW__THREADS_MOST; i++) {
        denser += j->denser[i][c];
        thinner += j->thinner[i][c];
    }
    const ww_quantity thin = quantity_of(m, m->lightest), dense = quantity_of(m, m->darkest);
    d->channel[m->channel] = (ww_scan_densities_channel){.present = true,
                                                         .thin = thin.value,
                                                         .dense = dense.value,
                                                         .thin_doubt = thin.high - thin.value,
                                                         .dense_doubt = dense.high - dense.value,
                                                         .thinner = (double)thinner / all,
                                                         .denser = (double)denser / all};
    status = note_end(d, m->channel, false, err);
    return status == WW_OK ? note_end(d, m->channel, true, err) : status;
}

static ww_status report(const job *j, const ww_scanner *scanner, ww_scan_densities *d,
                        ww_error *err) {
    ww_status status = WW_OK;
    d->scaled = j->picture->sample != WW_SAMPLE_FLOAT;
    if (j->picture->file)
        status = ww__readings_text_copy(j->picture->file, &d->file, err);
    if (status == WW_OK)
        status = ww_notes_copy(&j->picture->notes, &d->notes, err);
    if (status == WW_OK && scanner->misfit)
        status = ww_notes_add(&d->notes, err, "Do not trust these: " WW__DENSITY_MISFIT ".");
    for (size_t c = 0; c < j->picture->channels && status == WW_OK; c++)
        status = report_channel(j, c, d, err);
    if (status == WW_OK)
        status = ww__measure_profile_note(j->picture, scanner, &d->notes, err);
    if (status == WW_OK && j->picture->profile)
        status = ww_notes_add(&d->notes, err,
                              "The colour profile '%.80s' is left out: densities are no colours "
                              "of its space. The resolution is kept.",
                              j->picture->profile);
    return status;
}

ww_status ww_scan_densities_rows(const ww_picture *picture, const ww_scanner *scanner,
                                 ww_row_sink sink, ww_scan_densities *densities, ww_error *err) {
    assert(picture && scanner && densities && sink.take && picture->channels <= CHANNELS);
    const ww_picture_form form = ww_scan_densities_form(picture);
    ww_scan_densities found = WW_SCAN_DENSITIES_INIT;
    ww_status status = ww__measure_settings(picture, scanner, err);
    job *j;
    if (status != WW_OK)
        return status;
    j = calloc(1, sizeof *j);
    if (!j)
        return ww_error_set(err, WW_EMEMORY, "no memory for a table of densities");
    j->picture = picture;
    for (size_t c = 0; c < picture->channels && status == WW_OK; c++)
        status = find_meaning(picture, scanner, ww__patch_channel(picture, c), &j->meaning[c], err);
    if (status == WW_OK)
        status = ww__bands_map(&picture, 1, picture->channels * ww__bands_sample(form.sample), map,
                               j, sink, err);
    if (status == WW_OK)
        status = report(j, scanner, &found, err);
    for (size_t c = 0; c < CHANNELS; c++)
        free(j->meaning[c].table);
    free(j);
    if (status == WW_OK)
        *densities = found;
    else
        ww_scan_densities_release(&found);
    return status;
}
