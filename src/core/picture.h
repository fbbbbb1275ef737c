/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_PICTURE_H
#define WW_CORE_PICTURE_H

#include <wedgework/picture.h>

/* ww__picture_check - whether a region lies in the picture. Status WW_OK; WW_EDOMAIN */
ww_status ww__picture_check(const ww_picture *picture, const ww_region *region, ww_error *err);

#define WW__PICTURE_BEYOND 8.0 /* times white: no scene that was exposed for it is as light */

/* ww__picture_scale_check - whether a code that is a middle of many can be one of the picture.
 * Floating point has 1 for white; some programs write 65535 there. Status WW_OK; WW_EDOMAIN */
ww_status ww__picture_scale_check(const ww_picture *picture, double code, ww_error *err);

/*
 * The same of many codes, where more than half are beyond that: the message names the least and the
 * greatest. WW_ENODATA where none is a number. Begin with WW__PICTURE_RANGE_INIT.
 */
typedef struct ww__picture_range {
    size_t n, beyond;   /* numbers, and those of them that no scene is as light as */
    double least, most; /* codes */
} ww__picture_range;

#define WW__PICTURE_RANGE_INIT                                                                     \
    { .n = 0 }

void ww__picture_range_add(ww__picture_range *range, const ww_picture *picture, double code);
void ww__picture_range_join(ww__picture_range *all, const ww__picture_range *some);
ww_status ww__picture_range_check(const ww__picture_range *range, const ww_picture *picture,
                                  ww_error *err);

/* Bytes of a sample, and how many codes it can have; 0 of floating point. */
size_t ww__picture_sample_bytes(ww_sample kind);
size_t ww__picture_codes(ww_sample kind);

/* ww__picture_quantum - one code as a share of white; 0 in floating point, which has none. */
double ww__picture_quantum(const ww_picture *picture);

#endif
