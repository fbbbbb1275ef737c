/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_SAMPLES_H
#define WEDGEWORK_IO_TIFF_SAMPLES_H

#include <stdbool.h>
#include <stdint.h>
#include <wedgework/picture.h>

/* From samples as a TIFF file holds them to those of a block. */

typedef enum ww__tiff_number {
    WW__TIFF_UNSIGNED,
    WW__TIFF_SIGNED,
    WW__TIFF_REAL /* IEEE floating point */
} ww__tiff_number;

typedef struct ww__tiff_samples {
    unsigned bits; /* unsigned 2 to 32, signed 2 to 32, real 16, 32, 64 */
    ww__tiff_number number;
    bool big_endian;   /* samples of 16, 24, 32 and 64 bits; others are packed, first bit highest */
    bool min_is_white; /* codes are turned round */
    size_t side_by_side; /* samples of a pixel in the file's plane, wanted or not */
    size_t channels;     /* how many of those are wanted, from the first */
} ww__tiff_samples;

/* Whether this machine puts the highest byte first. */
bool ww__tiff_samples_big_endian(void);

ww_sample ww__tiff_samples_kind(const ww__tiff_samples *samples);

/* Greatest code: 2^bits - 1, 2^(bits - 1) - 1 for signed ones, 1 for real ones. */
double ww__tiff_samples_white(const ww__tiff_samples *samples);

/* Bytes of a row of pixels in the file: rows begin with a byte. */
uint64_t ww__tiff_samples_row(const ww__tiff_samples *samples, uint64_t width);

/* Bytes of room that a row needs when it is delivered; 0 where it is delivered in its place. */
uint64_t ww__tiff_samples_room(const ww__tiff_samples *samples, uint64_t width);

/*
 * Delivers block->width by block->height pixels, the first of which lies at `rows`, row_bytes from
 * row to row: in their place, which changes them, or in `room`. Sets kind, sample, next_x, next_y
 * and channels of the block. `rows` is aligned as the samples are, `room` for any.
 */
void ww__tiff_samples_deliver(const ww__tiff_samples *samples, unsigned char *rows,
                              size_t row_bytes, void *room, ww_block *block);

#endif
