/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_MERGED_H
#define WW_CORE_MERGED_H

#include <wedgework/scanner.h>

/*
 * How two exposures become one, which a merge does and a plan foretells.
 *
 *   merged = (1 - w) shorter + w longer,  both as the shorter's light
 *
 * Source    weights of least variance: definition; clipping and fade: common practice
 */
#define WW__MERGED_CLIPPED 0.98 /* share of the greatest code: from there on one may be clipped */
#define WW__MERGED_BLEND 0.1    /* [D] over which the longer scan fades out below that */

/* Variance of a pixel in the dark, as light: no less than that of whole codes. white 1: none. */
double ww__merged_read(const ww_scanner_noise *noise, double white);

/* w by the variances of a pixel in either scan, as the shorter's light or in density. */
double ww__merged_weight(double shorter, double longer);

/* What is left of w where the longer scan shows a light and clips at another. */
double ww__merged_fade(double light, double clipped);

#endif
