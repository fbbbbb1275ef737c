/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fittable.h"

#include <assert.h>
#include <math.h>

enum { LEAST_POINTS = 5, MOST_POINTS = 1000 };
enum { GOOD_PAPER = 8, GOOD_FILM = 10 }; /* common practice */
static const double least_rise = 0.02;   /* D: less is no picture */
static const double against = 0.10; /* D by which density must run the wrong way to be refused */

static void extremes(const ww__series *s, double *least, double *most, double *trend) {
    *least = HUGE_VAL;
    *most = -HUGE_VAL;
    double mean_u = 0.0, mean_d = 0.0, up = 0.0, across = 0.0;
    for (size_t i = 0; i < s->n; i++) {
        *least = fmin(*least, s->density[i]);
        *most = fmax(*most, s->density[i]);
        mean_u += s->u[i] / (double)s->n;
        mean_d += s->density[i] / (double)s->n;
    }
    for (size_t i = 0; i < s->n; i++) {
        up += (s->u[i] - mean_u) * (s->density[i] - mean_d);
        across += (s->u[i] - mean_u) * (s->u[i] - mean_u);
    }
    const double width = s->n ? s->u[s->order[s->n - 1]] - s->u[s->order[0]] : 0.0;
    *trend = across > 0.0 ? up / across * width : 0.0; /* D over the whole width */
}

ww_status ww__fittable(const ww__series *s, const ww_figure_rules *rules, const char *of,
                       ww_notes *notes, bool *can, ww_error *err) {
    assert(s && rules && of && notes && can);
    *can = false;
    if (s->n < LEAST_POINTS)
        return ww_notes_add(notes, err,
                            "no curve%s: %zu exposed reading%s, and a curve needs at least %d (10 "
                            "or more make a good one); read more steps of the same exposure",
                            of, s->n, s->n == 1 ? "" : "s", LEAST_POINTS);
    if (s->n > MOST_POINTS)
        return ww_error_set(err, WW_EDOMAIN,
                            "%zu readings of different label or exposure%s, and a curve takes at "
                            "most %d; give repeats of a step the same label, so that they "
                            "are averaged",
                            s->n, of, MOST_POINTS);
    if (!(s->u[s->order[s->n - 1]] > s->u[s->order[0]]))
        return ww_notes_add(
            notes, err, "no curve%s: all readings have the same exposure; expose a stepped series",
            of);
    double least, most, trend;
    extremes(s, &least, &most, &trend);
    if (most - least < least_rise)
        return ww_notes_add(
            notes, err,
            "no curve%s: density only runs from %.3f to %.3f over all steps; the "
            "exposures missed the material's range, or one patch was read again and "
            "again; a longer scale of steps would show a curve",
            of, least, most);
    if (trend < -against)
        return ww_error_set(
            err, WW_EMISMATCH,
            "density%s falls where exposure rises, which %s material does not do; %s", of,
            rules->reversal ? "this reversal" : "negative",
            rules->reversal
                ? "take '# process: reversal' away, or check the exposure column's direction (a "
                  "denser wedge step gives less exposure)"
                : "add '# process: reversal' if it is reversal material, or check the exposure "
                  "column's direction (a denser wedge step gives less exposure)");
    *can = true;
    const size_t wanted = rules->paper ? GOOD_PAPER : GOOD_FILM;
    if (s->n < wanted)
        return ww_notes_add(
            notes, err,
            "%zu steps%s are few: a %s wants %zu or more to show toe, straight part "
            "and shoulder",
            s->n, of, rules->paper ? "paper" : "film", wanted);
    return WW_OK;
}
