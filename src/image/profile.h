/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_PROFILE_H
#define WW_IMAGE_PROFILE_H

#include "image/grid.h"

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

/*
 * ww__profile_smooth - running median over 2 * reach + 1 places (fewer at the ends): takes out
 *                      what is narrower than half of that, keeps edges in their places.
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__profile_smooth(const double value[], size_t n, size_t reach, double smooth[],
                             ww_error *err);

#endif
