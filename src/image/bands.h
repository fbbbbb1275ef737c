/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_BANDS_H
#define WW_IMAGE_BANDS_H

#include <wedgework/picture.h>

/*
 * A picture from its top row to the last: regions of it, one after the other, in the picture's own
 * codes, channels side by side, rows without gaps.
 */

/* Bytes of a pixel with all its channels. */
size_t ww__bands_pixel(const ww_picture *picture);

/*
 * ww__bands_rows - how many rows are asked for at a time, so that none is decoded twice and bands
 *                  of all pictures together take at most `most` bytes; at least 1.
 *
 *   Rows that can be had alone come in bands of some 4 MiB, which stay near the processor; others
 *   in whole strips or rows of tiles, as many as there is room for. Where there is none for a
 *   single one, a tile is decoded more than once, and a strip is gone on with.
 */
size_t ww__bands_rows(const ww_picture *const picture[], size_t n, size_t most);

/*
 * ww__bands_read - a region of a picture. The picture's progress is not told.
 *
 * Given     region  inside the picture
 * Returned  pixel   room for width x height pixels
 * Status    as ww_picture_visit
 */
ww_status ww__bands_read(const ww_picture *picture, ww_region region, void *pixel, ww_error *err);

/* The same of n regions, each into its own room: what is decoded for one serves for all. */
ww_status ww__bands_read_several(const ww_picture *picture, const ww_region region[], size_t n,
                                 void *const pixel[], ww_error *err);

#endif
