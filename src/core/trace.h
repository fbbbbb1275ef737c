/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_TRACE_H
#define WW_CORE_TRACE_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/model.h>

/*
 * A shape followed over its measured range, on the axis u along which density rises: u = log H, for
 * falling shapes u = -log H. Everything that is looked up on a curve goes through one trace, so
 * that reversal is dealt with in one place and each search starts from a bracket.
 */
enum { WW__TRACE_MAX = 41 };

typedef struct ww__spot {
    double u;
    double density;
    double slope; /* dD/du, >= 0 */
} ww__spot;

/* A small hill on a curve: height e^(-((u - centre)/width)^2 / 2). Resampling asks what a departure
 * from the model would do to each figure. */
typedef struct ww__bump {
    double height, centre, width;
} ww__bump;

typedef struct ww__trace {
    const ww_shape *shape;
    const ww__bump *bump; /* NULL: none */
    size_t n; /* spots in use, equally spaced, first and last at the ends of the range */
    ww__spot spot[WW__TRACE_MAX];
} ww__trace;

typedef enum ww__reach {
    WW__REACH_FOUND,
    WW__REACH_BEFORE, /* the thinnest measured step is denser already */
    WW__REACH_BEYOND  /* the densest measured step is thinner still */
} ww__reach;

/* ww__trace_start - sample a shape over log H from low to high; low < high, both finite. */
void ww__trace_start(ww__trace *trace, const ww_shape *shape, double low, double high);

/* ww__trace_start_bumped - the same of a shape with a bump, which must outlive the trace. */
void ww__trace_start_bumped(ww__trace *trace, const ww_shape *shape, const ww__bump *bump,
                            double low, double high);

/* ww__trace_at - the curve at u; outside the range too, where the caller checks what it gets. */
ww__spot ww__trace_at(const ww__trace *trace, double u);

/* ww__trace_log_h - from u to log H (and back: it is its own inverse). */
double ww__trace_log_h(const ww__trace *trace, double u);

/*
 * ww__trace_reach - where the curve first reaches a density within the range, to 1e-10 in u.
 * Returned  *spot, on WW__REACH_FOUND only; its slope is good to 1e-6 or so
 */
ww__reach ww__trace_reach(const ww__trace *trace, double density, ww__spot *spot);

/* ww__trace_steepest - spot of the greatest slope within the range: slope to 1e-9 of itself. */
ww__spot ww__trace_steepest(const ww__trace *trace);

/*
 * ww__trace_slope_falls - from a spot whose slope is at least `level`, the nearest place upwards
 * (or downwards) where the slope crosses `level`, to 1e-10 in u. Returned  true and *spot; false
 * where the slope stays above it to the end of the range, and then *spot is that end
 */
bool ww__trace_slope_falls(const ww__trace *trace, ww__spot from, bool upwards, double level,
                           ww__spot *spot);

/*
 * ww__trace_root - root of f between two ends where its signs differ, to `tolerance`.
 * Given     f(u, context); a, b with fa = f(a), fb = f(b) of opposite sign or zero
 */
double ww__trace_root(double (*f)(double u, void *context), void *context, double a, double fa,
                      double b, double fb, double tolerance);

#endif
