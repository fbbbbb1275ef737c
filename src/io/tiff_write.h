/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_WRITE_H
#define WEDGEWORK_IO_TIFF_WRITE_H

#include <stdbool.h>
#include <stdint.h>
#include <wedgework/picture_write.h>

/* libtiff writing to a descriptor. What it says is kept; nothing is printed. */
typedef struct ww__tiff_write {
    struct tiff *tiff; /* NULL: not open */
    const char *file;  /* the caller's, for messages */
    int fd;
    uint64_t at, size; /* bytes: place of the next write, end of what is written */
    uint64_t whole;    /* bytes of pixels and profile: all but what the file says of itself */
    int sys;           /* errno of a write that failed, 0 where none */
    uint32_t strip;    /* the next */
} ww__tiff_write;

/* Whether the file might pass what 32 bits reach: strips, profile and 64 KiB for the rest. */
bool ww__tiff_write_is_big(const ww_picture_form *form);

/*
 * Starts a file of strips of so many rows. It must stay where it is until it is closed.
 * Status WW_OK; WW_EMEMORY; WW_ESYSTEM
 */
ww_status ww__tiff_write_open(const char *file, int fd, const ww_picture_form *form,
                              size_t rows_per_strip, ww__tiff_write *write, ww_error *err);

/* The next strip, n bytes. Status WW_OK; WW_ESYSTEM; WW_EMEMORY */
ww_status ww__tiff_write_strip(ww__tiff_write *write, const void *rows, size_t n, ww_error *err);

/* What the file says of itself comes last. Accepts one that is not open.
 * Status WW_OK; WW_ESYSTEM; WW_EMEMORY */
ww_status ww__tiff_write_close(ww__tiff_write *write, ww_error *err);

#endif
