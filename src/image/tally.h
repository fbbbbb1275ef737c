/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_TALLY_H
#define WW_IMAGE_TALLY_H

#include "image/histogram.h"

/*
 * Counting every pixel of a picture, one worker's share. Integers are counted in flat tables of 32
 * bits, which stay in the cache (pages of 64 bits take twice as long), and are moved on to the
 * histograms before they could overflow.
 */
enum { WW__TALLY_CHANNELS = 3 };

typedef struct ww__tally {
    size_t channels; /* 1 to 3 */
    size_t codes;    /* 256 or 65536; 0 for floating point, which has no table */
    uint32_t *table; /* codes of the first channel, then of the next */
    uint64_t most;   /* pixels that a table may hold */
    uint64_t held;   /* at least as many as any table holds */
    ww__histogram histogram[WW__TALLY_CHANNELS];
} ww__tally;

#define WW__TALLY_INIT                                                                             \
    { .table = NULL }

/* Status WW_OK; WW_EMEMORY */
ww_status ww__tally_new(ww_sample kind, size_t channels, ww__tally *tally, ww_error *err);
void ww__tally_release(ww__tally *tally);

/* ww__tally_block - count the pixels of a block that lie in the region. Status WW_OK; WW_EMEMORY */
ww_status ww__tally_block(ww__tally *tally, const ww_block *block, const ww_region *region,
                          ww_error *err);

/* ww__tally_finish - move what the tables hold to the histograms. Status WW_OK; WW_EMEMORY */
ww_status ww__tally_finish(ww__tally *tally, ww_error *err);

#endif
