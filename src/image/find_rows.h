/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FIND_ROWS_H
#define WW_IMAGE_FIND_ROWS_H

#include "image/find_tone.h"

/*
 * Where in a map a flight of steps may lie: lines of all directions within 9 degrees of level and
 * of upright are cut into parts of equal level, and the longest flight on each is kept.
 */
typedef struct ww__place {
    double score;
    double x, y;   /* cells, middle of the flight */
    double length; /* cells */
    double pitch;  /* cells */
    double angle;  /* rad, clockwise as seen */
    bool upright;
    bool falling; /* lighter to the left (top) */
    size_t parts;
} ww__place;

enum { WW__PLACES_MOST = 12 };

/* Unit vectors along (to the right or down) and across of a strip turned by angle. */
void ww__place_axes(double angle, bool upright, double along[2], double across[2]);

/*
 * ww__rows_find - the best places, best first, none beside another.
 *
 * Given     level     look along level and upright lines only, which takes a thirteenth of the time
 * Returned  place     *n_places of them
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__rows_find(const ww__tone *tone, bool level, size_t threads,
                        ww__place place[WW__PLACES_MOST], size_t *n_places, ww_error *err);

#endif
