/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/scan_plan_words.h"
#include "base/escape.h"
#include "out/words.h"
#include <math.h>

#define NO_STOP 0.05    /* [stops] shown in tenths */
#define NAMES_APART 0.1 /* [stops] less is one exposure for all channels */

const ww_scan_tone *ww__scan_plan_highlight(const ww_scan_channel *channel) {
    return &channel->tone[channel->highlight];
}

double ww__scan_plan_trust(ww_quantity stops) {
    return fmax(ceil(10.0 * (stops.high - stops.value) - 0.25), 1.0) / 10.0;
}

void ww__words_snr(ww__text *text, double snr) {
    if (isfinite(snr))
        ww__text_add_number(text, snr, snr < 9.95 ? 1 : 0);
    else
        ww__text_add(text, "no end");
}

static void add_name(ww__text *text, const char *name) {
    char shown[64];
    ww__text_add_format(text, "'%s'", ww__escape_message(name, shown, sizeof shown));
}

static bool are_apart(const ww_scan_plan *plan) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present && plan->channel[c].stops.value - plan->stops > NAMES_APART)
            return true;
    return false;
}

/* " (red 0.7, green 1.2, blue 1.9)", with signs where one closes down. */
static void add_channels(ww__text *text, const ww_scan_plan *plan) {
    const bool sign = plan->stops <= -NO_STOP;
    const char *before = " (";
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const double stops = plan->channel[c].stops.value;
        if (!plan->channel[c].present)
            continue;
        ww__text_add_format(text, "%s%s ", before, ww_channel_name((ww_channel)c));
        ww__text_add(text, sign && stops >= NO_STOP ? "+" : "");
        ww__text_add_number(text, stops, 1);
        before = ", ";
    }
    ww__text_add(text, ")");
}

static void add_stops(ww__text *text, double stops) {
    ww__text_add_number(text, fabs(stops), 1);
    ww__text_add(text, fabs(stops) < 1.05 ? " stop" : " stops");
}

static void add_exposure(ww__text *text, const ww_scan_plan *plan) {
    if (fabs(plan->stops) < NO_STOP) {
        ww__text_add(text, "leave the exposure as it is");
    } else {
        ww__text_add(text, plan->stops > 0.0 ? "open up " : "close down ");
        add_stops(text, plan->stops);
    }
    if (are_apart(plan))
        add_channels(text, plan);
}

static void add_told(ww__text *text, double density) {
    ww__text_add_number(text, density, 3);
    ww__text_add(text, " D");
}

/* "'cloud' (2.03 D, blue)" */
static void add_tone(ww__text *text, const ww_scan_plan *plan) {
    const ww_scan_tone *tone = ww__scan_plan_highlight(&plan->channel[plan->weakest]);
    add_name(text, tone->tone);
    if (!tone->over) {
        ww__text_add(text, " (");
        ww__text_add_number(text, tone->density, 2);
        ww__text_add_format(text, " D, %s)", ww_channel_name(plan->weakest));
    }
}

/* "it stops seeing at 2.53 D (red), 2.41 D (green)" */
static void add_sight(ww__text *text, const ww_scan_plan *plan) {
    const char *before = " at ";
    ww__text_add(text, "stops seeing");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_quantity sees = plan->channel[c].sees;
        if (!plan->channel[c].present || !ww_quantity_present(sees))
            continue;
        ww__text_add(text, before);
        ww__text_add_number(text, sees.value, 2);
        ww__text_add_format(text, " D (%s%s)", ww_channel_name((ww_channel)c),
                            sees.how == WW_EXTRAPOLATED ? ", beyond its wedge" : "");
        before = ", ";
    }
}

