/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include "core/picture.h"
#include "core/readings.h"
#include "image/bands_map.h"
#include "image/density.h"
#include "image/fault.h"
#include "image/measure.h"
#include "image/no_light.h"
#include "image/patch.h"
#include "image/settings.h"
#include "image/surround.h"
#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/number.h>
#include <wedgework/scan_densities.h>

enum { CHANNELS = 3, HALVINGS = 60 };
static const double told_from = 0.001; /* share of pixels at or beyond open light that tells */
static const double skew_told = 0.005; /* D by which noise puts a mean off */

void ww_scan_densities_release(ww_scan_densities *densities) {
    if (!densities)
        return;
    free(densities->file);
    ww_notes_release(&densities->notes);
    *densities = (ww_scan_densities)WW_SCAN_DENSITIES_INIT;
}

ww_picture_form ww_scan_densities_form(const ww_picture *picture) {
    ww_picture_form form = ww_picture_form_of(picture);
    form.icc = NULL; /* it tells of codes, not of densities */
    form.n_icc = 0;
    form.description = form.sample == WW_SAMPLE_FLOAT ? "densities: sample = D"
                                                      : "densities: code = 10000 D + 5000";
    return form;
}

/* ------------------------------------------------------------------------------ what codes mean */

/* A channel's calibration, from the darkest code that it tells to the lightest. */
typedef struct meaning {
    const ww_scanner *scanner;
    ww_channel channel;
    double darkest, lightest;     /* codes */
    double open_from, open_until; /* codes that open light may have */
    uint16_t *table;              /* by code; NULL for floating point */
} meaning;

/* Pixels of a channel: beyond either end, as light as open light or lighter, lighter still, and
 * those that are no light. */
typedef struct counts {
    size_t denser, thinner, open, lighter;
    ww__no_light none;
} counts;

