/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/threads.h"
#include "core/picture.h"
#include "image/bands_map.h"
#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <wedgework/match_apply.h>

enum { CHANNELS = 3 };

typedef struct job {
    const ww_picture *picture;
    const ww_match *match;
    uint16_t *table[CHANNELS]; /* by code; NULL for floating point */
    size_t beyond[WW__THREADS_MOST], none[WW__THREADS_MOST];
} job;

static void map_codes(const job *j, const ww_block *block, size_t n, size_t c, uint16_t *made) {
    const size_t channels = j->picture->channels;
    const uint16_t *table = j->table[c];
    if (block->kind == WW_SAMPLE_8)
        for (size_t i = c; i < n * channels; i += channels)
            made[i] = table[((const uint8_t *)block->sample)[i]];
    else
        for (size_t i = c; i < n * channels; i += channels)
            made[i] = table[((const uint16_t *)block->sample)[i]];
}

/* What is no number stays none. */
static void map_reals(job *j, const ww_block *block, size_t n, size_t c, size_t worker,
                      float *made) {
    const size_t channels = j->picture->channels;
    for (size_t i = c; i < n * channels; i += channels) {
        const double value = ww_block_code(block, (ptrdiff_t)i) / j->picture->white;
        j->beyond[worker] += value < 0.0 || value > 1.0 ? 1 : 0;
        j->none[worker] += isnan(value) ? 1 : 0;
        made[i] = isnan(value) ? (float)value : (float)ww_match_value(j->match, c, value);
    }
}

static void map(const void *const pixel[], size_t row, size_t n, void *made, size_t worker,
                void *context) {
    (void)row;
    job *j = context;
    const ww_block block = {.kind = j->picture->sample, .sample = pixel[0]};
    for (size_t c = 0; c < j->picture->channels; c++)
        if (j->table[c])
            map_codes(j, &block, n, c, made);
        else
            map_reals(j, &block, n, c, worker, made);
}

/* Codes beyond white do not come, but a block could hold them. */
static ww_status fill_table(job *j, size_t c, ww_error *err) {
    const size_t codes = ww__picture_codes(j->picture->sample);
    uint16_t *table = malloc(codes * sizeof *table);
    if (!table)
        return ww_error_set(err, WW_EMEMORY, "no memory for a table of codes");
    for (size_t i = 0; i < codes; i++)
        table[i] = (uint16_t)lround(
            65535.0 * ww_match_value(j->match, c, fmin((double)i / j->picture->white, 1.0)));
    j->table[c] = table;
    return WW_OK;
}

static ww_status report(const job *j, ww_notes *notes, ww_error *err) {
    const ww_picture *picture = j->picture;
    size_t beyond = 0, none = 0;
    for (size_t i = 0; i < WW__THREADS_MOST; i++) {
        beyond += j->beyond[i];
        none += j->none[i];
    }
    ww_status status = ww_notes_copy(&picture->notes, notes, err);
    if (status == WW_OK && picture->sample == WW_SAMPLE_8)
        status = ww_notes_add(notes, err,
                              "The picture has %u bits and is written in 16, so that the curve "
                              "adds no steps of its own; those that 8 bits had before stay.",
                              picture->bits);
    if (status == WW_OK && beyond > 0)
        status = ww_notes_add(
            notes, err, "%zu sample%s beyond black or white and %s the value of that end.", beyond,
            beyond == 1 ? " was" : "s were", beyond == 1 ? "has" : "have");
    if (status == WW_OK && none > 0)
        status = ww_notes_add(notes, err, "%zu sample%s no number, and stay%s so.", none,
                              none == 1 ? " holds" : "s hold", none == 1 ? "s" : "");
    if (status == WW_OK && picture->profile)
        status = ww_notes_add(notes, err,
                              "The colour profile '%.80s' is kept, but what the codes print has "
                              "changed: send them as the scale of greys was sent.",
                              picture->profile);
    return status;
}

ww_status ww_match_apply_rows(const ww_picture *picture, const ww_match *match, ww_row_sink sink,
                              ww_notes *notes, ww_error *err) {
    assert(picture && match && notes && sink.take && picture->channels <= CHANNELS);
    const bool real = picture->sample == WW_SAMPLE_FLOAT;
    if (match->n > picture->channels)
        return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                               "this picture is grey, and the correction has curves for red, green "
                               "and blue; save it as RGB, or match a scale of one control");
    if (picture->left_out > 0)
        return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                               "a pixel has alpha or the like besides its colour, which the file "
                               "made would not hold; save the picture without it");
    job *j = calloc(1, sizeof *j);
    if (!j)
        return ww_error_set(err, WW_EMEMORY, "no memory for a table of codes");
    j->picture = picture;
    j->match = match;
    ww_status status = WW_OK;
    for (size_t c = 0; c < picture->channels && !real && status == WW_OK; c++)
        status = fill_table(j, c, err);
    if (status == WW_OK)
        status = ww__bands_map(&picture, 1,
                               picture->channels *
                                   ww__picture_sample_bytes(real ? WW_SAMPLE_FLOAT : WW_SAMPLE_16),
                               map, j, sink, err);
    if (status == WW_OK)
        status = report(j, notes, err);
    for (size_t c = 0; c < CHANNELS; c++)
        free(j->table[c]);
    free(j);
    return status;
}
