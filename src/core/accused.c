/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "accused.h"
#include "cause.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double too_much_scatter = 0.03; /* D, residual standard deviation */

static ww_status add_suspect(const ww__accused *a, size_t point, double residual, ww_cause cause,
                             ww_error *err) {
    ww_channel_curve *c = a->curve;
    ww_suspect *more = realloc(c->suspect, (c->n_suspects + 1) * sizeof *more);
    if (!more)
        return ww_error_set(err, WW_EMEMORY, "no memory for the suspect readings");
    c->suspect = more;
    c->suspect[c->n_suspects++] = (ww_suspect){point, residual, cause};
    return WW_OK;
}

static ww_status note_moved(const ww__accused *a, const ww__finding *f, const char *step, double by,
                            ww_error *err) {
    if (f->moved > 0)
        return ww_notes_add(
            a->notes, err,
            "step %s%s and all after it read as if one step had been skipped before it; "
            "they are placed one step (%.2f log H) further on for the curve; read the "
            "strip again from there (a step skipped near either end of the strip seldom shows)",
            step, a->of, by);
    return ww_notes_add(
        a->notes, err,
        "step %s%s and all after it fit one step back, as if the step before it had been read "
        "twice; they are placed one step (%.2f log H) back for the curve; read the strip again "
        "from there",
        step, a->of, by);
}

static ww_status tell_moved(const ww__accused *a, const ww__finding *f, ww_error *err) {
    ww_curve_point *p = a->points->point;
    const size_t first = ww__points_index(a->points, f->point);
    const double sign = a->shape->falling ? -1.0 : 1.0;
    const double was = p[first].log_h, is = sign * a->series->u[f->point];
    const double residual = p[first].density - ww_model_density(a->shape, was, NULL);
    for (size_t i = f->point; i < a->series->n; i++)
        p[ww__points_index(a->points, i)].log_h = sign * a->series->u[i];
    const ww_status status = note_moved(a, f, p[first].step, fabs(is - was), err);
    return status == WW_OK ? add_suspect(a, first, residual, f->cause, err) : status;
}

/* What stands behind a mean, and which reading to blame: of two repeats, which their spread gives
 * back, the one farther off. */
static ww_status tell_repeats(const ww__accused *a, const ww_curve_point *p, double expected,
                              double *off, ww_error *err) {
    *off = p->density;
    if (p->n < 2 || !p->sd.set)
        return WW_OK;
    if (p->n > 2)
        return ww_notes_add(a->notes, err,
                            "step %s%s: %.2f is the mean of %zu readings, standard deviation %.3f, "
                            "and the curve has %.2f there; look whether one of them is off",
                            p->step, a->of, p->density, p->n, p->sd.value, expected);
    const double half = p->sd.value / sqrt(2.0);
    const double low = p->density - half, high = p->density + half;
    *off = p->density > expected ? high : low;
    return ww_notes_add(a->notes, err,
                        "step %s%s: %.2f is the mean of two readings, %.2f and %.2f, and the curve "
                        "has %.2f there",
                        p->step, a->of, p->density, low, high, expected);
}

static ww_status tell_single(const ww__accused *a, const ww__finding *f, ww_error *err) {
    const size_t at = ww__points_index(a->points, f->point);
    const ww_curve_point *p = &a->points->point[at];
    const double residual = ww__points_departure(a->points, at, a->shape);
    const double tolerance = fmax(0.015, 3.0 * a->residual_sd);
    double off;
    ww_optional would_be;
    ww_status status = tell_repeats(a, p, p->density - residual, &off, err);
    if (status != WW_OK)
        return status;
    const ww_cause cause =
        ww__cause_of_reading(off, p->density - residual, tolerance, a->transmission, &would_be);
    if (would_be.set && p->n <= 2) /* of a mean of more, nobody wrote the digits */
        status =
            ww_notes_add(a->notes, err, "step %s%s: %.2f in place of %.2f would lie on the curve",
                         p->step, a->of, would_be.value, off);
    return status == WW_OK ? add_suspect(a, at, residual, cause, err) : status;
}

static ww_status tell_swapped(const ww__accused *a, const ww__finding *f, ww_error *err) {
    const size_t first = ww__points_index(a->points, f->point);
    const size_t second = ww__points_index(a->points, f->other);
    ww_status status =
        ww_notes_add(a->notes, err,
                     "steps %s and %s%s read as if they had been exchanged; neither moves the "
                     "result; read both again",
                     a->points->point[first].step, a->points->point[second].step, a->of);
    if (status == WW_OK)
        status = add_suspect(a, first, ww__points_departure(a->points, first, a->shape),
                             WW_CAUSE_SWAPPED, err);
    if (status == WW_OK)
        status = add_suspect(a, second, ww__points_departure(a->points, second, a->shape),
                             WW_CAUSE_SWAPPED, err);
    return status;
}

/* Nothing could be named, or not all of it: that the readings are not to be trusted is said. */
static ww_status tell_scatter(const ww__accused *a, ww_error *err) {
    if (!(a->residual_sd > too_much_scatter))
        return WW_OK;
    return ww_notes_add(a->notes, err,
                        "the readings%s depart from any smooth curve by %.2f D, and careful ones "
                        "do by less than 0.02: more than one is probably wrong, or rows stand at "
                        "the wrong exposure; read the strip again before you trust these figures",
                        a->of, a->residual_sd);
}

ww_status ww__accused_name(const ww__accused *a, ww_error *err) {
    ww_status status = WW_OK;
    /* What moved points is told first, so that later departures are from where they now stand. */
    for (size_t i = 0; i < a->findings->n && status == WW_OK; i++)
        if (a->findings->item[i].moved)
            status = tell_moved(a, &a->findings->item[i], err);
    for (size_t i = 0; i < a->findings->n && status == WW_OK; i++) {
        if (a->findings->item[i].cause == WW_CAUSE_SWAPPED)
            status = tell_swapped(a, &a->findings->item[i], err);
        else if (!a->findings->item[i].moved)
            status = tell_single(a, &a->findings->item[i], err);
    }
    return status == WW_OK ? tell_scatter(a, err) : status;
}
