/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/bands_map.h"

#include "base/threads.h"
#include <assert.h>
#include <stdlib.h>

enum {
    BANDS_MOST = 24 * 1024 * 1024, /* bytes, of all that is read */
    PART_ROWS = 16                 /* that a thread takes at a time */
};

typedef struct job {
    const ww_picture *const *picture;
    size_t n_pictures, width, height;
    size_t first, rows; /* of the band that is in memory */
    size_t row_bytes[WW__BANDS_MAP_PICTURES], made_row_bytes;
    unsigned char *pixel[WW__BANDS_MAP_PICTURES], *made;
    ww__bands_mapping *mapping;
    void *context;
} job;

static ww_status map_part(size_t item, size_t worker, void *context, ww_error *err) {
    const job *j = context;
    const size_t from = item * PART_ROWS, left = j->rows - from;
    const void *pixel[WW__BANDS_MAP_PICTURES] = {NULL, NULL};
    (void)err;
    for (size_t i = 0; i < j->n_pictures; i++)
        pixel[i] = j->pixel[i] + from * j->row_bytes[i];
    j->mapping(pixel, j->first + from, (left < PART_ROWS ? left : PART_ROWS) * j->width,
               j->made + from * j->made_row_bytes, worker, j->context);
    return WW_OK;
}

static void tell(const job *j, double done) {
    for (size_t i = 0; i < j->n_pictures; i++)
        if (j->picture[i]->progress) {
            j->picture[i]->progress(j->picture[i]->progress_context, done);
            return;
        }
}

static ww_status run(job *j, size_t most, ww_row_sink sink, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t y = 0; y < j->height && status == WW_OK; y += most) {
        j->first = y;
        j->rows = j->height - y < most ? j->height - y : most;
        for (size_t i = 0; i < j->n_pictures && status == WW_OK; i++)
            status = ww__bands_read(j->picture[i], (ww_region){0, y, j->width, j->rows},
                                    j->pixel[i], err);
        if (status == WW_OK)
            status = ww__threads_for((j->rows + PART_ROWS - 1) / PART_ROWS, 0, map_part, j, err);
        if (status == WW_OK)
            status = sink.take(sink.context, j->made, j->rows, err);
        if (status == WW_OK)
            tell(j, (double)(y + j->rows) / (double)j->height);
    }
    return status;
}

ww_status ww__bands_map(const ww_picture *const picture[], size_t n, size_t made_bytes,
                        ww__bands_mapping *mapping, void *context, ww_row_sink sink,
                        ww_error *err) {
    assert(picture && n >= 1 && n <= WW__BANDS_MAP_PICTURES && mapping && sink.take);
    const size_t most = ww__bands_rows(picture, n, BANDS_MOST);
    job j = {.picture = picture,
             .n_pictures = n,
             .width = picture[0]->width,
             .height = picture[0]->height,
             .made_row_bytes = picture[0]->width * made_bytes,
             .mapping = mapping,
             .context = context};
    bool room = (j.made = malloc(most * j.made_row_bytes)) != NULL;
    for (size_t i = 0; i < n; i++) {
        j.row_bytes[i] = j.width * ww__bands_pixel(picture[i]);
        room = (j.pixel[i] = malloc(most * j.row_bytes[i])) && room;
    }
    const ww_status status =
        room ? run(&j, most, sink, err)
             : ww_error_set(err, WW_EMEMORY, "no memory for rows of %zu px", j.width);
    for (size_t i = 0; i < n; i++)
        free(j.pixel[i]);
    free(j.made);
    return status;
}
