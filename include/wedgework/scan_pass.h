/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_PASS_H
#define WEDGEWORK_SCAN_PASS_H

#include <wedgework/scanner.h>

/*
 * What a calibrated scanner gives at another exposure, one channel of it. With e = 2^stops and
 * light as a share of full scale:
 *
 *   light  = dark + beyond,  beyond = e r k (10^-D + flare)
 *   signal = e r k 10^-D,  the image-forming light alone
 *   variance of a pixel = read^2 + shot^2 beyond + (fixed beyond)^2
 *
 * r, near 1, is what the calibration found beside its model: its points' light over the model's at
 * their densities, on a straight line of log r between them, and beyond them that of the end.
 *
 * The variance holds rounding to whole codes, 1/12 of a code squared as light, as a calibration's
 * does, and is never less; where the scanner file's codes come in steps, a step is the code.
 *
 * Source    definition of ww_scanner_noise
 */
typedef struct ww_scan_pass {
    const ww_scanner *scanner;
    ww_channel channel; /* one that was calibrated */
    double stops;       /* more light than in the scan that calibrated the scanner */
    double frames;      /* scans that are averaged, 1 or more */
} ww_scan_pass;

double ww_scan_pass_light(const ww_scan_pass *pass, double density);
double ww_scan_pass_signal(const ww_scan_pass *pass, double density);

/* Of that light; not held back at the greatest code. */
double ww_scan_pass_code(const ww_scan_pass *pass, double density);

/*
 * ww_scan_pass_error - of the mean of n pixels of one tone, in density, as variances whose sum is
 *                      that of one scan. With s, of frames, and p, of the pattern, noise in codes
 *                      before rounding, and bias^2 what rounding leaves in a mean (which is 1/12
 *                      without noise and nothing from half a code on):
 *
 *   scans    (s^2 + 1/12 - bias^2(s)) / n;  of m scans averaged 1/m of it
 *   codes    bias^2(hypot(s, p)) + (bias^2(s) - bias^2(hypot(s, p))) / n
 *   pattern  p^2 / n;  the same in every scan, at any exposure
 *
 *   times (code / (ln 10 signal))^2
 *
 * Source    definition; rounding: core/rounding.h. sd_D = sd / (ln 10 signal) for small sd
 * Accuracy  2 % at a noise of 0.15 to 1 code, against pixels drawn anywhere between two codes
 */
typedef struct ww_scan_error {
    double scans, codes, pattern;
} ww_scan_error;
ww_scan_error ww_scan_pass_error(const ww_scan_pass *pass, double density, double n);

/* ww_scan_pass_noise - of a pixel, in density, one standard deviation: the root of that for n = 1.
 * ww_scan_pass_snr   - signal over the noise of a pixel, 1 / (ln 10 noise). HUGE_VAL where there is
 *                      none. */
double ww_scan_pass_noise(const ww_scan_pass *pass, double density);
double ww_scan_pass_snr(const ww_scan_pass *pass, double density);

/*
 * ww_scan_pass_step - what one code is in density: log10(1 + light of the next code / signal); of a
 *                     linear file without flare and dark log10((c + 1) / c).
 *
 * Source    definition
 * Given     bits  of whole codes that share the same full scale; 0: as in the scanner file
 * Returned  0 for floating point
 */
double ww_scan_pass_step(const ww_scan_pass *pass, double density, unsigned bits);

/*
 * ww_scan_pass_told - the smallest difference of density that can be told over n pixels:
 *
 *   2.8 error of their mean
 *
 * Source    two means, apart by 1.96 sqrt 2 of their error (95 %): 2.77
 */
#define WW_SCAN_TOLD 2.8
double ww_scan_pass_told(const ww_scan_pass *pass, double density, double n);

