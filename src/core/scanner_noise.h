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
 * by least squares of relative departures of variance, no term below 0. Where light was rounded to
 * steps of the codes, a step's pixels do not show how far rounding puts all of them off alike; what
 * they scatter by, over all steps, tells that, and it is added: a patch that is all one code has
 * the noise of rounding, 1/12 of a step squared.
 *
 * Source    common practice; non-negative least squares by trying every set of terms (definition);
 *           rounding: rounding.h
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

/* The whole codes that light was rounded to: what a pixel cannot tell. */
typedef struct ww__scanner_rounding {
    double step;   /* of the codes, as a share of white; 0 for floating point */
    double hidden; /* by how much the noise hides it: 0 a step is seen in full, 1 not at all */
} ww__scanner_rounding;

/*
 * ww__scanner_noise_rounding - of a strip that was rounded to steps.
 *
 *   1 - hidden = exp(-2 pi^2 noise^2),  noise in steps, the least of the steps that count
 *
 * Source    first harmonic of the rounding error, as ww__scanner_steps_mean_sd
 */
ww__scanner_rounding ww__scanner_noise_rounding(const ww__scanner_strip *strip, double step);

/*
 * ww__scanner_noise_end - density where image-forming light k 10^-D is as large as what a pixel
 *                         cannot tell:
 *
 *   sqrt(noise^2 + ((1 - hidden) code)^2),  noise and code, the width of one, as light
 *
 * The noise holds that of rounding, 1/12 of a code squared. Light that no noise lifts over the next
 * step must itself be a code before it is seen for sure.
 *
 * Returned  the density, 8 where light is larger all the way; HUGE_VAL where there is neither
 */
double ww__scanner_noise_end(const ww_scanner_noise *noise, const ww__scanner_light *light,
                             double dark, ww__scanner_rounding rounding);

/* ww__scanner_noise_code - what a step of the codes is in density; HUGE_VAL where light is all
 *                          flare. */
double ww__scanner_noise_code(const ww__scanner_light *light, double density, double step);

#endif
