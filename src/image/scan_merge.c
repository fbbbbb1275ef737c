/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/sizes.h"
#include "base/threads.h"
#include "core/picture.h"
#include "core/readings.h"
#include "core/scanner.h"
#include "image/bands_map.h"
#include "image/measure.h"
#include "image/merge_growth.h"
#include "image/merge_moved.h"
#include "image/merge_notes.h"
#include "image/merge_refuse.h"
#include "image/merge_rows.h"
#include "image/merge_shift.h"
#include "image/merge_slip.h"
#include "image/patch.h"
#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/scan_merge.h>

enum { PLACES_LEAST = 40, UNLIKE_LEAST = 3 };
#define DARKEST 0.01 /* share of places */

void ww_scan_merge_release(ww_scan_merge *merge) {
    if (!merge)
        return;
    free(merge->longer_file);
    free(merge->shorter_file);
    ww_notes_release(&merge->notes);
    *merge = (ww_scan_merge)WW_SCAN_MERGE_INIT;
}

/* The dark that both scans have, as far as it was measured. */
static double dark_of(const ww_scanner *scanner, ww_channel channel) {
    return scanner && scanner->dark_scan ? scanner->channel[channel].dark.value : 0.0;
}

/* -------------------------------------------------------------------------------------- measure */

/* Two pictures and what is known of them. */
typedef struct job {
    const ww_picture *a, *b;
    const ww_scanner *scanner;
    ww__merge_light light;
    ww__merge_blocks blocks[WW__MERGE_CHANNELS];
    ww_scan_merge merge;
} job;

static const ww_picture *longer_of(const job *j) {
    return j->merge.longer_first ? j->a : j->b;
}

static const ww_picture *shorter_of(const job *j) {
    return j->merge.longer_first ? j->b : j->a;
}

/* Both scans have been asked for their light alone; swaps a channel's so that y is the longer. */
static ww_status order_exposures(job *j, ww_error *err) {
    double x = 0.0, y = 0.0;
    for (size_t c = 0; c < j->a->channels; c++)
        for (size_t i = 0; i < j->blocks[c].n; i++) {
            x += j->blocks[c].block[i].x;
            y += j->blocks[c].block[i].y;
        }
    j->merge.longer_first = x > y;
    for (size_t c = 0; c < j->a->channels; c++) {
        if (j->blocks[c].n < PLACES_LEAST)
            return ww__merge_refuse_overlap(j->a, j->b, ww__patch_channel(j->a, c), j->blocks[c].n,
                                            j->blocks[c].seen, PLACES_LEAST, err);
        if (j->merge.longer_first)
            ww__merge_blocks_swap(&j->blocks[c]);
    }
    return WW_OK;
}

static ww__merge_noise noise_of(const job *j, ww_channel channel, ww__merge_blocks *blocks,
                                double ratio, bool amplified) {
    static const ww_scanner_noise none = {0.0, 0.0, 0.0};
    const double white = j->light.kind == WW_SAMPLE_FLOAT ? 1.0 : j->light.white;
    if (!j->scanner)
        return ww__merge_noise_fit(blocks, ratio, 0.0, fmax(ww__merged_read(&none, white), 1e-20),
                                   amplified);
    const ww_scanner_noise *known = &j->scanner->channel[channel].noise;
    return (ww__merge_noise){ww__merged_read(known, white), known->shot * known->shot};
}

/* In the shorter scan, by tenths: what a hundredth of the places reach, as fewer may be dust. */
static double darkest_of(const ww__merge_blocks *blocks, double dark) {
    size_t count[WW_SCAN_MERGE_GAINS] = {0}, i = WW_SCAN_MERGE_GAINS - 1;
    for (size_t b = 0; b < blocks->n; b++) {
        const double below = -10.0 * log10(fmax(blocks->block[b].x - dark, DBL_MIN));
        count[(size_t)fmin(fmax(below, 0.0), WW_SCAN_MERGE_GAINS - 1)]++;
    }
    size_t as_dark = count[i];
    while (i > 0 && (double)as_dark < DARKEST * (double)blocks->n)
        as_dark += count[--i];
    return (double)i / 10.0;
}

/* `clips`: light from which on the longer one says nothing. `fixed`: noise that is the same share
 * of light in both, pixel by pixel, which no mean makes less. */
