/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/control_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { COLOURS = WW_BLUE + 1, DERIVED = 3 * WW_CHANNEL_COUNT /* contrasts and spreads, at most */ };

void ww__control_chart_release(ww_control_chart *chart) {
    free(chart->point);
    *chart = (ww_control_chart){.measure = NULL};
}

/* --- values ---------------------------------------------------------------------------------- */

static const ww_control_patch *patch_of(const ww_control_patches *patches, const char *step) {
    for (size_t i = 0; i < patches->n; i++)
        if (strcmp(patches->patch[i].step, step) == 0)
            return &patches->patch[i];
    return NULL;
}

static bool aim_of(const ww_control_patch *of, int channel, double *aim) {
    if (!of || of->state[channel] != WW_CELL_VALUE)
        return false;
    *aim = of->density[channel] + of->correction[channel];
    return true;
}

static bool density_of(const ww_control_strip *strip, const ww_control_patch *of, int channel,
                       double *density) {
    const ww_control_patch *patch = of ? patch_of(&strip->patches, of->step) : NULL;
    if (!patch || patch->state[channel] != WW_CELL_VALUE)
        return false;
    *density = patch->density[channel];
    return true;
}

/* Greatest less least deviation of the colours; false where one that the reference has is missing.
 */
static bool spread_of(const ww_control_strip *strip, const ww_control_patch *of, double *spread) {
    double low = HUGE_VAL, high = -HUGE_VAL, aim, density;
    for (int c = 0; c < COLOURS; c++) {
        if (!aim_of(of, c, &aim))
            continue;
        if (!density_of(strip, of, c, &density))
            return false;
        low = fmin(low, density - aim);
        high = fmax(high, density - aim);
    }
    *spread = high - low;
    return true;
}

/* --- charts ---------------------------------------------------------------------------------- */

/* A chart with the step, or the two steps, that it is of. */
typedef struct measure {
    ww_control_chart chart;
    const ww_control_patch *of, *less;
} measure;

static void take_point(const measure *m, const ww_control_strip *strip, ww_control_point *point) {
    double low = 0.0;
    const int c = (int)m->chart.channel;
    if (m->chart.kind == WW_CONTROL_SPREAD)
        point->read = spread_of(strip, m->of, &point->value);
    else
        point->read = density_of(strip, m->of, c, &point->value) &&
                      (!m->less || density_of(strip, m->less, c, &low));
    point->value = point->read ? point->value - low : 0.0;
    point->deviation = point->read ? point->value - m->chart.aim : 0.0;
}

/* Of several limits for one chart, one of its own channel comes before one of all. */
static void take_limits(const ww_control_limits *limits, ww_control_chart *chart) {
    for (int own = 0; limits && own < 2; own++)
        for (size_t i = 0; i < limits->n; i++) {
            const ww_control_limit *limit = &limits->limit[i];
            const bool all = limit->channel == WW_CHANNEL_COUNT;
            if (strcasecmp(limit->measure, chart->measure) != 0 ||
                (own ? all || limit->channel != chart->channel : !all))
                continue;
            chart->below = limit->below.set ? limit->below : chart->below;
            chart->above = limit->above.set ? limit->above : chart->above;
            chart->action_below =
                limit->action_below.set ? limit->action_below : chart->action_below;
            chart->action_above =
                limit->action_above.set ? limit->action_above : chart->action_above;
        }
}

static ww_status add_chart(ww_control_lot *lot, const measure *m, const ww_control_limits *limits,
                           ww_error *err) {
    ww_control_chart *chart = &lot->chart[lot->n_charts];
    *chart = m->chart;
    chart->point = calloc(lot->n > 0 ? lot->n : 1, sizeof *chart->point);
    if (!chart->point)
        return ww_error_set(err, WW_EMEMORY, "no memory for a control chart");
    lot->n_charts++;
    take_limits(limits, chart);
    for (size_t i = 0; i < lot->n; i++)
        take_point(m, lot->strip[i], &chart->point[i]);
    return WW_OK;
}

static ww_status add_density(ww_control_lot *lot, const ww_control_patch *of,
                             const ww_control_limits *limits, ww_error *err) {
    ww_status status = WW_OK;
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
        measure m = {.chart = {.measure = of->tone[0] ? of->tone : of->step,
                               .kind = WW_CONTROL_DENSITY,
                               .channel = (ww_channel)c},
                     .of = of};
        if (aim_of(of, c, &m.chart.aim))
            status = add_chart(lot, &m, limits, err);
    }
    return status;
}

static ww_status add_contrast(ww_control_lot *lot, const ww_control_limits *limits, ww_error *err) {
    const ww_control_patch *ld = lot->role[WW_CONTROL_LD], *hd = lot->role[WW_CONTROL_HD];
    ww_status status = WW_OK;
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
        double low, high;
        measure m = {
            .chart = {.measure = "HD-LD", .kind = WW_CONTROL_CONTRAST, .channel = (ww_channel)c},
            .of = hd,
            .less = ld};
        if (!aim_of(hd, c, &high) || !aim_of(ld, c, &low))
            continue;
        m.chart.aim = high - low;
        status = add_chart(lot, &m, limits, err);
    }
    return status;
}

static ww_status add_spread(ww_control_lot *lot, const ww_control_patch *of, const char *name,
                            const ww_control_limits *limits, ww_error *err) {
    const measure m = {
        .chart = {.measure = name, .kind = WW_CONTROL_SPREAD, .channel = WW_CHANNEL_COUNT},
        .of = of};
    int colours = 0;
    for (int c = 0; of && c < COLOURS; c++)
        colours += of->state[c] == WW_CELL_VALUE;
    return colours > 1 ? add_chart(lot, &m, limits, err) : WW_OK;
}

ww_status ww__control_measure(ww_control_lot *lot, const ww_control_limits *limits, ww_error *err) {
    const ww_control_patches *patches = &lot->reference->patches;
    ww_status status = WW_OK;
    for (size_t i = 0; i < patches->n; i++) {
        const ww_control_role role = ww__control_role_of(patches->patch[i].tone);
        if (role != WW_CONTROL_ROLES)
            lot->role[role] = &patches->patch[i];
    }
    lot->chart = calloc(patches->n * WW_CHANNEL_COUNT + DERIVED, sizeof *lot->chart);
    if (!lot->chart)
        return ww_error_set(err, WW_EMEMORY, "no memory for control charts");
    for (size_t i = 0; i < patches->n && status == WW_OK; i++)
        status = add_density(lot, &patches->patch[i], limits, err);
    if (status == WW_OK)
        status = add_contrast(lot, limits, err);
    if (status == WW_OK)
        status = add_spread(lot, lot->role[WW_CONTROL_LD], "LD spread", limits, err);
    return status == WW_OK ? add_spread(lot, lot->role[WW_CONTROL_HD], "HD spread", limits, err)
                           : status;
}
