/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include <math.h>
#include <stdint.h>
#include <string.h>

enum { COLOURS = WW_BALANCE_COLOURS, ACTS = WW_RESPONSE_ACTS };

static const double cc = 0.01;                         /* [log H] of 1 CC */
static const double log_stop = 0.30102999566398119521; /* log10 2 */
static const double middle_density = 0.745;            /* -log10 0.18 */

const char *ww__balance_unit(double head_scale) {
    return fabs(head_scale - 1.0) < 1e-9 ? "CC" : "dial units";
}

ww_pack ww__balance_dial(const ww_pack *pack, double head_scale) {
    ww_pack made = *pack;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        made.cc[f] *= head_scale;
    return made;
}

ww_pack ww__balance_cc(const ww_pack *dial, double head_scale) {
    return ww__balance_dial(dial, 1.0 / head_scale);
}

size_t ww__balance_third(const ww_pack *pack, double *shared) {
    static const double none = 0.25; /* [CC] no filter */
    size_t least = 0;
    for (size_t f = 1; f < WW_FILTER_COUNT; f++)
        least = pack->cc[f] < pack->cc[least] ? f : least;
    *shared = pack->cc[least];
    return *shared > none ? least : WW_FILTER_COUNT;
}

/* A whole number of steps, divided where it can be: 68 / 10 is the 6.8 that 68 x 0.1 is not. */
static double round_time(double time_s, double step_s) {
    const double steps = fmax(floor(time_s / step_s + 0.5), 1.0), in_1_s = round(1.0 / step_s);
    return fabs(in_1_s * step_s - 1.0) < 1e-12 ? steps / in_1_s : steps * step_s;
}

void ww__balance_round(const ww_balance *plan, const ww_balance_setting *exact,
                       ww_balance_setting *settable) {
    *settable = *exact;
    ww_pack_round(&settable->pack, plan->filter_step);
    settable->time_s = round_time(exact->time_s, plan->timer_step_s);
}

/* --- what is aimed at ------------------------------------------------------------------------- */

/* The mean change of the greys that have a say, each by the inverse square of its errors; what of
 * the error is the print's, the aims', the curve's. */
typedef struct errors {
    double print[COLOURS], aim[COLOURS], curve[COLOURS], wedge[COLOURS], dyes[COLOURS],
        repeat[COLOURS];
} errors;

static void aim_at(ww__balance_work *work, errors *e) {
    const ww_balance *plan = work->plan;
    for (size_t c = 0; c < COLOURS; c++) {
        double weights = 0.0, sum = 0.0, print = 0.0, aim = 0.0, curve = 0.0, slope = 0.0,
               wedge = 0.0, dyes = 0.0;
        for (size_t i = 0; i < plan->n_tones; i++) {
            const ww__balance_spot *spot = &work->spot[i];
            const ww_balance_tone *tone = &plan->tone[i];
            const double weight =
                1.0 / (spot->error[c] * spot->error[c] + spot->aim_error[c] * spot->aim_error[c]);
            if (!tone->solved)
                continue;
            weights += weight;
            sum += weight * tone->change[c];
            print += pow(weight * spot->error[c], 2);
            aim += pow(weight * spot->aim_error[c], 2);
            curve += weight * spot->curve_sd[c]; /* the same curve and wedge: they err alike */
            wedge += weight * spot->wedge_sd[c];
            dyes += weight * spot->dye_sd[c];
            slope += weight * fabs(tone->slope[c]);
        }
        work->target[c] = sum / weights;
        slope = slope > 0.0 ? slope / weights : 1.0; /* of negatives no paper is known */
        work->weight[c] = slope * slope;
        e->print[c] = sqrt(print) / weights;
        e->aim[c] = sqrt(aim) / weights;
        e->curve[c] = curve / weights;
        e->wedge[c] = wedge / weights;
        e->dyes[c] = dyes / weights;
        e->repeat[c] = work->scatter / slope;
    }
}

