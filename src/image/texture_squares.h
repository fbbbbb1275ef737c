/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_TEXTURE_SQUARES_H
#define WW_IMAGE_TEXTURE_SQUARES_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

typedef struct ww__texture_squares {
    size_t n;           /* squares of which three quarters count */
    double sd;          /* of their means */
    double independent; /* squares that tell as much of it, did none know of its neighbours */
} ww__texture_squares;

/*
 * ww__texture_squares_read - spread of the means of squares of pixels.
 *
 *   independent = n / sum of r^2, r the correlations of squares up to three apart in any direction,
 *   each less what chance makes of it
 *
 * Source    Bartlett's variance of the variance of a series (textbook)
 * Given     density  width x height, row by row, mean 0; counts says which
 *           side     of a square [px]
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__texture_squares_read(const double density[], const bool counts[], size_t width,
                                   size_t height, size_t side, ww__texture_squares *found,
                                   ww_error *err);

#endif
