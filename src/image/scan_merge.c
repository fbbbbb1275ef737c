/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include "image/bands.h"
#include "image/measure.h"
#include "image/merge_notes.h"
#include "image/merge_rows.h"
#include "image/merge_shift.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/scan_merge.h>

enum { PLACES_LEAST = 40, BANDS_MOST = 24 * 1024 * 1024, PART_ROWS = 16 };
static const double normal_95 = 1.959963984540054;

void ww_scan_merge_release(ww_scan_merge *merge) {
    if (!merge)
        return;
    ww_notes_release(&merge->notes);
    *merge = (ww_scan_merge)WW_SCAN_MERGE_INIT;
}

static ww_channel channel_of(const ww_picture *picture, size_t c) {
    return picture->channels == 1 ? WW_VISUAL : (ww_channel)(WW_RED + (int)c);
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
            return ww__merge_refuse_overlap(j->a, j->b, channel_of(j->a, c), j->blocks[c].n,
                                            j->blocks[c].seen, err);
        if (j->merge.longer_first)
            ww__merge_blocks_swap(&j->blocks[c]);
    }
    return WW_OK;
}

static ww__merge_noise noise_of(const job *j, ww_channel channel, ww__merge_blocks *blocks,
                                double ratio) {
    const double step = j->light.kind == WW_SAMPLE_FLOAT ? 0.0 : 1.0 / j->light.white;
    if (!j->scanner)
        return ww__merge_noise_fit(blocks, ratio, 0.0, fmax(step * step / 12.0, 1e-20));
    const ww_scanner_noise *known = &j->scanner->channel[channel].noise;
    return (ww__merge_noise){fmax(known->read * known->read, step * step / 12.0),
                             known->shot * known->shot};
}

static void fill_gains(ww_scan_merge_channel *channel, const ww__merge_noise *noise) {
    static const double below[WW_SCAN_MERGE_GAINS] = {0.5, 1.0, 2.0, 3.0};
    const double r = channel->ratio.value;
    for (size_t i = 0; i < WW_SCAN_MERGE_GAINS; i++) {
        const double light = pow(10.0, -below[i]), in_density = 1.0 / (light * log(10.0));
        const double v_s = ww__merge_noise_of(noise, light);
        const double v_l = ww__merge_noise_of(noise, r * light) / (r * r);
        const double clips = WW__MERGE_CLIPPED;
        const double w =
            v_s / (v_s + v_l) * ww__merge_rule_fade(r * light + channel->offset, clips);
        channel->gain[i] =
            (ww_scan_merge_gain){below[i], sqrt(v_s) * in_density,
                                 sqrt((1.0 - w) * (1.0 - w) * v_s + w * w * v_l) * in_density};
    }
}

/* Noise gives the line its weights, and the line's ratio the noise: twice is enough. */
static ww_status measure_channel(job *j, size_t c, ww_error *err) {
    const ww_channel channel = channel_of(j->a, c);
    ww__merge_blocks *blocks = &j->blocks[c];
    ww_scan_merge_channel *out = &j->merge.channel[channel];
    const double dark = dark_of(j->scanner, channel);
    ww__merge_noise noise = {0.0, 0.0};
    ww__merge_line line = {.ratio = 1.0};
    ww_status status = ww__merge_line_start(blocks, &line.ratio, err);
    for (int round = 0; round < 2 && status == WW_OK; round++) {
        noise = noise_of(j, channel, blocks, line.ratio);
        status = ww__merge_line_fit(blocks, &noise, dark, &line, err);
    }
    if (status != WW_OK)
        return status;
    if (!j->scanner)
        noise = noise_of(j, channel, blocks, line.ratio);
    *out = (ww_scan_merge_channel){.present = true,
                                   .ratio = {line.ratio, line.ratio - normal_95 * line.sd,
                                             line.ratio + normal_95 * line.sd, WW_MEASURED},
                                   .offset = line.offset,
                                   .places = blocks->n,
                                   .read = sqrt(noise.read),
                                   .shot = sqrt(noise.shot)};
    fill_gains(out, &noise);
    return ww__merge_note_line(&j->merge, channel, &line, err);
}

static ww_status measure_shift(job *j, ww_error *err) {
    ww__merge_place place[WW__MERGE_PLACES];
    ww_scan_merge_shift *shift = &j->merge.shift;
    const ww_picture *longer = j->merge.longer_first ? j->a : j->b;
    const ww_picture *shorter = j->merge.longer_first ? j->b : j->a;
    const size_t channel = j->a->channels / 2;
    const ww__merge_place *worst = NULL;
    const ww_status status = ww__merge_shift_find(shorter, longer, channel, place, err);
    for (size_t i = 0; i < WW__MERGE_PLACES && status == WW_OK; i++) {
        const ww__merge_place *p = &place[i];
        if (!p->known)
            continue;
        shift->places++;
        if (!worst || hypot(p->right, p->down) > hypot(worst->right, worst->down))
            worst = p;
    }
    if (status != WW_OK || !worst)
        return status;
    shift->x = worst->right;
    shift->y = worst->down;
    return hypot(shift->x, shift->y) > 1.0 ? ww__merge_refuse_shift(longer, worst, err) : WW_OK;
}

static ww_status measure(job *j, ww_error *err) {
    ww_status status = ww__merge_light_new(j->a, j->scanner, &j->light, err);
    if (status == WW_OK)
        status = ww__merge_blocks_read(j->a, j->b, &j->light, j->blocks, err);
    if (status == WW_OK)
        status = order_exposures(j, err);
    if (status == WW_OK)
        status = measure_shift(j, err);
    for (size_t c = 0; c < j->a->channels && status == WW_OK; c++)
        status = measure_channel(j, c, err);
    return status == WW_OK ? ww__merge_note(&j->merge, j->a, j->scanner, err) : status;
}

