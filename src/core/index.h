/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_INDEX_H
#define WW_CORE_INDEX_H

#include "trace.h"

/* Radii of the two arcs, log10 units on both axes (three-point rule, as published by its maker). */
#define WW__INDEX_NEAR 0.2
#define WW__INDEX_FAR 2.2

typedef struct ww__index {
    double slope;  /* the contrast index */
    double centre; /* u of the centre, which lies on the base+fog line */
    double near;   /* u where the line cuts the near arc and the curve */
    double far;    /* the same on the far arc */
} ww__index;

/*
 * ww__index_find - contrast index of a curve over its range, to 1e-9.
 *
 * Given     trace, base_fog
 *           start   a guess of the near point, such as net 0.10
 * Returned  *index, on WW__REACH_FOUND only. WW__REACH_BEFORE: the near arc meets the curve before
 *           the thinnest step; WW__REACH_BEYOND: the far arc meets it after the densest.
 */
ww__reach ww__index_find(const ww__trace *trace, double base_fog, double start, ww__index *index);

#endif
