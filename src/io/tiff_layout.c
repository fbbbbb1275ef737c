/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_layout.h"
#include <tiffio.h>

static const struct {
    unsigned format;
    ww__tiff_number number;
} numbers[] = {
    {SAMPLEFORMAT_UINT, WW__TIFF_UNSIGNED},
    {SAMPLEFORMAT_VOID, WW__TIFF_UNSIGNED},
    {SAMPLEFORMAT_INT, WW__TIFF_SIGNED},
    {SAMPLEFORMAT_IEEEFP, WW__TIFF_REAL},
};

/* Codecs that give a strip in pieces without holding all of it. */
static const unsigned piecemeal[] = {
    COMPRESSION_LZW,  COMPRESSION_ADOBE_DEFLATE, COMPRESSION_DEFLATE, COMPRESSION_PACKBITS,
    COMPRESSION_LZMA, COMPRESSION_ZSTD,          COMPRESSION_JPEG};

static bool is_piecemeal(unsigned compression) {
    for (size_t i = 0; i < sizeof piecemeal / sizeof piecemeal[0]; i++)
        if (piecemeal[i] == compression)
            return true;
    return false;
}

static ww__tiff_samples samples_of(const ww__tiff_tags *tags) {
    const bool plain = tags->compression == COMPRESSION_NONE;
    const size_t channels = tags->photometric == PHOTOMETRIC_RGB ? 3 : 1;
    const bool separate = tags->planar == PLANARCONFIG_SEPARATE;
    ww__tiff_samples samples = {
        .bits = tags->bits,
        .big_endian = plain ? tags->big_endian : ww__tiff_samples_big_endian(),
        .min_is_white = tags->photometric == PHOTOMETRIC_MINISWHITE,
        .side_by_side = separate ? 1 : tags->samples,
        .channels = separate ? 1 : channels,
    };
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        if (numbers[i].format == tags->format)
            samples.number = numbers[i].number;
    return samples;
}

size_t ww__tiff_layout_chunks(const ww__tiff *tiff) {
    return tiff->across * tiff->down;
}

ww_region ww__tiff_layout_chunk(const ww__tiff *tiff, size_t chunk) {
    const size_t x = chunk % tiff->across * tiff->chunk_width;
    const size_t y = chunk / tiff->across * tiff->chunk_height;
    const size_t width = tiff->turn.width - x, height = tiff->turn.height - y;
    return (ww_region){x, y, width < tiff->chunk_width ? width : tiff->chunk_width,
                       height < tiff->chunk_height ? height : tiff->chunk_height};
}

uint64_t ww__tiff_layout_bytes(const ww__tiff *tiff, size_t chunk) {
    return tiff->row_bytes *
           (tiff->tiled ? tiff->chunk_height : ww__tiff_layout_chunk(tiff, chunk).height);
}

static ww_status check_whole(const ww__tiff *tiff, const char *file, ww_error *err) {
    const char *what = tiff->by_scanline ? "row" : tiff->tiled ? "tile" : "strip";
    const uint64_t rows = tiff->by_scanline ? 1 : tiff->chunk_height;
    if (tiff->row_bytes <= WW__TIFF_CHUNK_MOST / rows)
        return WW_OK;
    return ww_error_set_at(err, WW_EINPUT, file, 0,
                           "has a compressed %s of more than 1 GiB (%.0f bytes a row, %.0f rows); "
                           "export it uncompressed",
                           what, (double)tiff->row_bytes, (double)rows);
}

/* Whatever the tags say, a file of so many bytes gives so many pixels at most. */
static ww_status check_total(const ww__tiff *tiff, const char *file, bool plain, ww_error *err) {
    const uint64_t ratio = plain ? 1 : WW__TIFF_RATIO_MOST;
    const uint64_t most = tiff->size > UINT64_MAX / ratio ? UINT64_MAX : tiff->size * ratio;
    const uint64_t rows =
        tiff->tiled ? (uint64_t)tiff->down * tiff->chunk_height : (uint64_t)tiff->turn.height;
    /* Divided, not multiplied: nothing wraps. */
    const uint64_t a_row = tiff->row_bytes * tiff->planes;
    if (a_row <= most / rows && a_row * rows <= most / tiff->across)
        return WW_OK;
    return ww_error_set_at(
        err, WW_EINPUT, file, 0,
        "claims a picture of %zu x %zu px, which %.0f bytes cannot hold: it is cut short or "
        "damaged; scan, export or copy it again",
        tiff->turn.width, tiff->turn.height, (double)tiff->size);
}

ww_status ww__tiff_layout_set(const ww__tiff_tags *tags, const char *file, ww__tiff *tiff,
                              ww_error *err) {
    const bool plain = tags->compression == COMPRESSION_NONE;
    ww__tiff set = *tiff;
    ww_status status;
    set.turn = (ww__tiff_turn){tags->width, tags->height, tags->orientation};
    set.samples = samples_of(tags);
    set.planes =
        tags->planar == PLANARCONFIG_SEPARATE && tags->photometric == PHOTOMETRIC_RGB ? 3 : 1;
    set.compression = tags->compression;
    set.tiled = tags->tiled;
    set.reversed_bits = plain && tags->fill_order == FILLORDER_LSB2MSB;
    set.chunk_width = tags->chunk_width;
    set.chunk_height = tags->chunk_height;
    set.across = (set.turn.width - 1) / set.chunk_width + 1;
    set.down = (set.turn.height - 1) / set.chunk_height + 1;
    set.row_bytes = ww__tiff_samples_row(&set.samples, set.chunk_width);
    set.by_scanline = !plain && !set.tiled && is_piecemeal(tags->compression) &&
                      set.row_bytes > WW__TIFF_SCANLINES_FROM / set.chunk_height;
    set.spill_from = WW__TIFF_SPILL_FROM;
    set.threads_from = plain ? WW__TIFF_THREADS_FROM : WW__TIFF_THREADS_FROM_PACKED;
    status = check_total(&set, file, plain, err);
    if (status == WW_OK && !plain)
        status = check_whole(&set, file, err);
    if (status == WW_OK)
        *tiff = set;
    return status;
}
