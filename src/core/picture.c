/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture.h"

#include <assert.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <wedgework/picture_write.h>

double ww_block_code(const ww_block *block, ptrdiff_t at) {
    assert(block && block->sample);
    switch (block->kind) {
    case WW_SAMPLE_8:
        return ((const uint8_t *)block->sample)[at];
    case WW_SAMPLE_16:
        return ((const uint16_t *)block->sample)[at];
    case WW_SAMPLE_FLOAT:
        break;
    }
    return (double)((const float *)block->sample)[at];
}

static bool inside(const ww_region *region, const ww_picture *picture) {
    return region->width > 0 && region->height > 0 && region->width <= picture->width &&
           region->height <= picture->height && region->x <= picture->width - region->width &&
           region->y <= picture->height - region->height;
}

ww_status ww__picture_check(const ww_picture *picture, const ww_region *region, ww_error *err) {
    assert(picture && region);
    if (inside(region, picture))
        return WW_OK;
    return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                           "the region %zu,%zu,%zu,%zu (x, y, width, height) does not lie in the "
                           "picture of %zu x %zu px; give one that does",
                           region->x, region->y, region->width, region->height, picture->width,
                           picture->height);
}

ww_status ww_picture_visit(const ww_picture *picture, const ww_region region[], size_t n_regions,
                           size_t threads, ww_block_visit *visit, void *context, ww_error *err) {
    assert(picture && picture->source && region && n_regions > 0 && visit);
    for (size_t i = 0; i < n_regions; i++)
        if (ww__picture_check(picture, &region[i], err) != WW_OK)
            return WW_EDOMAIN;
    return picture->source->visit(picture, region, n_regions, threads, visit, context, err);
}

void ww_picture_release(ww_picture *picture) {
    if (!picture)
        return;
    if (picture->source && picture->source->close)
        picture->source->close(picture->handle);
    free(picture->file);
    free(picture->profile);
    free(picture->icc);
    ww_notes_release(&picture->notes);
    *picture = (ww_picture)WW_PICTURE_INIT;
}

ww_status ww__picture_scale_check(const ww_picture *picture, double code, ww_error *err) {
    static const double most = 8.0; /* times white: no scene that was exposed for it is as light */
    if (picture->sample != WW_SAMPLE_FLOAT || !(code > most * picture->white))
        return WW_OK;
    return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                           "most codes are over %.0f times white, which is %g in a file like this; "
                           "export floating point with 1 for white, or 16-bit integers",
                           most, picture->white);
}

size_t ww__picture_sample_bytes(ww_sample kind) {
    return kind == WW_SAMPLE_8    ? sizeof(uint8_t)
           : kind == WW_SAMPLE_16 ? sizeof(uint16_t)
                                  : sizeof(float);
}

size_t ww__picture_codes(ww_sample kind) {
    return kind == WW_SAMPLE_8 ? 1 << 8 : kind == WW_SAMPLE_16 ? 1 << 16 : 0;
}

double ww__picture_quantum(const ww_picture *picture) {
    return picture->sample == WW_SAMPLE_FLOAT ? 0.0 : 1.0 / picture->white;
}

ww_picture_form ww_picture_form_of(const ww_picture *picture) {
    assert(picture);
    const bool real = picture->sample == WW_SAMPLE_FLOAT;
    return (ww_picture_form){.width = picture->width,
                             .height = picture->height,
                             .channels = picture->channels,
                             .sample = real ? WW_SAMPLE_FLOAT : WW_SAMPLE_16,
                             .px_per_mm_x = picture->px_per_mm_x,
                             .px_per_mm_y = picture->px_per_mm_y,
                             .icc = picture->icc,
                             .n_icc = picture->n_icc};
}
