/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/develop_parts.h"
#include <math.h>

/* --- a figure between two times --------------------------------------------------------------- */

/* Those of one time: their mean, and its doubt as if each had its own. */
typedef struct group {
    double time_min;
    ww_quantity figure;
} group;

static size_t groups_of(const ww_development *plan, ww_quantity (*of)(const ww_develop_row *row),
                        group made[]) {
    size_t n = 0, in = 0;
    double square = 0.0;
    for (size_t i = 0; i < plan->n; i++) {
        const ww_develop_row *row = &plan->row[i];
        const ww_quantity figure = of(row);
        if (row->other_temperature || !ww_quantity_present(figure))
            continue;
        if (n == 0 || made[n - 1].time_min < row->time_min) {
            made[n++] = (group){row->time_min, figure};
            in = 1;
            square = pow((figure.high - figure.low) / 2.0, 2.0);
            continue;
        }
        group *g = &made[n - 1];
        in++;
        square += pow((figure.high - figure.low) / 2.0, 2.0);
        g->figure.value += (figure.value - g->figure.value) / (double)in;
        const double half = sqrt(square) / (double)in;
        g->figure.low = g->figure.value - half;
        g->figure.high = g->figure.value + half;
    }
    return n;
}

ww_quantity ww__develop_between(const ww_development *plan, double time_min,
                                ww_quantity (*of)(const ww_develop_row *row)) {
    group g[WW_DEVELOP_MOST];
    const size_t n = groups_of(plan, of, g);
    size_t i = 0;
    if (n < 2)
        return n == 1 && g[0].time_min == time_min ? g[0].figure : (ww_quantity)WW_QUANTITY_INIT;
    while (i + 2 < n && time_min > g[i + 1].time_min)
        i++;
    const double u = log(time_min / g[i].time_min) / log(g[i + 1].time_min / g[i].time_min);
    const ww_quantity a = g[i].figure, b = g[i + 1].figure;
    const double value = (1.0 - u) * a.value + u * b.value;
    const double low = hypot((1.0 - u) * (a.value - a.low), u * (b.value - b.low));
    const double high = hypot((1.0 - u) * (a.high - a.value), u * (b.high - b.value));
    return (ww_quantity){value, value - low, value + high,
                         u < -1e-9 || u > 1.0 + 1e-9 ? WW_EXTRAPOLATED : WW_FITTED};
}

/* --- speed ------------------------------------------------------------------------------------ */

static bool same_number(ww_optional a, ww_optional b) {
    return a.set == b.set && (!a.set || a.value == b.value);
}

/* Whether log H of the curves has one zero: exposures in lux seconds that were given, or the same
 * column with the same light. */
static bool alike(const ww_develop_input input[], size_t n) {
    const ww_meta *first = &input[0].curve->meta;
    for (size_t i = 1; i < n; i++) {
        const ww_meta *meta = &input[i].curve->meta;
        const bool measured = meta->exposure_unit == WW_UNIT_LUX_SECOND &&
                              first->exposure_unit == WW_UNIT_LUX_SECOND &&
                              ww_curve_origin_given(input[i].curve) &&
                              ww_curve_origin_given(input[0].curve);
        const bool same = input[i].curve->exposure == input[0].curve->exposure &&
                          meta->exposure_unit == first->exposure_unit &&
                          same_number(meta->log_h0, first->log_h0) &&
                          same_number(meta->exposure_time_s, first->exposure_time_s);
        if (!measured && !same)
            return false;
    }
    return true;
}

static ww_quantity base_of(const ww_develop_row *row) {
    return row->base_fog;
}
static ww_quantity speed_point_of(const ww_develop_row *row) {
    return row->speed_point;
}

/* In log: an index has equal steps there. */
static ww_quantity log_index_of(const ww_develop_row *row) {
    const ww_quantity e = row->exposure_index;
    return ww_quantity_present(e) ? (ww_quantity){log(e.value), log(e.low), log(e.high), e.how} : e;
}

/* What all speed points are off by alike, 95 % [log H]: no gain has it in it. */
static double common_of(const ww_develop_input input[], size_t n) {
    const ww_meta *first = &input[0].curve->meta;
    for (size_t i = 1; i < n; i++)
        if (!same_number(input[i].curve->meta.log_h0, first->log_h0) ||
            !same_number(input[i].curve->meta.log_h0_sd, first->log_h0_sd))
            return 0.0;
    return first->log_h0_sd.set ? WW__DEVELOP_95 * first->log_h0_sd.value : 0.0;
}

