/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CROSSOVER_H
#define WEDGEWORK_CROSSOVER_H

#include <stdbool.h>
#include <wedgework/error.h>
#include <wedgework/figure.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

/* Departure of the colour channels from parallel curves, zero at the middle grey [CC]. */
typedef struct ww_crossover {
    bool found;                   /* larger than its own doubt: the interval leaves out 0 */
    ww_quantity worst_cc;         /* largest departure over the picture range, with its sign */
    ww_channel channel;           /* against green */
    double at;                    /* film: log H, paper: density of green, where it stands */
    double from, to;              /* the picture range, rising, in the same terms */
    double middle;                /* the middle grey, in the same terms */
} ww_crossover;

/*
 * ww_crossover_compute - how far red and blue depart from a course parallel to green.
 *
 *   film   cc(x) = 100 ([D_c(x) - D_g(x)] - [D_c(m) - D_g(m)])                  x, m log H
 *   paper  cc(d) = 100 ([log H_c(d) - log H_g(d)] - [log H_c(m) - log H_g(m)])  d, m net density
 *
 * A filter change moves a negative's densities, and a paper's exposures, by the same amount at
 * every tone; what it cannot remove is the crossover. Positive: on film the channel is denser than
 * a parallel curve, on paper it needs more exposure.
 *
 * The picture range of a negative begins where its slowest layer reaches the foot (net 0.10; colour
 * negative 0.15) and covers 1.90 log H: the average subject's 2.20 less 0.30 of camera flare;
 * middle grey lies 1.00 above its beginning. Reversal film: from net 0.20 to net 2.00 as far as
 * every channel has them, middle grey halfway. Paper: net 0.04 to 90 % of the least net D-max among
 * the channels, middle grey at density 0.745 of green (18 % reflectance); densities are compared
 * above each channel's own D-min. A range is cut at the measured steps of every channel; where
 * middle grey falls outside it, its middle is taken.
 *
 * Source    CC as 0.01 of density or log exposure: definition. Subject range 2.20 and 18 % grey at
 *           D 0.74: secondary texts. Flare 0.30 and middle grey 1.00 above the speed point: common
 *           practice (an exposure meter's constant against ISO 6, from memory).
 * Given     channel   red, green and blue, indexed by ww_channel; green and one other at least
 *           rules     paper or film, reversal, emulsion
 * Returned  *crossover  worst_cc as WW_FITTED with low = high = value and found false: the doubt is
 *                     the caller's, through ww_crossover_at and ww_crossover_judge
 * Status    WW_OK; WW_ENODATA not enough channels, or the channels share no picture range;
 *           WW_EDOMAIN a range or base+fog is not finite
 * Accuracy  the departure at `at` to 1e-7 CC, `at` itself within a fortieth of the range
 */
ww_status ww_crossover_compute(const ww_channel_shape channel[WW_CHANNEL_COUNT],
                               const ww_figure_rules *rules, ww_crossover *crossover,
                               ww_error *err);

/*
 * ww_crossover_at - the departure of other (resampled) shapes at the same channel, place and middle
 *                   grey, so that their spread is the doubt of worst_cc.
 *
 * Returned  *cc
 * Status    WW_OK; WW_ENODATA a channel is missing or does not reach those places within its range;
 *           WW_EDOMAIN as above
 */
ww_status ww_crossover_at(const ww_channel_shape channel[WW_CHANNEL_COUNT],
                          const ww_figure_rules *rules, const ww_crossover *crossover, double *cc,
                          ww_error *err);

/* ww_crossover_judge - take over the interval of worst_cc and set `found`. */
void ww_crossover_judge(ww_crossover *crossover, double low, double high);

#endif
