/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/control_parts.h"
#include <assert.h>
#include <math.h>
#include <string.h>

static bool is_wanted(const ww_control_chart *chart, bool colour) {
    if (chart->kind != WW_CONTROL_DENSITY || !chart->has_history)
        return false;
    return !colour || chart->channel != WW_VISUAL;
}

/* How far a chart is from what prints are judged by: LD before any other step, then what is nearest
 * to a middle grey; of one step visual, then green. */
static double distance(const ww_control_chart *chart) {
    const double middle = 0.7; /* [D] */
    const bool ld = strcmp(chart->measure, ww_control_role_name(WW_CONTROL_LD)) == 0;
    const double channel = chart->channel == WW_VISUAL ? 0.0 : chart->channel == WW_GREEN ? 1 : 2;
    return (ld ? 0.0 : 100.0 + fabs(chart->aim - middle)) + 1e-3 * channel;
}

static const ww_control_chart *nearest(const ww_control_lot *lot, bool colour) {
    const ww_control_chart *found = NULL;
    for (size_t c = 0; c < lot->n_charts; c++)
        if (is_wanted(&lot->chart[c], colour) &&
            (!found || distance(&lot->chart[c]) < distance(found)))
            found = &lot->chart[c];
    return found;
}

/* Of one step in colour the channel that scatters most. */
static const ww_control_chart *widest(const ww_control_lot *lot, const ww_control_chart *found) {
    for (size_t c = 0; c < lot->n_charts; c++)
        if (is_wanted(&lot->chart[c], true) && strcmp(lot->chart[c].measure, found->measure) == 0 &&
            lot->chart[c].history.sigma > found->history.sigma)
            found = &lot->chart[c];
    return found;
}

ww_status ww_control_repeatability(const ww_control *control, bool colour, double *sd,
                                   const ww_control_chart **measure, ww_error *err) {
    const ww_control_series *series = ww_control_worst(control);
    size_t at;
    const ww_control_lot *lot = series ? ww_control_focus(series, &at) : NULL;
    const ww_control_chart *found;
    assert(sd && measure);
    if (!lot)
        return ww_error_set(err, WW_ENODATA, "no strip counts in the control log");
    if (lot->reference->density == WW_DENSITY_TRANSMISSION)
        return ww_error_set(err, WW_ENODATA,
                            "the control log is of film, whose scatter is not that of prints");
    found = nearest(lot, colour);
    if (found && colour)
        found = widest(lot, found);
    if (!found && lot->found >= lot->wanted)
        return ww_error_set(err, WW_ENODATA, "its strips are not read in red, green and blue");
    if (!found)
        return ww_error_set(err, WW_ENODATA,
                            "%zu of the %zu strips that tell it are in the control log", lot->found,
                            lot->wanted);
    *sd = found->history.sigma;
    *measure = found;
    return WW_OK;
}
