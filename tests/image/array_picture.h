/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_ARRAY_PICTURE_H
#define WEDGEWORK_TESTS_ARRAY_PICTURE_H

#include "base/threads.h"
#include "image/patch.h"
#include "support/emulsion.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/picture.h>

/* A picture whose pixels are an array in memory, shown in blocks as files of all kinds give
 * them. */
typedef enum array_layout {
    ARRAY_ROWS,   /* channels side by side, rows from the top */
    ARRAY_PLANES, /* a block holds one channel */
    ARRAY_TURNED, /* columns from the right, each from the top; two samples more a pixel */
    ARRAY_LAYOUTS
} array_layout;

typedef struct array_pixels {
    array_layout layout;
    size_t block_width, block_height;
    ww_status refuse; /* what a visit returns instead of blocks, where it is not WW_OK */
    unsigned char *sample;
} array_pixels;

static inline size_t array_sample_size(ww_sample kind) {
    return kind == WW_SAMPLE_8 ? 1 : kind == WW_SAMPLE_16 ? 2 : 4;
}

static inline ptrdiff_t array_next_x(const ww_picture *p, array_layout layout) {
    return layout == ARRAY_ROWS     ? (ptrdiff_t)p->channels
           : layout == ARRAY_PLANES ? 1
                                    : -(ptrdiff_t)(p->height * (p->channels + 2));
}

static inline ptrdiff_t array_next_y(const ww_picture *p, array_layout layout) {
    return layout == ARRAY_ROWS     ? (ptrdiff_t)(p->channels * p->width)
           : layout == ARRAY_PLANES ? (ptrdiff_t)p->width
                                    : (ptrdiff_t)(p->channels + 2);
}

/* Index of a sample in the array. */
static inline size_t array_at(const ww_picture *p, size_t x, size_t y, size_t c) {
    const array_layout layout = ((const array_pixels *)p->handle)->layout;
    const ptrdiff_t first =
        layout == ARRAY_TURNED ? -(ptrdiff_t)(p->width - 1) * array_next_x(p, layout) : 0;
    const size_t channel = layout == ARRAY_PLANES ? c * p->width * p->height : c;
    return (size_t)(first + (ptrdiff_t)x * array_next_x(p, layout) +
                    (ptrdiff_t)y * array_next_y(p, layout)) +
           channel;
}

typedef struct array_job {
    const ww_picture *picture;
    const ww_region *region;
    size_t n_regions;
    ww_block_visit *visit;
    void *context;
} array_job;

static inline bool array_touches(const array_job *job, const ww_block *b) {
    for (size_t i = 0; i < job->n_regions; i++) {
        const ww_region *r = &job->region[i];
        if (b->x < r->x + r->width && r->x < b->x + b->width && b->y < r->y + r->height &&
            r->y < b->y + b->height)
            return true;
    }
    return false;
}

static inline ww_status array_show(size_t item, size_t worker, void *context, ww_error *err) {
    const array_job *job = context;
    const ww_picture *p = job->picture;
    const array_pixels *a = p->handle;
    const size_t across = (p->width + a->block_width - 1) / a->block_width;
    const size_t planes = a->layout == ARRAY_PLANES ? p->channels : 1;
    ww_block b = {.x = item / planes % across * a->block_width,
                  .y = item / planes / across * a->block_height,
                  .channel = item % planes,
                  .channels = p->channels / planes,
                  .kind = p->sample,
                  .next_x = array_next_x(p, a->layout),
                  .next_y = array_next_y(p, a->layout)};
    b.width = b.x + a->block_width < p->width ? a->block_width : p->width - b.x;
    b.height = b.y + a->block_height < p->height ? a->block_height : p->height - b.y;
    b.sample = a->sample + array_at(p, b.x, b.y, b.channel) * array_sample_size(p->sample);
    return array_touches(job, &b) ? job->visit(&b, worker, job->context, err) : WW_OK;
}

static inline ww_status array_visit(const ww_picture *p, const ww_region region[], size_t n_regions,
                                    size_t threads, ww_block_visit *visit, void *context,
                                    ww_error *err) {
    const array_pixels *a = p->handle;
    array_job job = {p, region, n_regions, visit, context};
    const size_t across = (p->width + a->block_width - 1) / a->block_width;
    const size_t down = (p->height + a->block_height - 1) / a->block_height;
    const size_t planes = a->layout == ARRAY_PLANES ? p->channels : 1;
    if (a->refuse != WW_OK)
        return ww_error_set(err, a->refuse, "the picture refuses");
    return ww__threads_for(across * down * planes, threads, array_show, &job, err);
}

static inline void array_close(void *handle) {
    array_pixels *a = handle;
    free(a->sample);
    free(a);
}

/* All pixels 0; to be filled by array_set. Released by ww_picture_release. */
static inline ww_picture array_picture_new(size_t width, size_t height, size_t channels,
                                           ww_sample kind, array_layout layout) {
    static const ww_picture_source source = {array_visit, array_close};
    ww_picture p = {.width = width,
                    .height = height,
                    .page = 1,
                    .pages = 1,
                    .channels = channels,
                    .sample = kind,
                    .bits = kind == WW_SAMPLE_8    ? 8
                            : kind == WW_SAMPLE_16 ? 16
                                                   : 32,
                    .white = kind == WW_SAMPLE_8    ? 255.0
                             : kind == WW_SAMPLE_16 ? 65535.0
                                                    : 1.0,
                    .source = &source};
    array_pixels *a = calloc(1, sizeof *a);
    const size_t samples = width * height * (channels + (layout == ARRAY_TURNED ? 2 : 0));
    *a = (array_pixels){layout, 37, 11, WW_OK, calloc(samples, array_sample_size(kind))};
    p.handle = a;
    p.file = malloc(16);
    strcpy(p.file, "quay.tif");
    return p;
}

static inline void array_set(ww_picture *p, size_t x, size_t y, size_t c, double code) {
    array_pixels *a = p->handle;
    const size_t at = array_at(p, x, y, c);
    if (p->sample == WW_SAMPLE_8)
        a->sample[at] = (unsigned char)code;
    else if (p->sample == WW_SAMPLE_16)
        ((uint16_t *)(void *)a->sample)[at] = (uint16_t)code;
    else
        ((float *)(void *)a->sample)[at] = (float)code;
}

static inline void array_fill(ww_picture *p, double code) {
    for (size_t y = 0; y < p->height; y++)
        for (size_t x = 0; x < p->width; x++)
            for (size_t c = 0; c < p->channels; c++)
                array_set(p, x, y, c, code);
}

/* An area that lies straight. */
static inline ww__area array_box(double x, double y, double width, double height) {
    return (ww__area){.centre = {x + 0.5 * width, y + 0.5 * height},
                      .along = {1.0, 0.0},
                      .across = {0.0, 1.0},
                      .half_u = 0.5 * width,
                      .half_v = 0.5 * height};
}

static inline ww_patch array_read_one(const ww_picture *p, const ww__area *area,
                                      const ww_scanner *scanner) {
    ww_patch patch;
    ww_error err = WW_ERROR_INIT;
    test_status("read", ww__patch_read(p, area, 1, scanner, 1, &patch, &err), WW_OK, &err);
    return patch;
}

#endif
