/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_TAGS_H
#define WEDGEWORK_IO_TIFF_TAGS_H

#include "io/tiff_handle.h"
#include <wedgework/quantity.h>

/* What a page says of itself, with TIFF's own numbers and defaults. */
typedef struct ww__tiff_tags {
    uint32_t width, height, depth;
    unsigned bits, samples, format, planar, compression, orientation, fill_order;
    bool says_photometric;
    unsigned photometric;
    bool tiled;
    uint32_t chunk_width, chunk_height, tile_depth; /* strips: the picture's width, rows a strip */
    unsigned extra;           /* samples that are said to be neither grey nor RGB */
    bool associated;          /* colour was multiplied with alpha */
    bool reduced;             /* a smaller version of another page */
    bool big_endian;          /* the file */
    ww_optional px_per_mm[2]; /* along the stored x and y */
} ww__tiff_tags;

/* The tags of the page that the handle stands on. */
void ww__tiff_tags_read(const ww__tiff_handle *handle, ww__tiff_tags *tags);

/* The embedded profile, which is the handle's; NULL where none, and *n is 0. */
const void *ww__tiff_tags_profile(const ww__tiff_handle *handle, size_t *n);

#endif
