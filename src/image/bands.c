/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/bands.h"

#include "base/sizes.h"
#include "core/picture.h"

#include <assert.h>
#include <string.h>

enum {
    NEAR = 4 * 1024 * 1024,    /* bytes of a band whose rows can be had alone */
    READING = 24 * 1024 * 1024 /* bytes that the threads of one visit may take together */
};

size_t ww__bands_pixel(const ww_picture *picture) {
    return picture->channels * ww__picture_sample_bytes(picture->sample);
}

size_t ww__bands_rows(const ww_picture *const picture[], size_t n, size_t most) {
    assert(picture && n > 0);
    size_t together = 1, row = 0;
    for (size_t i = 0; i < n; i++) {
        if (picture[i]->rows_together > together)
            together = picture[i]->rows_together;
        row += picture[i]->width * ww__bands_pixel(picture[i]);
    }
    const size_t room = together > 1 || n * (size_t)NEAR > most ? most : n * NEAR;
    size_t rows = room > row ? room / row : 1;
    if (rows >= together)
        rows -= rows % together;
    return rows < picture[0]->height ? rows : picture[0]->height;
}

typedef struct reading {
    const ww_region *region;
    size_t n_regions;
    size_t channels, size; /* of a sample, bytes */
    void *const *pixel;
} reading;

/* n pixels of a block's row, `next` bytes from one to the next, each with `bytes` of channels. */
static void copy_row(const unsigned char *from, ptrdiff_t next, size_t bytes, unsigned char *to,
                     size_t pixel, size_t n) {
    if (next == (ptrdiff_t)bytes && bytes == pixel) {
        memcpy(to, from, n * pixel);
        return;
    }
    for (; n > 0; n--, from += next, to += pixel)
        memcpy(to, from, bytes);
}

/* What a block has of a region. */
static void put_region(const reading *r, size_t i, const ww_block *block) {
    const ww_region *region = &r->region[i];
    const size_t pixel = r->channels * r->size;
    const ptrdiff_t size = (ptrdiff_t)r->size;
    const size_t left = ww__most(block->x, region->x), top = ww__most(block->y, region->y);
    const size_t right = ww__least(block->x + block->width, region->x + region->width);
    const size_t bottom = ww__least(block->y + block->height, region->y + region->height);
    unsigned char *const to = r->pixel[i];
    for (size_t y = top; y < bottom && left < right; y++) {
        const ptrdiff_t at = (ptrdiff_t)(left - block->x) * block->next_x +
                             (ptrdiff_t)(y - block->y) * block->next_y;
        copy_row((const unsigned char *)block->sample + at * size, block->next_x * size,
                 block->channels * r->size,
                 to + ((y - region->y) * region->width + left - region->x) * pixel +
                     block->channel * r->size,
                 pixel, right - left);
    }
}

static ww_status put(const ww_block *block, size_t worker, void *context, ww_error *err) {
    const reading *r = context;
    (void)worker, (void)err;
    for (size_t i = 0; i < r->n_regions; i++)
        put_region(r, i, block);
    return WW_OK;
}

/* 0: as many as there are processors. */
static size_t threads_for(const ww_picture *picture) {
    enum { PROCESSORS = 8 }; /* where each may take that, no limit is worth while */
    const size_t fit = READING / ww__most(picture->reading_bytes, 1);
    return fit >= PROCESSORS ? 0 : ww__most(fit, 1);
}

ww_status ww__bands_read_several(const ww_picture *picture, const ww_region region[], size_t n,
                                 void *const pixel[], ww_error *err) {
    assert(picture && region && pixel && n > 0);
    reading r = {region, n, picture->channels, ww__picture_sample_bytes(picture->sample), pixel};
    ww_picture quiet = *picture;
    quiet.progress = NULL;
    return ww_picture_visit(&quiet, region, n, threads_for(picture), put, &r, err);
}

ww_status ww__bands_read(const ww_picture *picture, ww_region region, void *pixel, ww_error *err) {
    return ww__bands_read_several(picture, &region, 1, &pixel, err);
}
