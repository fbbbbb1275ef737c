/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_GRAIN_H
#define WW_IMAGE_GRAIN_H

#include <wedgework/measure.h>

/* From how many of its errors on a change of light is no grain: some sixty steps and channels are
 * looked at, the error is known from few of them, and a change that grain did make is not seen as
 * noise, which then looks less. By simulation, one strip of 200 has such a step. */
#define WW__GRAIN_SURELY 6.0

/*
 * ww__grain_drift_error - the error of a patch's `drift` and `along`. Where pixels were each on
 *                         their own it would be that of noise; grain, and light that runs from
 *                         pixel to pixel, makes neighbours alike, and means of many pixels scatter
 *                         more than these tell.
 *
 *   error = 4 root of (g (sd^2 - uneven^2) / n)              (a disc: 3 pi / 2 in place of 4)
 *   g     = max(1, (16 + sum of g_i) / N)
 *
 *   g_i, `grain` of the N - 1 other patches whose pixels differ by no more than 1.25 times as large
 *   a share of their code (more is the scanner's noise, which hides grain), is the variance by
 *   which the means of their quarters are off a plane, over that of pixels on their own. The patch
 *   itself does not count: what lies on an edge must not excuse itself. In its place stands 16, of
 *   grain that makes squares of 4 px alike, so that few patches are not taken to be free of it.
 *
 * Source    error of the difference of two halves' means, which lie half of the way apart, by
 *           propagation; a half disc's middle lies 4 / (3 pi) of the radius off, definition
 * Given     i  a patch, c a channel that was measured
 * Returned  codes, one sd
 */
double ww__grain_drift_error(const ww_measured *measured, size_t i, int c);

#endif
