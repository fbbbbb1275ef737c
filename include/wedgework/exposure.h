/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_EXPOSURE_H
#define WEDGEWORK_EXPOSURE_H

#include <wedgework/error.h>

/* Exposure arithmetic: stops, seconds, size, flare. */

/* ww_exposure_stops - log2(new/old). Status WW_OK; WW_EDOMAIN a time not > 0 */
ww_status ww_exposure_stops(double old_time_s, double new_time_s, double *stops, ww_error *err);

/* ww_exposure_burn_seconds - t (2^n - 1): what burning by n stops adds to a base time; negative n is
 *                            dodging and gives what to hold back, as a negative number. */
ww_status ww_exposure_burn_seconds(double base_time_s, double stops, double *seconds, ww_error *err);

/* ww_exposure_burn_stops - the inverse: log2(1 + s/t). Status WW_EDOMAIN where s <= -t */
ww_status ww_exposure_burn_stops(double base_time_s, double seconds, double *stops, ww_error *err);

/* ww_exposure_scale - factor of time from one magnification to another: ((m2 + 1)/(m1 + 1))^2. */
ww_status ww_exposure_scale(double from_scale, double to_scale, double *factor, ww_error *err);

/* ww_exposure_aperture - factor of time from one f-number to another: (N2/N1)^2. */
ww_status ww_exposure_aperture(double from_number, double to_number, double *factor, ww_error *err);

/* ww_exposure_flare - density seen through flare f: -log10((10^-D + f)/(1 + f)), f in [0, 1). */
ww_status ww_exposure_flare(double density, double flare, double *seen, ww_error *err);

/* ww_exposure_round - a time on the timer's step, to nearest, at least one step. */
ww_status ww_exposure_round(double time_s, double step_s, double *rounded_s, ww_error *err);

#endif
