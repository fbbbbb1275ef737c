/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_SPILL_H
#define WEDGEWORK_IO_TIFF_SPILL_H

#include "io/tiff.h"

/*
 * Where chunks lie across what is asked for (strips of a picture that its tag turns), each visit
 * decompresses many pixels for few. Before half a picture's pixels are decompressed in vain, it is
 * decompressed as a whole, into a file without a name, and visits read that as they read any
 * uncompressed picture. Where there is no room for it they go on as before.
 */

/*
 * Before a visit of a compressed picture that will decompress so many pixels, each plane counted,
 * beyond those that it is asked for: whether it is time to spill. Says so once, to one thread.
 */
bool ww__tiff_spill_due(ww__tiff *tiff, uint64_t in_vain);

/* The same page, uncompressed, in a file of its own that is still empty; NULL: no room. */
ww__tiff *ww__tiff_spill_begin(const ww__tiff *tiff);

/*
 * Puts decompressed rows of one chunk where they belong. Several threads may, each its own rows.
 * Status WW_OK; WW_ESYSTEM
 */
ww_status ww__tiff_spill_rows(const ww__tiff *spill, size_t plane, ww_region stored,
                              const unsigned char *rows, ww_error *err);

/* Accepts NULL. */
void ww__tiff_spill_drop(ww__tiff *spill);

#endif
