/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_WHOLE_STEP_H
#define WW_IMAGE_WHOLE_STEP_H

#include "image/histogram.h"

/*
 * ww__whole_steps - step of the codes about each percentile of a whole scan, in codes.
 *
 *   That which all codes lie on, or more where a curve or levels that 8 bits went through left them
 *   in uneven steps: their mean gap (ww__histogram_gap_between) among the pixels about the
 *   percentile, a tenth of all to either side, but no more than lie beyond it; where those have
 *   none, as at the greatest code, that of the middle four fifths. Fewer than 16 gaps in all are
 *   between the tones of a picture without noise, which are no grid.
 *
 * Given     common  step that all codes of all channels lie on (ww__patch_step)
 *           share   n percentiles, in thousandths; 0 and 1000 are the least and the greatest code
 * Returned  step
 */
void ww__whole_steps(const ww__histogram *histogram, double common, const unsigned share[],
                     size_t n, double step[]);

#endif