static void measure_changes(ww__balance_work *work) {
    ww_balance *plan = work->plan;
    for (size_t i = 0; i < plan->n_tones; i++) {
        const ww__balance_spot *spot = &work->spot[i];
        ww_balance_tone *tone = &plan->tone[i];
        for (size_t c = 0; c < COLOURS; c++) {
            tone->change[c] = spot->aim_log_h[c] - spot->log_h[c];
            tone->change_sd[c] =
                hypot(hypot(spot->error[c], spot->aim_error[c]),
                      hypot(spot->dye_sd[c], hypot(spot->curve_sd[c], spot->wedge_sd[c])));
        }
    }
}

/* The tone whose densities stand for the print: the one named, or the nearest to middle grey of
 * those that have a say. */
static size_t stands_for(const ww_balance *plan) {
    size_t best = plan->n_tones;
    for (size_t i = 0; i < plan->n_tones; i++)
        if (plan->tone[i].solved &&
            (best == plan->n_tones || fabs(plan->tone[i].aim[WW_GREEN] - middle_density) <
                                          fabs(plan->tone[best].aim[WW_GREEN] - middle_density)))
            best = i;
    return best;
}

/* --- doubt ------------------------------------------------------------------------------------ */

/* What a covariance of log exposures leaves open of a filter and of the time [dial units, stops],
 * 95 % half-widths; a *filter of SIZE_MAX becomes the one that is least sure. */
typedef struct halves {
    double filter, stops;
} halves;

static ww_status half_widths(const ww_balance *plan, const ww_pack *exact,
                             const double covariance[], size_t *filter, halves *of, ww_error *err) {
    const ww_pack exact_cc = ww__balance_cc(exact, plan->head_scale);
    double sd[ACTS];
    const ww_status status = ww_response_doubt(&plan->response, &exact_cc, covariance, sd, err);
    if (status != WW_OK)
        return status;
    if (*filter == SIZE_MAX) {
        *filter = 0;
        for (size_t f = 1; f < WW_FILTER_COUNT; f++)
            *filter = sd[f + 1] > sd[*filter + 1] ? f : *filter;
    }
    of->filter = WW__BALANCE_95 * sd[*filter + 1] / cc * plan->head_scale;
    of->stops = WW__BALANCE_95 * sd[0] / log_stop;
    return WW_OK;
}

ww_status ww__balance_doubt(const ww_balance *plan, const ww_pack *exact, const double covariance[],
                            ww_balance_doubt *of, ww_error *err) {
    size_t filter = SIZE_MAX;
    halves half;
    const ww_status status = half_widths(plan, exact, covariance, &filter, &half, err);
    if (status == WW_OK)
        *of = (ww_balance_doubt){true, half.filter, half.stops};
    return status;
}

/* A part of the doubt in the measure of the whole, so that parts add up to it by squares. */
static ww_status add_part(ww__balance_work *work, const char *from, const double sd[COLOURS],
                          size_t filter, ww_error *err) {
    ww_balance *plan = work->plan;
    double part[COLOURS * COLOURS] = {0.0};
    halves of;
    ww_status status;
    for (size_t c = 0; c < COLOURS; c++)
        part[c * COLOURS + c] = sd[c] * sd[c];
    status = half_widths(plan, &plan->exact.pack, part, &filter, &of, err);
    if (status == WW_OK)
        plan->budget[plan->n_budget++] = (ww_balance_part){from, of.filter};
    return status;
}

static ww_status make_budget(ww__balance_work *work, const errors *e, double filters, size_t filter,
                             ww_error *err) {
    ww_balance *plan = work->plan;
    const bool print = plan->kind == WW_BALANCE_PRINT;
    ww_status status = add_part(work, print ? "readings" : "new negative", e->print, filter, err);
    if (status == WW_OK)
        status = add_part(work, print ? "aim" : "standard negative", e->aim, filter, err);
    plan->budget[plan->n_budget++] = (ww_balance_part){"filters and time", filters};
    if (status == WW_OK && print)
        status = add_part(work, "paper curve", e->curve, filter, err);
    if (status == WW_OK && print)
        status = add_part(work, "wedge", e->wedge, filter, err);
    if (status == WW_OK)
        status =
            add_part(work, print ? "paper's dyes" : "paper's view of film", e->dyes, filter, err);
    if (status == WW_OK && work->request->repeatability.set)
        status = add_part(work, "repeatability", e->repeat, filter, err);
    else if (status == WW_OK && work->scatter > 0.0)
        status = add_part(work, "prints' scatter", e->repeat, filter, err);
    return status;
}

