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
    /* Row by row, a batch of the mapped file is seen at a time. */
    const uint64_t packed = tiff->by_scanline ? WW__TIFF_BATCH : tiff->longest;
    return packed + rows_size(tiff) + room_size(tiff) + codec_size(tiff);
}

static ww_status failed(const ww__tiff_job *job, const ww__tiff_worker *self, size_t number,
                        ww_error *err) {
    char what[80];
    snprintf(what, sizeof what, "%s %zu cannot be decompressed",
             job->tiff->tiled ? "tile" : "strip", number + 1);
    return ww__tiff_handle_failed(&self->decoder->handle, job->picture->file, what,
                                  "it is damaged; scan, export or copy it again", err);
}

/* Where a JPEG is damaged, its codec invents pixels and only warns. */
static bool doubtful(const ww__tiff_job *job, const ww__tiff_worker *self) {
    const bool jpeg =
        job->tiff->compression == COMPRESSION_JPEG || job->tiff->compression == COMPRESSION_OJPEG;
    const ww__tiff_handle *handle = &self->decoder->handle;
    return ww__tiff_handle_starved(handle) || (jpeg && handle->warned[0] != '\0');
}

static ww_status no_memory(const ww__tiff_job *job, ww_error *err) {
    return ww_error_set_at(err, WW_EMEMORY, job->picture->file, 0, "no memory to read this file");
}

static ww_status make_room(const ww__tiff_job *job, ww__tiff_worker *self, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    const uint64_t room = room_size(tiff);
    if (!self->rows)
        self->rows = malloc(rows_size(tiff));
    if (!self->room && room > 0)
        self->room = malloc(room);
    return self->rows && (self->room || room == 0) ? WW_OK : no_memory(job, err);
}

/* ------------------------------------------------------------------------------------ decoders */

void ww__tiff_packed_close(ww__tiff_decoder *decoder) {
    if (!decoder)
        return;
    ww__tiff_handle_close(&decoder->handle);
    free(decoder);
}

void ww__tiff_packed_end(ww__tiff *tiff) {
    for (size_t plane = 0; plane < WW__TIFF_PLANES; plane++)
        ww__tiff_packed_close(atomic_exchange(&tiff->resting[plane], NULL));
}

static ww_status open_decoder(const ww__tiff_job *job, ww__tiff_decoder *decoder, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    const char *file = job->picture->file;
    ww_status status =
        ww__tiff_handle_open(file, tiff->fd, tiff->size, tiff->by_scanline, &decoder->handle, err);
    if (status != WW_OK)
        return status;
    ww__tiff_handle_listen(&decoder->handle);
    if (ww__tiff_handle_arrived(&decoder->handle,
                                TIFFSetSubDirectory(decoder->handle.tiff, tiff->directory)))
        return WW_OK;
    status =
        ww__tiff_handle_failed(&decoder->handle, file, "what it says of its picture cannot be read",
                               "was it changed meanwhile? Try again", err);
    ww__tiff_handle_close(&decoder->handle);
    return status;
}

static ww_status get_decoder(const ww__tiff_job *job, ww__tiff_worker *self, ww_error *err) {
    ww__tiff_decoder *decoder;
    if (self->decoder)
        return WW_OK;
    decoder = calloc(1, sizeof *decoder);
    if (!decoder)
        return no_memory(job, err);
    const ww_status status = open_decoder(job, decoder, err);
    if (status == WW_OK)
        self->decoder = decoder;
    else
        free(decoder);
    return status;
}

void ww__tiff_packed_wake(ww__tiff_job *job) {
    for (size_t plane = 0; plane < WW__TIFF_PLANES; plane++) {
        ww__tiff_decoder *resting = atomic_exchange(&job->tiff->resting[plane], NULL);
        job->left[plane] = (ww__tiff_left){resting, resting ? resting->piece : 0};
    }
}

void ww__tiff_packed_leave(ww__tiff_job *job) {
    for (size_t plane = 0; plane < WW__TIFF_PLANES; plane++)
        ww__tiff_packed_close(job->left[plane].decoder);
}

/* What is left in this very strip is the worker's own from here on, whether it can go on or begins
 * anew. A piece is one worker's, so no other one takes it. */
static void take_left(ww__tiff_job *job, ww__tiff_worker *self, size_t plane, size_t number) {
    ww__tiff_left *left = &job->left[plane];
    if (left->piece != number || !left->decoder)
        return;
    ww__tiff_packed_close(self->decoder);
    self->decoder = left->decoder;
    left->decoder = NULL;
}

