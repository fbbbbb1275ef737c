/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_MATCH_H
#define WW_IMAGE_MERGE_MATCH_H

#include "image/merge_window.h"

/* Scans further apart than this are not looked for: px. */
enum { WW__MERGE_REACH = 24 };

/* How far scan b is displaced at a place: what a shows at (x, y) stands in b at (x + right,
 * y + down). */
typedef struct ww__merge_place {
    size_t x, y;        /* px, the middle of the place */
    bool known;         /* there was enough to see in both directions */
    bool apart;         /* more than 1 px displaced beyond doubt, known or not */
    bool unlike;        /* both hold detail at one place, which matches nowhere within reach */
    double right, down; /* px, to about 0.1 px where known */
} ww__merge_place;

/* Where b has what a shows: as ww__merge_shift_find tells. Smooths both. False where there is no
 * memory. */
bool ww__merge_match_find(ww__merge_pair *p, ww__merge_place *place);

/*
 * Whether b lies displaced by more than 1 px (`apart`), and how far, by what is finer than 17 px:
 * lamps that drift displace smooth skies. It must be e^20 times likelier than that it lies within 1
 * px, and still e^10 times without 25 x 25 px around what stands out most: a speck that slid over
 * film at rest is no displacement. Spoils both. False where there is no memory.
 */
bool ww__merge_match_slipped(ww__merge_pair *p, ww__merge_place *place);

#endif
