/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_VISIT_H
#define WEDGEWORK_IO_TIFF_VISIT_H

#include "io/tiff.h"
#include "io/tiff_handle.h"
#include <stdatomic.h>

/* A thread's own; released when the visit ends. */
typedef struct ww__tiff_worker {
    unsigned char *rows;              /* as in the file */
    void *room;                       /* as shown, where they are not shown in their place */
    struct ww__tiff_decoder *decoder; /* compressed files; NULL: none yet */
} ww__tiff_worker;

/* A decoder in the middle of a strip, from an earlier visit. */
typedef struct ww__tiff_left {
    struct ww__tiff_decoder *decoder; /* NULL: none; the worker of its piece takes it */
    size_t piece;                     /* stays as it is during a visit */
} ww__tiff_left;

/* One visit. Regions are in stored coordinates here. */
typedef struct ww__tiff_job {
    ww__tiff *tiff;
    const ww_picture *picture;
    ww_region *region; /* by their tops */
    size_t n_regions, tallest;
    ww_block_visit *visit;
    void *context;
    const ww__tiff *spill; /* rows go there as they are; NULL: they are shown */
    size_t *item;          /* the pieces that touch a region, in the file's order */
    size_t n_items;
    ww__tiff_worker *worker;
    size_t n_workers;
    ww__tiff_left left[WW__TIFF_PLANES];
    double total; /* pixels of all items, each plane counted */
    atomic_uint_least64_t passed;
} ww__tiff_job;

/* As ww_picture_source asks; picture->handle is a ww__tiff. */
ww_status ww__tiff_visit(const ww_picture *picture, const ww_region region[], size_t n_regions,
                         size_t threads, ww_block_visit *visit, void *context, ww_error *err);

/*
 * The pieces into which a file is cut: of an uncompressed one some rows, of a compressed one a
 * chunk. Numbered from 0, plane after plane, in the file's order.
 */
typedef struct ww__tiff_piece {
    size_t plane;
    ww_region stored;
} ww__tiff_piece;

/* The part of `piece` that holds all that regions want of it; width 0 where they want nothing. */
ww_region ww__tiff_visit_wanted(const ww__tiff_job *job, ww_region piece);

/*
 * Shows the pixels of `stored`, whose samples as in the file begin at `rows`, in blocks of at most
 * WW__TIFF_BATCH bytes; those that touch no region are not shown. Or puts them into job->spill.
 */
ww_status ww__tiff_visit_show(const ww__tiff_job *job, size_t worker, size_t plane,
                              ww_region stored, unsigned char *rows, size_t row_bytes,
                              ww_error *err);

/* So many pixels of items are done; tells the picture's progress in the calling thread. */
void ww__tiff_visit_passed(ww__tiff_job *job, size_t worker, uint64_t pixels);

/* Rows of so many pixels that make a batch: at least 1. */
size_t ww__tiff_visit_rows(const ww__tiff *tiff, uint64_t width);

/* The widest part of a row that fits a batch; the width itself, or a multiple of 8 px. */
size_t ww__tiff_visit_columns(const ww__tiff *tiff, size_t width);

#endif