ww_status ww_scan_merge_measure(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                                ww_scan_merge *merge, ww_error *err) {
    assert(a && b && merge);
    job j = {.a = a, .b = b, .scanner = scanner, .merge = {.noise_measured = !scanner}};
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

ww_picture_form ww_scan_merge_form(const ww_picture *picture) {
    assert(picture);
    return (ww_picture_form){.width = picture->width,
                             .height = picture->height,
                             .channels = picture->channels,
                             .sample = picture->sample == WW_SAMPLE_FLOAT ? WW_SAMPLE_FLOAT
                                                                          : WW_SAMPLE_16,
                             .px_per_mm_x = picture->px_per_mm_x,
                             .px_per_mm_y = picture->px_per_mm_y,
                             .icc = picture->icc,
                             .n_icc = picture->n_icc};
}

/* A band of both scans, and what becomes of it. Parts of PART_ROWS rows are mixed side by side. */
typedef struct band {
    const ww__merge_rows *rows;
    size_t width, n;            /* n rows */
    size_t in_bytes, out_bytes; /* of a row */
    unsigned char *shorter, *longer, *merged;
    ww__merge_count count[WW__THREADS_MOST];
} band;

static ww_status mix_part(size_t item, size_t worker, void *context, ww_error *err) {
    band *b = context;
    const size_t from = item * PART_ROWS, n = b->n - from < PART_ROWS ? b->n - from : PART_ROWS;
    (void)err;
    ww__merge_rows_mix(b->rows, b->shorter + from * b->in_bytes, b->longer + from * b->in_bytes,
                       n * b->width, b->merged + from * b->out_bytes, &b->count[worker]);
    return WW_OK;
}

static ww_status run(const ww_picture *shorter, const ww_picture *longer, const ww_picture *told,
                     size_t most, band *b, ww_row_sink sink, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t y = 0; y < shorter->height && status == WW_OK; y += most) {
        b->n = shorter->height - y < most ? shorter->height - y : most;
        const ww_region region = {0, y, shorter->width, b->n};
        status = ww__bands_read(shorter, region, b->shorter, err);
        if (status == WW_OK)
            status = ww__bands_read(longer, region, b->longer, err);
        if (status == WW_OK)
            status = ww__threads_for((b->n + PART_ROWS - 1) / PART_ROWS, 0, mix_part, b, err);
        if (status == WW_OK)
            status = sink.take(sink.context, b->merged, b->n, err);
        if (status == WW_OK && told->progress)
            told->progress(told->progress_context, (double)(y + b->n) / (double)shorter->height);
    }
    return status;
}

static void fill_shares(const band *b, const ww_picture *picture, ww_scan_merge *merge) {
    const double all = (double)picture->width * (double)picture->height;
    for (size_t c = 0; c < picture->channels; c++) {
        ww_scan_merge_channel *out = &merge->channel[channel_of(picture, c)];
        double shorter = 0.0, blended = 0.0;
        for (size_t i = 0; i < WW__THREADS_MOST; i++) {
            shorter += (double)b->count[i].shorter[c];
            blended += (double)b->count[i].blended[c];
        }
        out->shorter = shorter / all;
        out->blended = blended / all;
        out->longer = 1.0 - out->shorter - out->blended;
    }
}

static void fill_rules(const ww_picture *picture, const ww_scanner *scanner,
                       const ww_scan_merge *merge, ww__merge_rule rule[WW__MERGE_CHANNELS]) {
    for (size_t c = 0; c < picture->channels; c++) {
        const ww_channel name = channel_of(picture, c);
        const ww_scan_merge_channel *m = &merge->channel[name];
        rule[c] = (ww__merge_rule){m->ratio.value,
                                   m->offset,
                                   dark_of(scanner, name),
                                   {m->read * m->read, m->shot * m->shot}};
    }
}

static ww_status merge_bands(const ww_picture *a, const ww_picture *b, const ww__merge_rows *rows,
                             ww_scan_merge *merge, ww_row_sink sink, ww_error *err) {
    const ww_picture *both[] = {merge->longer_first ? b : a, merge->longer_first ? a : b};
    const ww_picture_form form = ww_scan_merge_form(a);
    band *made = calloc(1, sizeof *made);
    const size_t most = ww__bands_rows(both, 2, BANDS_MOST);
    ww_status status = WW_OK;
    bool room = made != NULL;
    if (room) {
        made->rows = rows;
        made->width = a->width;
        made->in_bytes = a->width * ww__bands_pixel(a);
        made->out_bytes = a->width * a->channels * ww__bands_sample(form.sample);
        made->shorter = malloc(most * made->in_bytes);
        made->longer = malloc(most * made->in_bytes);
        made->merged = malloc(most * made->out_bytes);
        room = made->shorter && made->longer && made->merged;
    }
    status = room ? run(both[0], both[1], a, most, made, sink, err)
                  : ww_error_set(err, WW_EMEMORY, "no memory to merge two scans");
    if (status == WW_OK)
        fill_shares(made, a, merge);
    if (made) {
        free(made->shorter);
        free(made->longer);
        free(made->merged);
    }
    free(made);
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
    if (status == WW_OK)
        status = ww__merge_rows_new(&light, rule, a->channels, &rows, err);
    if (status == WW_OK)
        status = merge_bands(a, b, &rows, merge, sink, err);
    ww__merge_rows_release(&rows);
    ww__merge_light_release(&light);
    return status;
}
