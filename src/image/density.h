/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_DENSITY_H
#define WW_IMAGE_DENSITY_H

#include <wedgework/measure.h>

/* From where on a patch has no one density. */
#define WW__DENSITY_LEFT_OUT (1.0 / 3.0) /* share of its pixels */
#define WW__DENSITY_DUST 0.05            /* share up to which what was left out is none of it */
#define WW__DENSITY_UNEVEN 0.05          /* D, one sd of what a patch but for noise adds to doubt */

/* From where on clipped pixels leave a limit only, at either end, as they exclude a step from a
 * calibration. By fewer a mean is off by less than 0.004 of the noise of a pixel. */
#define WW__DENSITY_CLIPPED 0.01 /* share of a patch's pixels */

/* From where on codes of a whole picture lie on a grid that is none of the scanner's own: it may
 * have been rounded to, or cut off. Converters of 12 bits fill a 16 bit file in steps of 16. */
#define WW__DENSITY_COARSE 16.0 /* codes */

/* ww__density_light - light of a code, through the encoding where the scanner is known; else (NULL)
 *                     its share of white, as if codes were light. */
double ww__density_light(const ww_scanner *scanner, double white, double code);

/*
 * ww__density_of_code - density of a code without noise.
 *
 * Given     scanner  has the channel
 * Returned  *cell    its doubt is that of the calibration alone; LESS where the code is too light,
 *                    OVER where it is too dark
 */
ww_reach ww__density_of_code(const ww_scanner *scanner, ww_channel channel, double code,
                             ww_cell *cell);

/*
 * ww__density_of_pixel - density of a code that pixels have, as the percentiles of a whole scan.
 *
 *   sd^2 = calibration^2 + level^2 + (slope step)^2 / 12,  as for a patch of one code
 *
 * Source    variance of what is uniform over a step; `level` and codes cut off: ww_measure_strip
 * Given     step  of the codes, in codes: 1, more where they come in coarser ones, 0 in floating
 *                 point
 */
void ww__density_of_pixel(const ww_scanner *scanner, ww_channel channel, double code, double step,
                          ww_cell *cell);

/* ww__density_of_patch - density, doubt and reach of a patch that was read, by the formula of
 *                        ww_measure_strip. */
void ww__density_of_patch(const ww_scanner *scanner, ww_channel channel, ww_patch *patch);

/* ww__density_clipped - share of clipped pixels in patch i, of the channel that has most, where
 *                       its mean holds them; 0: none. *light: at the greatest code. */
double ww__density_clipped(const ww_measured *measured, size_t i, bool *light);

/* ww__density_is_none - whether patch i is no reading in some channel. */
bool ww__density_is_none(const ww_measured *measured, size_t i);

/* ww__density_put_off - all densities are off, as a note says: none keeps a doubt that it could be
 *                       trusted by. */
void ww__density_put_off(ww_measured *measured);

/* Said where the scanner file itself is none to trust. */
#define WW__DENSITY_MISFIT                                                                         \
    "The scanner file does not fit its own wedge (its notes say more), and all densities here "    \
    "are off; calibrate anew"

/* ww__density_is_below_0 - beyond its doubt, or known to be less. No film is: ww__surround_below_0
 *                          says what such a density means. */
bool ww__density_is_below_0(const ww_cell *cell);

#endif
