/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_DIRECTION_H
#define WW_IMAGE_DIRECTION_H

#include <stdbool.h>
#include <stddef.h>

typedef enum ww__direction {
    WW__DIRECTION_FORWARD, /* the first density belongs to the first level */
    WW__DIRECTION_REVERSED,
    WW__DIRECTION_NEITHER, /* levels run neither way with the densities */
    WW__DIRECTION_ALIKE    /* either way would do */
} ww__direction;

/* Steps whose densities differ by less say nothing about the direction. */
#define WW__DIRECTION_LEAST 0.05

/*
 * ww__direction_find - which way round densities belong to levels of light: light falls with
 *                      density.
 *
 *   A way is right where at least 9 of 10 pairs of steps agree with it: a step out of order, in the
 *   noise of the dense end, does not turn a wedge round. Two steps that are clipped at the same end
 *   of the codes say nothing.
 *
 * Source    common practice
 * Given     density   NAN where it is not known
 *           level     shares of full scale
 *           rounding  by which the level of a clipped step may be off 0 or 1: half a code, 0 in
 *                     floating point
 */
ww__direction ww__direction_find(const double density[], const double level[], size_t n,
                                 double rounding);

/* ww__direction_clipped - how many levels are clipped: [0] at code 0, [1] at full scale. */
void ww__direction_clipped(const double level[], size_t n, double rounding, size_t clipped[2]);

#endif
