/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/scan_parts.h"
#include <math.h>
#include <stdlib.h>

enum { THIRDS_MOST = 3 * WW_SCAN_SECOND_MOST, BETWEEN = 11 };

/* So many scans of the first exposure, and of a second one. */
typedef struct scans {
    unsigned first, second;
} scans;

/*
 * A channel as two exposures see it, at its points: the tones to be kept, and densities over which
 * a second exposure fades in beside what it clips, where less is told than to either side of them.
 * For each third of a stop more that the second may have, points in a row; with 0 it has no weight.
 */
typedef struct view {
    ww_scan_pass once; /* one scan of the first exposure */
    double highlight;
    bool over; /* the highlight was not read */
    size_t n_kept, n;
    ww_scan_pair *pair; /* owned; over a patch */
} view;

/* What is to be told: the tones to be kept, or all between the base and the densest of them. */
typedef enum goal { KEPT, ALL } goal;

static double told(const view *v, int thirds, scans s, goal aim) {
    const ww_scan_pair *pair = v->pair + (size_t)thirds * v->n;
    double most = 0.0;
    for (size_t i = 0; i < (aim == KEPT ? v->n_kept : v->n); i++)
        most = fmax(most, ww_scan_pair_noise(&pair[i], s.first, fmax(s.second, 1.0)));
    return WW_SCAN_TOLD * most;
}

static ww_scan_pair pair_at(const view *v, int thirds, double density, double n) {
    ww_scan_pair pair = ww_scan_pass_pair(&v->once, thirds / 3.0, density, n);
    if (thirds == 0)
        pair.weight = 0.0;
    return pair;
}

/* From where the second exposure begins to count to where it counts in full. */
static double between(const view *v, int thirds, size_t i) {
    const ww_scan_fade fade = ww_scan_pass_fade(&v->once, thirds / 3.0);
    const double share = (double)i / (BETWEEN - 1);
    if (!(fade.from > -HUGE_VAL) || !(fade.full > -HUGE_VAL))
        return v->highlight;
    return fmin(fade.from + share * (fade.full - fade.from), v->highlight);
}

static ww_status start(const ww_scan_request *request, ww_channel channel,
                       const ww_scan_channel *made, view *v, ww_error *err) {
    const ww_scan_tone *highlight = &made->tone[made->highlight];
    *v = (view){.once = {request->scanner, channel, made->stops.value, 1.0},
                .highlight = highlight->density,
                .over = highlight->over};
    v->pair = calloc((THIRDS_MOST + 1) * (made->n_tones + BETWEEN), sizeof *v->pair);
    if (!v->pair)
        return ww_error_set(err, WW_EMEMORY, "no memory to plan more scans than one");
    for (size_t i = 0; i < made->n_tones; i++)
        v->n_kept += made->tone[i].kept && !made->tone[i].over;
    v->n = v->n_kept + BETWEEN;
    for (int thirds = 0; thirds <= THIRDS_MOST; thirds++) {
        ww_scan_pair *pair = v->pair + (size_t)thirds * v->n;
        for (size_t i = 0; i < made->n_tones; i++)
            if (made->tone[i].kept && !made->tone[i].over)
                *pair++ = pair_at(v, thirds, made->tone[i].density, WW_SCAN_PATCH);
        for (size_t i = 0; i < BETWEEN && !v->over; i++)
            *pair++ = pair_at(v, thirds, between(v, thirds, i), WW_SCAN_PATCH);
    }
    return WW_OK;
}

/* The least thirds of a stop more that serve, 0 where the first exposure does; -1: none. *least is
 * what is told by the best, HUGE_VAL where the highlight was not read. */
static int find_thirds(const view *v, scans s, goal aim, double separate, double *least) {
    *least = HUGE_VAL;
    for (int thirds = 0; thirds <= (s.second > 0 ? THIRDS_MOST : 0) && !v->over; thirds++) {
        const double is_told = told(v, thirds, s, aim);
        *least = fmin(*least, is_told);
        if (is_told <= separate)
            return thirds;
    }
    return -1;
}

/* Thirds of each channel; false where one is not served. *least as above, in all channels. */
static bool find_all_thirds(const ww_scan_plan *plan, const view views[], scans s, goal aim,
                            int thirds[], double *least) {
    bool serve = true;
    *least = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        double own = 0.0;
        thirds[c] =
            plan->channel[c].present ? find_thirds(&views[c], s, aim, plan->separate, &own) : 0;
        *least = fmax(*least, own);
        serve &= thirds[c] >= 0;
    }
    return serve;
}

