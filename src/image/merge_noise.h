/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_NOISE_H
#define WW_IMAGE_MERGE_NOISE_H

#include "image/merge_blocks.h"

/* Noise of one pixel as light: variance = read + shot L, L being light beyond dark. */
typedef struct ww__merge_noise {
    double read, shot; /* variances */
} ww__merge_noise;

double ww__merge_noise_of(const ww__merge_noise *noise, double light);

/*
 * Noise of two scans by what they differ by within places:
 *
 *   var(y - ratio x) = read (1 + ratio^2) + shot x ratio (1 + ratio)
 *
 * by weighted least squares through medians of 20 levels, no term below 0. Grain and detail are in
 * both and cancel; of places with detail only the calmer half counts, for the scans may be a
 * fraction of a pixel apart.
 *
 * Source    variance of a difference; median of chi^2 of 63 degrees of freedom: Wilson and
 *           Hilferty, PNAS 17 (1931) 684-688
 * Given     blocks  in any order, which is changed
 *           least   of a pixel's variance: rounding to codes
 */
ww__merge_noise ww__merge_noise_fit(ww__merge_blocks *blocks, double ratio, double dark,
                                    double least);

#endif
