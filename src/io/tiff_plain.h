/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_PLAIN_H
#define WEDGEWORK_IO_TIFF_PLAIN_H

#include "io/tiff_visit.h"

/* Uncompressed files: rows are read where they lie, past libtiff. */

size_t ww__tiff_plain_pieces(const ww__tiff *tiff);
ww__tiff_piece ww__tiff_plain_piece(const ww__tiff *tiff, size_t number);

/* Where in the file a pixel begins, or the byte that holds its beginning. */
uint64_t ww__tiff_plain_place(const ww__tiff *tiff, size_t plane, size_t x, size_t y);

/* Bytes that one worker takes. */
uint64_t ww__tiff_plain_memory(const ww__tiff *tiff);

/* Reads and shows job->item[item]. */
ww_status ww__tiff_plain_work(size_t item, size_t worker, void *job, ww_error *err);

#endif
