/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_PATCH_H
#define WW_IMAGE_PATCH_H

#include "image/area.h"
#include "image/histogram.h"

/* Pixels further from the median than so many robust deviations (1.4826 times the median absolute
 * deviation), and than so many steps of code, are dust. */
#define WW__PATCH_DEVIATIONS 4.0
#define WW__PATCH_CODES 1.5

/* The channel that channel c of a picture is: grey ones are `visual`. */
ww_channel ww__patch_channel(const ww_picture *picture, size_t c);

/*
 * ww__patch_value - what the counts of a patch say.
 *
 *   A step of code is the least distance between codes that occur: in an 8 bit scan that was made a
 *   16 bit one, 257.
 *
 * Given     counts    of the four quarters of the area
 *           quarter   where they lie
 *           scanner   the encoding through which light is averaged; NULL: codes are light
 *           white     the greatest code
 *           step      that all codes of the picture lie on; 0 in floating point
 * Returned  *value    everything but density; its step is that which its own codes show, or 0
 *           *kept     pixels, 0 where there are none: then *value is all 0
 *           *rejected share of pixels
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__patch_value(const ww__histogram counts[WW__AREA_QUARTERS], const ww__area *area,
                          const ww__area_quarter quarter[WW__AREA_QUARTERS],
                          const ww_scanner *scanner, double white, double step,
                          ww_patch_channel *value, uint64_t *kept, double *rejected,
                          ww_error *err);

/*
 * ww__patch_read - read many areas in one visit. The step of their codes is the greatest common
 *                  divisor of the distances of codes that occur together, in all areas: 257 in an
 *                  8 bit scan that was made a 16 bit one; where a curve was applied to that, what
 *                  the codes of each patch show (ww__histogram_gap).
 *
 * Given     area     each reaches into the picture
 *           threads  0: one a processor
 * Returned  patch    n of them: everything but step and densities, the same for any number of
 *                    threads. n is 0 where a channel has no pixel there that is a number.
 * Status    WW_OK; WW_EDOMAIN an area outside of the picture; WW_EMEMORY; what the picture's reader
 *           returns
 */
ww_status ww__patch_read(const ww_picture *picture, const ww__area area[], size_t n,
                         const ww_scanner *scanner, size_t threads, ww_patch patch[],
                         ww_error *err);

#endif