typedef struct job {
    const ww_picture *picture;
    meaning meaning[CHANNELS];
    counts count[WW__THREADS_MOST][CHANNELS];
    ww__picture_range range[WW__THREADS_MOST];
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

static void find_open(meaning *m) {
    const ww_scanner_channel *channel = &m->scanner->channel[m->channel];
    double limit;
    (void)ww__surround_above(m->scanner, (int)m->channel, m->lightest, &limit);
    const double until = limit + WW__SURROUND_NOISE * ww_scanner_noise_at(channel, 0.0);
    m->open_from = ww__surround_code(m->scanner, (int)m->channel, -limit);
    m->open_until = ww__surround_code(m->scanner, (int)m->channel, until);
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
    find_open(m);
    if (picture->sample == WW_SAMPLE_FLOAT)
        return WW_OK;
    const size_t codes = ww__picture_codes(picture->sample);
    m->table = malloc(codes * sizeof *m->table);
    if (!m->table)
        return ww_error_set(err, WW_EMEMORY, "no memory for a table of densities");
    for (size_t i = 0; i < codes; i++)
        m->table[i] = scaled(density_of(m, (double)i));
    return WW_OK;
}

/* -------------------------------------------------------------------------------------- mapping */

static void add(counts *to, const counts *some) {
    to->denser += some->denser;
    to->thinner += some->thinner;
    to->open += some->open;
    to->lighter += some->lighter;
    ww__no_light_join(&to->none, &some->none);
}

/* Of floating point: integers are what a sensor counted. */
static bool is_no_light(const meaning *m, double code) {
    const ww_scanner_channel *channel = &m->scanner->channel[m->channel];
    const ww_scanner_noise *noise = &channel->noise;
    const double dark = fmax(channel->dark.value, 0.0);
    const double sd = sqrt(noise->read * noise->read + noise->shot * noise->shot * dark);
    const double least = channel->dark.low - WW__NO_LIGHT_BELOW * sd;
    return !(code >= m->darkest && code <= m->scanner->white) &&
           ww__no_light_is(m->scanner, m->scanner->white, code, least);
}

/* What stands there in place of a code, noted where that is no light. */
static float density_in(const meaning *m, double code, size_t pixel, counts *count) {
    if (is_no_light(m, code))
        ww__no_light_add(&count->none, pixel, code, isnan(code));
    return (float)density_of(m, code);
}

static void map(const void *const pixel[], size_t row, size_t n, void *made, size_t worker,
                void *context) {
    job *j = context;
    const size_t channels = j->picture->channels;
    const ww_block block = {.kind = j->picture->sample, .sample = pixel[0]};
    for (size_t c = 0; c < channels; c++) {
        const meaning *m = &j->meaning[c];
        counts count = {.denser = 0};
        for (size_t i = c; i < n * channels; i += channels) {
            const double code = ww_block_code(&block, (ptrdiff_t)i);
            count.denser += code < m->darkest;
            count.thinner += code > m->lightest;
            count.open += code >= m->open_from;
            count.lighter += code > m->open_until;
            if (m->table) {
                ((uint16_t *)made)[i] = m->table[(size_t)code];
                continue;
            }
            ww__picture_range_add(&j->range[worker], j->picture, code);
            ((float *)made)[i] =
                density_in(m, code, row * j->picture->width + i / channels, &count);
        }
        add(&j->count[worker][c], &count);
    }
}

/* -------------------------------------------------------------------------------------- report */

/* The last step that counted; the curve is told a little further, as far as the step is noisy. */
static double wedge_end(const meaning *m) {
    return m->scanner->channel[m->channel].point[0].density;
}

/* Density of the wedge from which on a pixel's noise is that which skews means; 0: none. */
static double skewed_from(const meaning *m) {
    const ww_scanner_channel *c = &m->scanner->channel[m->channel];
    const double limit = sqrt(2.0 * skew_told / log(10.0));
    double from = 0.0;
    for (size_t i = 0; i < c->n_points && ww_scanner_noise_at(c, c->point[i].density) > limit; i++)
        from = c->point[i].density;
    return from;
}

/* The mean of a logarithm is off that of the mean by ln 10 / 2 sd^2, and by other amounts where
 * the end of the calibration cuts the noise. */
static ww_status note_skew(const job *j, ww_scan_densities *d, ww_error *err) {
    const meaning *worst = NULL;
    char from[32];
    for (size_t c = 0; c < j->picture->channels; c++) {
        const meaning *m = &j->meaning[c];
        if (skewed_from(m) > 0.0 && (!worst || skewed_from(m) < skewed_from(worst)))
            worst = m;
    }
    if (!worst)
        return WW_OK;
    return ww_notes_add(&d->notes, err,
                        "From %s D (%s) on noise of a pixel is 0.07 D and more: there means of "
                        "many pixels of this file are off by 0.005 D and more beside the trust, "
                        "for a logarithm skews noise, and the calibration's end cuts it. Take "
                        "means of the scan's codes, as `measure` does.",
                        ww_number_format(skewed_from(worst), 2, from, sizeof from),
                        ww_channel_name(worst->channel));
}

static counts count_of(const job *j, size_t c) {
    counts all = {.denser = 0};
    for (size_t i = 0; i < WW__THREADS_MOST; i++)
        add(&all, &j->count[i][c]);
    return all;
}

static double share_of(const job *j, size_t pixels) {
    return (double)pixels / ((double)j->picture->width * (double)j->picture->height);
}

static void report_channel(const job *j, size_t c, ww_scan_densities *d) {
    const meaning *m = &j->meaning[c];
    const counts count = count_of(j, c);
    const ww_quantity thin = quantity_of(m, m->lightest), dense = quantity_of(m, m->darkest);
    d->channel[m->channel] = (ww_scan_densities_channel){.present = true,
                                                         .thin = thin.value,
                                                         .dense = dense.value,
                                                         .wedge = wedge_end(m),
                                                         .thin_doubt = thin.high - thin.value,
                                                         .dense_doubt = dense.high - dense.value,
                                                         .thinner = share_of(j, count.thinner),
                                                         .denser = share_of(j, count.denser)};
}

/* Nothing on a glass is lighter than open light; the channel that shows most of it is told. */
static ww_status note_lighter(const job *j, ww_scan_densities *d, ww_error *err) {
    size_t most = 0, at = 0;
    char words[WW__SURROUND_WORDS], percent[32];
    for (size_t c = 0; c < j->picture->channels; c++) {
        const counts count = count_of(j, c);
        if (count.lighter > most) {
            most = count.lighter;
            at = c;
        }
    }
    const meaning *m = &j->meaning[at];
    const double share = share_of(j, most);
    if (share < told_from || !ww__surround_below_0(m->scanner, (int)m->channel,
                                                   nextafter(m->open_until, HUGE_VAL), words))
        return WW_OK;
    d->off = true;
    return ww_notes_add(&d->notes, err, "%s %% of pixels (%s) are %s",
                        ww__fault_percent(share, percent, sizeof percent),
                        ww_channel_name(m->channel), words);
}

/* Each sample of a channel may be none: then the file would tell nothing. */
static ww_status check_no_light(const job *j, size_t c, const ww__no_light *none, ww_error *err) {
    char words[WW__NO_LIGHT_WORDS];
    if (share_of(j, none->n) < 1.0)
        return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, j->picture->file, 0,
                           "its %s holds no light at all: %s; see which program left them, and "
                           "export the scan anew",
                           ww_channel_name(j->meaning[c].channel),
                           ww__no_light_words(none, j->picture, "", words));
}

