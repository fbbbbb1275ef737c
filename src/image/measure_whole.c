/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include "core/picture.h"
#include "core/readings.h"
#include "core/scanner.h"
#include "core/scanner_steps.h"
#include "image/density.h"
#include "image/measure.h"
#include "image/measure_notes.h"
#include "image/patch.h"
#include "image/patch_step.h"
#include "image/settings.h"
#include "image/surround.h"
#include "image/tally.h"
#include "image/whole_bins.h"
#include "image/whole_step.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/number.h>

/* Thousandths of the pixels; 0 and 1000 are the least and the greatest code themselves. */
static const unsigned shares[WW_WHOLE_COUNT] = {
    [WW_WHOLE_MIN] = 0,   [WW_WHOLE_P0_1] = 1,    [WW_WHOLE_P1] = 10,   [WW_WHOLE_MEDIAN] = 500,
    [WW_WHOLE_P99] = 990, [WW_WHOLE_P99_9] = 999, [WW_WHOLE_MAX] = 1000};

/* From where on clipped pixels, and pixels beyond the scanner's wedge, are worth a note. */
static const double worth_note = 0.001;

typedef struct counting {
    const ww_picture *picture;
    ww_region region;
    ww__tally *tally; /* one a worker, made when it is needed */
    size_t workers;
} counting;

static ww_status count_block(const ww_block *block, size_t worker, void *context, ww_error *err) {
    const counting *count = context;
    ww__tally *tally = &count->tally[worker];
    ww_status status = WW_OK;
    if (tally->channels == 0)
        status = ww__tally_new(count->picture->sample, count->picture->channels, tally, err);
    if (status == WW_OK)
        status = ww__tally_block(tally, block, &count->region, err);
    return status;
}

/* All workers' counts, in those of the first. */
static ww_status gather(const counting *count, ww_error *err) {
    ww__tally *all = &count->tally[0];
    ww_status status = WW_OK;
    if (all->channels == 0)
        status = ww__tally_new(count->picture->sample, count->picture->channels, all, err);
    for (size_t w = 0; w < count->workers && status == WW_OK; w++) {
        ww__tally *tally = &count->tally[w];
        status = ww__tally_finish(tally, err);
        for (size_t c = 0; w > 0 && c < tally->channels && status == WW_OK; c++)
            status = ww__histogram_merge(&tally->histogram[c], &all->histogram[c], err);
    }
    return status;
}

/* -------------------------------------------------------------------------------- results */

/* Steps of the codes: that which all lie on, and those about each percentile of each channel. */
typedef struct grid {
    double common;
    double step[WW_CHANNEL_COUNT][WW_WHOLE_COUNT];
} grid;

static void find_grid(const counting *count, grid *g) {
    const ww__histogram *h = count->tally[0].histogram;
    g->common = ww__patch_step(h, count->picture->channels);
    for (size_t c = 0; c < count->picture->channels; c++)
        if (h[c].n > 0)
            ww__whole_steps(&h[c], g->common, shares, WW_WHOLE_COUNT,
                            g->step[ww__patch_channel(count->picture, c)]);
}

static ww_status describe(const ww__histogram *h, const ww_picture *picture,
                          const ww_scanner *scanner, ww_channel channel, const grid *g,
                          ww_whole *whole, ww_error *err) {
    if (h->n == 0)
        return ww_error_set_at(err, WW_ENODATA, picture->file, 0,
                               "%s has no pixel that is a number; export the scan anew",
                               ww_channel_name(channel));
    for (size_t i = 0; i < WW_WHOLE_COUNT; i++) {
        double *code = &whole->code[channel][i];
        *code = i == WW_WHOLE_MIN   ? ww__histogram_least(h)
                : i == WW_WHOLE_MAX ? ww__histogram_greatest(h)
                                    : ww__histogram_quantile(h, shares[i]);
        if (scanner)
            ww__density_of_pixel(scanner, channel, *code,
                                 ww__scanner_steps_code(g->step[channel][i], picture->white),
                                 &whole->density[channel][i]);
    }
    const ww_status status = ww__picture_scale_check(picture, ww__histogram_quantile(h, 500), err);
    if (status != WW_OK)
        return status;
    const double end = scanner ? ww__scanner_end(scanner, channel) : picture->white;
    whole->left_out[channel] = h->strange;
    whole->mean[channel] = ww__histogram_moments_of(h, -HUGE_VAL, HUGE_VAL).mean;
    whole->clipped_low[channel] = ww__histogram_share(h, -HUGE_VAL, 0.0);
    whole->clipped_high[channel] = ww__histogram_share(h, end, HUGE_VAL);
    whole->has[channel] = true;
    return WW_OK;
}

