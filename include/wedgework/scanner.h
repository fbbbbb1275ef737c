/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCANNER_H
#define WEDGEWORK_SCANNER_H

#include <stdbool.h>
#include <wedgework/readings.h>

/*
 * What a scanner's code values mean in density.
 *
 *   code / white = (dark + k (10^-D + flare))^(1/gamma), or the curve of sRGB instead of the power
 *
 * with code and white as the file has them (white: the greatest code), dark in shares of full scale
 * as light, flare as a share of open light; then a monotone correction for what the model leaves.
 *
 * Flare and dark are one constant to a wedge: k flare + dark. Without a scan made in the dark, dark
 * is taken as 0 and all of it is called flare; the intervals of both hold every way of sharing it
 * (dark: `fitted`, 0 to the whole constant). A constant below 0, black taken off too far, is dark.
 */

/* A point of the calibration: falling density, rising code. */
typedef struct ww_scanner_point {
    double code;
    double density;
    double doubt; /* 95 % half-width of the density: fit, wedge, noise of the mean */
} ww_scanner_point;

/*
 * Noise of one pixel as light, full scale = 1:  variance = read^2 + shot^2 L + (fixed L)^2, where
 * L is the light beyond dark, flare included. Rounding to whole codes is in it.
 */
typedef struct ww_scanner_noise {
    double read, shot, fixed;
} ww_scanner_noise;

/* How light became codes: by a power, or by the curve of sRGB (IEC 61966-2-1), a power of 2.4 with
 * a straight foot. */
typedef enum ww_encoding { WW_ENCODING_POWER, WW_ENCODING_SRGB, WW_ENCODING_COUNT } ww_encoding;

/* "power", "sRGB" */
const char *ww_encoding_name(ww_encoding encoding);

/* A step of the wedge, as it was scanned. */
typedef struct ww_scanner_step {
    char *step;
    double density; /* the wedge's own */
    double code, sd;
    double fitted;   /* density that the model without correction gives the code; `density` where
                       the step is clipped */
    bool clipped;    /* at the greatest code or at 0: plays no part */
    bool compressed; /* over half of its light is flare and dark: read with growing doubt */
    bool suspect;    /* departs from the model by more than 3.5 robust deviations, 0.02 D and one
                       code */
} ww_scanner_step;

typedef struct ww_scanner_channel {
    bool present;
    double k;
    ww_quantity dark, flare;
    ww_optional clips;    /* code at which the codes end, where that is below white and was seen */
    ww_optional surround; /* code of the lightest that lay beside the wedge, clipped or not */
    ww_scanner_noise noise;
    ww_quantity dmax;        /* density where signal/noise of a pixel falls to 1, rounding to whole
                                codes counted in, and where noise does not hide the steps, a code
                                too: fitted; or, where that comes first, of the last step that
                                counts: measured */
    ww_scanner_point *point; /* owned; covers the codes of the wedge's unclipped steps */
    size_t n_points;
    ww_scanner_step *step; /* owned */
    size_t n_steps;
    double residual_sd;    /* D, of the steps from the model */
    double worst_residual; /* D, the largest, signed */
} ww_scanner_channel;

typedef struct ww_scanner {
    char *name;    /* the scan that it was made from */
    char *profile; /* that was embedded in it, NULL where none */
    unsigned bits;
    double white;
    double step; /* of the codes: 1, or 257 in an 8 bit scan that was saved in 16 bit; 0 in floating
                    point and where a file does not say */
    ww_encoding encoding;
    ww_quantity gamma; /* 1: codes are light; low and high are then those of a power that is left
                          free. sRGB: 2.2, given, which plays no part */
    ww_wedge_kind wedge;
    ww_optional wedge_sd;
    ww_density_kind density; /* the wedge's: by transmitted or reflected light, so far as it says */
    bool dark_scan;          /* dark was measured on a scan of its own */
    bool misfit; /* the model is far from the wedge, or an encoding that no export makes, as the
                       first note says: whatever is read by it is off */
    ww_scanner_channel channel[WW_CHANNEL_COUNT];
    ww_notes notes;
} ww_scanner;

#define WW_SCANNER_INIT                                                                            \
    { .name = NULL }

void ww_scanner_release(ww_scanner *scanner);

struct ww_measured;

typedef struct ww_scanner_options {
    const struct ww_measured *dark; /* scan without light, one spot; NULL: dark is fitted */
} ww_scanner_options;

