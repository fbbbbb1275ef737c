/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_SLIP_H
#define WW_IMAGE_MERGE_SLIP_H

#include "image/merge_invert.h"
#include "image/merge_rows.h"
#include <stdbool.h>

/*
 * Where a part of the longer scan lies displaced against the shorter: film that buckled or slipped.
 * All of the picture is asked while rows are merged.
 *
 *   d = (longer - offset) / ratio - shorter
 *     = - right ds/dx - down ds/dy + gain s + constant + noise
 *
 * by least squares in windows of 4 x 4 cells, those of the whole map, and of cells twice and four
 * times as large. s and d are means of 4 x 4 px; they and their gradients are taken where four of
 * those meet, where noise of s makes no d go with its gradients; what it adds to the gradients'
 * squares is known and taken off. Detail finer than 8 px makes the answer too small, never too
 * large. Of channels the middle one is asked; clipped pixels are left out.
 *
 * Source    common practice (gradients: Lucas and Kanade, Proc. 7th IJCAI (1981) 674-679)
 */

typedef struct ww__merge_slip_sums {
    double m[WW__MERGE_TERMS][WW__MERGE_TERMS]; /* upper half */
    double v[WW__MERGE_TERMS], dd;
} ww__merge_slip_sums;

typedef struct ww__merge_slips {
    size_t across, down, side;         /* cells, and px of one */
    size_t first;                      /* row that the band in hand begins at */
    ww__merge_slip_sums *cell, *strip; /* of what is done, and of the band, 16 rows each */
} ww__merge_slips;

/* A window that may lie displaced otherwise than the whole. */
typedef struct ww__merge_slip {
    size_t x, y, side;  /* px, its middle, and how large it is */
    double right, down; /* px, too small where detail is fine */
    double beyond;      /* px that it departs from the whole by, less 3 sd */
} ww__merge_slip;

/* Status WW_OK; WW_EMEMORY */
ww_status ww__merge_slips_new(const ww_picture *picture, ww__merge_slips *slips, ww_error *err);
void ww__merge_slips_release(ww__merge_slips *slips);

/* Up to 16 rows of `width` pixels of both scans, from `row` on: 16, 32, ... below the band's first.
 * Several threads may add rows of one band. */
void ww__merge_slips_add(ww__merge_slips *slips, const ww__merge_rows *rows, const void *shorter,
                         const void *longer, size_t row, size_t n_rows, size_t width);

/* A band of so many rows is done. */
void ww__merge_slips_next(ww__merge_slips *slips, size_t n_rows);

/* Those that depart most, first the most, none of which overlap; how many. Afterwards the map holds
 * no sums. */
size_t ww__merge_slips_find(ww__merge_slips *slips, const ww__merge_rows *rows,
                            ww__merge_slip found[], size_t most);

#endif