static void worse(double share, ww_channel channel, double *worst, ww_channel *where) {
    if (share > *worst) {
        *worst = share;
        *where = channel;
    }
}

static ww_status note_steps(ww_whole *whole, const grid *g, ww_error *err) {
    double worst = 0.0;
    ww_channel where = WW_RED;
    char who[40];
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        for (int i = 0; whole->has[c] && i < WW_WHOLE_COUNT; i++)
            worse(g->step[c][i], (ww_channel)c, &worst, &where);
    snprintf(who, sizeof who, "The scan (%s)", ww_channel_name(where));
    return ww__measure_step_note(who, whole->bits, whole->white, g->common, worst, &whole->notes,
                                 err);
}

static ww_status note(ww_whole *whole, double share, ww_channel channel, const char *what,
                      ww_error *err) {
    char percent[32];
    if (!(share > worth_note))
        return WW_OK;
    ww_number_format(100.0 * share, share < 0.0995 ? 1 : 0, percent, sizeof percent);
    return ww_notes_add(&whole->notes, err, "%s %% of the pixels (%s) %s", percent,
                        ww_channel_name(channel), what);
}

/* No density keeps a doubt that it could be trusted by. */
static void put_off(ww_whole *whole) {
    whole->off = true;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        for (int i = 0; i < WW_WHOLE_COUNT; i++)
            whole->density[c][i].sd = (ww_optional){false, 0.0};
}

/* A percentile is a pixel's, which noise makes lighter; nothing on a glass is lighter still. */
static bool is_lighter(const ww_scanner *scanner, int c, double code) {
    double limit;
    const double above = ww__surround_above(scanner, c, code, &limit);
    const double noise = ww_scanner_noise_at(&scanner->channel[c], 0.0);
    return scanner->density != WW_DENSITY_REFLECTION && above > limit + WW__SURROUND_NOISE * noise;
}

static ww_status note_below_0(ww_whole *whole, const ww_scanner *scanner, ww_error *err) {
    char words[WW__SURROUND_WORDS] = "";
    int at = 0;
    bool off = false;
    for (int c = 0; c < WW_CHANNEL_COUNT && !off; c++)
        if (whole->has[c] && (ww__density_is_below_0(&whole->density[c][WW_WHOLE_P99_9]) ||
                              is_lighter(scanner, c, whole->code[c][WW_WHOLE_P99_9]))) {
            off = ww__surround_below_0(scanner, c, whole->code[c][WW_WHOLE_P99_9], words);
            at = c;
        }
    if (off)
        put_off(whole);
    return !*words ? WW_OK
                   : ww_notes_add(&whole->notes, err, "0.1 %% of the pixels or more (%s) are %s",
                                  ww_channel_name((ww_channel)at), words);
}

static ww_status note_misfit(ww_whole *whole, const ww_scanner *scanner, ww_error *err) {
    if (!scanner->misfit)
        return WW_OK;
    put_off(whole);
    return ww_notes_add(&whole->notes, err, WW__DENSITY_MISFIT);
}