/* Fewer scans come first; of as many, those with the most of the second exposure. */
static bool find_scans(const ww_scan_plan *plan, const view views[], goal aim, scans *found,
                       int thirds[], double *least) {
    *least = HUGE_VAL;
    for (unsigned all = 1; all <= WW_SCAN_PASSES; all++)
        for (unsigned second = all; second-- > 0;) {
            double is_told;
            *found = (scans){all - second, second};
            if (find_all_thirds(plan, views, *found, aim, thirds, &is_told))
                return true;
            *least = fmin(*least, is_told);
        }
    *found = (scans){1, 0};
    return false;
}

/* One setting for all channels that need more light, where it serves; else each its own. Returns
 * the most. */
static int join_thirds(const ww_scan_plan *plan, const view views[], scans s, goal aim,
                       int thirds[]) {
    int most = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        most = thirds[c] > most ? thirds[c] : most;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (thirds[c] > 0 && told(&views[c], most, s, aim) <= plan->separate)
            thirds[c] = most;
    return most;
}

/* --- what is taken ---------------------------------------------------------------------------- */

static ww_scan_way way_of(const ww_scan_plan *plan) {
    if (plan->second == 0)
        return plan->first > 1 ? WW_SCAN_AVERAGE : WW_SCAN_ONE;
    return plan->passes > 2 ? WW_SCAN_BOTH : WW_SCAN_SECOND;
}

static void fill_second(const ww_scan_plan *plan, const view *v, int thirds,
                        ww_scan_channel *made) {
    const scans s = {plan->first, plan->second};
    const ww_scan_pair pixel = pair_at(v, thirds, v->highlight, 1.0);
    const ww_scan_pair patch = pair_at(v, thirds, v->highlight, WW_SCAN_PATCH);
    ww_scan_pass first = v->once;
    first.frames = s.first;
    const double reaches = ww_scan_pass_reaches_told(&first, WW_SCAN_PATCH, plan->separate);
    const double full = ww_scan_pass_fade(&v->once, thirds / 3.0).full;
    made->second_stops = thirds / 3.0;
    made->switch_at = fmin(fmax(reaches, full), v->highlight);
    made->second_told = WW_SCAN_TOLD * ww_scan_pair_noise(&patch, s.first, s.second);
    made->gain =
        ww_scan_pass_noise(&v->once, v->highlight) / ww_scan_pair_noise(&pixel, s.first, s.second);
    made->between = told(v, thirds, s, ALL);
}

static void fill_average(const view *v, double separate, ww_scan_channel *made) {
    for (unsigned n = 1; n <= WW_SCAN_PASSES && made->average == 0 && !v->over; n++)
        if (told(v, 0, (scans){n, 0}, KEPT) <= separate)
            made->average = n;
}

/* What would tell as much of all tones between the base and the densest, where the plan does not.
 */
static void fill_throughout(const view views[], ww_scan_plan *plan) {
    int thirds[WW_CHANNEL_COUNT];
    double least, between = 0.0;
    scans s;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        between = fmax(between, plan->channel[c].between);
    if (between <= plan->separate || !find_scans(plan, views, ALL, &s, thirds, &least))
        return;
    plan->throughout_first = s.first;
    plan->throughout_second = s.second;
    plan->throughout_stops = join_thirds(plan, views, s, ALL, thirds) / 3.0;
}

static void fill(const view views[], ww_scan_plan *plan) {
    int thirds[WW_CHANNEL_COUNT];
    scans s;
    plan->holds = find_scans(plan, views, KEPT, &s, thirds, &plan->least);
    plan->first = s.first;
    plan->second = s.second;
    plan->passes = plan->first + plan->second;
    plan->way = plan->holds ? way_of(plan) : WW_SCAN_NO_WAY;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            fill_average(&views[c], plan->separate, &plan->channel[c]);
    if (plan->second == 0)
        return;
    plan->second_stops = join_thirds(plan, views, s, KEPT, thirds) / 3.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (thirds[c] > 0)
            fill_second(plan, &views[c], thirds[c], &plan->channel[c]);
    fill_throughout(views, plan);
}

ww_status ww__scan_more(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err) {
    view views[WW_CHANNEL_COUNT] = {0};
    ww_status status = WW_OK;
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++)
        if (plan->channel[c].present)
            status = start(request, (ww_channel)c, &plan->channel[c], &views[c], err);
    if (status == WW_OK)
        fill(views, plan);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        free(views[c].pair);
    return status;
}