/*
 * ww_scan_pass_sight - signal over noise, and over the share of a code that noise does not hide:
 *                      below 1 a pixel does not see, as in a scanner's dmax.
 *
 *   signal / hypot(sd, code (exp(-2 pi^2 u^2)))
 *
 * Source    signal/noise of 1: ISO 21550 (its abstract); incremental, as flare is no signal; a code
 *           as the ceiling of a bit depth: common practice
 */
double ww_scan_pass_sight(const ww_scan_pass *pass, double density);

/*
 * ww_scan_pass_pair - two exposures as `scan --merge` mixes them over n pixels, the second with so
 *                     many stops more; ww_scan_pair_noise - of the mixture, each exposure being the
 *                     mean of so many scans:
 *
 *   variance = (1 - w)^2 (scans_1 / first + codes_1) + w^2 (scans_2 / second + codes_2) + pattern
 *   w        = v_1 / (v_1 + v_2),  v = (read^2 + shot^2 beyond) / signal^2 of one scan,
 *              less where the second is within 0.1 D of clipping, and 0 where it clips
 *
 * Where scans are as many, and the second is clear, that is the least: 1/s^2 = 1/s_1^2 + 1/s_2^2.
 * A merge does not ask how many scans went into what it mixes.
 *
 * ww_scan_pass_fade - the densities from which the second counts, and counts in full; -HUGE_VAL
 *                     where it nowhere clips, or is so near to it.
 *
 * Source    definition; the weights are those of ww_scan_merge_rows
 */
typedef struct ww_scan_pair {
    ww_scan_error first, second;
    double weight; /* of the second */
} ww_scan_pair;
ww_scan_pair ww_scan_pass_pair(const ww_scan_pass *first, double more, double density, double n);
double ww_scan_pair_noise(const ww_scan_pair *pair, double first, double second);

typedef struct ww_scan_fade {
    double from, full; /* [D] */
} ww_scan_fade;
ww_scan_fade ww_scan_pass_fade(const ww_scan_pass *first, double more);

/*
 * ww_scan_pass_reaches - the density up to which the sight stays 1 or more, or what is told within
 *                        `most`.
 *
 * Returned  HUGE_VAL where it does up to D 8, -HUGE_VAL where it does not at D -1
 */
double ww_scan_pass_reaches_sight(const ww_scan_pass *pass);
double ww_scan_pass_reaches_told(const ww_scan_pass *pass, double n, double most);

/* ww_scan_pass_most - the light at which a channel's codes end: 1, or less where the scanner file
 *                     says so. */
double ww_scan_pass_most(const ww_scanner *scanner, ww_channel channel);

/*
 * ww_scan_pass_stops_to - stops that bring a density to a share of full scale, as light.
 *
 *   log2((share - dark) / beyond),  beyond at 0 stops
 *
 * Source    definition
 */
double ww_scan_pass_stops_to(const ww_scanner *scanner, ww_channel channel, double density,
                             double share);

/* ww_scan_pass_lightest - the density that the pass brings to that share; -HUGE_VAL where none
 *                         comes to it. */
double ww_scan_pass_lightest(const ww_scan_pass *pass, double share);

/*
 * ww_scan_pass_contrast - share of the film's contrast that flare leaves: the slope of log light
 *                         against density, 10^-D / (10^-D + flare).
 *
 * Source    definition
 */
double ww_scan_pass_contrast(const ww_scan_pass *pass, double density);

/*
 * ww_scan_pass_doubt - 95 % half-width of the stops that ww_scan_pass_stops_to gives.
 *
 *   calibration: half-width of the density of the scanner's points there, as stops
 *   dark:        the stops with either end of its interval, the constant k flare + dark as it is
 *   readings:    given; all in stops, times the slope that flare leaves
 */
typedef struct ww_scan_doubt {
    double readings, calibration, dark; /* [stops], 95 % half-widths */
} ww_scan_doubt;
ww_scan_doubt ww_scan_pass_doubt(const ww_scanner *scanner, ww_channel channel, double density,
                                 double error, double share);

#endif
