/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CURVE_H
#define WEDGEWORK_CURVE_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/crossover.h>
#include <wedgework/error.h>
#include <wedgework/figure.h>
#include <wedgework/model.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>
#include <wedgework/speed.h>

typedef enum ww_cause {
    WW_CAUSE_UNKNOWN,
    WW_CAUSE_SLIP, /* misread or mistyped, transposed digits among them */
    WW_CAUSE_SWAPPED,
    WW_CAUSE_SKIPPED,
    WW_CAUSE_DECIMAL_POINT,
    WW_CAUSE_DUST
} ww_cause;

const char *ww_cause_name(ww_cause cause);
ww_status ww_cause_find(const char *name, ww_cause *cause, ww_error *err);

/* A reading that departs from the curve; it is kept and named, and does not move the result. */
typedef struct ww_suspect {
    size_t point;    /* index into the channel's points */
    double residual; /* reading less curve [D] */
    ww_cause cause;
} ww_suspect;

/* A reading as the fit used it, in the order of the readings. */
typedef struct ww_curve_point {
    char *step;         /* label, owned, never NULL */
    double log_h;
    double moved;       /* log H by which it stands off its row's own exposure: 0 but for readings
                           after a step skipped or read twice */
    double density;
    ww_optional sd;     /* of repeats */
    size_t n;
    ww_cell_state state; /* WW_CELL_OVER: density beyond the instrument, not fitted, value unused */
    bool cut;           /* on the far side of a real fall of density: not fitted, said in a note */
} ww_curve_point;

/* One channel's characteristic curve. */
typedef struct ww_channel_curve {
    bool present;
    bool fitted;             /* false: too few steps for a curve; only points and base are there */
    ww_shape shape;
    double *covariance;      /* shape.n x shape.n, row by row, owned; NULL when not fitted */
    double domain_low;       /* measured range of log H that the shape is good for */
    double domain_high;
    ww_curve_point *point;
    size_t n_points;
    double residual_sd;      /* [D], degrees of freedom allowed for */
    double residual_rms;     /* [D], plain root mean square over the points that count */
    ww_suspect *suspect;
    size_t n_suspects;
    ww_quantity figure[WW_FIGURE_COUNT];
    ww_figure_set construction; /* end-points behind the figures */
} ww_channel_curve;

/* A material's characteristic curve: what `fit` writes and other commands read. */
typedef struct ww_curve {
    ww_meta meta;
    ww_exposure_column exposure; /* column that gave the exposures; NONE: not known */
    ww_channel_curve channel[WW_CHANNEL_COUNT];
    ww_speed speed;
    ww_crossover crossover;
    ww_notes notes;
} ww_curve;

#define WW_CURVE_INIT                                                                              \
    {                                                                                              \
        .speed = WW_SPEED_INIT                                                                     \
    }

/*
 * ww_curve_origin_given - whether the zero of log H was given. A wedge or stops say only how
 *                         exposures differ: a wedge needs log h0 or the exposure time, stops need
 *                         log h0, before a second or a lux second means anything. True where the
 *                         column is not known.
 */
bool ww_curve_origin_given(const ww_curve *curve);

void ww_curve_release(ww_curve *curve);

/*
 * ww_curve_density - density (and slope, NULL allowed) at a log exposure inside the measured range.
 * ww_curve_log_h   - the inverse, inside the measured range.
 *
 * Given     curve    one channel
 *           log_h    log10 exposure                                 [the curve's own unit]
 *           density  on the curve's own zero                        [D]   finite
 * Returned  *density, *slope (dD/dlogH, negative where density falls); *log_h
 * Status    WW_OK; WW_EDOMAIN log_h outside the measured range, or a density that is not finite;
 *           WW_ENODATA the curve was not fitted or does not reach that density within its measured
 *           range. On failure the results are untouched.
 * Accuracy  as ww_model_density and ww_model_log_h
 */
ww_status ww_curve_density(const ww_channel_curve *curve, double log_h, double *density,
                           double *slope, ww_error *err);
ww_status ww_curve_log_h(const ww_channel_curve *curve, double density, double *log_h,
                         ww_error *err);

/*
 * ww_curve_density_sd - standard error of the fitted density at a log exposure.
 *
 *   var D = g' C g, g the derivatives of density by the parameters, C their covariance
 *
 * Source    propagation of errors to first order (textbook)
 * Status    as ww_curve_density; WW_ENODATA also without covariance, or with one that gives a
 *           variance below zero
 */
ww_status ww_curve_density_sd(const ww_channel_curve *curve, double log_h, double *sd,
                              ww_error *err);

/*
 * ww_curve_between_sd - standard error, by the fit, of how far two densities lie apart in log H.
 *
 *   var = d' C d,  d = g_a / s_a - g_b / s_b, s the slopes: what is wrong with the whole curve
 *   alike, as its zero of log H, moves both and leaves no error
 *
 * Source    propagation of errors to first order (textbook)
 * Given     log_h_a, log_h_b  where the curve has them
 * Status    as ww_curve_density_sd; WW_EDOMAIN also where the curve has no slope
 */
ww_status ww_curve_between_sd(const ww_channel_curve *curve, double log_h_a, double log_h_b,
                              double *sd, ww_error *err);

/*
 * ww_curve_gradient_over - average gradient from net 0.10 over a range of log H.
 *
 *   G = (D(x + range) - D(x)) / range,  D(x) = base+fog + 0.10
 *
 *   Its interval is that of the covariance, times as much as the interval of the curve's own
 *   average gradient is wider than its covariance says: that holds besides what the shape may be.
 *
 * Source    definition; errors to first order (textbook)
 * Given     curve  of a negative film
 *           range                                                        [log H]  > 0
 * Returned  *gradient  WW_FITTED
 * Status    WW_OK; WW_EDOMAIN range not finite or not > 0; WW_ENODATA no fitted curve, covariance
 *           or base+fog, net 0.10 is not reached, or the steps end before the range does
 */
ww_status ww_curve_gradient_over(const ww_channel_curve *curve, double range, ww_quantity *gradient,
                                 ww_error *err);

/*
 * ww_curve_black_and_white_channel - the channel that a black-and-white material is judged by, as
 *                                    for readings: visual where it is there, else green (blue for
 *                                    stained ones), else the only one.
 *
 * Status    WW_OK; WW_ENODATA no channel, or several without that one
 */
ww_status ww_curve_black_and_white_channel(const ww_curve *curve, ww_channel *channel,
                                           ww_error *err);

#endif
