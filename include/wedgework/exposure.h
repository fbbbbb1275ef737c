/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_EXPOSURE_H
#define WEDGEWORK_EXPOSURE_H

#include <stddef.h>
#include <wedgework/error.h>

/*
 * Exposure arithmetic: stops, seconds, size, aperture, flare.
 *
 * Local moves on one area add in seconds, not in stops: see ww_exposure_moves. Two dodges of half a
 * stop hold back 58.6 % of the time, which is 1.27 stop, not 1.
 */

/*
 * ww_exposure_stops - stops from one time to another.
 *
 *   log2(new / old)
 *
 * Source    definition
 * Given     old_time_s, new_time_s   times                                    [s]   > 0
 * Returned  *stops                   more exposure is +                       [stops]
 * Status    WW_OK; WW_EDOMAIN a time not > 0 or not finite
 * Accuracy  1e-14 relative to the larger of |log2 new|, |log2 old|
 */
ww_status ww_exposure_stops(double old_time_s, double new_time_s, double *stops, ww_error *err);

/*
 * ww_exposure_burn_seconds - what a burn or dodge of so many stops adds to a base time.
 *
 *   t (2^n - 1)
 *
 * Source    definition; 16 s and half a stop: 6.63 s, as printers quote it
 * Given     base_time_s              what the whole sheet gets                [s]   > 0
 *           stops                    + burning, - dodging                     [stops]   finite
 * Returned  *seconds                 what to add; what to hold back is negative   [s]   >
 * -base_time_s Status    WW_OK; WW_EDOMAIN a condition above does not hold, or the result is no
 * finite time Accuracy  1e-15 relative, also for small moves
 */
ww_status ww_exposure_burn_seconds(double base_time_s, double stops, double *seconds,
                                   ww_error *err);

/*
 * ww_exposure_burn_stops - the inverse: the stops that added or held-back seconds amount to.
 *
 *   log2(1 + s/t)
 *
 * Source    definition
 * Given     base_time_s                                                       [s]   > 0
 *           seconds                  added, or held back where negative       [s]   > -base_time_s
 * Returned  *stops                                                            [stops]
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold: nobody can hold back the whole time
 * Accuracy  1e-15 relative, also for small moves
 */
ww_status ww_exposure_burn_stops(double base_time_s, double seconds, double *stops, ww_error *err);

/*
 * ww_exposure_moves - what several burns and dodges of one area come to.
 *
 *   log2(1 + sum(2^n_i - 1))
 *
 * Source    definition: every move adds or holds back seconds of the one base time
 * Given     stops                    of each move, + burning, - dodging       [stops]   finite
 *           n                        how many; none come to 0
 * Returned  *sum_stops                                                        [stops]
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold, or the dodges together hold back the
 *           whole time or more
 * Accuracy  1e-14 relative, but for what cancels between burns and dodges
 */
ww_status ww_exposure_moves(const double stops[], size_t n, double *sum_stops, ww_error *err);

/*
 * ww_exposure_scale - factor of time from one magnification to another at the same f-number.
 *
 *   ((m2 + 1) / (m1 + 1))^2
 *
 * Source    Clerc, Photography Theory and Practice, section 771: magnifications 2, 3, 4, 5 need
 *           exposures in the proportion 9, 16, 25, 36. It holds for diffuse light.
 * Given     from_scale, to_scale     linear magnifications                    [1]   > 0
 * Returned  *factor                                                           [1]
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 * Accuracy  1e-15 relative
 */
ww_status ww_exposure_scale(double from_scale, double to_scale, double *factor, ww_error *err);

/*
 * ww_exposure_aperture - factor of time from one f-number to another.
 *
 *   (N2 / N1)^2, of a mark of the series of full stops (1.4, 2, ... 5.6, 8, 11, ... 90) its own
 *   power of sqrt 2, of which the mark is a rounding: f/11 is 11.3, and each click is a factor of 2
 *
 * Source    definition of the f-number; the series of lens marks, common practice
 * Given     from_number, to_number   f-numbers                                [1]   > 0
 * Returned  *factor                                                           [1]
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 * Accuracy  1e-15 relative; a lens keeps its marks less well
 */
ww_status ww_exposure_aperture(double from_number, double to_number, double *factor, ww_error *err);

/*
 * ww_exposure_flare - density as seen through flare.
 *
 *   -log10((10^-D + f) / (1 + f))
 *
 * Source    definition: flare is a fraction of open (or white) light, which itself stays 0
 * Given     density                                                           [D]   finite
 *           flare                                                             [1]   0 <= f < 1
 * Returned  *seen                    equals density where flare is 0          [D]
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 * Accuracy  1e-14 D
 */
ww_status ww_exposure_flare(double density, double flare, double *seen, ww_error *err);

/*
 * ww_exposure_flare_slope - how far a difference of density is still seen through flare.
 *
 *   d seen / d density = 10^-D / (10^-D + f)
 *
 * Source    derivative of ww_exposure_flare
 * Given     as ww_exposure_flare
 * Returned  1 where there is no flare, less the denser
 * Accuracy  1e-15
 */
double ww_exposure_flare_slope(double density, double flare);

/*
 * ww_exposure_unflare - the inverse of ww_exposure_flare: the density behind what is seen.
 *
 *   -log10(10^-D' (1 + f) - f)
 *
 * Given     seen                                                              [D]   finite
 *           flare                                                             [1]   0 <= f < 1
 * Returned  *density                                                          [D]
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold; WW_ENODATA flare alone is lighter
 *           than that: nothing looks so dense through it
 * Accuracy  1e-14 D, less near the densest that can be seen
 */
ww_status ww_exposure_unflare(double seen, double flare, double *density, ww_error *err);

/*
 * ww_exposure_round - a time on the timer's step.
 *
 * Source    definition: the nearest whole number of steps, halves up, at least one step
 * Given     time_s                                                            [s]   > 0
 *           step_s                                                            [s]   > 0
 * Returned  *rounded_s                                                        [s]
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 * Accuracy  the nearest double to a whole number times step_s; where a second has a whole number of
 *           steps, to that many of its parts, as 10.1 of tenths
 */
ww_status ww_exposure_round(double time_s, double step_s, double *rounded_s, ww_error *err);

#endif
