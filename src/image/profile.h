/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_PROFILE_H
#define WW_IMAGE_PROFILE_H

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

/*
 * ww__profile_mean - robust light along u over the rows v_from to v_to - 1: mean of the middle half
 *                    of the cells of each column, which dust, hairs and scratches do not reach.
 *
 * Returned  light[nu]    negative where no cell has a pixel
 *           scatter[nu]  standard error of it, from the scatter across
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__profile_mean(const ww__grid *grid, size_t v_from, size_t v_to, double light[],
                           double scatter[], ww_error *err);

/* Middle value; orders the array. n > 0. */
double ww__profile_median(double value[], size_t n);

/*
 * ww__profile_smooth - running median over 2 * reach + 1 places (fewer at the ends): takes out
 *                      what is narrower than half of that, keeps edges in their places.
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__profile_smooth(const double value[], size_t n, size_t reach, double smooth[],
                             ww_error *err);

#endif
