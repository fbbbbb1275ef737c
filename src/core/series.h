/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SERIES_H
#define WW_CORE_SERIES_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

/*
 * What a fit sees of one channel: points that count, on the axis u along which density rises
 * (log H, or -log H for reversal), and the base reading as a point at u = -infinity.
 * Points stand in the order of the readings; `order` walks them by rising u.
 */
typedef struct ww__series {
    size_t n;
    double *u;
    double *density;
    double *weight; /* relative: 1 is a single ordinary reading; 0 leaves the point out */
    size_t *order;
    bool has_base;
    double base; /* density of the processed, unexposed base */
    double base_weight;
} ww__series;

#define WW__SERIES_INIT                                                                            \
    { .n = 0 }

/* ww__series_new - room for n points, weights 1. Status WW_OK; WW_EMEMORY */
ww_status ww__series_new(size_t n, ww__series *series, ww_error *err);

/* ww__series_copy - all of it, `order` included; release the copy. Status WW_OK; WW_EMEMORY */
ww_status ww__series_copy(const ww__series *from, ww__series *to, ww_error *err);

/* ww__series_sort - fill `order` from u; ties keep the order of the readings.
 *                    Status WW_OK; WW_EMEMORY */
ww_status ww__series_sort(ww__series *series, ww_error *err);

/* ww__series_rows - rows of a fit: points with weight, and the base. */
size_t ww__series_rows(const ww__series *series);

void ww__series_release(ww__series *series);

#endif
