/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_PACKED_H
#define WEDGEWORK_IO_TIFF_PACKED_H

#include "io/tiff_visit.h"

/*
 * Compressed files: chunks are decompressed by libtiff, through a handle a worker. No codec can
 * begin in the middle of a strip: where a visit ends there, the next one may go on, so that what
 * asks for a picture band by band has each strip decompressed once.
 */
typedef struct ww__tiff_decoder {
    ww__tiff_handle handle;
    size_t piece, row; /* read row by row: the strip that it is in, and the row that comes next; row
                          0 of the picture where it is in none */
} ww__tiff_decoder;

/* Accepts NULL. */
void ww__tiff_packed_close(ww__tiff_decoder *decoder);

/* Closes what rests in the file. */
void ww__tiff_packed_end(ww__tiff *tiff);

size_t ww__tiff_packed_pieces(const ww__tiff *tiff);
ww__tiff_piece ww__tiff_packed_piece(const ww__tiff *tiff, size_t number);

/* Bytes that one worker takes. */
uint64_t ww__tiff_packed_memory(const ww__tiff *tiff);

/* Before and after the workers: takes what rests in the file; closes what no worker took. */
void ww__tiff_packed_wake(ww__tiff_job *job);
void ww__tiff_packed_leave(ww__tiff_job *job);

/* Decompresses and shows job->item[item]. */
ww_status ww__tiff_packed_work(size_t item, size_t worker, void *job, ww_error *err);

#endif
