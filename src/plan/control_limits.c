/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/control_parts.h"
#include <math.h>
#include <stdlib.h>

/* --- the baseline ---------------------------------------------------------------------------- */

static int by_number(const void *a, const void *b) {
    const long one = *(const long *)a, two = *(const long *)b;
    return (one > two) - (one < two);
}

/*
 * The baseline is the first strips by number, as they were entered: what is entered later, of
 * whatever date, leaves it as it is, and one that is taken out gives its place to the next.
 */
static ww_status mark_baseline(ww_control_lot *lot, ww_error *err) {
    const long first = lot->baseline ? lot->baseline->first : 0;
    long *number = malloc((lot->n > 0 ? lot->n : 1) * sizeof *number), last;
    size_t n = 0;
    if (!number)
        return ww_error_set(err, WW_EMEMORY, "no memory for a baseline");
    for (size_t i = 0; i < lot->n; i++)
        if (lot->strip[i]->number >= first)
            number[n++] = lot->strip[i]->number;
    if (n > 0)
        qsort(number, n, sizeof *number, by_number);
    lot->found = n < lot->wanted ? n : lot->wanted;
    last = lot->found > 0 ? number[lot->found - 1] : 0;
    for (size_t i = 0; i < lot->n; i++)
        lot->in_baseline[i] = lot->strip[i]->number >= first && lot->strip[i]->number <= last;
    free(number);
    return WW_OK;
}

static void take_history(const ww_control_lot *lot, ww_control_chart *chart, double room[]) {
    size_t n = 0;
    for (size_t i = 0; i < lot->n; i++)
        if (lot->in_baseline[i] && chart->point[i].read)
            room[n++] = chart->point[i].value;
    if (lot->found < lot->wanted || n < WW_CONTROL_BASELINE_LEAST)
        return;
    chart->has_history =
        ww_control_individuals_of(room, n, WW_CONTROL_SIGMA_LEAST, &chart->history, NULL) == WW_OK;
}

/* --- what is broken -------------------------------------------------------------------------- */

static bool beyond(ww_optional below, ww_optional above, double deviation) {
    return (below.set && deviation < below.value - WW__CONTROL_SAME) ||
           (above.set && deviation > above.value + WW__CONTROL_SAME);
}

static unsigned limits_broken(const ww_control_chart *chart, const ww_control_point *point) {
    const bool user = chart->below.set || chart->above.set;
    const bool one_side = chart->kind == WW_CONTROL_SPREAD; /* no spread is too little */
    const bool history =
        chart->has_history && beyond((ww_optional){!one_side, chart->history.lower},
                                     (ww_optional){true, chart->history.upper}, point->value);
    const bool out = user ? beyond(chart->below, chart->above, point->deviation) : history;
    if (out)
        return WW_CONTROL_RULE_LIMIT;
    return (beyond(chart->action_below, chart->action_above, point->deviation)
                ? WW_CONTROL_RULE_ACTION
                : 0U) |
           (history ? WW_CONTROL_RULE_HISTORY : 0U);
}

/*
 * A strip without a reading on this chart is passed over by its runs. Without history there is no
 * sigma, and a trend is all that can be seen.
 */
static void break_chart(const ww_control_lot *lot, ww_control_slow_kind kind,
                        ww_control_chart *chart, double room[]) {
    const double sigma = chart->has_history ? chart->history.sigma : WW_CONTROL_SIGMA_LEAST;
    const double centre = chart->has_history ? chart->history.centre : chart->aim;
    ww_control_slow slow = {.kind = chart->has_history ? kind : WW_CONTROL_SLOW_NONE};
    bool started = false;
    size_t n = 0;
    for (size_t i = 0; i < lot->n; i++) {
        ww_control_point *point = &chart->point[i];
        unsigned runs;
        if (!point->read)
            continue;
        room[n] = (point->value - centre) / sigma;
        if (chart->kind == WW_CONTROL_SPREAD)
            room[n] = fmax(0.0, room[n]);
        runs = ww_control_runs(room, ++n);
        if (!chart->has_history)
            runs &= WW_CONTROL_RUN_TREND;
        point->rules = limits_broken(chart, point) | runs * WW_CONTROL_RULE_TWO;
        started = started || lot->in_baseline[i];
        if (slow.kind == WW_CONTROL_SLOW_NONE || !started || lot->in_baseline[i])
            continue;
        point->has_slow = true;
        if (ww_control_slow_add(&slow, room[n - 1]))
            point->rules |= WW_CONTROL_RULE_SLOW;
        point->slow = ww_control_slow_part(&slow);
    }
}

ww_status ww__control_break(ww_control_lot *lot, ww_control_slow_kind slow, ww_error *err) {
    double *room;
    ww_status status = mark_baseline(lot, err);
    if (status != WW_OK)
        return status;
    room = malloc((lot->n > 0 ? lot->n : 1) * sizeof *room);
    if (!room)
        return ww_error_set(err, WW_EMEMORY, "no memory for a control chart");
    for (size_t c = 0; c < lot->n_charts; c++) {
        take_history(lot, &lot->chart[c], room);
        break_chart(lot, slow, &lot->chart[c], room);
    }
    free(room);
    return WW_OK;
}
