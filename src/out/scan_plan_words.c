/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/scan_plan_words.h"
#include "base/escape.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <math.h>

#define NO_STOP 0.05 /* [stops] shown in tenths */

const ww_scan_tone *ww__scan_plan_highlight(const ww_scan_channel *channel) {
    return &channel->tone[channel->highlight];
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

/* Where no base was read: " by thin 'cloud' in place of film base, which was not read and may
 * clip". */
static void add_stand_in(ww__text *text, const ww_scan_plan *plan) {
    const ww_scan_channel *channel = &plan->channel[plan->weakest];
    const ww_scan_tone *tone = &channel->tone[channel->base];
    if (!channel->stands_in)
        return;
    ww__text_add(text, tone->thin.set ? ", by thin " : ", by ");
    add_name(text, tone->tone);
    ww__text_add(text, " in place of film base, which was not read and may clip");
}

/* Stops count from the scan that the scanner file was made from. */
static void add_exposure(ww__text *text, const ww_scan_plan *plan) {
    const bool moves = fabs(plan->stops) >= NO_STOP, apart = ww_scan_plan_apart(plan);
    if (moves) {
        ww__text_add(text, plan->stops > 0.0 ? "open up " : "close down ");
        add_stops(text, plan->stops);
    } else {
        ww__text_add(text, "keep the exposure");
    }
    if (apart)
        add_channels(text, plan);
    ww__text_add(text, moves ? " from the wedge's scan" : " of the wedge's scan");
    add_stand_in(text, plan);
}

void ww__words_told(ww__text *text, double density) {
    ww__text_add_number(text, density, density < 0.00995 ? 4 : 3);
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
        ww__text_add(text, " in one scan: it ");
        add_sight(text, plan);
    } else {
        ww__words_told(text, plan->separate);
        ww__text_add(text, " cannot be told apart in ");
        add_tone(text, plan);
        ww__text_add(text, ", ");
        ww__words_told(text, ww_scan_asked(worst->told));
        ww__text_add(text, " can by one scan");
    }
}

/* ", the second needed from 1.72 D (blue), 1.81 D (green) on": there the first alone no longer
 * does; from where it is taken, `scan --merge` finds. */
static void add_switches(ww__text *text, const ww_scan_plan *plan) {
    const char *before = plan->second > 1   ? ", the later ones needed from "
                         : plan->passes > 2 ? ", the last needed from "
                                            : ", the second needed from ";
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

/* " (0.3 stop in red)", where a channel cannot do with as much as the others. */
static void add_seconds(ww__text *text, const ww_scan_plan *plan) {
    const char *before = " (";
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const double stops = plan->channel[c].second_stops;
        if (!(stops > 0.0 && stops < plan->second_stops))
            continue;
        ww__text_add(text, before);
        add_stops(text, stops);
        ww__text_add_format(text, " in %s", ww_channel_name((ww_channel)c));
        before = ", ";
    }
    ww__text_add(text, before[0] == ',' ? ")" : "");
}

/* ", then scan again with 1.7 stops more: both" */
static void add_scans(ww__text *text, const ww_scan_plan *plan) {
    if (plan->first > 1)
        ww__text_add_format(text, " and average %u scans", plan->first);
    if (plan->second > 1)
        ww__text_add_format(text, ", then average %u with ", plan->second);
    else if (plan->second > 0)
        ww__text_add(text, plan->first > 1 ? ", then scan once with " : ", then scan again with ");
    if (plan->second > 0) {
        add_stops(text, plan->second_stops);
        ww__text_add(text, " more");
        add_seconds(text, plan);
    }
    ww__text_add(text, plan->passes == 1   ? ": one scan tells "
                       : plan->passes == 2 ? ": both tell "
                                           : ": together they tell ");
}

static void add_way(ww__text *text, const ww_scan_plan *plan) {
    const ww_scan_tone *tone = ww__scan_plan_highlight(&plan->channel[plan->weakest]);
    if (plan->way == WW_SCAN_NO_WAY) {
        ww__text_add(text, ", but ");
        add_no_way(text, plan);
        return;
    }
    add_scans(text, plan);
    ww__words_told(text, plan->separate);
    ww__text_add(text, " apart in ");
    add_name(text, tone->tone);
    ww__text_add(text, " over 3 x 3 pixels");
    if (plan->second > 0)
        add_switches(text, plan);
}

void ww__words_scan_act(ww__text *text, const ww_scan_plan *plan) {
    if (plan->off)
        ww__text_add(text, WW__SCAN_OFF);
    add_exposure(text, plan);
    add_way(text, plan);
    ww__text_add(text, "; trust +-");
    add_stops(text, ww_scan_plan_trust(plan));
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
    ww__text_add(text, worst->ends < plan->white ? " stands at 95 % of where codes end"
                                                 : " stands at 95 % of full scale");
    ww__text_add(text, plan->encoded ? " as light, just under clipping" : ", just under clipping");
    if (!tone->over) {
        ww__text_add(text, "; there ");
        add_tone(text, plan);
        ww__text_add(text, " has a signal-to-noise of ");
        ww__words_snr(text, tone->snr);
    }
    if (worst->seen) {
        ww__text_add(text, ": ");
        ww__words_told(text, worst->separable);
        ww__text_add(text, " is told apart at one pixel, ");
        ww__words_told(text, worst->told);
        ww__text_add(text, " over 3 x 3");
        add_detail(text, worst);
    }
    ww__text_add(text, ".");
}
