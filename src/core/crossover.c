/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trace.h"

#include <assert.h>
#include <math.h>
#include <wedgework/crossover.h>

static const double CC = 100.0;          /* 1 CC is 0.01 */
static const double SUBJECT_SPAN = 1.90; /* average subject 2.20 less camera flare 0.30 [log H] */
static const double MIDDLE_ABOVE_FOOT = 1.00;                 /* [log H] */
static const double MIDDLE_DENSITY = 0.745;                   /* -log10 0.18 */
static const double PAPER_FOOT = 0.04, PAPER_TOP_SHARE = 0.9; /* ISO 6846 */
static const double REVERSAL_FOOT = 0.20, REVERSAL_TOP = 2.00;
enum { PLACES = 41, COLOURS = 3 };

/* The colour channels, each with a trace; places are u on film, net density on paper. */
typedef struct courses {
    bool paper;
    bool present[COLOURS];
    double base[COLOURS];
    ww__trace trace[COLOURS];
} courses;

static ww_status start(courses *c, const ww_channel_shape channel[], const ww_figure_rules *rules,
                       ww_error *err) {
    c->paper = rules->paper;
    for (int i = 0; i < COLOURS; i++) {
        const ww_channel_shape *const from = &channel[i];
        c->present[i] = from->shape != NULL;
        if (!from->shape)
            continue;
        if (!isfinite(from->low) || !isfinite(from->high) || !isfinite(from->base_fog) ||
            !(from->low < from->high))
            return ww_error_set(err, WW_EDOMAIN,
                                "the %s curve from log H %g to %g over base+fog %g is no curve; "
                                "fit it again",
                                ww_channel_name((ww_channel)i), from->low, from->high,
                                from->base_fog);
        c->base[i] = from->base_fog;
        ww__trace_start(&c->trace[i], from->shape, from->low, from->high);
    }
    if (!c->present[WW_GREEN] || (!c->present[WW_RED] && !c->present[WW_BLUE]))
        return ww_error_set(
            err, WW_ENODATA,
            "crossover needs the green channel and another; read all three filters");
    if (c->trace[WW_GREEN].shape->falling !=
        c->trace[c->present[WW_RED] ? WW_RED : WW_BLUE].shape->falling)
        return ww_error_set(err, WW_ENODATA,
                            "the channels run opposite ways; check the readings' columns");
    return WW_OK;
}

/* Density at u on film, log H at a net density on paper; false outside the measured steps. */
static bool course(const courses *c, int channel, double place, double *value) {
    const ww__trace *const t = &c->trace[channel];
    ww__spot spot;
    if (c->paper) {
        if (ww__trace_reach(t, c->base[channel] + place, &spot) != WW__REACH_FOUND)
            return false;
        *value = ww__trace_log_h(t, spot.u);
        return true;
    }
    if (place < t->spot[0].u - 1e-9 || place > t->spot[t->n - 1].u + 1e-9)
        return false;
    *value = ww__trace_at(t, place).density;
    return true;
}

static bool difference(const courses *c, int channel, double place, double *value) {
    double mine, green;
    if (!course(c, channel, place, &mine) || !course(c, WW_GREEN, place, &green))
        return false;
    *value = mine - green;
    return true;
}

/* The part of the picture that a film channel covers, as u. */
static bool film_part(const courses *c, int i, const ww_figure_rules *rules, double *from,
                      double *to) {
    const double foot = rules->reversal                                  ? REVERSAL_FOOT
                        : rules->emulsion == WW_EMULSION_COLOUR_NEGATIVE ? 0.15
                                                                         : 0.10;
    const ww__trace *const t = &c->trace[i];
    ww__spot spot;
    if (ww__trace_reach(t, c->base[i] + foot, &spot) != WW__REACH_FOUND)
        return false;
    *from = spot.u;
    *to = t->spot[t->n - 1].u;
    if (rules->reversal && ww__trace_reach(t, c->base[i] + REVERSAL_TOP, &spot) == WW__REACH_FOUND)
        *to = spot.u;
    return true;
}

