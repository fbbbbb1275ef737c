/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_directory.h"
#include "io/icc.h"
#include "io/tiff_layout.h"
#include "io/tiff_refuse.h"
#include <stdlib.h>
#include <string.h>
#include <tiffio.h>

static const char again[] = "it is damaged; scan, export or copy it again";

/* ------------------------------------------------------------------------------------- the page */

static ww_status count_pages(ww__tiff_handle *handle, const char *file, ww_picture *picture,
                             ww_error *err) {
    ww__tiff_handle_listen(handle);
    picture->pages = TIFFNumberOfDirectories(handle->tiff);
    if (picture->pages == 0 || ww__tiff_handle_starved(handle) || handle->sys)
        return ww__tiff_handle_failed(handle, file, "holds no picture", again, err);
    if (handle->said[0] == '\0' && handle->warned[0] == '\0')
        return WW_OK;
    return ww_error_set_at(err, WW_EINPUT, file, 0,
                           "its list of pages breaks off after page %zu: %s", picture->pages,
                           again);
}

static ww_status go_to_page(ww__tiff_handle *handle, const char *file, size_t page,
                            const ww_picture *picture, ww__tiff *tiff, ww_error *err) {
    if (page < 1 || page > picture->pages)
        return ww_error_set_at(err, WW_EDOMAIN, file, 0,
                               "there is no page %zu: the file has %zu page%s, counted from 1",
                               page, picture->pages, picture->pages == 1 ? "" : "s");
    ww__tiff_handle_listen(handle);
    if (!ww__tiff_handle_arrived(handle, TIFFSetDirectory(handle->tiff, (tdir_t)(page - 1))))
        return ww__tiff_handle_failed(handle, file, "what it says of its picture cannot be read",
                                      again, err);
    tiff->directory = TIFFCurrentDirOffset(handle->tiff);
    return WW_OK;
}

/* ------------------------------------------------------------------------- where its chunks lie */

static ww_status bad_chunk(const ww__tiff *tiff, const char *file, size_t chunk, const char *what,
                           ww_error *err) {
    return ww_error_set_at(err, WW_EINPUT, file, 0, "%s %zu %s: %s", tiff->tiled ? "tile" : "strip",
                           chunk + 1, what, again);
}

/* Every chunk lies in the file whole: a scan that was cut short is told before it is read. */
static ww_status check_chunk(const ww__tiff *tiff, const char *file, size_t chunk, uint64_t offset,
                             uint64_t bytes, ww_error *err) {
    if (offset == 0 || bytes == 0)
        return bad_chunk(tiff, file, chunk, "holds nothing", err);
    if (offset > tiff->size || bytes > tiff->size - offset)
        return bad_chunk(tiff, file, chunk, "ends after the file", err);
    return WW_OK;
}

static ww_status find_chunks(ww__tiff_handle *handle, const char *file, ww__tiff *tiff,
                             ww_error *err) {
    const size_t in_plane = ww__tiff_layout_chunks(tiff), n = in_plane * tiff->planes;
    const bool plain = tiff->compression == COMPRESSION_NONE;
    ww_status status = WW_OK;
    ww__tiff_handle_listen(handle);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        const uint64_t offset = TIFFGetStrileOffset(handle->tiff, (uint32_t)i);
        uint64_t bytes = TIFFGetStrileByteCount(handle->tiff, (uint32_t)i);
        if (ww__tiff_handle_starved(handle))
            return ww__tiff_handle_failed(handle, file, "", again, err);
        if (plain) {
            const uint64_t needed = ww__tiff_layout_bytes(tiff, i % in_plane);
            if (bytes < needed)
                return bad_chunk(tiff, file, i, "holds fewer bytes than its pixels need", err);
            bytes = needed;
            tiff->offset[i] = offset;
        }
        status = check_chunk(tiff, file, i, offset, bytes, err);
        if (bytes > tiff->longest)
            tiff->longest = bytes;
    }
    return status;
}

/* A file cut short may still hold the planes that are read; what it lost is told all the same. */
static ww_status check_other_planes(ww__tiff_handle *handle, const char *file, const ww__tiff *tiff,
                                    size_t planes, ww_error *err) {
    const size_t in_plane = ww__tiff_layout_chunks(tiff);
    ww_status status = WW_OK;
    for (size_t i = in_plane * tiff->planes; i < in_plane * planes && status == WW_OK; i++)
        status = check_chunk(tiff, file, i, TIFFGetStrileOffset(handle->tiff, (uint32_t)i),
                             TIFFGetStrileByteCount(handle->tiff, (uint32_t)i), err);
    return status;
}

/* Our own count against libtiff's, which may rest on other tags. */
static ww_status place_chunks(ww__tiff_handle *handle, const char *file, ww__tiff *tiff,
                              const ww__tiff_tags *tags, ww_error *err) {
    const size_t planes = tags->planar == PLANARCONFIG_SEPARATE ? tags->samples : 1;
    const uint64_t there =
        tiff->tiled ? TIFFNumberOfTiles(handle->tiff) : TIFFNumberOfStrips(handle->tiff);
    const uint64_t bytes =
        tiff->tiled ? TIFFTileRowSize64(handle->tiff) : TIFFScanlineSize64(handle->tiff);
    const size_t n = ww__tiff_layout_chunks(tiff);
    ww_status status;
    if (n > there / planes || n > SIZE_MAX / sizeof *tiff->offset / tiff->planes ||
        bytes != tiff->row_bytes)
        return ww_error_set_at(err, WW_EINPUT, file, 0, "contradicts itself on its %s: %s",
                               tiff->tiled ? "tiles" : "strips", again);
    status = check_other_planes(handle, file, tiff, planes, err);
    if (status != WW_OK || tiff->compression != COMPRESSION_NONE)
        return status == WW_OK ? find_chunks(handle, file, tiff, err) : status;
    tiff->offset = malloc(n * tiff->planes * sizeof *tiff->offset);
    if (!tiff->offset)
        return ww_error_set_at(err, WW_EMEMORY, file, 0, "no memory to read this file");
    status = find_chunks(handle, file, tiff, err);
    if (status != WW_OK) {
        free(tiff->offset);
        tiff->offset = NULL;
    }
    return status;
}