/* Whether the print's own pack is as likely as what shall be set, by all that is in doubt but
 * what filters do, which any print with another pack teaches. */
static bool is_untold(const ww_balance *plan, double half) {
    static const double nothing = 0.25, seen = 5.0; /* [CC] no change; a cast that is seen */
    double most = 0.0;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        most = fmax(most, fabs(plan->settable.pack.cc[f] - plan->from.pack.cc[f]));
    return plan->kind == WW_BALANCE_PRINT && most > nothing &&
           half > fmax(most, seen * plan->head_scale);
}

static ww_channel find_least_sure(const errors *e) {
    size_t least = 0;
    for (size_t c = 1; c < COLOURS; c++)
        if (fmax(e->print[c], e->aim[c]) > fmax(e->print[least], e->aim[least]))
            least = c;
    return (ww_channel)least;
}

static ww_status doubt(ww__balance_work *work, const errors *e, ww_error *err) {
    ww_balance *plan = work->plan;
    double whole[COLOURS * COLOURS], response[COLOURS * COLOURS];
    size_t filter = SIZE_MAX;
    halves all, filters;
    double lean;
    ww_status status;
    ww_response_change_covariance(&plan->response, work->act, response);
    memcpy(whole, response, sizeof whole);
    for (size_t c = 0; c < COLOURS; c++)
        whole[c * COLOURS + c] += e->print[c] * e->print[c] + e->aim[c] * e->aim[c] +
                                  e->curve[c] * e->curve[c] + e->wedge[c] * e->wedge[c] +
                                  e->dyes[c] * e->dyes[c] + e->repeat[c] * e->repeat[c];
    status = half_widths(plan, &plan->exact.pack, whole, &filter, &all, err);
    if (status == WW_OK)
        status = half_widths(plan, &plan->exact.pack, response, &filter, &filters, err);
    if (status != WW_OK)
        return status;
    lean = ww_response_lean(&plan->response, filter);
    plan->doubt_cc = hypot(all.filter, filters.filter * sqrt(lean * lean - 1.0));
    plan->doubt_stops = all.stops;
    plan->untold = is_untold(plan, sqrt(fmax(pow(all.filter, 2) - pow(filters.filter, 2), 0.0)));
    plan->least_sure = find_least_sure(e);
    return make_budget(work, e, lean * filters.filter, filter, err);
}

/* --- the solution ----------------------------------------------------------------------------- */

/* What is left of a change, as its channels count. */
static double left_of(const ww_response *response, const double change[COLOURS],
                      const double weight[COLOURS], const double act[ACTS]) {
    double moved[COLOURS], sum = 0.0;
    ww_response_change(response, act, moved);
    for (size_t c = 0; c < COLOURS; c++)
        sum += weight[c] * (change[c] - moved[c]) * (change[c] - moved[c]);
    return sum;
}

/* The settings around a pack are the corners of a box: bit f of `corner` takes filter f up. False
 * where the filter is on a step already, so that there is nothing above. */
static bool take_corner(const ww_balance *plan, const ww_pack *exact, unsigned corner,
                        ww_pack *set) {
    static const double on_step = 1e-9;
    for (unsigned f = 0; f < WW_FILTER_COUNT; f++) {
        const double steps = exact->cc[f] / plan->filter_step;
        const double below = floor(steps + on_step);
        const bool up = corner >> f & 1u;
        if (up && steps - below <= on_step)
            return false;
        set->cc[f] = plan->filter_step * (below + (up ? 1.0 : 0.0));
    }
    return true;
}

