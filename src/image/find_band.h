/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FIND_BAND_H
#define WW_IMAGE_FIND_BAND_H

#include "image/find_rows.h"

/* The strip that a place belongs to: px of the picture. */
typedef struct ww__band {
    double x, y;  /* px, a point of the middle line */
    double angle; /* rad, clockwise as seen */
    bool upright, falling;
    double half;     /* px, half the width across */
    double from, to; /* px along from the point: the flight of steps that was seen */
    double pitch;    /* px, about */
} ww__band;

/*
 * ww__band_find - how far across a place reaches, and how exactly it is turned.
 *
 *   Rows beside the place belong to it as long as they look like it, section by section along the
 *   flight; the sections' ends lie on the long sides of the strip, whose slope is the median of
 *   slopes between all pairs.
 *
 * Returned  *band, where the status is WW_OK or WW_EMISMATCH
 * Status    WW_OK; WW_EMISMATCH turned by more than 9.5 degrees (no message); WW_ENODATA what was
 *           found is no strip (no message); WW_EMEMORY
 */
ww_status ww__band_find(const ww__tone *tone, const ww__place *place, ww__band *band,
                        ww_error *err);

#endif
