/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/sizes.h"
#include "base/threads.h"
#include "core/picture.h"
#include "core/readings.h"
#include "core/scanner.h"
#include "image/bands_map.h"
#include "image/measure.h"
#include "image/merge_channel.h"
#include "image/merge_moved.h"
#include "image/merge_notes.h"
#include "image/merge_refuse.h"
#include "image/merge_rows.h"
#include "image/merge_shift.h"
#include "image/merge_slip.h"
#include "image/patch.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/scan_merge.h>

enum { PLACES_LEAST = 40, UNLIKE_LEAST = 3 };

void ww_scan_merge_release(ww_scan_merge *merge) {
    if (!merge)
        return;
    free(merge->longer_file);
    free(merge->shorter_file);
    ww_notes_release(&merge->notes);
    *merge = (ww_scan_merge)WW_SCAN_MERGE_INIT;
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
    ww__merge_both both;
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
    both = (ww__merge_both){longer_of(j), shorter_of(j), j->scanner, &j->light};
    for (size_t c = 0; c < j->a->channels && status == WW_OK; c++)
        status = ww__merge_channel_measure(&both, c, &j->blocks[c], &j->merge, err);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        j->merge.holds = j->merge.holds && j->merge.channel[c].flaw == WW_SCAN_MERGE_SOUND;
    return status == WW_OK ? ww__merge_note(&j->merge, j->a, j->scanner, err) : status;
}

ww_status ww_scan_merge_measure(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                                ww_scan_merge *merge, ww_error *err) {
    assert(a && b && merge);
    job j = {
        .a = a,
        .b = b,
        .scanner = scanner,
        .merge = {.taken_as_light = !a->gamma.set && !(scanner && ww__scanner_is_encoded(scanner)),
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
    m->count[worker].from = row * m->width;
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

static ww_status note_no_light(const mixing *m, const ww_picture *picture, ww_scan_merge *merge,
                               ww_error *err) {
    ww__no_light none = {0, 0, 0, 0.0};
    for (size_t i = 0; i < WW__THREADS_MOST; i++)
        ww__no_light_join(&none, &m->count[i].none);
    return ww__merge_note_no_light(merge, picture, &none, err);
}

static void fill_rules(const ww_picture *picture, const ww_scanner *scanner,
                       const ww_scan_merge *merge, ww__merge_rule rule[WW__MERGE_CHANNELS]) {
    for (size_t c = 0; c < picture->channels; c++) {
        const ww_channel name = ww__patch_channel(picture, c);
        const ww_scan_merge_channel *m = &merge->channel[name];
        const ww__merge_noise noise = {m->read * m->read, m->shot * m->shot,
                                       m->flicker * m->flicker};
        rule[c] = (ww__merge_rule){
            m->ratio.value, m->offset, ww__merge_channel_dark(scanner, name), noise,
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
        status = note_no_light(m, a, merge, err);
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
