/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PICTURE_H
#define WEDGEWORK_PICTURE_H

#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>

/*
 * A scan, and the way to its pixels. Whoever reads a file fills a ww_picture; whoever counts pixels
 * asks it for regions and gets blocks, many at once. Coordinates are pixels from the top left
 * corner of the picture as a viewer shows it, whatever way round the file stores it.
 */

/* How samples lie in a block. Integers keep the file's own code values (12 bit: 0 to 4095). */
typedef enum ww_sample { WW_SAMPLE_8, WW_SAMPLE_16, WW_SAMPLE_FLOAT } ww_sample;

typedef struct ww_region {
    size_t x, y, width, height; /* px */
} ww_region;

/*
 * Decoded samples of a rectangle: channel c of the pixel at (x + i, y + j) is
 * sample[i * next_x + j * next_y + c], c = 0 to channels - 1, counted from `channel`. Strides may
 * be negative, and a block of a file with separate planes holds one channel only.
 */
typedef struct ww_block {
    size_t x, y, width, height; /* px, inside the picture */
    size_t channel, channels;   /* first channel, and how many lie side by side */
    ww_sample kind;
    const void *sample;       /* uint8_t, uint16_t or float, of pixel (x, y), channel `channel` */
    ptrdiff_t next_x, next_y; /* samples */
} ww_block;

/* ww_block_code - the sample at an offset from the block's first, whatever its kind. */
double ww_block_code(const ww_block *block, ptrdiff_t at);

/* `worker` is 0 up to the number of threads less one and names the thread's own scratch space. */
typedef ww_status ww_block_visit(const ww_block *block, size_t worker, void *context,
                                 ww_error *err);

typedef struct ww_picture ww_picture;

/* What stands behind a picture: a file, or an array in tests. */
typedef struct ww_picture_source {
    ww_status (*visit)(const ww_picture *picture, const ww_region region[], size_t n_regions,
                       size_t threads, ww_block_visit *visit, void *context, ww_error *err);
    void (*close)(void *handle);
} ww_picture_source;

struct ww_picture {
    char *file;           /* name that messages use */
    size_t width, height; /* px, as a viewer shows it */
    size_t page, pages;   /* from 1 */
    size_t channels;      /* 1 grey, 3 red, green, blue; alpha and extra samples are left out, */
    size_t left_out;      /* so many a pixel */
    ww_sample sample;
    unsigned bits; /* of one sample in the file */
    double white;  /* greatest code: 2^bits - 1; 1 for floating point */
    ww_optional px_per_mm_x, px_per_mm_y;
    char *profile;      /* description of the embedded profile, NULL where none */
    unsigned char *icc; /* the profile itself, NULL where none */
    size_t n_icc;       /* bytes */
    ww_optional gamma;  /* by its curves: the power that makes light of half of white; 1: linear */
    size_t rows_together; /* rows from 0 on that are decoded at once; 1: they come one by one */
    size_t reading_bytes; /* memory that each thread that reads it takes; 0: next to none */
    ww_notes notes;
    /* Told the share done, 0 to 1, from the calling thread; NULL: nobody asks. */
    void (*progress)(void *context, double done);
    void *progress_context;
    const ww_picture_source *source;
    void *handle;
};

#define WW_PICTURE_INIT                                                                            \
    { .file = NULL }

/*
 * Where rows of a picture go, in order from the top: channels side by side, row after row without a
 * gap, uint16_t or float, `n` of them at a time. Whoever makes a picture is given one.
 */
typedef struct ww_row_sink {
    ww_status (*take)(void *context, const void *rows, size_t n, ww_error *err);
    void *context;
} ww_row_sink;

/* ww_picture_release - close what stands behind it and free what it holds. */
void ww_picture_release(ww_picture *picture);

/*
 * ww_picture_visit - see every pixel of the regions.
 *
 *   Each block that touches a region is decoded once and shown once, to whichever thread is free: a
 *   result must not depend on the order of blocks nor on which worker saw them (counts and integer
 *   sums do not). Blocks may reach beyond the regions.
 *
 * Given     regions  not empty, inside the picture
 *           threads  number of threads, 0: one a processor
 * Status    WW_OK; WW_EDOMAIN a region outside the picture; what the file's reader or `visit`
 *           returns: then not every block was shown
 */
ww_status ww_picture_visit(const ww_picture *picture, const ww_region region[], size_t n_regions,
                           size_t threads, ww_block_visit *visit, void *context, ww_error *err);

#endif
