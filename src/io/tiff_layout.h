/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_LAYOUT_H
#define WEDGEWORK_IO_TIFF_LAYOUT_H

#include "io/tiff.h"
#include "io/tiff_tags.h"

/*
 * From tags that were not refused to how the pixels lie. tiff->size is set and stays, the
 * places of chunks are not filled. Nothing is allocated: sizes are checked here.
 * Status WW_OK; WW_EINPUT more than the file can hold, or than is held in memory
 */
ww_status ww__tiff_layout_set(const ww__tiff_tags *tags, const char *file, ww__tiff *tiff,
                              ww_error *err);

/* Chunks of a plane. */
size_t ww__tiff_layout_chunks(const ww__tiff *tiff);

/* What of the picture a chunk holds: less than its full size at the right and bottom edge. */
ww_region ww__tiff_layout_chunk(const ww__tiff *tiff, size_t chunk);

/* Bytes that a chunk has when it is not compressed. Strips end with the picture, tiles do not. */
uint64_t ww__tiff_layout_bytes(const ww__tiff *tiff, size_t chunk);

#endif
