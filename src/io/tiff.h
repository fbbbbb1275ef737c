/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_H
#define WEDGEWORK_IO_TIFF_H

#include "io/tiff_samples.h"
#include "io/tiff_turn.h"
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * One page of an open TIFF file: where its pixels lie and how they are written. Nothing in it
 * changes once it is filled, but for what rests and what is spilled. A `chunk` is a strip or a
 * tile; coordinates are the stored ones.
 */

/* Bytes. */
enum {
    WW__TIFF_BATCH = 512 * 1024,               /* read, converted and shown at a time */
    WW__TIFF_CHUNK_MOST = 1024 * 1024 * 1024,  /* held in memory at once */
    WW__TIFF_MEMORY = 48 * 1024 * 1024,        /* of all workers; the rest of 64 MiB is libtiff's */
    WW__TIFF_SCANLINES_FROM = 8 * 1024 * 1024, /* longer strips are decompressed row by row */
    WW__TIFF_SPILL_FROM = 8 * 1024 * 1024,     /* smaller pictures are soon decompressed again */
    WW__TIFF_THREADS_FROM = 64 * 1024 * 1024,
    WW__TIFF_THREADS_FROM_PACKED = 8 * 1024 * 1024
};
/* Longest result of a compressed byte: Deflate 1032, LZW 2730, Zstandard 32768 (by definition). */
enum { WW__TIFF_RATIO_MOST = 32768 };
enum { WW__TIFF_PLANES = 3 };

struct ww__tiff_decoder;

typedef struct ww__tiff {
    int fd;
    uint64_t size;      /* of the file, bytes */
    uint64_t directory; /* where this page's begins */
    ww__tiff_turn turn; /* holds the stored width and height */
    ww__tiff_samples samples;
    size_t planes; /* to be read: 1, or one a channel */
    unsigned compression;
    bool tiled, reversed_bits;
    size_t chunk_width, chunk_height, across, down;
    uint64_t row_bytes;    /* of a chunk's row */
    uint64_t *offset;      /* uncompressed: of each chunk; NULL for compressed ones */
    uint64_t longest;      /* bytes in the file of the longest compressed chunk */
    bool by_scanline;      /* compressed strips are read row by row */
    uint64_t threads_from; /* bytes */
    uint64_t spill_from;   /* bytes */
    /* Compressed (tiff_spill.h): */
    atomic_uint_least64_t in_vain; /* pixels decompressed that nobody asked for */
    atomic_bool spill_tried;
    struct ww__tiff *_Atomic spill; /* the same page decompressed; NULL: not yet, or no room */
    /* In the middle of a strip, one a plane: whoever takes it may go on from there. */
    struct ww__tiff_decoder *_Atomic resting[WW__TIFF_PLANES];
} ww__tiff;

#endif