/* -------------------------------------------------------------------------------- the picture */

static ww_status add_notes(const ww__tiff_tags *tags, const ww__tiff *tiff, ww_notes *notes,
                           ww_error *err) {
    const size_t channels = tags->photometric == PHOTOMETRIC_RGB ? 3 : 1;
    ww_status status = WW_OK;
    if (tiff->samples.min_is_white)
        status = ww_notes_add(notes, err,
                              "The file says that its least code is white; codes are turned round, "
                              "so that more light is a greater code.");
    if (status == WW_OK && tags->samples > channels)
        status = ww_notes_add(notes, err,
                              "Left out: %zu sample%s a pixel beyond %s (alpha or the like).",
                              tags->samples - channels, tags->samples - channels == 1 ? "" : "s",
                              channels == 3 ? "RGB" : "grey");
    if (status == WW_OK && tags->associated)
        status = ww_notes_add(notes, err,
                              "Codes were multiplied with alpha when the file was written: where "
                              "that is not full, they are not light.");
    if (status == WW_OK && tags->reduced)
        status =
            ww_notes_add(notes, err, "This page says that it is a smaller version of another one.");
    if (status == WW_OK &&
        (tags->compression == COMPRESSION_JPEG || tags->compression == COMPRESSION_OJPEG))
        status = ww_notes_add(notes, err,
                              "The compression (JPEG) is lossy: fine differences may be gone; "
                              "export without it where it matters.");
    if (status == WW_OK && tiff->samples.number != WW__TIFF_REAL && tags->bits > 24)
        status = ww_notes_add(notes, err, "Of codes of %u bits, 24 bits are kept.", tags->bits);
    return status;
}

static ww_status take_profile(const void *profile, size_t n, ww_picture *picture, ww_error *err) {
    picture->icc = malloc(n > 0 ? n : 1);
    if (!picture->icc)
        return ww_error_set(err, WW_EMEMORY, "no memory for the colour profile");
    memcpy(picture->icc, profile, n);
    picture->n_icc = n;
    picture->gamma = ww__icc_gamma(profile, n);
    picture->profile = ww__icc_description(profile, n);
    return picture->profile ? WW_OK
                            : ww_notes_add(&picture->notes, err,
                                           "The embedded colour profile has no readable name.");
}

static ww_status describe(const ww__tiff_handle *handle, const ww__tiff_tags *tags,
                          const ww__tiff *tiff, ww_picture *picture, ww_error *err) {
    const bool swaps = ww__tiff_turn_swaps(&tiff->turn);
    size_t n_profile;
    const void *profile = ww__tiff_tags_profile(handle, &n_profile);
    picture->width = swaps ? tags->height : tags->width;
    picture->height = swaps ? tags->width : tags->height;
    picture->px_per_mm_x = tags->px_per_mm[swaps];
    picture->px_per_mm_y = tags->px_per_mm[!swaps];
    picture->channels = tags->photometric == PHOTOMETRIC_RGB ? 3 : 1;
    picture->left_out = tags->samples > picture->channels ? tags->samples - picture->channels : 0;
    picture->sample = ww__tiff_samples_kind(&tiff->samples);
    picture->bits = tags->bits;
    picture->white = ww__tiff_samples_white(&tiff->samples);
    if (profile) {
        const ww_status status = take_profile(profile, n_profile, picture, err);
        if (status != WW_OK)
            return status;
    }
    return add_notes(tags, tiff, &picture->notes, err);
}

static ww_status read_page(ww__tiff_handle *handle, const char *file, size_t page, ww__tiff *tiff,
                           ww_picture *picture, ww_error *err) {
    ww__tiff_tags tags;
    ww_status status = count_pages(handle, file, picture, err);
    if (status == WW_OK)
        status = go_to_page(handle, file, page, picture, tiff, err);
    if (status != WW_OK)
        return status;
    picture->page = page;
    ww__tiff_tags_read(handle, &tags);
    status = ww__tiff_refuse(&tags, file, err);
    if (status == WW_OK)
        status = ww__tiff_layout_set(&tags, file, tiff, err);
    if (status == WW_OK)
        status = describe(handle, &tags, tiff, picture, err);
    if (status == WW_OK)
        status = place_chunks(handle, file, tiff, &tags, err);
    return status;
}

ww_status ww__tiff_directory_read(const char *file, size_t page, ww__tiff *tiff,
                                  ww_picture *picture, ww_error *err) {
    ww__tiff_handle handle;
    ww__tiff found = {.fd = tiff->fd, .size = tiff->size};
    ww_picture read = WW_PICTURE_INIT;
    ww_status status = ww__tiff_handle_open(file, tiff->fd, tiff->size, false, &handle, err);
    if (status != WW_OK)
        return status;
    status = read_page(&handle, file, page, &found, &read, err);
    ww__tiff_handle_close(&handle);
    if (status != WW_OK) {
        ww_picture_release(&read);
        return status;
    }
    *tiff = found;
    *picture = read;
    return WW_OK;
}
