/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trace.h"

#include <assert.h>
#include <math.h>

/*
 * Slopes of the closed models have one peak (their logarithm is concave), so a coarse scan brackets
 * it. A spline may have several humps, none narrower than its knots are apart.
 */
enum { SPOTS_ONE_PEAK = 17, SPOTS_SPLINE = WW__TRACE_MAX, STEPS_MAX = 100 };

static const double REACH_TOLERANCE = 1e-10; /* [log H] */
static const double GOLDEN = 0.381966011250105;

double ww__trace_log_h(const ww__trace *trace, double u) {
    return trace->shape->falling ? -u : u;
}

ww__spot ww__trace_at(const ww__trace *trace, double u) {
    double slope;
    const double density = ww_model_density(trace->shape, ww__trace_log_h(trace, u), &slope);
    ww__spot spot = {u, density, trace->shape->falling ? -slope : slope};
    if (trace->bump) {
        const double z = (u - trace->bump->centre) / trace->bump->width;
        const double hill = trace->bump->height * exp(-0.5 * z * z);
        spot.density += hill;
        spot.slope -= hill * z / trace->bump->width;
    }
    return spot;
}

void ww__trace_start(ww__trace *trace, const ww_shape *shape, double low, double high) {
    ww__trace_start_bumped(trace, shape, NULL, low, high);
}

void ww__trace_start_bumped(ww__trace *trace, const ww_shape *shape, const ww__bump *bump,
                            double low, double high) {
    assert(shape && low < high);
    const double first = shape->falling ? -high : low;
    const double last = shape->falling ? -low : high;
    trace->shape = shape;
    trace->bump = bump;
    trace->n = shape->model == WW_MODEL_SPLINE ? SPOTS_SPLINE : SPOTS_ONE_PEAK;
    const double step = (last - first) / (double)(trace->n - 1);
    for (size_t i = 0; i + 1 < trace->n; i++)
        trace->spot[i] = ww__trace_at(trace, first + (double)i * step);
    trace->spot[trace->n - 1] = ww__trace_at(trace, last);
}

ww__reach ww__trace_reach(const ww__trace *trace, double density, ww__spot *spot) {
    const ww__spot *const s = trace->spot;
    const size_t last = trace->n - 1;
    size_t k = 1;
    if (!(density >= s[0].density))
        return WW__REACH_BEFORE;
    if (density > s[last].density)
        return WW__REACH_BEYOND;
    while (k < last && s[k].density < density)
        k++;
    double a = s[k - 1].u, b = s[k].u, slope = s[k - 1].slope;
    const double rise = s[k].density - s[k - 1].density;
    double u = rise > 0.0 ? a + (b - a) * ((density - s[k - 1].density) / rise) : a;
    for (int i = 0; i < STEPS_MAX && b - a > REACH_TOLERANCE; i++) {
        const ww__spot here = ww__trace_at(trace, u);
        const double step = (density - here.density) / here.slope;
        slope = here.slope;
        /* Newton's error after a step is about the square of the step. */
        if (fabs(step) < 1e-6) {
            u += step;
            break;
        }
        if (here.density < density)
            a = u;
        else
            b = u;
        u = u + step > a && u + step < b ? u + step : a + (b - a) / 2.0;
    }
    *spot = (ww__spot){fmin(fmax(u, s[0].u), s[last].u), density, slope};
    return WW__REACH_FOUND;
}

/* Height of the parabola through three equally spaced slopes: judges a hump without evaluating. */
static double hump_height(const ww__spot s[3]) {
    const double bend = s[0].slope - 2.0 * s[1].slope + s[2].slope;
    const double tilt = s[2].slope - s[0].slope;
    return bend < 0.0 ? s[1].slope - tilt * tilt / (8.0 * bend) : s[1].slope;
}

static size_t highest_hump(const ww__trace *trace) {
    const size_t last = trace->n - 1;
    size_t best = trace->spot[last].slope > trace->spot[0].slope ? last : 0;
    double height = trace->spot[best].slope;
    for (size_t i = 1; i < last; i++) {
        const ww__spot *const s = &trace->spot[i - 1];
        if (s[1].slope < s[0].slope || s[1].slope < s[2].slope)
            continue;
        const double here = hump_height(s);
        if (here > height) {
            height = here;
            best = i;
        }
    }
    return best;
}

/* From b to the peak of the parabola through three spots; not finite where they are in line. */
static double parabola_move(ww__spot a, ww__spot b, ww__spot c) {
    const double left = (b.u - a.u) * (b.slope - c.slope);
    const double right = (b.u - c.u) * (b.slope - a.slope);
    return ((b.u - c.u) * right - (b.u - a.u) * left) / (2.0 * (left - right));
}

/*
 * Peak between low and high, where best between them is no lower than either: Brent's mixture of
 * parabolas and golden sections. A slope is flat at its peak, so a place good to 1e-5 of the
 * bracket is plenty.
 */
