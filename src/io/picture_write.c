/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/sizes.h"
#include "core/picture.h"
#include "io/tiff_write.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/output.h>

enum { STRIP_MOST = 1024 * 1024 }; /* bytes, unless one row is longer */

struct ww_picture_writer {
    ww_output output;
    ww__tiff_write tiff;
    size_t height, row_bytes, rows_per_strip;
    size_t done;          /* rows written */
    unsigned char *strip; /* rows that wait for their strip to be full */
    size_t waiting;
};

/* Rows of the strip that is to come. */
static size_t next_strip(const ww_picture_writer *w) {
    return ww__least(w->rows_per_strip, w->height - w->done);
}

static ww_status put(ww_picture_writer *w, const void *rows, size_t n, ww_error *err) {
    w->done += n;
    return ww__tiff_write_strip(&w->tiff, rows, n * w->row_bytes, err);
}

/* Whole strips are written from where they are. */
static ww_status take(void *context, const void *rows, size_t n, ww_error *err) {
    ww_picture_writer *w = context;
    const unsigned char *from = rows;
    ww_status status = WW_OK;
    assert(w->done + w->waiting + n <= w->height);
    while (n > 0 && status == WW_OK) {
        const size_t whole = next_strip(w), now = ww__least(n, whole - w->waiting);
        if (now == whole) {
            status = put(w, from, whole, err);
        } else {
            memcpy(w->strip + w->waiting * w->row_bytes, from, now * w->row_bytes);
            w->waiting += now;
            if (w->waiting == whole) {
                w->waiting = 0;
                status = put(w, w->strip, whole, err);
            }
        }
        from += now * w->row_bytes;
        n -= now;
    }
    return status;
}

static ww_status start(const char *path, const ww_picture_form *form, ww_picture_writer *w,
                       ww_error *err) {
    w->height = form->height;
    w->row_bytes = form->width * form->channels * ww__picture_sample_bytes(form->sample);
    w->rows_per_strip = w->row_bytes < STRIP_MOST ? STRIP_MOST / w->row_bytes : 1;
    w->strip = malloc(ww__least(w->rows_per_strip, w->height) * w->row_bytes);
    if (!w->strip)
        return ww_error_set_at(err, WW_EMEMORY, path, 0, "no memory to write this file");
    const ww_status status = ww_output_begin(path, &w->output, err);
    if (status != WW_OK)
        return status;
    return ww__tiff_write_open(w->output.path, w->output.fd, form, w->rows_per_strip, &w->tiff,
                               err);
}

ww_status ww_picture_write_begin(const char *path, const ww_picture_form *form,
                                 ww_picture_writer **writer, ww_error *err) {
    assert(path && form && writer && form->width > 0 && form->height > 0);
    assert(form->channels == 1 || form->channels == 3);
    assert(form->sample != WW_SAMPLE_8);
    ww_picture_writer *w = malloc(sizeof *w);
    if (!w)
        return ww_error_set_at(err, WW_EMEMORY, path, 0, "no memory to write this file");
    *w = (ww_picture_writer){.output = WW_OUTPUT_INIT};
    const ww_status status = start(path, form, w, err);
    if (status != WW_OK) {
        ww_picture_write_free(w);
        return status;
    }
    *writer = w;
    return WW_OK;
}

ww_row_sink ww_picture_write_sink(ww_picture_writer *writer) {
    assert(writer);
    return (ww_row_sink){take, writer};
}

ww_status ww_picture_write_finish(ww_picture_writer *writer, ww_error *err) {
    assert(writer && writer->done == writer->height);
    const ww_status status = ww__tiff_write_close(&writer->tiff, err);
    return status == WW_OK ? ww_output_finish(&writer->output, err) : status;
}

void ww_picture_write_free(ww_picture_writer *writer) {
    if (!writer)
        return;
    (void)ww__tiff_write_close(&writer->tiff, NULL);
    ww_output_drop(&writer->output);
    free(writer->strip);
    free(writer);
}
