/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_tags.h"
#include <math.h>
#include <tiffio.h>

static unsigned short_of(TIFF *tiff, uint32_t tag, unsigned otherwise) {
    uint16_t value = 0;
    return TIFFGetFieldDefaulted(tiff, tag, &value) == 1 ? value : otherwise;
}

static uint32_t long_of(TIFF *tiff, uint32_t tag, uint32_t otherwise) {
    uint32_t value = 0;
    return TIFFGetFieldDefaulted(tiff, tag, &value) == 1 ? value : otherwise;
}

static ww_optional resolution(TIFF *tiff, uint32_t tag) {
    const unsigned unit = short_of(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_INCH);
    const double mm = unit == RESUNIT_INCH ? 25.4 : 10.0;
    float value = 0.0f;
    if ((unit != RESUNIT_INCH && unit != RESUNIT_CENTIMETER) ||
        TIFFGetField(tiff, tag, &value) != 1 || !isfinite(value) || value <= 0.0f)
        return (ww_optional){false, 0.0};
    return (ww_optional){true, (double)value / mm};
}

static void read_extra(TIFF *tiff, ww__tiff_tags *tags) {
    uint16_t n = 0;
    const uint16_t *kind = NULL;
    if (TIFFGetField(tiff, TIFFTAG_EXTRASAMPLES, &n, &kind) != 1 || !kind)
        return;
    tags->extra = n;
    for (unsigned i = 0; i < n; i++)
        if (kind[i] == EXTRASAMPLE_ASSOCALPHA)
            tags->associated = true;
}

static void read_chunks(TIFF *tiff, ww__tiff_tags *tags) {
    tags->tiled = TIFFIsTiled(tiff) != 0;
    if (tags->tiled) {
        tags->chunk_width = long_of(tiff, TIFFTAG_TILEWIDTH, 0);
        tags->chunk_height = long_of(tiff, TIFFTAG_TILELENGTH, 0);
        tags->tile_depth = long_of(tiff, TIFFTAG_TILEDEPTH, 1);
    } else {
        const uint32_t rows = long_of(tiff, TIFFTAG_ROWSPERSTRIP, UINT32_MAX);
        tags->chunk_width = tags->width;
        tags->chunk_height = rows < tags->height ? rows : tags->height;
        tags->tile_depth = 1;
    }
}

static uint64_t number_at(const unsigned char *byte, size_t n, bool big_endian) {
    uint64_t number = 0;
    for (size_t i = 0; i < n; i++)
        number = number << 8 | byte[big_endian ? i : n - 1 - i];
    return number;
}

/*
 * Whether the page itself says that it has a palette. libtiff takes one whose colours are missing
 * or too few for grey, and its codes for light.
 */
static bool has_palette(const ww__tiff_handle *handle) {
    const bool big = TIFFIsBigEndian(handle->tiff) != 0;
    unsigned char head[4], entry[20];
    ww_error ignored = WW_ERROR_INIT;
    if (ww__tiff_handle_pread("", handle->fd, 0, head, sizeof head, &ignored) != WW_OK)
        return false;
    const bool wide = number_at(head + 2, 2, big) == TIFF_VERSION_BIG;
    const size_t count_size = wide ? 8 : 2, size = wide ? 20 : 12;
    uint64_t at = TIFFCurrentDirOffset(handle->tiff);
    if (ww__tiff_handle_pread("", handle->fd, at, entry, count_size, &ignored) != WW_OK)
        return false;
    at += count_size;
    for (uint64_t n = number_at(entry, count_size, big); n > 0; n--, at += size) {
        if (ww__tiff_handle_pread("", handle->fd, at, entry, size, &ignored) != WW_OK)
            return false;
        if (number_at(entry, 2, big) == TIFFTAG_PHOTOMETRIC)
            return number_at(entry + size - (wide ? 8 : 4), 2, big) == PHOTOMETRIC_PALETTE;
    }
    return false;
}

void ww__tiff_tags_read(const ww__tiff_handle *handle, ww__tiff_tags *tags) {
    TIFF *tiff = handle->tiff;
    uint16_t photometric = 0;
    *tags = (ww__tiff_tags){
        .width = long_of(tiff, TIFFTAG_IMAGEWIDTH, 0),
        .height = long_of(tiff, TIFFTAG_IMAGELENGTH, 0),
        .depth = long_of(tiff, TIFFTAG_IMAGEDEPTH, 1),
        .bits = short_of(tiff, TIFFTAG_BITSPERSAMPLE, 1),
        .samples = short_of(tiff, TIFFTAG_SAMPLESPERPIXEL, 1),
        .format = short_of(tiff, TIFFTAG_SAMPLEFORMAT, SAMPLEFORMAT_UINT),
        .planar = short_of(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG),
        .compression = short_of(tiff, TIFFTAG_COMPRESSION, COMPRESSION_NONE),
        .orientation = short_of(tiff, TIFFTAG_ORIENTATION, ORIENTATION_TOPLEFT),
        .fill_order = short_of(tiff, TIFFTAG_FILLORDER, FILLORDER_MSB2LSB),
        .reduced = (long_of(tiff, TIFFTAG_SUBFILETYPE, 0) & FILETYPE_REDUCEDIMAGE) != 0,
        .big_endian = TIFFIsBigEndian(tiff) != 0,
        .px_per_mm = {resolution(tiff, TIFFTAG_XRESOLUTION), resolution(tiff, TIFFTAG_YRESOLUTION)},
    };
    tags->says_photometric = TIFFGetField(tiff, TIFFTAG_PHOTOMETRIC, &photometric) == 1;
    tags->photometric = has_palette(handle) ? PHOTOMETRIC_PALETTE : photometric;
    if (tags->orientation < ORIENTATION_TOPLEFT || tags->orientation > ORIENTATION_LEFTBOT)
        tags->orientation = ORIENTATION_TOPLEFT;
    read_extra(tiff, tags);
    read_chunks(tiff, tags);
}

const void *ww__tiff_tags_profile(const ww__tiff_handle *handle, size_t *n) {
    uint32_t length = 0;
    const void *profile = NULL;
    *n = 0;
    if (TIFFGetField(handle->tiff, TIFFTAG_ICCPROFILE, &length, &profile) != 1 || !profile)
        return NULL;
    *n = length;
    return profile;
}
