/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_packed.h"
#include "io/tiff_layout.h"
#include <stdio.h>
#include <stdlib.h>
#include <tiffio.h>

size_t ww__tiff_packed_pieces(const ww__tiff *tiff) {
    return tiff->planes * ww__tiff_layout_chunks(tiff);
}

ww__tiff_piece ww__tiff_packed_piece(const ww__tiff *tiff, size_t number) {
    const size_t in_plane = ww__tiff_layout_chunks(tiff);
    return (ww__tiff_piece){number / in_plane, ww__tiff_layout_chunk(tiff, number % in_plane)};
}

/* Bytes of pixels as decompressed: a chunk, or a batch of its rows. */
static uint64_t rows_size(const ww__tiff *tiff) {
    return tiff->row_bytes *
           (tiff->by_scanline ? ww__tiff_visit_rows(tiff, tiff->chunk_width) : tiff->chunk_height);
}

/* Bytes as shown, one batch. */
static uint64_t room_size(const ww__tiff *tiff) {
    const size_t columns = ww__tiff_visit_columns(tiff, tiff->chunk_width);
    return ww__tiff_visit_rows(tiff, columns) * ww__tiff_samples_room(&tiff->samples, columns);
}

/* What the codec keeps to look back into, at its usual settings; the others need little. */
static uint64_t codec_size(const ww__tiff *tiff) {
    enum { MIB = 1024 * 1024 };
    return tiff->compression == COMPRESSION_LZMA   ? 9 * MIB
           : tiff->compression == COMPRESSION_ZSTD ? 5 * MIB
                                                   : 0;
}

uint64_t ww__tiff_packed_memory(const ww__tiff *tiff) {
    return tiff->longest + rows_size(tiff) + room_size(tiff) + codec_size(tiff);
}

static ww_status failed(const ww__tiff_job *job, const ww__tiff_worker *self, size_t number,
                        ww_error *err) {
    char what[80];
    snprintf(what, sizeof what, "%s %zu cannot be decompressed",
             job->tiff->tiled ? "tile" : "strip", number + 1);
    return ww__tiff_handle_failed(&self->handle, job->picture->file, what,
                                  "it is damaged; scan, export or copy it again", err);
}

/* Where a JPEG is damaged, its codec invents pixels and only warns. */
static bool doubtful(const ww__tiff_job *job, const ww__tiff_worker *self) {
    const bool jpeg = job->tiff->compression == COMPRESSION_JPEG ||
                      job->tiff->compression == COMPRESSION_OJPEG;
    return ww__tiff_handle_starved(&self->handle) || (jpeg && self->handle.warned[0] != '\0');
}

static ww_status make_room(const ww__tiff_job *job, ww__tiff_worker *self, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    const char *file = job->picture->file;
    const uint64_t room = room_size(tiff);
    if (!self->rows)
        self->rows = malloc(rows_size(tiff));
    if (!self->room && room > 0)
        self->room = malloc(room);
    if (!self->rows || (!self->room && room > 0))
        return ww_error_set_at(err, WW_EMEMORY, file, 0, "no memory to read this file");
    if (!self->handle.tiff) {
        ww_status status = ww__tiff_handle_open(file, tiff->fd, tiff->size, &self->handle, err);
        if (status != WW_OK)
            return status;
        ww__tiff_handle_listen(&self->handle);
        if (!ww__tiff_handle_arrived(&self->handle,
                                     TIFFSetSubDirectory(self->handle.tiff, tiff->directory))) {
            status = ww__tiff_handle_failed(&self->handle, file,
                                            "what it says of its picture cannot be read",
                                            "was it changed meanwhile? Try again", err);
            ww__tiff_handle_close(&self->handle);
            return status;
        }
    }
    return WW_OK;
}

static ww_status show_whole(ww__tiff_job *job, size_t worker, size_t number,
                            const ww__tiff_piece *piece, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    ww__tiff_worker *self = &job->worker[worker];
    const size_t chunk = number % ww__tiff_layout_chunks(tiff);
    const tmsize_t size = (tmsize_t)ww__tiff_layout_bytes(tiff, chunk);
    tmsize_t got;
    ww__tiff_handle_listen(&self->handle);
    got = tiff->tiled ? TIFFReadEncodedTile(self->handle.tiff, (uint32_t)number, self->rows, size)
                      : TIFFReadEncodedStrip(self->handle.tiff, (uint32_t)number, self->rows, size);
    if (got != size || doubtful(job, self))
        return failed(job, self, number, err);
    ww__tiff_visit_passed(job, worker, (uint64_t)piece->stored.width * piece->stored.height);
    return ww__tiff_visit_show(job, worker, piece->plane, piece->stored, self->rows,
                               (size_t)tiff->row_bytes, err);
}

/* Rows from the strip's first to the last one wanted: no codec can begin in the middle. */
static ww_status show_rows(ww__tiff_job *job, size_t worker, size_t number,
                           const ww__tiff_piece *piece, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    ww__tiff_worker *self = &job->worker[worker];
    const size_t row_bytes = (size_t)tiff->row_bytes,
                 most = ww__tiff_visit_rows(tiff, tiff->chunk_width);
    const ww_region wanted = ww__tiff_visit_wanted(job, piece->stored);
    const size_t end = wanted.y + wanted.height;
    ww_status status = WW_OK;
    for (size_t y = piece->stored.y; y < end && status == WW_OK; y += most) {
        const size_t n = end - y < most ? end - y : most;
        ww__tiff_handle_listen(&self->handle);
        for (size_t i = 0; i < n; i++)
            if (TIFFReadScanline(self->handle.tiff, self->rows + i * row_bytes, (uint32_t)(y + i),
                                 (uint16_t)piece->plane) != 1)
                return failed(job, self, number, err);
        if (doubtful(job, self))
            return failed(job, self, number, err);
        status = ww__tiff_visit_show(job, worker, piece->plane,
                                     (ww_region){piece->stored.x, y, piece->stored.width, n},
                                     self->rows, row_bytes, err);
        ww__tiff_visit_passed(job, worker, (uint64_t)piece->stored.width * n);
    }
    ww__tiff_visit_passed(job, worker,
                          (uint64_t)piece->stored.width *
                              (piece->stored.y + piece->stored.height - end));
    return status;
}

ww_status ww__tiff_packed_work(size_t item, size_t worker, void *context, ww_error *err) {
    ww__tiff_job *job = context;
    const size_t number = job->item[item];
    const ww__tiff_piece piece = ww__tiff_packed_piece(job->tiff, number);
    const ww_status status = make_room(job, &job->worker[worker], err);
    if (status != WW_OK)
        return status;
    return job->tiff->by_scanline ? show_rows(job, worker, number, &piece, err)
                                  : show_whole(job, worker, number, &piece, err);
}
