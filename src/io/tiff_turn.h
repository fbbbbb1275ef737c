/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_TURN_H
#define WEDGEWORK_IO_TIFF_TURN_H

#include <stdbool.h>
#include <wedgework/picture.h>

/* The eight ways in which a stored picture may lie, 1 to 8 as in TIFF 6.0, Orientation. */
typedef struct ww__tiff_turn {
    size_t width, height; /* as stored, px */
    unsigned orientation;
} ww__tiff_turn;

/* Whether stored rows are shown as columns. */
bool ww__tiff_turn_swaps(const ww__tiff_turn *turn);

/* Whether stored rows are shown as rows, the first at the top. */
bool ww__tiff_turn_keeps_rows(const ww__tiff_turn *turn);

/* A region of the stored picture as shown, and back. It lies inside. */
ww_region ww__tiff_turn_shown(const ww__tiff_turn *turn, ww_region stored);
ww_region ww__tiff_turn_stored(const ww__tiff_turn *turn, ww_region shown);

/*
 * Turns a block that is given as stored (place, size, first sample, strides) into one as shown.
 * `channel`, `channels` and `kind` are set and stay.
 */
void ww__tiff_turn_block(const ww__tiff_turn *turn, ww_block *block);

#endif
