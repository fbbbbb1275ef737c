/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_PACKED_H
#define WEDGEWORK_IO_TIFF_PACKED_H

#include "io/tiff_visit.h"

/* Compressed files: chunks are decompressed by libtiff, through a handle a worker. */

size_t ww__tiff_packed_pieces(const ww__tiff *tiff);
ww__tiff_piece ww__tiff_packed_piece(const ww__tiff *tiff, size_t number);

/* Bytes that one worker takes. */
uint64_t ww__tiff_packed_memory(const ww__tiff *tiff);

/* Decompresses and shows job->item[item]. */
ww_status ww__tiff_packed_work(size_t item, size_t worker, void *job, ww_error *err);

#endif