static void fill_gains(ww_scan_merge_channel *channel, const ww__merge_noise *noise, double fixed,
                       double clips) {
    const double r = channel->ratio.value;
    const ww__merge_noise longer =
        ww__merge_noise_longer(noise, r, channel->flaw == WW_SCAN_MERGE_AMPLIFIED);
    const ww__merge_rule beyond_dark = {r, 0.0, 0.0, *noise, longer};
    for (size_t i = 0; i < WW_SCAN_MERGE_GAINS; i++) {
        const double below = (double)i / 10.0;
        const double light = pow(10.0, -below), in_density = 1.0 / (light * log(10.0));
        const double v_s = ww__merge_noise_of(noise, light);
        const double v_l = ww__merge_noise_of(&longer, r * light) / (r * r);
        const double v_f = fixed * fixed * light * light;
        const double w = ww__merge_rule_weight(&beyond_dark, r * light) *
                         ww__merged_fade(r * light + channel->offset, clips);
        channel->gain[i] = (ww_scan_merge_gain){
            below, sqrt(v_s + v_f) * in_density,
            sqrt((1.0 - w) * (1.0 - w) * v_s + w * w * v_l + v_f) * in_density};
    }
}

/* Whether a hundredth of the places is surely darker than the scanner's own black, which no scan
 * of these settings is. */
static bool is_blacker(const job *j, ww_channel channel, const ww__merge_blocks *blocks) {
    enum { SURELY = 5 }; /* sd of a mean */
    size_t n = 0;
    if (!j->scanner->dark_scan)
        return false;
    const ww_scanner_channel *known = &j->scanner->channel[channel];
    const double least = known->dark.low - SURELY * known->noise.read / sqrt(WW__MERGE_PIXELS) -
                         ww__merge_light_step(&j->light, known->dark.low);
    for (size_t i = 0; i < blocks->n; i++)
        n += blocks->block[i].x < least;
    return (double)n > DARKEST * (double)blocks->n;
}

/* What noise and black say of the exposures. */
static ww__merge_kind kind_of(const job *j, ww_channel channel, ww__merge_blocks *blocks,
                              double ratio, double off, double dark) {
    const ww_scan_merge_shift *shift = &j->merge.shift;
    const bool decoded = j->scanner && ww__scanner_is_encoded(j->scanner);
    if (decoded && !j->a->gamma.set && is_blacker(j, channel, blocks))
        return WW__MERGE_BLACKER;
    const ww__merge_growth growth = ww__merge_growth_find(
        blocks, &j->light, ratio, off, dark, shift->places > 0 ? hypot(shift->x, shift->y) : -1.0);
    return ww__merge_growth_says(&growth, !decoded, decoded && !j->a->gamma.set);
}

/* Noise gives the line its weights, and the line's ratio the noise: twice is enough. */
static ww_status measure_channel(job *j, size_t c, ww_error *err) {
    const ww_channel channel = ww__patch_channel(j->a, c);
    ww__merge_blocks *blocks = &j->blocks[c];
    ww_scan_merge_channel *out = &j->merge.channel[channel];
    const double dark = dark_of(j->scanner, channel);
    ww__merge_noise noise = {0.0, 0.0};
    ww__merge_line line = {.ratio = 1.0};
    ww_status status = ww__merge_line_start(blocks, &line.ratio, err);
    for (int round = 0; round < 2 && status == WW_OK; round++) {
        noise = noise_of(j, channel, blocks, line.ratio, false);
        status = ww__merge_line_fit(blocks, &j->light, &noise, dark, &line, err);
    }
    if (status != WW_OK)
        return status;
    const double doubt = hypot(WW__SCANNER_95 * line.sd, line.bent * line.ratio);
    /* Through a dark that nobody measured, the ratio is as far off as that. */
    const bool guessed = line.through_dark && !(j->scanner && j->scanner->dark_scan);
    const ww__merge_kind kind =
        kind_of(j, channel, blocks, line.ratio, guessed ? HUGE_VAL : doubt, dark);
    noise = noise_of(j, channel, blocks, line.ratio, kind == WW__MERGE_AMPLIFIED);
    const ww_quantity ratio = {line.ratio, line.ratio - doubt, line.ratio + doubt, WW_MEASURED};
    *out = (ww_scan_merge_channel){
        .present = true,
        .flaw = ww__merge_flaw(kind, &line),
        .ratio = ratio,
        .stops = {log2(ratio.value), log2(fmax(ratio.low, DBL_MIN)), log2(ratio.high), WW_MEASURED},
        .offset = line.offset,
        .darkest = darkest_of(blocks, dark),
        .places = blocks->n,
        .read = sqrt(noise.read),
        .shot = sqrt(noise.shot)};
    fill_gains(out, &noise, j->scanner ? j->scanner->channel[channel].noise.fixed : 0.0,
               ww__merge_light_of(&j->light, j->light.clips));
    status = ww__merge_note_noise(&j->merge, longer_of(j), shorter_of(j), channel, kind, err);
    return status == WW_OK ? ww__merge_note_line(&j->merge, channel, &line, err) : status;
}

