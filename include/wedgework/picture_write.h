/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PICTURE_WRITE_H
#define WEDGEWORK_PICTURE_WRITE_H

#include <wedgework/picture.h>

/* What a picture's file is to hold. Nothing in it changes hands. */
typedef struct ww_picture_form {
    size_t width, height; /* px */
    size_t channels;      /* 1 grey, 3 red, green, blue */
    ww_sample sample;     /* WW_SAMPLE_16: 65535 is white; WW_SAMPLE_FLOAT: 1 is */
    ww_optional px_per_mm_x, px_per_mm_y;
    const void *icc; /* colour profile of n_icc bytes, NULL: none */
    size_t n_icc;
    const char *description; /* NULL: none */
} ww_picture_form;

/*
 * ww_picture_form_of - what a file made of a picture, pixel by pixel, holds: its size, resolution
 *                      and profile; 16 bits, or floating point where the picture is. It points into
 *                      the picture.
 */
ww_picture_form ww_picture_form_of(const ww_picture *picture);

typedef struct ww_picture_writer ww_picture_writer;

/*
 * A TIFF file from its top row to the last: uncompressed strips of up to 1 MiB, BigTIFF where it
 * would pass 4 GB. Nothing of it is seen before it is finished (ww_output_begin); memory is one
 * strip.
 *
 * ww_picture_write_begin  - the file and what it says of itself.
 * ww_picture_write_sink   - takes the rows, in any number at a time; valid as long as the writer.
 * ww_picture_write_finish - gives the file its name, once all rows are there.
 * ww_picture_write_free   - drops what is not finished, without a trace. Accepts NULL.
 *
 * Source    TIFF 6.0; BigTIFF; ICC.1 annex B (the tag of the profile)
 * Given     path     of a regular file, there or not
 * Status    WW_OK; WW_EINPUT no regular file; WW_ESYSTEM the system refused (disk full, a folder
 *           that may not be written); WW_EMEMORY. Messages name the file.
 */
ww_status ww_picture_write_begin(const char *path, const ww_picture_form *form,
                                 ww_picture_writer **writer, ww_error *err);
ww_row_sink ww_picture_write_sink(ww_picture_writer *writer);
ww_status ww_picture_write_finish(ww_picture_writer *writer, ww_error *err);
void ww_picture_write_free(ww_picture_writer *writer);

#endif
