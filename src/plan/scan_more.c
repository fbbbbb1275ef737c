/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/scan_parts.h"
#include <math.h>

enum { THIRDS_MOST = 3 * WW_SCAN_SECOND_MOST };

/* A channel that is seen by `first` scans of the first exposure and `second` of another. */
typedef struct view {
    ww_scan_pass once; /* one scan of the first exposure */
    double highlight;
    double clear[THIRDS_MOST + 1]; /* [D] by thirds of a stop more: clear of clipping there */
} view;

static double told(const view *v, double density, int thirds, unsigned scans) {
    ww_scan_pass mean = v->once;
    mean.stops += thirds / 3.0;
    mean.frames = scans;
    return ww_scan_pass_told(&mean, density, WW_SCAN_PATCH);
}

static void start(const ww_scan_request *request, ww_channel channel, const ww_scan_channel *made,
                  view *v) {
    *v = (view){.once = {request->scanner, channel, made->stops.value, 1.0},
                .highlight = made->tone[made->highlight].density};
    const double share = WW_SCAN_BASE * ww_scan_pass_most(request->scanner, channel);
    for (int thirds = 1; thirds <= THIRDS_MOST; thirds++) {
        ww_scan_pass second = v->once;
        second.stops += thirds / 3.0;
        v->clear[thirds] = ww_scan_pass_lightest(&second, share) + WW__SCAN_BLEND;
    }
}

/* With so much more light: the first exposure tells up to where the second is clear of clipping,
 * and the second at the highlight. */
static double told_apart(const view *v, int thirds, unsigned first, unsigned second) {
    return fmax(told(v, v->clear[thirds], 0, first), told(v, v->highlight, thirds, second));
}

/* The least difference that so many scans tell, whatever the second exposure. */
static double least_of(const view *v, unsigned first, unsigned second) {
    double least = told(v, v->highlight, 0, first);
    for (int thirds = 1; thirds <= THIRDS_MOST && second > 0; thirds++)
        least = fmin(least, told_apart(v, thirds, first, second));
    return least;
}

/* The same in all channels; HUGE_VAL where a highlight was not read. */
static double least_of_all(const ww_scan_plan *plan, const view views[], unsigned first,
                           unsigned second) {
    double least = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (channel->present)
            least = fmax(least, channel->tone[channel->highlight].over
                                    ? HUGE_VAL
                                    : least_of(&views[c], first, second));
    }
    return least;
}

/* --- what is taken ---------------------------------------------------------------------------- */

/* Fewer scans come first; of as many, those with the most of the second exposure. */
static bool find_scans(ww_scan_plan *plan, const view views[]) {
    plan->least = HUGE_VAL;
    for (unsigned all = 1; all <= WW_SCAN_PASSES; all++)
        for (unsigned second = all; second-- > 0;) {
            const double least = least_of_all(plan, views, all - second, second);
            plan->least = fmin(plan->least, least);
            if (least <= plan->separate) {
                plan->first = all - second;
                plan->second = second;
                return true;
            }
        }
    plan->first = 1;
    return false;
}

static ww_scan_way way_of(const ww_scan_plan *plan) {
    if (plan->second == 0)
        return plan->first > 1 ? WW_SCAN_AVERAGE : WW_SCAN_ONE;
    return plan->passes > 2 ? WW_SCAN_BOTH : WW_SCAN_SECOND;
}

/* The least thirds of a stop more that serve; 0 where the first exposure does. */
static int least_thirds(const ww_scan_plan *plan, const view *v) {
    int thirds = 1;
    if (told(v, v->highlight, 0, plan->first) <= plan->separate)
        return 0;
    while (thirds < THIRDS_MOST &&
           told_apart(v, thirds, plan->first, plan->second) > plan->separate)
        thirds++;
    return thirds;
}

static void fill_second(const ww_scan_plan *plan, const view *v, int thirds,
                        ww_scan_channel *made) {
    ww_scan_pass first = v->once, second = v->once;
    first.frames = plan->first;
    second.stops += thirds / 3.0;
    second.frames = plan->second;
    made->second_stops = thirds / 3.0;
    made->switch_at = ww_scan_pass_reaches_told(&first, WW_SCAN_PATCH, plan->separate);
    made->second_told = told(v, v->highlight, thirds, plan->second);
    made->gain =
        ww_scan_pass_noise(&v->once, v->highlight) / ww_scan_pass_noise(&second, v->highlight);
}

/* One setting for all channels that need more light, where it serves; else each its own. */
static void fill_seconds(const view views[], ww_scan_plan *plan) {
    int least[WW_CHANNEL_COUNT] = {0}, most = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (plan->channel[c].present)
            least[c] = least_thirds(plan, &views[c]);
        most = least[c] > most ? least[c] : most;
    }
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (least[c] == 0)
            continue;
        const bool serves =
            told_apart(&views[c], most, plan->first, plan->second) <= plan->separate;
        fill_second(plan, &views[c], serves ? most : least[c], &plan->channel[c]);
    }
    plan->second_stops = most / 3.0;
}

static void fill_average(const view *v, double separate, ww_scan_channel *made) {
    for (unsigned n = 1; n <= WW_SCAN_PASSES && made->average == 0; n++)
        if (told(v, v->highlight, 0, n) <= separate)
            made->average = n;
}

void ww__scan_more(const ww_scan_request *request, ww_scan_plan *plan) {
    view views[WW_CHANNEL_COUNT] = {0};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            start(request, (ww_channel)c, &plan->channel[c], &views[c]);
    plan->holds = find_scans(plan, views);
    plan->passes = plan->first + plan->second;
    plan->way = plan->holds ? way_of(plan) : WW_SCAN_NO_WAY;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present || channel->tone[channel->highlight].over)
            continue;
        fill_average(&views[c], plan->separate, channel);
    }
    if (plan->second > 0)
        fill_seconds(views, plan);
}
