/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_EDGE_H
#define WEDGEWORK_EDGE_H

#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/quantity.h>

/* How sharp an edge is that stands a little askew in a picture. */
enum { WW_EDGE_FREQUENCIES = 65 };

typedef struct ww_edge {
    double angle_deg;     /* from the nearer side of the picture, 0 to 45 */
    double light, dark;   /* either side */
    ww_quantity width_px; /* from 10 to 90 % of the way from dark to light, across the edge */
    ww_quantity mtf50;    /* [cycles/px] at which half of the contrast is left; absent where more is
                             left up to 1 cycle/px */
    double overshoot; /* by how much it surely lies beyond both sides, a share of their difference:
                         sharpening makes it so */
    double mtf[WW_EDGE_FREQUENCIES]; /* contrast left from 0 to 1 cycles/px, in equal steps */
} ww_edge;

/*
 * ww_edge_measure - sharpness of a slanted edge.
 *
 *   The edge's line is fitted to the centroids of each row's differences; pixels are gathered by
 *   their distance across it in quarters of a pixel, up to four times its width to either side: the
 *   edge profile. What light spreads further than that is not in it. Its differences, tapered
 *   towards both ends, are the line profile, and the size of its Fourier transform over that at 0,
 *   less what gathering and differences take, is the MTF. Each share of the edge's length is
 *   measured for itself: the interval is that of their mean, and of a width 1/48 px besides, which
 *   quarters of a pixel put it off by. Overshoot is the lesser of what the profile's lightest place
 *   is lighter than the light side, and its darkest darker than the dark one, each less 3 errors.
 *
 * Source    method of ISO 12233 (slanted edge, fourfold), from memory; taper and shares are this
 *           program's
 * Given     light   width x height values in proportion to light, row by row     [1]
 *           width, height   at least 16 px along both
 * Returned  *edge   pixels' own blur is in it
 * Status    WW_OK; WW_EDOMAIN fewer pixels, a value that is not finite, an edge that stands so
 *           straight that it does not move by 2 px, that is askew by over 30 degrees, or less than
 *           8 px from a side; WW_ENODATA no edge: the sides differ by less than 8 times the noise;
 *           WW_EMEMORY
 * Accuracy  edges of Gaussian blur from 0.8 to 4 px: MTF50 and width within 3 %, contrast within
 *           0.02 up to 0.5 cycles/px
 */
ww_status ww_edge_measure(const double light[], size_t width, size_t height, ww_edge *edge,
                          ww_error *err);

#endif
