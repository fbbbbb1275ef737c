/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_DIFFER_H
#define WW_IMAGE_MERGE_DIFFER_H

#include "image/merge_rows.h"
#include <wedgework/scan_merge.h>

/*
 * Where two scans that are being merged differ by more than noise and what they as wholes are
 * displaced by, in places of 64 x 64 px: something moved, or dust came or went.
 *
 *   d = (longer - offset) / ratio - shorter
 *   var(d) > 2 noise + (2 share + 1/4) gradient
 *
 *   noise     of d, of all places so many times more as in their middle
 *   gradient  mean square of the shorter scan's in both directions, noise taken off
 *   share     middle of (var(d) - noise) / gradient, by weight of gradients: displaced by s px
 *             along one axis, s^2 / 2 of detail that is alike along both, and twice that at edges
 *             across
 *
 * Detail that lies 2 px off has (1 - c(2)) / (1 - c(1)) / 2 of the gradient, where c is how the
 * picture goes along with itself so far on: 1/2 where it is as fine as pixels, up to 2 where it is
 * smooth; hence a quarter. As a variance, this does not see a light that is off altogether. Of
 * every four rows one is asked, and of channels the middle one; clipped pixels are left out.
 *
 * Source    definition
 */
typedef struct ww__merge_cell {
    float n, s, d, dd, gg; /* pixels; sums of light, difference, its square, squared gradient */
} ww__merge_cell;

typedef struct ww__merge_map {
    size_t across, down;
    ww__merge_cell *cell; /* of each worker, one map after the other */
} ww__merge_map;

/* Status WW_OK; WW_EMEMORY */
ww_status ww__merge_map_new(const ww_picture *picture, ww__merge_map *map, ww_error *err);
void ww__merge_map_release(ww__merge_map *map);

/* Some rows of `width` pixels of both scans, from `row` on. */
void ww__merge_map_add(ww__merge_map *map, const ww__merge_rows *rows, const void *shorter,
                       const void *longer, size_t row, size_t n_rows, size_t width, size_t worker);

/* What all rows came to, and up to `most` places that differ, first the most; afterwards the map
 * holds no sums. Status WW_OK; WW_EMEMORY */
typedef struct ww__merge_differing {
    size_t x, y; /* px, the middle */
    double by;
} ww__merge_differing;

ww_status ww__merge_map_differ(ww__merge_map *map, const ww__merge_rows *rows,
                               ww_scan_merge_differ *differ, ww__merge_differing worst[],
                               size_t most, ww_error *err);

#endif
