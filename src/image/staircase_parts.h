/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_PARTS_H
#define WW_IMAGE_STAIRCASE_PARTS_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

/*
 * A line of log light cut into parts of equal level, and the longest flight of parts that falls
 * step by step: what a stepped strip looks like along its axis, whatever lies before and behind.
 */
typedef struct ww__part {
    size_t from, to; /* places from .. to - 1 */
    double level;
    double tilt;  /* level of its first half less that of its second */
    double doubt; /* of the tilt */
} ww__part;

enum { WW__FLIGHT_MOST = 256 };

typedef struct ww__flight {
    size_t n;                     /* parts in it */
    size_t part[WW__FLIGHT_MOST]; /* which */
    double score;                 /* about the number of edges that a staircase would have */
    double pitch;                 /* places, median width of its parts */
} ww__flight;

/*
 * ww__parts_find - the cut that makes the weighted sum of squares about the parts' means, plus
 *                  `penalty` a part, as small as can be (exact, by dynamic programming).
 *
 * Given     value, weight  weight = 1 / variance; 0 where nothing is known
 *           may            whether a part may begin at a place; NULL: at any
 *           part           room for n
 * Returned  *n_parts
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__parts_find(const double value[], const double weight[], const bool may[], size_t n,
                         double penalty, ww__part part[], size_t *n_parts, ww_error *err);

/*
 * ww__parts_flight - the best falling flight (rising: sign = -1). Parts that are narrow beside
 *                    their neighbours (lines and gaps between steps, dust) may be passed over.
 *
 * Given     least  places, width of the narrowest part that can be a step
 * Returned  flight  n = 0 where nothing falls
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__parts_flight(const ww__part part[], size_t n_parts, double sign, size_t least,
                           ww__flight *flight, ww_error *err);

#endif
