/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trace.h"

#include <assert.h>
#include <math.h>
#include <wedgework/speed.h>

static const double NET_BLACK_AND_WHITE = 0.10;
static const double NET_LAYER = 0.15;      /* ISO 5800, from memory */
static const double NET_HIGHLIGHT = 0.20;  /* ISO 2240, from memory */
static const double NET_SHADOW = 2.00;     /* ISO 2240, from memory */
static const double CONDITION_SPAN = 1.30; /* ISO 6: log H from m to n */
static const double CONDITION_GAIN = 0.80; /* ISO 6: density gained from m to n */
static const double CONDITION_MARGIN = 0.05;
static const double DELTA_X_STANDARD = 0.296; /* Delta-X where the gain is 0.80, as published */

/* Where a channel first reaches a net density; known already for the figures' speed point. */
static ww__reach point(const ww_channel_shape *channel, double net, double *log_h) {
    ww__trace trace;
    ww__spot spot;
    if (channel->speed_point.set) {
        *log_h = channel->speed_point.value;
        return WW__REACH_FOUND;
    }
    ww__trace_start(&trace, channel->shape, channel->low, channel->high);
    const ww__reach reach = ww__trace_reach(&trace, channel->base_fog + net, &spot);
    if (reach == WW__REACH_FOUND)
        *log_h = ww__trace_log_h(&trace, spot.u);
    return reach;
}

static const char *negative_reason(ww__reach reach) {
    return reach == WW__REACH_BEFORE
               ? "no speed: the thinnest step is denser than the speed point; add steps with less "
                 "exposure"
               : "no speed: the densest step does not reach the speed point; add steps with more "
                 "exposure";
}

static const char *reversal_reason(ww__reach reach) {
    return reach == WW__REACH_BEFORE
               ? "no speed: the thinnest step is denser than 0.20 over D-min; add steps with more "
                 "exposure"
               : "no speed: the densest step reaches neither 2.00 over D-min nor the shoulder; add "
                 "steps with less exposure";
}

static void give(ww_speed *speed, ww_speed_standard standard, double exact) {
    speed->standard = standard;
    speed->exact = (ww_quantity){exact, exact, exact, WW_FITTED};
    ww_speed_round(exact, &speed->arithmetic, &speed->degrees, NULL);
}

/* Interface conventions: without visual density green, of stained film blue. */
static const char *unjudged_reason(ww_channel by) {
    switch (by) {
    case WW_GREEN:
        return "no speed: without visual density, black-and-white film is judged by green, which "
               "has no curve; read the strip in green";
    case WW_BLUE:
        return "no speed: without visual density, stained film is judged by blue, which has no "
               "curve; read the strip in blue";
    default:
        return "no speed: the channel that the film is judged by has no curve";
    }
}

static const char *of_black_and_white(const ww_channel_shape channel[], ww_channel by,
                                      ww_speed *speed) {
    const ww_channel_shape *const film = &channel[by];
    double log_hm = 0.0, exact = 0.0, delta_x = 0.0;
    if (!film->shape)
        return unjudged_reason(by);
    const ww__reach reach = point(film, NET_BLACK_AND_WHITE, &log_hm);
    if (reach != WW__REACH_FOUND)
        return negative_reason(reach);
    if (ww_speed_black_and_white(pow(10.0, log_hm), &exact, NULL) != WW_OK)
        return "no speed: the speed point lies beyond all exposures; check log h0";
    const double log_hn = log_hm + CONDITION_SPAN;
    if (log_hn > film->high + 1e-9) {
        give(speed, WW_SPEED_EXPOSURE_INDEX, exact);
        return "the steps end less than 1.30 log H after the speed point, so the contrast "
               "condition "
               "of ISO 6 cannot be tested; add steps with more exposure";
    }
    const double gain =
        ww_model_density(film->shape, log_hn, NULL) - film->base_fog - NET_BLACK_AND_WHITE;
    speed->density_difference = (ww_optional){true, gain};
    speed->condition_met = fabs(gain - CONDITION_GAIN) <= CONDITION_MARGIN + 1e-12;
    give(speed, speed->condition_met ? WW_SPEED_ISO_6 : WW_SPEED_EXPOSURE_INDEX, exact);
    if (ww_speed_delta_x(gain, &delta_x, NULL) == WW_OK)
        speed->delta_x = (ww_optional){true, exact * pow(10.0, delta_x - DELTA_X_STANDARD)};
    return NULL;
}

static const char *of_colour_negative(const ww_channel_shape channel[], ww_density_status status,
                                      ww_speed *speed) {
    double log_h[3] = {0.0, 0.0, 0.0}, exact = 0.0;
    if (status != WW_STATUS_M && status != WW_STATUS_UNKNOWN)
        return "no speed: ISO 5800 reads status M densities; read the strip in status M";
    for (int c = WW_RED; c <= WW_BLUE; c++) {
        if (!channel[c].shape)
            return "no speed: ISO 5800 needs the red, green and blue layers; read all three";
        const ww__reach reach = point(&channel[c], NET_LAYER, &log_h[c]);
        if (reach != WW__REACH_FOUND)
            return negative_reason(reach);
    }
    const double slowest = fmax(log_h[WW_GREEN], fmax(log_h[WW_RED], log_h[WW_BLUE]));
    if (ww_speed_colour_negative(log_h[WW_GREEN], slowest, &exact, NULL) != WW_OK)
        return "no speed: the speed point lies beyond all exposures; check log h0";
    give(speed, WW_SPEED_ISO_5800, exact);
    return NULL;
}