void ww__balance_set(const ww_balance *plan, const double change[COLOURS],
                     const double weight[COLOURS], const ww_balance_setting *from,
                     const ww_pack *exact, ww_balance_setting *settable, double act[ACTS]) {
    const ww_pack from_cc = ww__balance_cc(&from->pack, plan->head_scale);
    double least = HUGE_VAL;
    for (unsigned corner = 0; corner < 1u << WW_FILTER_COUNT; corner++) {
        ww_balance_setting tried;
        double tried_act[ACTS], left;
        ww_pack cc_tried;
        if (!take_corner(plan, exact, corner, &tried.pack))
            continue;
        cc_tried = ww__balance_cc(&tried.pack, plan->head_scale);
        for (size_t f = 0; f < WW_FILTER_COUNT; f++)
            tried_act[f + 1] = cc * (cc_tried.cc[f] - from_cc.cc[f]);
        ww_response_time(&plan->response, change, weight, tried_act);
        tried.time_s = round_time(from->time_s * pow(10.0, tried_act[0]), plan->timer_step_s);
        tried_act[0] = log10(tried.time_s / from->time_s);
        left = left_of(&plan->response, change, weight, tried_act);
        if (left >= least)
            continue;
        least = left;
        *settable = tried;
        memcpy(act, tried_act, sizeof tried_act);
    }
}

/* Neither a cast nor a density that is seen: half of a hand's tolerance each. */
static bool is_right(const ww_balance *plan) {
    static const double seen = WW_BALANCE_WITHIN_CC / 2.0;
    const double *excess = plan->excess_cc;
    const double mean = (excess[0] + excess[1] + excess[2]) / COLOURS;
    bool right = fabs(mean) <= seen;
    for (int c = 0; c < COLOURS; c++)
        right = right && fabs(excess[c] - mean) <= seen;
    return right;
}

/* The print is right, and nothing is set anew. */
static bool is_left_alone(const ww_balance *plan) {
    static const double nothing = 0.25; /* [CC] no change of a filter */
    const ww_balance_setting *from = &plan->from, *to = &plan->settable;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        if (fabs(to->pack.cc[f] - from->pack.cc[f]) > nothing)
            return false;
    for (int c = 0; c < COLOURS; c++)
        if (fabs(plan->excess_cc[c]) > WW_BALANCE_WITHIN_CC / 2.0)
            return false;
    return fabs(to->time_s - from->time_s) < 1e-6 * from->time_s;
}

/* Exact, and as it is set. Of a right print all three filters stay: what they share is grey, which
 * does no harm, and to take it out would be another print. */
static ww_status find_setting(ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    ww_pack from = work->from_cc, pack;
    size_t third = WW_FILTER_COUNT;
    double had = 0.0;
    ww_status status;
    if (plan->kind == WW_BALANCE_PRINT && is_right(plan))
        third = ww__balance_third(&from, &had);
    if (third < WW_FILTER_COUNT)
        from.cc[third] = 0.0;
    status = ww_response_solve(&plan->response, work->target, &from, work->act, &pack, err);
    if (status != WW_OK)
        return status;
    if (third < WW_FILTER_COUNT)
        pack.cc[third] += had;
    plan->exact.pack = ww__balance_dial(&pack, plan->head_scale);
    plan->exact.time_s = plan->from.time_s * pow(10.0, work->act[0]);
    plan->stops = work->act[0] / log_stop;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        plan->change.cc[f] = plan->exact.pack.cc[f] - plan->from.pack.cc[f];
    if (third < WW_FILTER_COUNT) {
        plan->settable = plan->from;
        plan->left_alone = true;
        return WW_OK; /* work->act_set is of nothing */
    }
    ww__balance_set(plan, work->target, work->weight, &plan->from, &plan->exact.pack,
                    &plan->settable, work->act_set);
    plan->left_alone = plan->kind == WW_BALANCE_PRINT && is_left_alone(plan);
    return WW_OK;
}

ww_status ww__balance_solve(ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    errors e;
    ww_status status;
    measure_changes(work);
    ww__balance_crossover(work);
    aim_at(work, &e);
    plan->solved_for = stands_for(plan);
    plan->reversal = plan->kind == WW_BALANCE_PRINT && plan->tone[plan->solved_for].slope[0] < 0.0;
    for (size_t c = 0; c < COLOURS; c++)
        plan->excess_cc[c] = (plan->reversal ? 1.0 : -1.0) * work->target[c] / cc;
    status = find_setting(work, err);
    return status == WW_OK ? doubt(work, &e, err) : status;
}
