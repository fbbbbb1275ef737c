/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_NOISE_H
#define WW_IMAGE_MERGE_NOISE_H

#include "image/merge_blocks.h"
#include <wedgework/quantity.h>

/* Noise of one pixel as light: variance = read + shot L + flicker L^2, L being beyond dark. */
typedef struct ww__merge_noise {
    double read, shot, flicker; /* variances */
} ww__merge_noise;

double ww__merge_noise_of(const ww__merge_noise *noise, double light);

/* Levels of light that noise is asked at. */
enum { WW__MERGE_LEVELS = 20 };

/* Variance of y - ratio x in a place; its middle in the calmer half of n > 1 places, which are put
 * in another order; and the order by x, for qsort. */
double ww__merge_noise_difference(const ww__merge_block *block, double ratio);
double ww__merge_noise_middle(ww__merge_block *block, size_t n, double ratio);
int ww__merge_noise_by_level(const void *a, const void *b);

/* Slope of logarithms of noise by those of light, of n > 2 levels, 95 % by what they scatter;
 * WW_ABSENT: too few tones. */
ww_quantity ww__merge_noise_slope(const double light[], const double noise[], size_t n);

/* d^2 of var(ratio x + y) that var(ratio x - y) has, at most, of detail that lies d px displaced:
 * that of 0.4 px (one sd) of blur. */
#define WW__MERGE_DISPLACED_MOST 0.8

/*
 * Noise of two scans by what they differ by within places:
 *
 *   var(y - ratio x) = read (1 + ratio^2) + shot x ratio (1 + ratio) + 2 flicker ratio^2 x^2
 *                    = 2 ratio^2 (read + shot x + flicker x^2)  where y is amplified
 *
 * by weighted least squares through medians of 20 levels, no term below 0. Grain and detail are in
 * both and cancel; of places with detail only the calmer half counts, for the scans may be a
 * fraction of a pixel apart. `flicker` is what a lamp that flickers leaves, or grain by such a
 * fraction; it is 0 unless the other two leave much more of the levels (F test, 1 %).
 *
 * Source    variance of a difference; median of chi^2 of 63 degrees of freedom: Wilson and
 *           Hilferty, PNAS 17 (1931) 684-688; F of 1 and 17 degrees of freedom: tables
 * Given     blocks  in any order, which is changed
 *           least   of a pixel's variance: rounding to codes
 */
ww__merge_noise ww__merge_noise_fit(ww__merge_blocks *blocks, double ratio, double dark,
                                    double least, bool amplified);

/* That of the longer scan of a pair, for light of its own. */
ww__merge_noise ww__merge_noise_longer(const ww__merge_noise *shorter, double ratio,
                                       bool amplified);

#endif