/* How far the tangent at u lies below the spot that it should go through: 0 where it touches. */
typedef struct touch_context {
    const ww__trace *trace;
    ww__spot from;
} touch_context;

static double touch(ww__spot from, ww__spot s) {
    return s.slope * (s.u - from.u) - (s.density - from.density);
}

static double touch_at(double u, void *context) {
    const touch_context *const c = context;
    return touch(c->from, ww__trace_at(c->trace, u));
}

/* From a spot in the toe, the place before `end` where a line from it touches the shoulder. */
static bool find_touch(const ww__trace *trace, ww__spot from, ww__spot end, double *u) {
    ww__spot before = from;
    bool steeper = false;
    for (size_t i = 0; i <= trace->n; i++) {
        const ww__spot s = i < trace->n ? trace->spot[i] : end;
        if (s.u <= from.u || s.u > end.u)
            continue;
        const double here = touch(from, s);
        if (steeper && here < 0.0) {
            touch_context context = {trace, from};
            *u =
                ww__trace_root(touch_at, &context, before.u, touch(from, before), s.u, here, 1e-10);
            return true;
        }
        steeper = steeper || here > 0.0;
        if (here > 0.0)
            before = s;
    }
    return false;
}

static const char *of_colour_reversal(const ww_channel_shape *film, ww_speed *speed) {
    ww__trace trace;
    ww__spot from, end;
    double u, exact = 0.0;
    if (!film->shape)
        return "no speed: ISO 2240 reads visual density; read the strip through the visual filter";
    ww__trace_start(&trace, film->shape, film->low, film->high);
    ww__reach reach = ww__trace_reach(&trace, film->base_fog + NET_HIGHLIGHT, &from);
    if (reach != WW__REACH_FOUND)
        return reversal_reason(reach);
    from = ww__trace_at(&trace, from.u);
    reach = ww__trace_reach(&trace, film->base_fog + NET_SHADOW, &end);
    end = reach == WW__REACH_FOUND ? ww__trace_at(&trace, end.u) : trace.spot[trace.n - 1];
    if (!find_touch(&trace, from, end, &u)) {
        if (reach != WW__REACH_FOUND)
            return reversal_reason(reach);
        u = end.u;
    }
    const double log_hs = ww__trace_log_h(&trace, from.u), log_ht = ww__trace_log_h(&trace, u);
    if (ww_speed_colour_reversal(log_hs, log_ht, &exact, NULL) != WW_OK)
        return "no speed: the speed point lies beyond all exposures; check log h0";
    give(speed, WW_SPEED_ISO_2240, exact);
    return NULL;
}

/* A curve that runs against its emulsion is a mistake in the readings' head, not a film. */
static bool runs_wrong_way(const ww_channel_shape channel[], bool reversal) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (channel[c].shape && channel[c].shape->falling != reversal)
            return true;
    return false;
}

static const char *find_speed(const ww_channel_shape channel[], const ww_speed_rules *rules,
                              ww_speed *speed) {
    if (rules->paper)
        return "no film speed: the curve is a paper's";
    if (rules->emulsion == WW_EMULSION_UNKNOWN)
        return "no speed: the emulsion is not stated; say 'emulsion: black-and-white', 'colour "
               "negative' or 'colour reversal'";
    if (rules->emulsion == WW_EMULSION_BLACK_AND_WHITE && rules->reversal)
        return "no speed: none of the standards used here is about black-and-white reversal film "
               "(ISO 6 is for negatives, ISO 2240 for colour reversal); compare such films by "
               "their speed points, at 0.20 over D-min";
    if (rules->exposure_unit != WW_UNIT_LUX_SECOND)
        return "no speed: exposures are not in lux seconds; give the wedge's log h0 in lux seconds";
    if (runs_wrong_way(channel, rules->emulsion == WW_EMULSION_COLOUR_REVERSAL))
        return "no speed: density runs against the stated emulsion; check emulsion and process";
    switch (rules->emulsion) {
    case WW_EMULSION_BLACK_AND_WHITE:
        return of_black_and_white(channel, rules->black_and_white, speed);
    case WW_EMULSION_COLOUR_NEGATIVE:
        return of_colour_negative(channel, rules->status, speed);
    case WW_EMULSION_COLOUR_REVERSAL:
        return of_colour_reversal(&channel[WW_VISUAL], speed);
    case WW_EMULSION_UNKNOWN:
        break;
    }
    return "no speed: the emulsion is not stated";
}

void ww_speed_from_shapes(const ww_channel_shape channel[WW_CHANNEL_COUNT],
                          const ww_speed_rules *rules, ww_speed *speed, const char **reason) {
    assert(channel && rules && speed && reason && rules->black_and_white < WW_CHANNEL_COUNT);
    *speed = (ww_speed)WW_SPEED_INIT;
    *reason = find_speed(channel, rules, speed);
}
