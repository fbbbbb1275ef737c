/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_STEPS_H
#define WW_CORE_SCANNER_STEPS_H

#include <wedgework/measure.h>

/* One step of the wedge in one channel; codes are shares of white. */
typedef struct ww__scanner_row {
    const char *label; /* the measured patch's */
    double density;
    double density_sd; /* of its own, apart from what the whole wedge may be off */
    double share;
    double pixel_sd; /* of one pixel */
    double mean_sd;  /* of the mean: noise, and what the steps of the codes leave open */
    bool clipped;
    bool suspect;
} ww__scanner_row;

/* What the wedge's densities are worth. */
typedef struct ww__scanner_wedge {
    double sd;          /* of each step alone; not for a nominal wedge */
    bool nominal;       /* or nothing is said */
    double thin, dense; /* densities of its ends, all channels */
} ww__scanner_wedge;

/* A channel of the strip. */
typedef struct ww__scanner_strip {
    ww_channel channel;
    ww_column column; /* of the wedge that its densities come from */
    ww__scanner_row *row;
    size_t n;
    double step; /* of the codes, as a share of white; 0 for floating point */
} ww__scanner_strip;

typedef struct ww__scanner_strips {
    ww__scanner_wedge wedge;
    ww__scanner_strip strip[WW_CHANNEL_COUNT];
    size_t n;
} ww__scanner_strips;

#define WW__SCANNER_STRIPS_INIT                                                                    \
    { .n = 0 }

/* ww__scanner_wedge_off - 95 % half-width by which a wedge may be off all along, at a density: of a
 *                         nominal one 0.01 at its thin to 0.10 at its dense end, else that of each
 *                         step. */
double ww__scanner_wedge_off(const ww__scanner_wedge *wedge, double density);

/*
 * ww__scanner_steps_match - codes and densities step by step.
 *
 * Given     measured, wedge  as ww_scanner_fit; labels are borrowed from `measured`
 * Status    WW_OK; WW_EMISMATCH labels differ or repeat, or codes do not fall with density;
 *           WW_ENODATA no density for a channel, or fewer than 6 unclipped steps; WW_EMEMORY
 */
ww_status ww__scanner_steps_match(const ww_measured *measured, const ww_readings *wedge,
                                  ww__scanner_strips *strips, ww_error *err);
void ww__scanner_steps_release(ww__scanner_strips *strips);

/*
 * ww__scanner_steps_unrounded - the least noise that a patch must have had before its codes were
 *                               rounded, in codes; what hides the steps of the codes (dithers).
 *
 *   noise^2 = sd^2 - f (1 - f),  f the part of the mean code behind the point
 *
 * A mean between two codes has such a variance without any noise. Source: Bernoulli's variance
 */
double ww__scanner_steps_unrounded(double code, double sd);

/* ww__scanner_steps_code - what one step of the codes is, in codes: at least 1, 0 in floating
 *                          point (white 1). step: as it was seen, 0 where nobody looked. */
double ww__scanner_steps_code(double step, double white);

/* ww__scanner_steps_mean_sd - of the mean of a patch, in shares, from sd in codes.
 *
 *   variance = sd^2 / n + step^2 exp(-4 pi^2 noise^2) / 12 + (5e-4 code)^2,  noise as above, in
 *   steps
 *
 * Source    what rounding adds once noise no longer hides the steps: first harmonic of the rounding
 *           error; evenness of the light: common practice */
double ww__scanner_steps_mean_sd(double code, double sd, size_t n, double step, double white);

#endif