static ww_status note_no_light(const job *j, ww_scan_densities *d, ww_error *err) {
    char words[WW__NO_LIGHT_WORDS], nans[64] = "";
    ww__no_light all = {0, 0, 0, 0.0};
    ww_status status = WW_OK;
    for (size_t c = 0; c < j->picture->channels && status == WW_OK; c++) {
        const counts count = count_of(j, c);
        status = check_no_light(j, c, &count.none, err);
        d->no_light = fmax(d->no_light, share_of(j, count.none.n));
        ww__no_light_join(&all, &count.none);
    }
    if (all.n == 0 || status != WW_OK)
        return status;
    if (all.nans > 0)
        snprintf(nans, sizeof nans, ", but NaN at %zu, where no number stood", all.nans);
    return ww_notes_add(&d->notes, err,
                        "%s. The file has the density of the calibration's end there%s. See which "
                        "program left them, export anew, or retouch there.",
                        ww__no_light_words(&all, j->picture, "", words), nans);
}

/* Whether the scan was made as the wedge was: it may show that it was not, or that it may be. */
static ww_status note_settings(const job *j, const ww_scanner *scanner, ww_scan_densities *d,
                               ww_error *err) {
    bool open = true;
    ww_status status = WW_OK;
    if (scanner->misfit) {
        d->off = true;
        return ww_notes_add(&d->notes, err, WW__DENSITY_MISFIT);
    }
    status = note_lighter(j, d, err);
    for (size_t c = 0; c < j->picture->channels; c++)
        open = open && share_of(j, count_of(j, c).open) >= told_from;
    return status != WW_OK || d->off
               ? status
               : ww__settings_pixels_note(open, j->picture->profile, scanner, &d->notes, err);
}

static ww_status report(const job *j, const ww_scanner *scanner, ww_scan_densities *d,
                        ww_error *err) {
    ww_status status = WW_OK;
    d->scaled = j->picture->sample != WW_SAMPLE_FLOAT;
    if (j->picture->file)
        status = ww__readings_text_copy(j->picture->file, &d->file, err);
    if (status == WW_OK)
        status = ww_notes_copy(&j->picture->notes, &d->notes, err);
    if (status == WW_OK)
        status = note_settings(j, scanner, d, err);
    if (status == WW_OK)
        status = note_no_light(j, d, err);
    for (size_t c = 0; c < j->picture->channels; c++)
        report_channel(j, c, d);
    if (status == WW_OK)
        status = note_skew(j, d, err);
    if (status == WW_OK)
        status = ww__measure_profile_note(j->picture, scanner, &d->notes, err);
    if (status == WW_OK && j->picture->profile)
        status = ww_notes_add(&d->notes, err,
                              "The colour profile '%.80s' is left out: densities are no colours "
                              "of its space. The resolution is kept.",
                              j->picture->profile);
    return status;
}

static ww_status check_range(const job *j, ww_error *err) {
    ww__picture_range all = WW__PICTURE_RANGE_INIT;
    for (size_t i = 0; i < WW__THREADS_MOST; i++)
        ww__picture_range_join(&all, &j->range[i]);
    return ww__picture_range_check(&all, j->picture, err);
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
        status =
            ww__bands_map(&picture, 1, picture->channels * ww__picture_sample_bytes(form.sample),
                          map, j, sink, err);
    if (status == WW_OK)
        status = check_range(j, err);
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