static ww_status measure_shift(job *j, ww_error *err) {
    ww__merge_place place[WW__MERGE_PLACES];
    ww_scan_merge_shift *shift = &j->merge.shift;
    const ww_picture *longer = longer_of(j), *shorter = shorter_of(j);
    const size_t channel = j->a->channels / 2;
    const ww__merge_place *worst = NULL;
    size_t apart = 0;
    const ww_status status =
        ww__merge_shift_find(shorter, longer, channel, j->light.clips, place, err);
    if (status != WW_OK)
        return status;
    for (size_t i = 0; i < WW__MERGE_PLACES; i++) {
        shift->places += place[i].known;
        apart += place[i].apart && !place[i].known;
    }
    /* What moved in part is apart at few places; what is turned or scaled, at most. */
    const size_t whole = apart > shift->places ? apart : 0;
    for (size_t i = 0; i < WW__MERGE_PLACES; i++) {
        const ww__merge_place *p = &place[i];
        const bool matches = p->known || (whole > 0 && p->apart);
        shift->unlike += p->unlike || (p->apart && !matches);
        if (matches && (!worst || hypot(p->right, p->down) > hypot(worst->right, worst->down)))
            worst = p;
    }
    if (shift->unlike >= UNLIKE_LEAST && shift->unlike > shift->places + whole)
        return ww__merge_refuse_unlike(longer, shorter, shift->unlike, err);
    if (!worst)
        return WW_OK;
    shift->x = worst->right;
    shift->y = worst->down;
    shift->middle = shift->places == 1 && place[WW__MERGE_PLACES / 2].known;
    return hypot(shift->x, shift->y) > 1.0 ? ww__merge_refuse_shift(longer, place, worst, err)
                                           : WW_OK;
}

/* Which is which, and what their files said. */
static ww_status name_them(job *j, ww_error *err) {
    const ww_picture *longer = longer_of(j), *shorter = shorter_of(j);
    ww_status status = WW_OK;
    j->merge.real = ww_picture_form_of(j->a).sample == WW_SAMPLE_FLOAT;
    if (longer->file)
        status = ww__readings_text_copy(longer->file, &j->merge.longer_file, err);
    if (status == WW_OK && shorter->file)
        status = ww__readings_text_copy(shorter->file, &j->merge.shorter_file, err);
    if (status == WW_OK)
        status = ww_notes_copy(&longer->notes, &j->merge.notes, err);
    if (status == WW_OK)
        status = ww_notes_copy(&shorter->notes, &j->merge.notes, err);
    if (status == WW_OK)
        status = ww__merge_note_resolution(&j->merge, shorter, longer, err);
    return status == WW_OK ? ww__measure_profile_note(j->a, j->scanner, &j->merge.notes, err)
                           : status;
}

static ww_status measure(job *j, ww_error *err) {
    ww_status status = ww__merge_light_new(j->a, j->scanner, &j->light, err);
    if (status == WW_OK)
        status = ww__merge_blocks_read(j->a, j->b, &j->light, j->blocks, err);
    j->merge.clips = j->light.clips / j->a->white;
    if (status == WW_OK)
        status = order_exposures(j, err);
    if (status == WW_OK)
        status = measure_shift(j, err);
    if (status == WW_OK)
        status = name_them(j, err);
    for (size_t c = 0; c < j->a->channels && status == WW_OK; c++)
        status = measure_channel(j, c, err);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        j->merge.holds = j->merge.holds && j->merge.channel[c].flaw == WW_SCAN_MERGE_SOUND;
    return status == WW_OK ? ww__merge_note(&j->merge, j->a, j->scanner, err) : status;
}

ww_status ww_scan_merge_measure(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                                ww_scan_merge *merge, ww_error *err) {
    assert(a && b && merge);
    job j = {.a = a,
             .b = b,
             .scanner = scanner,
             .merge = {.taken_as_light = !scanner && !a->gamma.set,
                       .noise_measured = !scanner,
                       .holds = true}};
    ww_status status = ww__merge_check(a, b, scanner, err);
    if (status == WW_OK)
        status = measure(&j, err);
    ww__merge_blocks_release(j.blocks);
    ww__merge_light_release(&j.light);
    if (status == WW_OK)
        *merge = j.merge;
    else
        ww_scan_merge_release(&j.merge);
    return status;
}

/* ----------------------------------------------------------------------------------------- rows */

typedef struct mixing {
    const ww__merge_rows *rows;
    ww__merge_map map;
    ww__merge_slips slips;
    ww_row_sink sink;
    size_t width;
    ww__merge_count count[WW__THREADS_MOST];
} mixing;

