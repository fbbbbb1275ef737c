/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FIND_TONE_H
#define WW_IMAGE_FIND_TONE_H

#include "image/profile.h"
#include <stdbool.h>

/*
 * A preview in log light, so that dense steps show as much contrast as thin ones. Light below the
 * noise has no logarithm worth having: a floor of three times the noise is added first.
 * Coordinates are cells of the map, (0.5, 0.5) the middle of the first.
 */
typedef struct ww__tone {
    size_t width, height;
    double x, y, scale;  /* px of the outer corner of the first cell; px a cell */
    double floor, noise; /* shares of full scale; noise is that of a cell in the dark */
    double *value;       /* log10 of light */
    double *weight;      /* 1 / variance */
} ww__tone;

#define WW__TONE_INIT                                                                              \
    { .value = NULL }

void ww__tone_release(ww__tone *tone);

/*
 * ww__tone_new - log light of a preview whose cells are square; `shrink` of them each way make one.
 *
 * Given     quantum  the smallest difference of light that the file can hold, a share of full scale
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__tone_new(const ww__grid *preview, size_t shrink, double quantum, ww__tone *tone,
                       ww_error *err);

/* A line through a map: n places from (x, y) on, each (dx, dy) further; weight 0 outside. */
typedef struct ww__line {
    double x, y, dx, dy;
    size_t n;
} ww__line;

void ww__tone_line(const ww__tone *tone, const ww__line *line, double value[], double weight[]);

#endif
