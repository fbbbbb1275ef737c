/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_BLOCKS_H
#define WW_IMAGE_MERGE_BLOCKS_H

#include "image/merge_light.h"

enum { WW__MERGE_BLOCK = 8, WW__MERGE_PIXELS = 64, WW__MERGE_CHANNELS = 3 };

/* A place of 8 x 8 px in two scans: means of light, variances and covariance of its pixels. */
typedef struct ww__merge_block {
    double x, y;
    double var_x, var_y, cov;
    double top; /* greatest code of a pixel in either */
} ww__merge_block;

typedef struct ww__merge_blocks {
    ww__merge_block *block; /* those that both scans hold: no pixel clipped at either end */
    size_t n, seen;
} ww__merge_blocks;

void ww__merge_blocks_release(ww__merge_blocks blocks[WW__MERGE_CHANNELS]);

/*
 * Places of two scans of one size, in up to 32 bands spread over the height; one `blocks` a
 * channel, to release. x is of `a`, y of `b`.
 * Where the longer scan's codes end below white with a heap of pixels at the last one, light->clips
 * becomes that of the heap.
 * Status WW_OK; WW_EDOMAIN floating point on another scale than its white; WW_EMEMORY; as
 * ww_picture_visit
 */
ww_status ww__merge_blocks_read(const ww_picture *a, const ww_picture *b, ww__merge_light *light,
                                ww__merge_blocks blocks[WW__MERGE_CHANNELS], ww_error *err);

/* Makes x of y and y of x. */
void ww__merge_blocks_swap(ww__merge_blocks *blocks);

#endif