static void rest(ww__tiff_job *job, ww__tiff_worker *self, size_t plane) {
    ww__tiff_packed_close(atomic_exchange(&job->tiff->resting[plane], self->decoder));
    self->decoder = NULL;
}

/* ------------------------------------------------------------------------------------- showing */

static ww_status show_whole(ww__tiff_job *job, size_t worker, size_t number,
                            const ww__tiff_piece *piece, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    ww__tiff_worker *self = &job->worker[worker];
    const size_t chunk = number % ww__tiff_layout_chunks(tiff);
    const tmsize_t size = (tmsize_t)ww__tiff_layout_bytes(tiff, chunk);
    tmsize_t got;
    struct tiff *const handle = self->decoder->handle.tiff;
    ww__tiff_handle_listen(&self->decoder->handle);
    got = tiff->tiled ? TIFFReadEncodedTile(handle, (uint32_t)number, self->rows, size)
                      : TIFFReadEncodedStrip(handle, (uint32_t)number, self->rows, size);
    if (got != size || doubtful(job, self))
        return failed(job, self, number, err);
    ww__tiff_visit_passed(job, worker, (uint64_t)piece->stored.width * piece->stored.height);
    return ww__tiff_visit_show(job, worker, piece->plane, piece->stored, self->rows,
                               (size_t)tiff->row_bytes, err);
}

/* The next n rows of a strip. */
static ww_status read_rows(const ww__tiff_job *job, ww__tiff_worker *self, size_t number,
                           size_t plane, size_t n, ww_error *err) {
    ww__tiff_decoder *decoder = self->decoder;
    const ww_status status = ww__tiff_handle_move_on(&decoder->handle, job->picture->file, err);
    if (status != WW_OK)
        return status;
    ww__tiff_handle_listen(&decoder->handle);
    for (size_t i = 0; i < n; i++)
        if (TIFFReadScanline(decoder->handle.tiff, self->rows + i * (size_t)job->tiff->row_bytes,
                             (uint32_t)(decoder->row + i), (uint16_t)plane) != 1)
            return failed(job, self, number, err);
    if (doubtful(job, self))
        return failed(job, self, number, err);
    decoder->row += n;
    return WW_OK;
}

/* Rows from where the decoder is, or from the strip's first, to the last one wanted. */
static ww_status show_rows(ww__tiff_job *job, size_t worker, size_t number,
                           const ww__tiff_piece *piece, ww_error *err) {
    const ww__tiff *tiff = job->tiff;
    ww__tiff_worker *self = &job->worker[worker];
    ww__tiff_decoder *decoder = self->decoder;
    const ww_region wanted = ww__tiff_visit_wanted(job, piece->stored);
    const size_t most = ww__tiff_visit_rows(tiff, tiff->chunk_width);
    const size_t end = wanted.y + wanted.height, bottom = piece->stored.y + piece->stored.height;
    ww_status status = WW_OK;
    if (decoder->piece != number || decoder->row < piece->stored.y || decoder->row > wanted.y)
        decoder->row = piece->stored.y;
    decoder->piece = number;
    ww__tiff_visit_passed(job, worker,
                          (uint64_t)piece->stored.width * (decoder->row - piece->stored.y));
    while (decoder->row < end && status == WW_OK) {
        const size_t y = decoder->row, n = end - y < most ? end - y : most;
        status = read_rows(job, self, number, piece->plane, n, err);
        if (status == WW_OK)
            status = ww__tiff_visit_show(job, worker, piece->plane,
                                         (ww_region){piece->stored.x, y, piece->stored.width, n},
                                         self->rows, (size_t)tiff->row_bytes, err);
        ww__tiff_visit_passed(job, worker, (uint64_t)piece->stored.width * n);
    }
    ww__tiff_visit_passed(job, worker, (uint64_t)piece->stored.width * (bottom - end));
    if (status == WW_OK && end < bottom)
        rest(job, self, piece->plane);
    return status;
}

ww_status ww__tiff_packed_work(size_t item, size_t worker, void *context, ww_error *err) {
    ww__tiff_job *job = context;
    ww__tiff_worker *self = &job->worker[worker];
    const size_t number = job->item[item];
    const ww__tiff_piece piece = ww__tiff_packed_piece(job->tiff, number);
    ww_status status = make_room(job, self, err);
    if (job->tiff->by_scanline)
        take_left(job, self, piece.plane, number);
    if (status == WW_OK)
        status = get_decoder(job, self, err);
    if (status != WW_OK)
        return status;
    return job->tiff->by_scanline ? show_rows(job, worker, number, &piece, err)
                                  : show_whole(job, worker, number, &piece, err);
}
