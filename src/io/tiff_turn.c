/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_turn.h"
#include <assert.h>
#include <stdint.h>

/* First mirrored along the stored x or y, then x and y swapped. */
static const struct way {
    bool mirror_x, mirror_y, swap;
} ways[9] = {
    [1] = {false, false, false}, /* first row top, first column left */
    [2] = {true, false, false},  /* top, right */
    [3] = {true, true, false},   /* bottom, right */
    [4] = {false, true, false},  /* bottom, left */
    [5] = {false, false, true},  /* left, top */
    [6] = {false, true, true},   /* right, top */
    [7] = {true, true, true},    /* right, bottom */
    [8] = {true, false, true},   /* left, bottom */
};

static const struct way *way_of(const ww__tiff_turn *turn) {
    assert(turn->orientation >= 1 && turn->orientation <= 8);
    return &ways[turn->orientation];
}

bool ww__tiff_turn_swaps(const ww__tiff_turn *turn) {
    return way_of(turn)->swap;
}

bool ww__tiff_turn_keeps_rows(const ww__tiff_turn *turn) {
    return !way_of(turn)->swap && !way_of(turn)->mirror_y;
}

static ww_region mirrored(const ww__tiff_turn *turn, ww_region region) {
    const struct way *way = way_of(turn);
    if (way->mirror_x)
        region.x = turn->width - region.x - region.width;
    if (way->mirror_y)
        region.y = turn->height - region.y - region.height;
    return region;
}

static ww_region swapped(ww_region region) {
    return (ww_region){region.y, region.x, region.height, region.width};
}

ww_region ww__tiff_turn_shown(const ww__tiff_turn *turn, ww_region stored) {
    const ww_region region = mirrored(turn, stored);
    return way_of(turn)->swap ? swapped(region) : region;
}

ww_region ww__tiff_turn_stored(const ww__tiff_turn *turn, ww_region shown) {
    return mirrored(turn, way_of(turn)->swap ? swapped(shown) : shown);
}

/* The sample that is `by` samples further. */
static const void *moved(const ww_block *block, ptrdiff_t by) {
    switch (block->kind) {
    case WW_SAMPLE_8:
        return (const uint8_t *)block->sample + by;
    case WW_SAMPLE_16:
        return (const uint16_t *)block->sample + by;
    case WW_SAMPLE_FLOAT:
        break;
    }
    return (const float *)block->sample + by;
}

void ww__tiff_turn_block(const ww__tiff_turn *turn, ww_block *block) {
    const struct way *way = way_of(turn);
    const ww_region stored = {block->x, block->y, block->width, block->height};
    const ww_region shown = ww__tiff_turn_shown(turn, stored);
    if (way->mirror_x) {
        block->sample = moved(block, (ptrdiff_t)(stored.width - 1) * block->next_x);
        block->next_x = -block->next_x;
    }
    if (way->mirror_y) {
        block->sample = moved(block, (ptrdiff_t)(stored.height - 1) * block->next_y);
        block->next_y = -block->next_y;
    }
    if (way->swap) {
        const ptrdiff_t next_x = block->next_x;
        block->next_x = block->next_y;
        block->next_y = next_x;
    }
    block->x = shown.x;
    block->y = shown.y;
    block->width = shown.width;
    block->height = shown.height;
}
