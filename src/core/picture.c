/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
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

static ww_status refuse_scale(const ww_picture *picture, const char *range, ww_error *err) {
    return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                           "most codes are over %.0f times white, which is %g in a file like "
                           "this%s; export floating point with 1 for white, or 16-bit integers",
                           WW__PICTURE_BEYOND, picture->white, range);
}

ww_status ww__picture_scale_check(const ww_picture *picture, double code, ww_error *err) {
    return picture->sample == WW_SAMPLE_FLOAT && code > WW__PICTURE_BEYOND * picture->white
               ? refuse_scale(picture, "", err)
               : WW_OK;
}

void ww__picture_range_add(ww__picture_range *range, const ww_picture *picture, double code) {
    if (!isfinite(code))
        return;
    range->least = range->n > 0 ? fmin(range->least, code) : code;
    range->most = range->n > 0 ? fmax(range->most, code) : code;
    range->n++;
    range->beyond += code > WW__PICTURE_BEYOND * picture->white;
}

void ww__picture_range_join(ww__picture_range *all, const ww__picture_range *some) {
    if (some->n == 0)
        return;
    all->least = all->n > 0 ? fmin(all->least, some->least) : some->least;
    all->most = all->n > 0 ? fmax(all->most, some->most) : some->most;
    all->n += some->n;
    all->beyond += some->beyond;
}

ww_status ww__picture_range_check(const ww__picture_range *range, const ww_picture *picture,
                                  ww_error *err) {
    char words[96];
    if (picture->sample == WW_SAMPLE_FLOAT && range->n == 0)
        return ww_error_set_at(err, WW_ENODATA, picture->file, 0,
                               "no sample is a number (all are NaN or infinite), and nothing can "
                               "be told of it; see which program left them, and export the scan "
                               "anew");
    if (picture->sample != WW_SAMPLE_FLOAT || range->beyond <= range->n / 2)
        return WW_OK;
    snprintf(words, sizeof words, ": they run from %.4g to %.6g", range->least, range->most);
    return refuse_scale(picture, words, err);
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
