/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FIND_H
#define WW_IMAGE_FIND_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/picture.h>

/*
 * A stepped strip found in a picture. The point at `along` u and `across` v, both px, lies at
 * origin + u * along + v * across; the strip reaches from -half to half across, and step k, counted
 * from the left (of an upright strip from the top), from edge[k] to edge[k + 1] along.
 */
typedef struct ww__strip_found {
    size_t n;
    double origin[2]; /* px, on the middle line */
    double along[2];  /* unit vector from the first step to the last */
    double across[2]; /* unit vector square to it: down, or right for an upright strip */
    double half;      /* px */
    double *edge;     /* n + 1, px, rising */
    double *level;    /* n, mean light of all channels in the middle, a share of full scale */
    double sharpened; /* share of a fall by which edges are overdrawn (sharpened.h) */
    double angle_deg; /* of the long side, + turned clockwise as seen */
    bool upright;
    bool certain;    /* false: where it ends was decided by the number of steps asked for */
    size_t other;    /* steps of a strip of another number that lies elsewhere; 0: none */
    ww_region where; /* that lies, px */
} ww__strip_found;

#define WW__STRIP_FOUND_INIT                                                                       \
    { .edge = NULL }

void ww__strip_found_release(ww__strip_found *found);

/*
 * ww__find_strip - find a strip of steps that lie side by side and grow darker one by one.
 *
 *   A preview is searched along lines of all directions within 9 degrees of level and upright; what
 *   falls in flat steps there is followed to its long sides, and a staircase is fitted to its
 *   profile at full resolution. The number of steps is found first and then compared with the one
 *   asked for.
 *
 * Source    common practice
 * Given     where    NULL: everywhere
 *           steps    3 to 250
 *           widths   relative, in the order of the steps or the other; NULL: alike, or as found
 *           threads  0: one a processor
 * Returned  *found, the same for any number of threads
 * Status    WW_OK; WW_ENODATA no such strip; WW_EMISMATCH a strip of another number of steps, or
 *           more than one that would do; WW_EDOMAIN steps, widths or region; WW_EMEMORY; what the
 *           picture's reader returns
 * Accuracy  edges within a tenth of a step, the angle within 0.3 degrees, on strips that fill 40 or
 *           more px a step or whose noise is below their steps
 */
ww_status ww__find_strip(const ww_picture *picture, const ww_region *where, size_t steps,
                         const double *widths, size_t threads, ww__strip_found *found,
                         ww_error *err);

#endif