/* Picture range shared by all channels and its middle grey; false where there is none. */
static bool find_range(const courses *c, const ww_figure_rules *rules, double *from, double *to,
                       double *middle) {
    *from = c->paper ? PAPER_FOOT : -HUGE_VAL;
    *to = HUGE_VAL;
    for (int i = 0; i < COLOURS; i++) {
        const ww__trace *const t = &c->trace[i];
        double first, last;
        if (!c->present[i])
            continue;
        if (c->paper) {
            first = t->spot[0].density - c->base[i];
            last = PAPER_TOP_SHARE * (t->spot[t->n - 1].density - c->base[i]);
        } else if (!film_part(c, i, rules, &first, &last)) {
            return false;
        }
        *from = fmax(*from, first);
        *to = fmin(*to, last);
    }
    if (c->paper) {
        *middle = MIDDLE_DENSITY - c->base[WW_GREEN];
    } else if (rules->reversal) {
        *middle = *from + (*to - *from) / 2.0;
    } else {
        *to = fmin(*to, *from + SUBJECT_SPAN);
        *middle = *from + MIDDLE_ABOVE_FOOT;
    }
    if (!(*middle > *from && *middle < *to))
        *middle = *from + (*to - *from) / 2.0;
    return *from < *to;
}

/* From a place to what users see, and back: film u and log H, paper net and green density. */
static double shown(const courses *c, double place) {
    return c->paper ? place + c->base[WW_GREEN] : ww__trace_log_h(&c->trace[WW_GREEN], place);
}

static double place_of(const courses *c, double seen) {
    return c->paper ? seen - c->base[WW_GREEN] : ww__trace_log_h(&c->trace[WW_GREEN], seen);
}

ww_status ww_crossover_compute(const ww_channel_shape channel[WW_CHANNEL_COUNT],
                               const ww_figure_rules *rules, ww_crossover *crossover,
                               ww_error *err) {
    assert(channel && rules && crossover);
    courses c;
    double from, to, middle, worst = 0.0;
    const ww_status status = start(&c, channel, rules, err);
    if (status != WW_OK)
        return status;
    if (!find_range(&c, rules, &from, &to, &middle))
        return ww_error_set(err, WW_ENODATA,
                            "the channels share no picture range; expose a longer scale of steps");
    double at = middle;
    ww_channel which = c.present[WW_RED] ? WW_RED : WW_BLUE;
    for (int i = 0; i < COLOURS; i++) {
        double zero, here;
        if (i == WW_GREEN || !c.present[i] || !difference(&c, i, middle, &zero))
            continue;
        for (int k = 0; k < PLACES; k++) {
            const double place = from + (to - from) * ((double)k / (PLACES - 1));
            if (!difference(&c, i, place, &here) || fabs(here - zero) <= fabs(worst))
                continue;
            worst = here - zero;
            at = place;
            which = (ww_channel)i;
        }
    }
    const double a = shown(&c, from), b = shown(&c, to), cc = CC * worst;
    *crossover = (ww_crossover){.worst_cc = {cc, cc, cc, WW_FITTED},
                                .channel = which,
                                .at = shown(&c, at),
                                .from = fmin(a, b),
                                .to = fmax(a, b),
                                .middle = shown(&c, middle)};
    return WW_OK;
}

ww_status ww_crossover_at(const ww_channel_shape channel[WW_CHANNEL_COUNT],
                          const ww_figure_rules *rules, const ww_crossover *crossover, double *cc,
                          ww_error *err) {
    assert(channel && rules && crossover && cc && (int)crossover->channel < COLOURS);
    courses c;
    double here, zero;
    const ww_status status = start(&c, channel, rules, err);
    if (status != WW_OK)
        return status;
    if (!c.present[crossover->channel] ||
        !difference(&c, (int)crossover->channel, place_of(&c, crossover->at), &here) ||
        !difference(&c, (int)crossover->channel, place_of(&c, crossover->middle), &zero))
        return ww_error_set(
            err, WW_ENODATA,
            "the curves do not reach the place of the crossover within their steps");
    *cc = CC * (here - zero);
    return WW_OK;
}

void ww_crossover_judge(ww_crossover *crossover, double low, double high) {
    assert(crossover);
    crossover->worst_cc.low = low;
    crossover->worst_cc.high = high;
    crossover->found = low > 0.0 || high < 0.0;
}