static ww__spot climb(const ww__trace *trace, ww__spot low, ww__spot best, ww__spot high) {
    ww__spot second = low.slope > high.slope ? low : high;
    ww__spot third = low.slope > high.slope ? high : low;
    double a = low.u, b = high.u, step = b - a, before = step;
    const double tolerance = 1e-5 * (b - a);
    for (int i = 0; i < STEPS_MAX && b - a > 2.0 * tolerance; i++) {
        const double room = best.u < a + (b - a) / 2.0 ? b - best.u : a - best.u;
        double move = parabola_move(second, best, third);
        const double u = best.u + move;
        if (i > 1 && fabs(move) < tolerance)
            break;
        if (u > a && u < b && fabs(move) < 0.5 * fabs(before)) {
            before = step;
        } else {
            before = room;
            move = GOLDEN * room;
        }
        step = fabs(move) < tolerance ? copysign(tolerance, room) : move;
        const ww__spot new = ww__trace_at(trace, best.u + step);
        const bool higher = new.slope > best.slope;
        if (higher == (step > 0.0))
            a = higher ? best.u : new.u;
        else
            b = higher ? best.u : new.u;
        if (higher) {
            third = second;
            second = best;
            best = new;
        } else if (new.slope >= second.slope) {
            third = second;
            second = new;
        } else if (new.slope > third.slope) {
            third = new;
        }
    }
    return best;
}

/* A rise so sudden that the scan stepped over it: halve the stretch until its middle is steepest.
 */
static ww__spot climb_jump(const ww__trace *trace, ww__spot a, ww__spot b) {
    ww__spot middle = a;
    for (int i = 0; i < STEPS_MAX && b.u - a.u > REACH_TOLERANCE; i++) {
        middle = ww__trace_at(trace, a.u + (b.u - a.u) / 2.0);
        if (middle.slope > a.slope && middle.slope > b.slope)
            return climb(trace, a, middle, b);
        if (middle.density - a.density > b.density - middle.density)
            b = middle;
        else
            a = middle;
    }
    return middle;
}

static ww__spot climb_hump(const ww__trace *trace) {
    const size_t last = trace->n - 1, k = highest_hump(trace);
    const ww__spot *const s = trace->spot;
    if (k > 0 && k < last)
        return climb(trace, s[k - 1], s[k], s[k + 1]);
    /* At an end: is there a peak just inside? */
    const ww__spot next = s[k == 0 ? 1 : last - 1];
    const ww__spot inner = ww__trace_at(trace, s[k].u + 1e-3 * (next.u - s[k].u));
    if (inner.slope <= s[k].slope)
        return s[k];
    return k == 0 ? climb(trace, s[k], inner, next) : climb(trace, next, inner, s[k]);
}

ww__spot ww__trace_steepest(const ww__trace *trace) {
    const ww__spot *const s = trace->spot;
    const ww__spot top = climb_hump(trace);
    size_t k = 1;
    for (size_t i = 2; i < trace->n; i++)
        if (s[i].density - s[i - 1].density > s[k].density - s[k - 1].density)
            k = i;
    /* No stretch rises by more than its steepest slope allows. */
    const double mean = (s[k].density - s[k - 1].density) / (s[k].u - s[k - 1].u);
    return mean > top.slope * (1.0 + 1e-6) ? climb_jump(trace, s[k - 1], s[k]) : top;
}

/* Chandrupatla's method: inverse quadratic steps where the three points allow, else halving. */
double ww__trace_root(double (*f)(double u, void *context), void *context, double a, double fa,
                      double b, double fb, double tolerance) {
    assert((fa <= 0.0 && fb >= 0.0) || (fa >= 0.0 && fb <= 0.0));
    if (fa == 0.0)
        return a;
    double t = fa / (fa - fb);
    for (int i = 0; i < STEPS_MAX && fb != 0.0; i++) {
        const double u = a + t * (b - a), fu = f(u, context);
        double c = b, fc = fb;
        if ((fu > 0.0) == (fa > 0.0)) {
            c = a;
            fc = fa;
        } else {
            b = a;
            fb = fa;
        }
        a = u;
        fa = fu;
        const double least = tolerance / fabs(b - a);
        if (fa == 0.0 || least > 0.5)
            return fabs(fa) < fabs(fb) ? a : b;
        const double xi = (a - b) / (c - b), phi = (fa - fb) / (fc - fb);
        t = 0.5;
        if (phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi) {
            t = fa / (fb - fa) * fc / (fb - fc) +
                (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb);
            /* What such a step leaves is smaller than the step by the square root of it and more.
             */
            if (fabs(t * (b - a)) < 1e3 * tolerance)
                return a + t * (b - a);
        }
        t = fmin(fmax(t, least), 1.0 - least);
    }
    return b;
}

typedef struct level_context {
    const ww__trace *trace;
    double level;
    ww__spot last; /* close to the root: the curve is straight from there to it */
} level_context;

static double above_level(double u, void *context) {
    level_context *const c = context;
    c->last = ww__trace_at(c->trace, u);
    return c->last.slope - c->level;
}

static ww__spot cross(const ww__trace *trace, ww__spot above, ww__spot below, double level) {
    level_context c = {trace, level, above};
    const double u = ww__trace_root(above_level, &c, above.u, above.slope - level, below.u,
                                    below.slope - level, REACH_TOLERANCE);
    return (ww__spot){u, c.last.density + (u - c.last.u) * c.last.slope, level};
}

bool ww__trace_slope_falls(const ww__trace *trace, ww__spot from, bool upwards, double level,
                           ww__spot *spot) {
    ww__spot above = from;
    for (size_t i = 0; i < trace->n; i++) {
        const ww__spot *const s = &trace->spot[upwards ? i : trace->n - 1 - i];
        if (upwards ? s->u <= from.u : s->u >= from.u)
            continue;
        if (s->slope < level) {
            *spot = cross(trace, above, *s, level);
            return true;
        }
        above = *s;
    }
    *spot = above;
    return false;
}