static void mix(const void *const pixel[], size_t row, size_t n, void *made, size_t worker,
                void *context) {
    mixing *m = context;
    ww__merge_rows_mix(m->rows, pixel[0], pixel[1], n, made, &m->count[worker]);
    ww__merge_map_add(&m->map, m->rows, pixel[0], pixel[1], row, n / m->width, m->width, worker);
    ww__merge_slips_add(&m->slips, m->rows, pixel[0], pixel[1], row, n / m->width, m->width);
}

/* A band is merged. */
static ww_status take(void *context, const void *rows, size_t n, ww_error *err) {
    mixing *m = context;
    ww__merge_slips_next(&m->slips, n);
    return m->sink.take(m->sink.context, rows, n, err);
}

static void fill_shares(const mixing *m, const ww_picture *picture, ww_scan_merge *merge) {
    const double all = (double)picture->width * (double)picture->height;
    for (size_t c = 0; c < picture->channels; c++) {
        ww_scan_merge_channel *out = &merge->channel[ww__patch_channel(picture, c)];
        double shorter = 0.0, blended = 0.0;
        for (size_t i = 0; i < WW__THREADS_MOST; i++) {
            shorter += (double)m->count[i].shorter[c];
            blended += (double)m->count[i].blended[c];
        }
        out->shorter = shorter / all;
        out->blended = blended / all;
        out->longer = 1.0 - out->shorter - out->blended;
    }
}

static void fill_rules(const ww_picture *picture, const ww_scanner *scanner,
                       const ww_scan_merge *merge, ww__merge_rule rule[WW__MERGE_CHANNELS]) {
    for (size_t c = 0; c < picture->channels; c++) {
        const ww_channel name = ww__patch_channel(picture, c);
        const ww_scan_merge_channel *m = &merge->channel[name];
        const ww__merge_noise noise = {m->read * m->read, m->shot * m->shot};
        rule[c] = (ww__merge_rule){
            m->ratio.value, m->offset, dark_of(scanner, name), noise,
            ww__merge_noise_longer(&noise, m->ratio.value, m->flaw == WW_SCAN_MERGE_AMPLIFIED)};
    }
}

static ww_status merge_bands(const ww_picture *a, const ww_picture *b, const ww__merge_rows *rows,
                             ww_scan_merge *merge, ww_row_sink sink, ww_error *err) {
    const ww_picture *both[] = {merge->longer_first ? b : a, merge->longer_first ? a : b};
    const size_t sample = ww__picture_sample_bytes(ww_picture_form_of(a).sample);
    mixing *m = calloc(1, sizeof *m);
    ww__merge_differing worst[WW__MERGE_MOVED_WORST];
    ww_status status;
    if (!m)
        return ww_error_set(err, WW_EMEMORY, "no memory to merge two scans");
    m->rows = rows;
    m->width = a->width;
    m->sink = sink;
    status = ww__merge_map_new(a, &m->map, err);
    if (status == WW_OK)
        status = ww__merge_slips_new(a, &m->slips, err);
    if (status == WW_OK)
        status = ww__bands_map(both, 2, a->channels * sample, mix, m, (ww_row_sink){take, m}, err);
    if (status == WW_OK)
        status =
            ww__merge_map_differ(&m->map, rows, &merge->differ, worst, WW__MERGE_MOVED_WORST, err);
    if (status == WW_OK)
        status =
            ww__merge_moved_refuse(both[0], both[1], rows, &m->slips, worst,
                                   ww__least(merge->differ.places, WW__MERGE_MOVED_WORST), err);
    if (status == WW_OK)
        status = ww__merge_note_differ(merge, err);
    if (status == WW_OK)
        fill_shares(m, a, merge);
    ww__merge_map_release(&m->map);
    ww__merge_slips_release(&m->slips);
    free(m);
    return status;
}

ww_status ww_scan_merge_rows(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                             ww_scan_merge *merge, ww_row_sink sink, ww_error *err) {
    assert(a && b && merge && sink.take);
    ww__merge_rule rule[WW__MERGE_CHANNELS];
    ww__merge_light light = WW__MERGE_LIGHT_INIT;
    ww__merge_rows rows = WW__MERGE_ROWS_INIT;
    fill_rules(a, scanner, merge, rule);
    ww_status status = ww__merge_light_new(a, scanner, &light, err);
    light.clips = merge->clips * a->white;
    if (status == WW_OK)
        status = ww__merge_rows_new(&light, rule, a->channels, &rows, err);
    if (status == WW_OK)
        status = merge_bands(a, b, &rows, merge, sink, err);
    ww__merge_rows_release(&rows);
    ww__merge_light_release(&light);
    return status;
}