static ww_status add_notes(const ww__tally *all, const ww_picture *picture,
                           const ww_scanner *scanner, ww_whole *whole, ww_error *err) {
    double low = 0.0, high = 0.0, beyond = 0.0, most = 0.0;
    ww_channel at_low = WW_RED, at_high = WW_RED, at_beyond = WW_RED;
    for (size_t c = 0; c < all->channels; c++) {
        const ww_channel channel = ww__patch_channel(picture, c);
        const ww__histogram *h = &all->histogram[c];
        most = fmax(most, whole->code[channel][WW_WHOLE_MAX]);
        worse(whole->clipped_low[channel], channel, &low, &at_low);
        worse(whole->clipped_high[channel], channel, &high, &at_high);
        if (scanner)
            worse(ww__histogram_share(
                      h, -HUGE_VAL, nextafter(scanner->channel[channel].point[0].code, -HUGE_VAL)),
                  channel, &beyond, &at_beyond);
    }
    ww_status status = ww__measure_profile_note(picture, scanner, &whole->notes, err);
    if (status == WW_OK)
        status = ww__measure_dim_note(whole->bits, whole->white, most, &whole->notes, err);
    if (status == WW_OK)
        status = note(whole, low, at_low,
                      "are clipped at code 0; scan with more exposure, or set the black "
                      "point lower",
                      err);
    if (status == WW_OK)
        status = note(whole, high, at_high,
                      "are clipped at the greatest code; scan with less exposure", err);
    if (status == WW_OK && scanner)
        status = note_misfit(whole, scanner, err);
    if (status == WW_OK && scanner)
        status = note_below_0(whole, scanner, err);
    if (status == WW_OK)
        status =
            note(whole, beyond, at_beyond,
                 "are denser than the wedge that calibrated the scanner, and have no density", err);
    if (status == WW_OK && scanner)
        status = ww__settings_whole_note(whole, picture->profile, scanner, err);
    return status;
}

static ww_status fill(const counting *count, const ww_scanner *scanner, ww_whole *whole,
                      ww_error *err) {
    const ww_picture *picture = count->picture;
    ww_status status = gather(count, err);
    whole->bits = picture->bits;
    whole->white = picture->white;
    whole->px_per_mm = ww__measure_resolution(picture);
    whole->pixels = count->region.width * count->region.height;
    whole->calibrated = scanner != NULL;
    if (status == WW_OK && picture->file)
        status = ww__readings_text_copy(picture->file, &whole->file, err);
    if (status == WW_OK && picture->profile)
        status = ww__readings_text_copy(picture->profile, &whole->profile, err);
    if (status == WW_OK)
        status = ww_notes_copy(&picture->notes, &whole->notes, err);
    grid g = {.common = 0.0};
    if (status == WW_OK)
        find_grid(count, &g);
    for (size_t c = 0; c < picture->channels && status == WW_OK; c++)
        status = describe(&count->tally[0].histogram[c], picture, scanner,
                          ww__patch_channel(picture, c), &g, whole, err);
    if (status != WW_OK)
        return status;
    ww__whole_bins_lay(whole);
    for (size_t c = 0; c < picture->channels; c++)
        ww__whole_bins_count(&count->tally[0].histogram[c], scanner, ww__patch_channel(picture, c),
                             whole);
    status = note_steps(whole, &g, err);
    return status == WW_OK ? add_notes(&count->tally[0], picture, scanner, whole, err) : status;
}

ww_status ww_measure_whole(const ww_picture *picture, const ww_measure_request *request,
                           ww_whole *whole, ww_error *err) {
    assert(picture && request && whole);
    counting count = {.picture = picture,
                      .region = {0, 0, picture->width, picture->height},
                      .workers = ww__threads_count(request->threads)};
    ww_whole made = WW_WHOLE_INIT;
    ww_status status = ww__measure_settings(picture, request->scanner, err);
    if (request->strip.width > 0)
        count.region = request->strip;
    count.tally = calloc(count.workers, sizeof *count.tally);
    if (status == WW_OK && !count.tally)
        status = ww_error_set(err, WW_EMEMORY, "no memory to count the pixels");
    if (status == WW_OK)
        status =
            ww_picture_visit(picture, &count.region, 1, request->threads, count_block, &count, err);
    if (status == WW_OK)
        status = fill(&count, request->scanner, &made, err);
    if (status == WW_OK)
        *whole = made;
    else
        ww_whole_release(&made);
    for (size_t w = 0; count.tally && w < count.workers; w++)
        ww__tally_release(&count.tally[w]);
    free(count.tally);
    return status;
}