static void add_no_way(ww__text *text, const ww_scan_plan *plan) {
    const ww_scan_channel *worst = &plan->channel[plan->weakest];
    if (ww__scan_plan_highlight(worst)->over) {
        ww__text_add(text, "what becomes of ");
        add_tone(text, plan);
        ww__text_add(text, ", which reads beyond the instrument, cannot be told; this scanner ");
        add_sight(text, plan);
    } else if (!worst->seen) {
        ww__text_add(text, "this scanner does not see ");
        add_tone(text, plan);
        ww__text_add(text, ": it ");
        add_sight(text, plan);
    } else {
        add_told(text, plan->separate);
        ww__text_add(text, " cannot be told apart in ");
        add_tone(text, plan);
        ww__text_add(text, ", ");
        add_told(text, worst->told);
        ww__text_add(text, " can");
    }
}

/* The switch that suits all channels that need one: the densest of theirs, each in its own. */
static void add_switches(ww__text *text, const ww_scan_plan *plan) {
    const char *before = ", the second from ";
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present || !(channel->second_stops > 0.0))
            continue;
        ww__text_add(text, before);
        ww__text_add_number(text, channel->switch_at, 2);
        ww__text_add_format(text, " D (%s)", ww_channel_name((ww_channel)c));
        before = ", ";
    }
    ww__text_add(text, " on");
}

static void add_way(ww__text *text, const ww_scan_plan *plan) {
    const ww_scan_tone *tone = ww__scan_plan_highlight(&plan->channel[plan->weakest]);
    switch (plan->way) {
    case WW_SCAN_ONE:
        ww__text_add(text, ": one scan tells ");
        break;
    case WW_SCAN_SECOND:
        ww__text_add(text, ", then scan again with ");
        ww__words_stops(text, plan->second_stops, false);
        ww__text_add(text, " more: both tell ");
        break;
    case WW_SCAN_AVERAGE:
        ww__text_add_format(text, " and average %u scans: they tell ", plan->passes);
        break;
    case WW_SCAN_NO_WAY:
        ww__text_add(text, ", but ");
        add_no_way(text, plan);
        return;
    }
    add_told(text, plan->separate);
    ww__text_add(text, " apart in ");
    add_name(text, tone->tone);
    if (plan->way == WW_SCAN_SECOND)
        add_switches(text, plan);
}

void ww__words_scan_act(ww__text *text, const ww_scan_plan *plan) {
    double trust = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            trust = fmax(trust, ww__scan_plan_trust(plan->channel[c].stops));
    add_exposure(text, plan);
    add_way(text, plan);
    ww__text_add(text, "; trust +-");
    add_stops(text, trust);
    ww__text_add(text, ".");
}

/* "; it holds 0.08 D on the film, 4 times as much" */
static void add_detail(ww__text *text, const ww_scan_channel *channel) {
    const ww_scan_tone *tone = ww__scan_plan_highlight(channel);
    if (!tone->thin.set)
        return;
    const double detail = fmax(tone->density - tone->thin.value, 0.0);
    ww__text_add(text, "; on the film it holds ");
    ww__text_add_number(text, detail, 2);
    ww__text_add(text, " D, ");
    ww__text_add_number(text, detail / channel->separable, detail < 10.0 * channel->separable);
    ww__text_add(text, " times what a pixel tells");
}

void ww__words_scan_why(ww__text *text, const ww_scan_plan *plan) {
    const ww_scan_channel *worst = &plan->channel[plan->weakest];
    const ww_scan_tone *tone = ww__scan_plan_highlight(worst);
    ww__text_add(text, "Why: ");
    add_name(text, worst->tone[worst->base].tone);
    ww__text_add(text, " stands at 95 % of full scale, just under clipping");
    if (!tone->over) {
        ww__text_add(text, "; there ");
        add_tone(text, plan);
        ww__text_add(text, " has a signal-to-noise of ");
        ww__words_snr(text, tone->snr);
    }
    if (worst->seen) {
        ww__text_add(text, ": ");
        add_told(text, worst->separable);
        ww__text_add(text, " is told apart at one pixel, ");
        add_told(text, worst->told);
        ww__text_add(text, " over 3 x 3");
        add_detail(text, worst);
    }
    ww__text_add(text, ".");
}
