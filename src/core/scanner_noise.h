/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_NOISE_H
#define WW_CORE_SCANNER_NOISE_H

#include "scanner.h"
#include "scanner_steps.h"

/*
 * ww__scanner_noise_fit - noise of a pixel as light, from the sd of the steps.
 *
 *   variance = read^2 + shot^2 L + (fixed L)^2,  L = light less dark
 *
 * by least squares of relative departures of variance, no term below 0. No variance is below that
 * of rounding, 1/12 of a step of the codes squared: a patch that is all one code knows no better.
 *
 * Source    common practice; non-negative least squares by trying every set of terms (definition)
 * Given     strip  clipped and suspect rows do not count
 *           light  of the model
 *           dark   as light
 *           step   of the codes as a share of white, 0 for floating point
 * Returned  noise
 *           *relative_sd  of the noise's own sd, as a share of it
 */
void ww__scanner_noise_fit(const ww__scanner_strip *strip, const ww__scanner_light *light,
                           double dark, double step, ww_scanner_noise *noise, double *relative_sd);

/* ww__scanner_noise_sd - of a pixel, as light, `beyond` the dark. */
double ww__scanner_noise_sd(const ww_scanner_noise *noise, double beyond);

/*
 * ww__scanner_noise_end - density where image-forming light k 10^-D is as large as the noise.
 *
 * Returned  the density, 8 where light is larger all the way; HUGE_VAL where there is no noise
 */
double ww__scanner_noise_end(const ww_scanner_noise *noise, const ww__scanner_light *light,
                             double dark);

#endif
