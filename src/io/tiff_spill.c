/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_spill.h"
#include "io/nameless.h"
#include "io/tiff_layout.h"
#include "io/tiff_plain.h"
#include <stdlib.h>
#include <tiffio.h>
#include <unistd.h>

static uint64_t pixels_of(const ww__tiff *tiff) {
    return (uint64_t)tiff->turn.width * tiff->turn.height * tiff->planes;
}

bool ww__tiff_spill_due(ww__tiff *tiff, uint64_t in_vain) {
    const uint64_t all = atomic_fetch_add(&tiff->in_vain, in_vain) + in_vain;
    const uint64_t bytes = tiff->row_bytes * tiff->across * tiff->turn.height * tiff->planes;
    return bytes >= tiff->spill_from && all >= pixels_of(tiff) / 2 &&
           !atomic_exchange(&tiff->spill_tried, true);
}

/* Chunks one behind the other, as they are numbered; the file's length. */
static uint64_t place_chunks(const ww__tiff *tiff, uint64_t offset[]) {
    const size_t in_plane = ww__tiff_layout_chunks(tiff);
    uint64_t end = 0;
    for (size_t i = 0; i < in_plane * tiff->planes; i++) {
        offset[i] = end;
        end += ww__tiff_layout_bytes(tiff, i % in_plane);
    }
    return end;
}

ww__tiff *ww__tiff_spill_begin(const ww__tiff *tiff) {
    const size_t n = ww__tiff_layout_chunks(tiff) * tiff->planes;
    ww__tiff *spill = malloc(sizeof *spill);
    uint64_t *offset = malloc(n * sizeof *offset);
    if (!spill || !offset) {
        free(spill);
        free(offset);
        return NULL;
    }
    const uint64_t size = place_chunks(tiff, offset);
    *spill = (ww__tiff){.fd = ww__nameless_open(size),
                        .size = size,
                        .turn = tiff->turn,
                        .samples = tiff->samples,
                        .planes = tiff->planes,
                        .compression = COMPRESSION_NONE,
                        .tiled = tiff->tiled,
                        .chunk_width = tiff->chunk_width,
                        .chunk_height = tiff->chunk_height,
                        .across = tiff->across,
                        .down = tiff->down,
                        .row_bytes = tiff->row_bytes,
                        .offset = offset,
                        .threads_from = WW__TIFF_THREADS_FROM};
    if (spill->fd >= 0)
        return spill;
    ww__tiff_spill_drop(spill);
    return NULL;
}

ww_status ww__tiff_spill_rows(const ww__tiff *spill, size_t plane, ww_region stored,
                              const unsigned char *rows, ww_error *err) {
    const uint64_t at = ww__tiff_plain_place(spill, plane, stored.x, stored.y);
    if (ww__nameless_write(spill->fd, at, rows, stored.height * (size_t)spill->row_bytes))
        return WW_OK;
    return ww_error_set(err, WW_ESYSTEM, "no room for a decompressed picture");
}

void ww__tiff_spill_drop(ww__tiff *spill) {
    if (!spill)
        return;
    if (spill->fd >= 0)
        close(spill->fd);
    free(spill->offset);
    free(spill);
}
