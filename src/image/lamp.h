/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_LAMP_H
#define WW_IMAGE_LAMP_H

#include <wedgework/measure.h>

/* From where on the light along a strip is worth a note and a doubt. */
#define WW__LAMP_FALL 0.01 /* D from end to end, and four errors */

/*
 * ww__lamp_find - whether the lamp is uneven along a strip. A tone of its own is flat: what changes
 *                 within each step in the same way is the light.
 *
 *   fall = N m / share
 *
 *   m is the median, over the steps whose noise is at most twice that of the fifth quietest, of the
 *   density by which light changes from one end of what was read to the other; share, of a step
 *   that was read; N, steps. Its error is that of a median, by the greater of the median absolute
 *   deviation and of the median of what noise and grain make of a step (grain.h). Where a strip and
 *   the wedge of the scanner file lie anywhere in such a light, their difference has a deviation of
 *   fall / root of 6, that of two places of even chance: this is added to the doubt of each
 *   density.
 *
 * Source    definition; median of a normal distribution: its error is 1.2533 that of the mean
 * Given     share     0 to 1
 *           scanner   NULL: codes are light
 * Returned  measured  lamp, doubts, and a note
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__lamp_find(ww_measured *measured, double share, const ww_scanner *scanner,
                        ww_error *err);

#endif
