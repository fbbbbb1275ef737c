/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_GATHER_H
#define WEDGEWORK_TESTS_GATHER_H

#include "support/support.h"
#include <stdatomic.h>
#include <stdlib.h>
#include <wedgework/picture.h>

/* Puts the blocks of a picture together again, and counts how often each sample was shown. */
typedef struct gathered {
    size_t width, height, channels;
    double *value;       /* [y][x][channel] */
    unsigned char *seen; /* the same */
    atomic_size_t blocks, pixels, outside, worker;
} gathered;

static inline ww_status gather_block(const ww_block *block, size_t worker, void *context,
                                     ww_error *err) {
    gathered *all = context;
    (void)err;
    atomic_fetch_add(&all->blocks, 1);
    atomic_fetch_add(&all->pixels, block->width * block->height);
    if (worker > atomic_load(&all->worker))
        atomic_store(&all->worker, worker);
    if (block->x + block->width > all->width || block->y + block->height > all->height ||
        block->channel + block->channels > all->channels) {
        atomic_fetch_add(&all->outside, 1);
        return WW_OK;
    }
    for (size_t y = 0; y < block->height; y++)
        for (size_t x = 0; x < block->width; x++)
            for (size_t c = 0; c < block->channels; c++) {
                const ptrdiff_t from =
                    (ptrdiff_t)x * block->next_x + (ptrdiff_t)y * block->next_y + (ptrdiff_t)c;
                const size_t to = ((block->y + y) * all->width + block->x + x) * all->channels +
                                  block->channel + c;
                all->value[to] = ww_block_code(block, from);
                all->seen[to]++;
            }
    return WW_OK;
}

static inline void gather_release(gathered *all) {
    free(all->value);
    free(all->seen);
}

/* Regions of a picture; release what came, also on failure. */
static inline ww_status gather_regions(const ww_picture *picture, const ww_region region[],
                                       size_t n, size_t threads, gathered *all, ww_error *err) {
    const size_t samples = picture->width * picture->height * picture->channels;
    all->width = picture->width;
    all->height = picture->height;
    all->channels = picture->channels;
    all->value = calloc(samples, sizeof *all->value);
    all->seen = calloc(samples, 1);
    assert_true(all->value && all->seen);
    atomic_init(&all->blocks, 0);
    atomic_init(&all->pixels, 0);
    atomic_init(&all->outside, 0);
    atomic_init(&all->worker, 0);
    return ww_picture_visit(picture, region, n, threads, gather_block, all, err);
}

static inline ww_status gather_all(const ww_picture *picture, size_t threads, gathered *all,
                                   ww_error *err) {
    const ww_region everything = {0, 0, picture->width, picture->height};
    return gather_regions(picture, &everything, 1, threads, all, err);
}

/* Every sample of the region was shown once, and nothing lay outside the picture. */
static inline void gather_complete(const char *row, const gathered *all, ww_region region) {
    test_true(row, atomic_load(&all->outside) == 0);
    for (size_t y = region.y; y < region.y + region.height; y++)
        for (size_t i = region.x * all->channels; i < (region.x + region.width) * all->channels;
             i++)
            if (all->seen[y * all->width * all->channels + i] != 1)
                fail_msg("%s: row %zu, sample %zu was shown %d times", row, y, i,
                         all->seen[y * all->width * all->channels + i]);
}

/* A picture that is read without complaint, all of it. */
static inline void gather_whole(const char *row, const ww_picture *picture, size_t threads,
                                gathered *all) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, gather_all(picture, threads, all, &err), WW_OK, &err);
    gather_complete(row, all, (ww_region){0, 0, picture->width, picture->height});
}

#endif
