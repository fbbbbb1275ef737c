/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SPEED_H
#define WEDGEWORK_SPEED_H

#include <stdbool.h>
#include <wedgework/error.h>
#include <wedgework/figure.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

typedef enum ww_speed_standard {
    WW_SPEED_NONE,
    WW_SPEED_ISO_6,
    WW_SPEED_ISO_5800,
    WW_SPEED_ISO_2240,
    WW_SPEED_EXPOSURE_INDEX /* the ISO 6 figure outside its contrast condition: never called ISO */
} ww_speed_standard;

/* "ISO 6", "ISO 5800", "ISO 2240", "exposure index"; "none". */
const char *ww_speed_standard_name(ww_speed_standard standard);

typedef struct ww_speed {
    ww_speed_standard standard;
    ww_quantity exact;
    int arithmetic;             /* rounded to the standard's scale, 0 where off the scale */
    int degrees;                /* logarithmic speed */
    ww_optional density_difference; /* ISO 6: density gained over 1.30 log H from the speed point */
    bool condition_met;
    ww_optional delta_x;        /* ISO 6: speed by the Delta-X criterion, any contrast */
} ww_speed;

#define WW_SPEED_INIT                                                                              \
    {                                                                                              \
        .standard = WW_SPEED_NONE                                                                  \
    }

/* Speeds from exposures in lux seconds. All give Status WW_OK; WW_EDOMAIN an exposure that is not
 * finite and > 0, a log exposure that is not finite. */
/* ww_speed_black_and_white - S = 0.8 / Hm.          Source: ISO 6:1993, from a secondary text. */
ww_status ww_speed_black_and_white(double hm_lux_s, double *speed, ww_error *err);
/* ww_speed_colour_negative - S = sqrt 2 / Hm, Hm the geometric mean of the exposures at net 0.15 of
 *                            the green and of the least sensitive layer.
 *                            Source: ISO 5800:1987, from memory. */
ww_status ww_speed_colour_negative(double log_h_green, double log_h_slowest, double *speed,
                                   ww_error *err);
/* ww_speed_colour_reversal - S = 10 / Hm, Hm = sqrt(HS HT).  Source: ISO 2240:2003, from memory. */
ww_status ww_speed_colour_reversal(double log_hs, double log_ht, double *speed, ww_error *err);
/* ww_speed_paper - P = 1000 / Hm.                      Source: ISO 6846, from a secondary text. */
ww_status ww_speed_paper(double hm_lux_s, double *speed, ww_error *err);

/*
 * ww_speed_round - the step of the standard's scale: a speed keeps its step while 10 log10 S is
 *                  within 0.5 of the integer.  degrees = 1 + that integer.
 *
 *   4/7, 5/8, 6/9, 8/10, 10/11, 12/12, 16/13 ... 3200/36, and on in third stops: 4000/37, 5000/38,
 *   6400/39, 8000/40, 10000/41 ... 100000/51
 *
 * Source    steps of ISO 6 from secondary texts; its printed edges, given in log Hm to 0.01, may
 *           lie up to 0.005 from these. Above 3200: the same series continued. Below 4 the series
 *           has no whole numbers.
 * Status    WW_OK; WW_EDOMAIN speed not finite or not > 0; WW_ENODATA off the scale: *degrees is
 *           set all the same, *arithmetic 0
 */
ww_status ww_speed_round(double speed, int *arithmetic, int *degrees, ww_error *err);

/*
 * ww_speed_delta_x - by how much log H of the fractional-gradient point lies below the speed point,
 *                    from the density dD gained over 1.30 log H: 0.83 - 0.86 dD + 0.24 dD^2.
 *
 * Source    coefficients from memory; they give back the published 0.296 at dD = 0.80 (Nelson and
 *           Simonds, J. Opt. Soc. Am. 46 (1956) 324, by a secondary text)
 * Status    WW_OK; WW_EDOMAIN dD not within 0 to 1.79, where the parabola turns back
 */
ww_status ww_speed_delta_x(double density_difference, double *delta_x, ww_error *err);

/* What decides which standard applies. Nothing is guessed from the channels that there are. */
typedef struct ww_speed_rules {
    bool paper;    /* papers have paper_speed among their figures, not a film speed */
    bool reversal; /* by its process, whatever the emulsion */
    ww_emulsion emulsion;
    ww_exposure_unit exposure_unit;
    ww_density_status status;   /* ISO 5800 reads status M; unknown passes */
    ww_channel black_and_white; /* the channel that a black-and-white film is judged by */
} ww_speed_rules;

/*
 * ww_speed_from_shapes - speed of a film from its fitted curves.
 *
 *   black-and-white  ISO 6 where density gains 0.80 +- 0.05 over 1.30 log H from net 0.10, else an
 *                    exposure index; delta_x = 0.8 10^(dX - 0.296) / Hm beside it
 *   colour negative  ISO 5800 from net 0.15 of green and of the least sensitive layer
 *   colour reversal  ISO 2240 in visual density: HS at 0.20 over D-min; HT at 2.00 over D-min, or
 *                    where a line from HS touches the shoulder, if that is thinner
 *   black-and-white reversal  none: neither ISO 6 nor ISO 2240 is about it
 *
 * No allocation and no text: cheap enough for every resample of a bootstrap.
 *
 * Source    ISO 6:1993 from secondary texts, the name exposure index from memory; ISO 5800:1987 and
 *           ISO 2240:2003 from memory
 * Given     channel   indexed by ww_channel
 *           rules
 * Returned  *speed    exact.value WW_FITTED, low = high = value; standard WW_SPEED_NONE where there
 *                     is none
 *           *reason   constant text: why there is no speed or why the condition could not be
 *                     tested, and what would give it; NULL where nothing is missing
 * Accuracy  1e-9 in log H against the shapes
 */
void ww_speed_from_shapes(const ww_channel_shape channel[WW_CHANNEL_COUNT],
                          const ww_speed_rules *rules, ww_speed *speed, const char **reason);

#endif
