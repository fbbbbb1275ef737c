/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_AREA_H
#define WW_IMAGE_AREA_H

#include <stdbool.h>
#include <stdint.h>
#include <wedgework/measure.h>

/*
 * Which pixels a patch has: those whose middle lies in a rectangle that may lie askew, or in a
 * disc. Points are px from the top left corner of the picture; u and v are measured from the
 * centre, along and across.
 */
typedef struct ww__area {
    double centre[2];
    double along[2], across[2]; /* unit vectors, square to each other */
    double half_u, half_v;      /* px, > 0; for a disc both are its radius */
    bool disc;
} ww__area;

ww__area ww__area_disc(double x, double y, double radius);

/* The part that two regions have in common; width and height are 0 where there is none. */
ww_region ww__area_common(ww_region a, ww_region b);

/* Every pixel of the area lies in this part of a picture; width 0: it has none there. */
ww_region ww__area_box(const ww__area *area, size_t width, size_t height);

/*
 * A run of pixels of a row, x to x + n - 1, that lie in one quarter of the area: 0 to 3, + 1 where
 * u is positive, + 2 where v is. Quarters let a slope of light be told without the place of every
 * pixel.
 */
enum { WW__AREA_QUARTERS = 4, WW__AREA_RUNS = 3 };
typedef struct ww__area_run {
    size_t x, n;
    unsigned quarter;
} ww__area_run;

/* Runs of row y inside the box, from left to right; returns how many. */
size_t ww__area_runs(const ww__area *area, const ww_region *box, size_t y,
                     ww__area_run run[WW__AREA_RUNS]);

/* Pixels of a quarter, and the mean of their places. */
typedef struct ww__area_quarter {
    uint64_t n;
    double u, v;
} ww__area_quarter;

void ww__area_quarters(const ww__area *area, const ww_region *box,
                       ww__area_quarter quarter[WW__AREA_QUARTERS]);

/* Pixels of the area in a picture. */
uint64_t ww__area_pixels(const ww__area *area, size_t width, size_t height);

/* Corners in the order (-u, -v), (u, -v), (u, v), (-u, v); all 0 for a disc. */
void ww__area_corners(const ww__area *area, double corner[4][2]);

#endif
