/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_plain.h"
#include "base/sizes.h"
#include "io/tiff_layout.h"
#include <stdlib.h>
#include <tiffio.h>

/*
 * A piece is a band of rows of one column of chunks, at most WW__TIFF_BATCH bytes, and of a part of
 * the columns where one row alone is longer. Bands take no notice of strips: many small ones are
 * read at once, and a huge one is read in parts.
 */
typedef struct cut {
    size_t rows, bands, columns, parts;
} cut;

static cut cut_of(const ww__tiff *tiff) {
    const size_t columns = ww__tiff_visit_columns(tiff, tiff->chunk_width);
    size_t rows = ww__tiff_visit_rows(tiff, columns);
    if (rows > tiff->chunk_height)
        rows -= rows % tiff->chunk_height; /* whole chunks, so that tiles are read in order */
    return (cut){rows, (tiff->turn.height - 1) / rows + 1, columns,
                 (tiff->chunk_width - 1) / columns + 1};
}

size_t ww__tiff_plain_pieces(const ww__tiff *tiff) {
    const cut by = cut_of(tiff);
    return tiff->planes * by.bands * tiff->across * by.parts;
}

/* Width 0: a part that would lie in the padding of the last tile. */
ww__tiff_piece ww__tiff_plain_piece(const ww__tiff *tiff, size_t number) {
    const cut by = cut_of(tiff);
    const size_t part = number % by.parts, in_band = number / by.parts;
    const size_t column = in_band % tiff->across, in_plane = in_band / tiff->across;
    const size_t band = in_plane % by.bands, plane = in_plane / by.bands;
    const size_t y = band * by.rows, left = column * tiff->chunk_width;
    const size_t x = left + part * by.columns;
    const size_t right = ww__least(left + tiff->chunk_width, tiff->turn.width);
    return (ww__tiff_piece){plane,
                            {x, y, x < right ? ww__least(by.columns, right - x) : 0,
                             ww__least(by.rows, tiff->turn.height - y)}};
}

uint64_t ww__tiff_plain_memory(const ww__tiff *tiff) {
    const cut by = cut_of(tiff);
    return by.rows * (ww__tiff_samples_row(&tiff->samples, by.columns) +
                      ww__tiff_samples_room(&tiff->samples, by.columns));
}

static bool make_room(const ww__tiff *tiff, ww__tiff_worker *worker) {
    const cut by = cut_of(tiff);
    const uint64_t room = by.rows * ww__tiff_samples_room(&tiff->samples, by.columns);
    if (!worker->rows)
        worker->rows = malloc(by.rows * ww__tiff_samples_row(&tiff->samples, by.columns));
    if (!worker->room && room > 0)
        worker->room = malloc(room);
    return worker->rows && (worker->room || room == 0);
}

/*
 * What is read of a piece: whole rows where regions want half of them or more, for they can be read
 * at once; else the columns between the outermost wanted ones, beginning with a byte.
 */
static ww_region window_of(const ww__tiff_job *job, ww_region piece) {
    ww_region window = ww__tiff_visit_wanted(job, piece);
    const size_t end = window.x + window.width, from = (window.x - piece.x) % 8;
    if (window.width > 0 && window.width < piece.width / 2) {
        window.x -= from;
        window.width = end - window.x;
    } else if (window.width > 0) {
        window.x = piece.x;
        window.width = piece.width;
    }
    return window;
}

uint64_t ww__tiff_plain_place(const ww__tiff *tiff, size_t plane, size_t x, size_t y) {
    const size_t column = x / tiff->chunk_width, row = y / tiff->chunk_height;
    const size_t chunk = (plane * tiff->down + row) * tiff->across + column;
    const uint64_t bits =
        (uint64_t)(x % tiff->chunk_width) * tiff->samples.side_by_side * tiff->samples.bits;
    return tiff->offset[chunk] + (y % tiff->chunk_height) * tiff->row_bytes + bits / 8;
}

/* Rows that follow each other in the file are read at once. */
static ww_status read_rows(const ww__tiff_job *job, size_t plane, ww_region window,
                           size_t row_bytes, unsigned char *rows, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    size_t n;
    for (size_t y = 0; y < window.height; y += n) {
        const uint64_t from = ww__tiff_plain_place(tiff, plane, window.x, window.y + y);
        ww_status status;
        n = 1;
        while (y + n < window.height &&
               ww__tiff_plain_place(tiff, plane, window.x, window.y + y + n) ==
                   from + n * row_bytes)
            n++;
        status = ww__tiff_handle_pread(job->picture->file, tiff->fd, from, rows + y * row_bytes,
                                       n * row_bytes, err);
        if (status != WW_OK)
            return status;
    }
    if (tiff->reversed_bits)
        TIFFReverseBits(rows, (tmsize_t)(window.height * row_bytes));
    return WW_OK;
}

ww_status ww__tiff_plain_work(size_t item, size_t worker, void *context, ww_error *err) {
    ww__tiff_job *job = context;
    ww__tiff_worker *self = &job->worker[worker];
    const ww__tiff_piece piece = ww__tiff_plain_piece(job->tiff, job->item[item]);
    const ww_region window = window_of(job, piece.stored);
    const size_t row_bytes = (size_t)ww__tiff_samples_row(&job->tiff->samples, window.width);
    ww_status status;
    if (!make_room(job->tiff, self))
        return ww_error_set_at(err, WW_EMEMORY, job->picture->file, 0,
                               "no memory to read this file");
    status = read_rows(job, piece.plane, window, row_bytes, self->rows, err);
    if (status == WW_OK)
        status = ww__tiff_visit_show(job, worker, piece.plane, window, self->rows, row_bytes, err);
    if (status == WW_OK)
        ww__tiff_visit_passed(job, worker,
                              (uint64_t)piece.stored.width * (uint64_t)piece.stored.height);
    return status;
}
