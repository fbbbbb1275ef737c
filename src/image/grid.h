/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_GRID_H
#define WW_IMAGE_GRID_H

#include <stddef.h>
#include <wedgework/picture.h>

/*
 * Mean light over the cells of a grid that may lie askew in a picture: the preview of a whole scan
 * is one with square cells, the profile of a strip one with cells as fine as its steps need.
 */
typedef struct ww__grid {
    double x, y;           /* px, outer corner of cell (0, 0) */
    double along[2];       /* unit vector of u */
    double across[2];      /* unit vector of v, square to it */
    double step_u, step_v; /* px a cell */
    size_t nu, nv;         /* at least 1 */
    double *light; /* cell (u, v) at u + v * nu: mean of all channels, a share of full scale;
                      negative where no pixel fell */
} ww__grid;

#define WW__GRID_INIT                                                                              \
    { .light = NULL }

void ww__grid_release(ww__grid *grid);

/*
 * ww__grid_read - fill the cells of a grid from a picture, in one pass over the pixels below it.
 *
 * Given     limits  pixels outside do not count; inside the picture
 *           skip    every skip-th pixel of every skip-th row counts; 1: all
 *           grid    everything but light
 * Returned  grid->light, the same for any number of threads
 * Status    WW_OK; WW_EDOMAIN grid and limits have nothing in common; WW_EMEMORY; what the
 *           picture's reader returns
 */
ww_status ww__grid_read(const ww_picture *picture, const ww_region *limits, size_t skip,
                        size_t threads, ww__grid *grid, ww_error *err);

#endif
