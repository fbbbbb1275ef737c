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
 *   noise of the dense end, does not turn a wedge round.
 *
 * Source    common practice
 * Given     density  NAN where it is not known
 */
ww__direction ww__direction_find(const double density[], const double level[], size_t n);

#endif
