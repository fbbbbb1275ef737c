/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_BANDS_MAP_H
#define WW_IMAGE_BANDS_MAP_H

#include "image/bands.h"

enum { WW__BANDS_MAP_PICTURES = 2 };

/*
 * Makes n pixels, whole rows from `row` on, of those of one or two pictures, at the same place in
 * each. Several threads call it; what it counts goes into a place of its own for each `worker`
 * (below WW__THREADS_MOST).
 */
typedef void ww__bands_mapping(const void *const pixel[], size_t row, size_t n, void *made,
                               size_t worker, void *context);

/*
 * ww__bands_map - a picture made of one or two of the same size, from its top row to the last, into
 *                 a sink. Bands in memory are within 24 MiB, and 32 where samples grow to floats.
 *
 * Given     picture     its progress is told, that of the first that has one
 *           made_bytes  of a pixel that is made
 * Status    WW_OK; WW_EMEMORY; what reading or the sink returns
 */
ww_status ww__bands_map(const ww_picture *const picture[], size_t n, size_t made_bytes,
                        ww__bands_mapping *mapping, void *context, ww_row_sink sink, ww_error *err);

#endif
