/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_DIRECTORY_H
#define WEDGEWORK_IO_TIFF_DIRECTORY_H

#include "io/tiff.h"
#include <wedgework/picture.h>

/*
 * Finds a page of the open file and reads what it says of itself.
 *
 * Given     tiff     fd and size are set
 *           page     from 1
 * Returned  tiff     all of it; offset is the caller's to free
 *           picture  what a ww_picture tells, but file, source and handle
 * Status    as ww_picture_file_open; on failure nothing is left to free
 */
ww_status ww__tiff_directory_read(const char *file, size_t page, ww__tiff *tiff,
                                  ww_picture *picture, ww_error *err);

#endif
