/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_LAMP_H
#define WW_IMAGE_LAMP_H

#include "image/area.h"
#include <wedgework/picture.h>

/* From where on the light over a strip is worth a note; and what a fall that may be noise counts
 * for at most, more than most scanners' lamps have over their glass (from memory). */
#define WW__LAMP_FALL 0.01   /* D over the picture, and four errors */
#define WW__LAMP_UNTOLD 0.03 /* D over the picture */

/* The middles of steps, and what lies beyond both ends. */
typedef struct ww__lamp_cores {
    ww_patch *patch; /* n + 2: beyond the first step, the steps, beyond the last; to be freed */
    size_t n;
} ww__lamp_cores;

/*
 * ww__lamp_read - of what was read of each step, the middle three quarters along the strip, into
 *                 which neighbours hardly leak; and as much just beyond its ends.
 *
 * Given     area      what was read of n steps, 3 or more, in their order
 *           share     of a step, along, that this is
 * Returned  *cores    a part outside the picture has no pixels, n = 0
 * Status    WW_OK; WW_EMEMORY; what the picture's reader returns
 */
ww_status ww__lamp_read(const ww_picture *picture, const ww__area area[], size_t n, double share,
                        const ww_scanner *scanner, size_t threads, ww__lamp_cores *cores,
                        ww_error *err);

/*
 * ww__lamp_find - whether the lamp is uneven along a strip or across it. A tone of its own is flat:
 *                 what changes within each step in the same way is the light.
 *
 *   fall^2 = m^2 - error^2,  m the median of  change reach / side
 *
 *   over the steps whose noise is at most twice that of the fifth quietest. change is the density
 *   by which light changes from one side to the other of what was read of a step, side its length
 *   that way; reach that of the picture, and the strip's length at least: the light is taken to
 *   fall on as it does within the strip. The error of a median is by the greater of the median
 *   absolute deviation and of the median of what noise and grain make of a step (grain.h).
 *
 *   Blur, and a halo, make a step change too, as its neighbours do beside it. Along the strip,
 *
 *     change reach / side = fall + h leak,   leak = (light before - light behind) / light
 *
 *   is fitted to the middles of the steps: what lies beyond the ends, a mask or bare glass, makes
 *   leak another there than within the strip, and tells the two apart. A fall is told where the
 *   steps show it by four errors. It is surely the lamp's where, h leak taken off, the middles show
 *   over half of it by two and a half. One towards the lighter neighbours is no leak. Elsewhere the
 *   note names both, and the doubt holds all of it.
 *
 *   Where a strip lies anywhere in such a light, it has a deviation of fall / root of 12 from its
 *   mean; so has the wedge of the scanner file, to whose points as much is added when they are
 *   made. A fall that is told counts in full, another up to 0.03 D.
 *
 * Source    definition; least squares, weighted by noise; median of a normal distribution: its
 *           error is 1.2533 that of the mean; variance of what is uniform over a length
 * Given     share     of a step, along and across, that was read; 0 to 1
 *           cores     NULL: nothing leaks
 *           scanner   NULL: codes are light
 * Returned  measured  lamp, doubts, and a note each way
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__lamp_find(ww_measured *measured, double share, const ww__lamp_cores *cores,
                        const ww_scanner *scanner, ww_error *err);

#endif