/*
 * ww_scanner_fit - calibrate from a scan of a known wedge.
 *
 *   The model is fitted to the mean codes by weighted least squares, all channels at once with one
 *   gamma; weights are the noise of each mean and what the wedge's densities are worth. Gamma is 1
 *   unless a free one describes the steps better (AICc) and its interval, 99.9 % here, leaves 1
 *   out; sRGB takes its place where that describes them better still. What then is left is a smooth
 *   correction along density, shrunk by the steps' errors; there is none where the errors explain
 *   what is left. Correction and doubts are those of universal kriging. What another encoding makes
 *   of a code is added to the doubt of its density, where the steps cannot part the two: by AICc
 *   the one is less than 20 times as likely as the other; and D (1 - 1/gamma) where gamma is near
 *   1 but not 1, as all of the wedge's densities may be off by that. So is light that fell along
 *   the wedge, as squares (`lamp` of ww_measure_strip). A suspect departs from what all other steps
 *   say; it is named and has no weight.
 *
 *   The wedge's densities are taken as off by `wedge sd` (certified and no sd: 0.01, 95 %), each
 *   step on its own and besides all of them one way, which no scan can tell. A nominal wedge, or
 *   one that says nothing, may be off by 0.01 at the thin to 0.10 at the dense end (95 %). No doubt
 *   is less than what the wedge may be off by as a whole; those of gamma, flare and dark hold it.
 *
 * Source    model, tolerances, limits of suspects: interface conventions. Universal kriging with
 *           restricted likelihood: Patterson and Thompson, Biometrika 58 (1971) 545-554. Noise:
 *           signal/noise of 1 as in ISO 21550 (its abstract), variances as common practice
 * Given     measured  the wedge's steps as codes, labels as in `wedge`
 *           wedge     its densities: a column a channel, else `visual` for all; repeats are pooled
 *           options   NULL: no dark scan
 * Status    WW_OK; WW_ENODATA fewer than 6 unclipped steps, no density for a channel, a dark scan
 *           without a spot; WW_EMISMATCH labels differ or repeat, codes do not fall with density,
 *           what only the number of steps makes the outermost one is not that,
 *           or the dark scan has other bits or channels; WW_ECONVERGE; WW_EMEMORY
 */
ww_status ww_scanner_fit(const struct ww_measured *measured, const ww_readings *wedge,
                         const ww_scanner_options *options, ww_scanner *scanner, ww_error *err);

/*
 * ww_scanner_light - light of a code, dark and flare not taken out: (code / white)^gamma, or sRGB.
 * ww_scanner_code  - the code of that light.
 */
double ww_scanner_light(const ww_scanner *scanner, double code);
double ww_scanner_code(const ww_scanner *scanner, double light);

/*
 * ww_scanner_density - density of a code.
 *
 * Given     channel  of the scanner; a grey calibration (`visual`) serves no colour channel
 *           code     0 to white
 * Returned  *density  value, low, high: 95 %; how = measured. Codes brighter than the thinnest step
 *                     by less than 0.1 D, or darker than the densest by less than it may surely be
 *                     (its doubt, 99.9 % here) when it is scanned again, have the model's density,
 *                     and a doubt that grows to twice, and 2.7 times, that of the step. Further off
 *                     than the step's doubt they are none of the wedge's, and marked extrapolated
 * Status    WW_OK; WW_ENODATA the channel was not calibrated; WW_EDOMAIN the code lies beyond the
 *           wedge's codes, either end, or is clipped (white itself). On failure *density is
 *           untouched.
 * Accuracy  1.2e-4 D against the calibration, by its points 0.02 D apart
 */
ww_status ww_scanner_density(const ww_scanner *scanner, ww_channel channel, double code,
                             ww_quantity *density, ww_error *err);

/*
 * ww_scanner_noise_at - noise of one pixel in density, one standard deviation: that of the light
 *                       beyond dark over the light that makes the image. Of n pixels: divided by
 *                       the root of n.
 *
 *   sd = sqrt(read^2 + shot^2 L + (fixed L)^2) / (ln 10 k 10^-D),  L = k (10^-D + flare)
 *
 * Source    definition of ww_scanner_noise; sd_D = sd / (ln 10 signal) for small sd
 * Given     channel  present; a flare that is not known is taken as 0
 */
double ww_scanner_noise_at(const ww_scanner_channel *channel, double density);

#endif
