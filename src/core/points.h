/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_POINTS_H
#define WW_CORE_POINTS_H

#include "series.h"
#include <wedgework/curve.h>
#include <wedgework/readings.h>

/* Exposed readings of one channel as points of a curve, and its base reading. */
typedef struct ww__points {
    ww_curve_point *point; /* owned */
    size_t n;
    bool has_base;
    double base;
    size_t base_n;
    ww_optional base_sd;
} ww__points;

#define WW__POINTS_INIT                                                                            \
    { .point = NULL }

/*
 * ww__points_take - the points of a channel, in the order of the readings.
 *
 * Given     readings  pooled
 * Status    WW_OK; WW_ENODATA a row has no exposure; WW_EDOMAIN one is impossible; WW_EMEMORY
 */
ww_status ww__points_take(const ww_readings *readings, ww_channel channel, ww__points *points,
                          ww_error *err);
void ww__points_release(ww__points *points);

/*
 * ww__points_cut_fall - mark the points beyond the greatest density as cut, where density really
 *                       falls again at extreme exposure: at least two readings, each lower than the
 *                       one before, but not more than a third of all; the last at least 0.05 D
 *                       under the greatest, and 0.03 D left of that without the greatest reading
 *                       or without the last.
 *
 * Source    common practice; a single low reading may be a slip and is left to the suspect finder
 * Returned  number of points cut
 */
size_t ww__points_cut_fall(ww__points *points, bool falling);

/*
 * ww__points_series - what a fit sees of them. Weights are the numbers of repeats; where three or
 *                     more points state a spread, each is weighed by its own variance, drawn
 *                     towards the common one as by four more readings (a spread of few repeats says
 *                     little).
 *
 * Source    moderated variance: Smyth, Statistical Applications in Genetics and Molecular Biology
 *           3 (2004) article 3; the four readings: common practice
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__points_series(const ww__points *points, bool falling, ww__series *series,
                            ww_error *err);

/* ww__points_index - index into the points of the i-th point of the series. */
size_t ww__points_index(const ww__points *points, size_t i);

/*
 * ww__points_mark_moved - how far each point stands off the exposure of its row.
 *
 * Given     readings, channel  as for ww__points_take
 *           point              what it took, perhaps moved along log H since
 * Status    as ww_readings_log_h
 */
ww_status ww__points_mark_moved(const ww_readings *readings, ww_channel channel,
                                ww_curve_point point[], ww_error *err);

/* ww__points_departure - density of the point at `index` over what the shape has there. */
double ww__points_departure(const ww__points *points, size_t index, const ww_shape *shape);

#endif
