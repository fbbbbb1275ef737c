/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/tally.h"

#include "core/picture.h"
#include "image/area.h"
#include <assert.h>
#include <stdlib.h>

ww_status ww__tally_new(ww_sample kind, size_t channels, ww__tally *tally, ww_error *err) {
    assert(tally && channels >= 1 && channels <= WW__TALLY_CHANNELS);
    ww__tally t = {.channels = channels, .most = UINT32_MAX};
    ww_status status = WW_OK;
    t.codes = ww__picture_codes(kind);
    if (t.codes > 0) {
        t.table = calloc(t.codes * channels, sizeof *t.table);
        if (!t.table)
            return ww_error_set(err, WW_EMEMORY, "no memory to count the codes of pixels");
    }
    for (size_t c = 0; c < channels && status == WW_OK; c++)
        status = ww__histogram_new(kind, &t.histogram[c], err);
    if (status != WW_OK) {
        ww__tally_release(&t);
        return status;
    }
    *tally = t;
    return WW_OK;
}

void ww__tally_release(ww__tally *tally) {
    if (!tally)
        return;
    for (size_t c = 0; c < WW__TALLY_CHANNELS; c++)
        ww__histogram_release(&tally->histogram[c]);
    free(tally->table);
    *tally = (ww__tally)WW__TALLY_INIT;
}

static void count_8(const uint8_t *sample, ptrdiff_t next, size_t n, uint32_t table[]) {
    for (; n > 0; n--, sample += next)
        table[*sample]++;
}

static void count_16(const uint16_t *sample, ptrdiff_t next, size_t n, uint32_t table[]) {
    for (; n >= 2; n -= 2, sample += 2 * next) {
        table[sample[0]]++;
        table[sample[next]]++;
    }
    if (n > 0)
        table[*sample]++;
}

static inline void count_pixel(const uint16_t *sample, uint32_t table[]) {
    enum { CODES = 1 << 16 };
    table[sample[0]]++;
    table[CODES + sample[1]]++;
    table[2 * CODES + sample[2]]++;
}

/* Red, green and blue that lie side by side, four pixels a turn: then the only thing to wait for is
 * the write of a counter, of which a processor does one a cycle. */
static void count_16_rgb(const uint16_t *sample, ptrdiff_t next, size_t n, uint32_t table[]) {
    for (; n >= 4; n -= 4, sample += 4 * next) {
        count_pixel(sample, table);
        count_pixel(sample + next, table);
        count_pixel(sample + 2 * next, table);
        count_pixel(sample + 3 * next, table);
    }
    for (; n > 0; n--, sample += next)
        count_pixel(sample, table);
}

static ww_status count(ww__tally *t, const ww_block *block, size_t channel, ptrdiff_t at,
                       ptrdiff_t next, size_t n, ww_error *err) {
    uint32_t *const table = t->table ? &t->table[channel * t->codes] : NULL;
    switch (block->kind) {
    case WW_SAMPLE_8:
        count_8((const uint8_t *)block->sample + at, next, n, table);
        return WW_OK;
    case WW_SAMPLE_16:
        count_16((const uint16_t *)block->sample + at, next, n, table);
        return WW_OK;
    default:
        return ww__histogram_count(&t->histogram[channel], (const float *)block->sample + at, next,
                                   n, err);
    }
}

static ww_status count_line(ww__tally *t, const ww_block *block, ptrdiff_t at, ptrdiff_t next,
                            size_t n, ww_error *err) {
    ww_status status = WW_OK;
    if (block->kind == WW_SAMPLE_16 && block->channels == 3) {
        count_16_rgb((const uint16_t *)block->sample + at, next, n, t->table);
        return WW_OK;
    }
    for (size_t c = 0; c < block->channels && status == WW_OK; c++)
        status = count(t, block, block->channel + c, at + (ptrdiff_t)c, next, n, err);
    return status;
}

ww_status ww__tally_finish(ww__tally *tally, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t c = 0; c < tally->channels && tally->table && status == WW_OK; c++)
        status = ww__histogram_take(&tally->histogram[c], &tally->table[c * tally->codes],
                                    tally->codes, err);
    if (status == WW_OK)
        tally->held = 0;
    return status;
}

/* The order of pixels does not matter: the way along which they lie closest comes first. */
ww_status ww__tally_block(ww__tally *tally, const ww_block *block, const ww_region *region,
                          ww_error *err) {
    const ww_region block_region = {block->x, block->y, block->width, block->height};
    const ww_region part = ww__area_common(block_region, *region);
    const bool turned = llabs(block->next_x) > llabs(block->next_y);
    const ptrdiff_t next = turned ? block->next_y : block->next_x;
    const ptrdiff_t next_line = turned ? block->next_x : block->next_y;
    const size_t n = turned ? part.height : part.width, lines = turned ? part.width : part.height;
    ptrdiff_t at = (ptrdiff_t)(part.x - block->x) * block->next_x +
                   (ptrdiff_t)(part.y - block->y) * block->next_y;
    ww_status status = WW_OK;
    assert(block->channel + block->channels <= tally->channels);
    for (size_t line = 0; line < lines && status == WW_OK; line++, at += next_line) {
        if (tally->held > tally->most - n)
            status = ww__tally_finish(tally, err);
        tally->held += n;
        status = status == WW_OK ? count_line(tally, block, at, next, n, err) : status;
    }
    return status;
}