static double own_half(ww_quantity q, double common) {
    const double half = (q.high - q.low) / 2.0;
    return sqrt(fmax(half * half - common * common, 0.0));
}

static void find_gains(double common, ww_development *plan) {
    const ww_develop_row *longest = NULL;
    for (size_t i = 0; i < plan->n; i++)
        if (!plan->row[i].other_temperature && ww_quantity_present(plan->row[i].speed_point))
            longest = &plan->row[i];
    if (!longest || !plan->speeds_alike)
        return;
    const ww_quantity zero = ww__develop_between(plan, longest->time_min, speed_point_of);
    if (!ww_quantity_present(zero))
        return;
    for (size_t i = 0; i < plan->n; i++) {
        const ww_quantity at = plan->row[i].speed_point;
        if (ww_quantity_present(at))
            plan->row[i].speed_stops =
                (ww_optional){true, (zero.value - at.value) / WW__DEVELOP_LOG_STOP};
    }
    if (!ww_quantity_present(plan->speed_point))
        return;
    const ww_quantity at = plan->speed_point;
    const double gain = (zero.value - at.value) / WW__DEVELOP_LOG_STOP;
    const double half = hypot(own_half(at, common), own_half(zero, common)) / WW__DEVELOP_LOG_STOP;
    plan->speed_stops = (ww_quantity){gain, gain - half, gain + half, at.how};
}

/* --- the exposure index ----------------------------------------------------------------------- */

static void find_index(const ww_curve *curve, const ww_develop_request *request,
                       ww_develop_row *row) {
    const ww_quantity at = row->speed_point;
    const double zero = curve->meta.log_h0.set ? curve->meta.log_h0.value : 0.0;
    const double index = request->metered_index.value;
    if (!request->metered_index.set || curve->exposure != WW_EXPOSURE_STOP ||
        curve->meta.emulsion == WW_EMULSION_COLOUR_NEGATIVE || !ww_quantity_present(at))
        return;
    const double stop = (at.value - zero) / WW__DEVELOP_LOG_STOP;
    const double low = (at.low - zero) / WW__DEVELOP_LOG_STOP;
    const double high = (at.high - zero) / WW__DEVELOP_LOG_STOP;
    row->exposure_index = (ww_quantity){index * exp2(-request->below_stops - stop),
                                        index * exp2(-request->below_stops - high),
                                        index * exp2(-request->below_stops - low), at.how};
}

/* At the time of the plan where the series carry it there, else of the one that there is. */
static void choose_index(ww_development *plan) {
    const double time = plan->answer.time.value;
    if (plan->aimed && plan->answer.place == WW_TIME_GAMMA_INSIDE) {
        const ww_quantity e = ww__develop_between(plan, time, log_index_of);
        if (ww_quantity_present(e)) {
            plan->exposure_index = (ww_quantity){exp(e.value), exp(e.low), exp(e.high), e.how};
            plan->index_time_min = (ww_optional){true, plan->time.value};
            return;
        }
    }
    for (size_t i = 0; i < plan->n; i++)
        if (ww_quantity_present(plan->row[i].exposure_index)) {
            plan->exposure_index = plan->row[i].exposure_index;
            plan->index_time_min = (ww_optional){true, plan->row[i].time_min};
        }
}

void ww__develop_speed(const ww_develop_input input[], const size_t order[],
                       const ww_develop_request *request, ww_development *plan) {
    const bool told = plan->aimed && plan->answer.place == WW_TIME_GAMMA_INSIDE;
    plan->speeds_alike = alike(input, plan->n);
    for (size_t i = 0; i < plan->n; i++)
        find_index(input[order[i]].curve, request, &plan->row[i]);
    if (told) {
        plan->base_fog = ww__develop_between(plan, plan->answer.time.value, base_of);
        if (plan->speeds_alike)
            plan->speed_point = ww__develop_between(plan, plan->answer.time.value, speed_point_of);
    }
    find_gains(common_of(input, plan->n), plan);
    choose_index(plan);
}
