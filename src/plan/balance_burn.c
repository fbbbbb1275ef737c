/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>

/*
 * Light adds up: base + burn = aim in each channel, so that the burn has to give
 * 10^(aim - base) - 1 of the base exposure, which is a change of pack and time like any other.
 */
enum { COLOURS = WW_BALANCE_COLOURS, ACTS = WW_RESPONSE_ACTS };

static const double least_burn = 0.01; /* [of the base exposure] less is none that a hand gives */

/* What the base exposure gives the tone, and the share of it that is missing to the aim; false
 * where that is nothing in a channel. */
static bool find_missing(const ww__balance_work *work, size_t i, double base[COLOURS],
                         double share[COLOURS]) {
    double change[COLOURS];
    bool missing = true;
    ww_response_change(&work->plan->response, work->act_set, change);
    for (size_t c = 0; c < COLOURS; c++) {
        base[c] = work->spot[i].log_h[c] + change[c];
        share[c] = pow(10.0, work->spot[i].aim_log_h[c] - base[c]) - 1.0;
        missing = missing && share[c] > least_burn;
    }
    return missing;
}

/* Pack and time of the burn, exact and as they are set; act as set, against the base exposure. */
static ww_status solve(const ww__balance_work *work, const double share[COLOURS],
                       ww_balance_burn *burn, double act[ACTS], ww_error *err) {
    const ww_balance *plan = work->plan;
    const ww_balance_setting *base = &plan->settable;
    const ww_pack base_cc = ww__balance_cc(&base->pack, plan->head_scale);
    double change[COLOURS], weight[COLOURS];
    ww_pack pack;
    ww_status status;
    for (size_t c = 0; c < COLOURS; c++) {
        change[c] = log10(share[c]);
        weight[c] = pow(plan->tone[burn->tone].slope[c] * share[c] / (1.0 + share[c]), 2);
    }
    status = ww_response_solve(&plan->response, change, &base_cc, act, &pack, err);
    if (status != WW_OK)
        return status;
    burn->exact.pack = ww__balance_dial(&pack, plan->head_scale);
    burn->exact.time_s = base->time_s * pow(10.0, act[0]);
    ww__balance_set(plan, change, weight, base, &burn->exact.pack, &burn->settable, act);
    burn->stops = log2(1.0 + share[WW_GREEN]);
    return WW_OK;
}

/* d log10(share) = (1 + 1 / share) d(aim - base); what the filters do to the burn comes to that. */
static ww_status doubt(const ww__balance_work *work, const double share[COLOURS],
                       const double act[ACTS], ww_balance_burn *burn, ww_error *err) {
    double covariance[COLOURS * COLOURS], sd[COLOURS];
    ww__balance_light_sd(work, burn->tone, true, sd);
    ww_response_change_covariance(&work->plan->response, act, covariance);
    for (size_t c = 0; c < COLOURS; c++)
        covariance[c * COLOURS + c] += pow(sd[c] * (1.0 + 1.0 / share[c]), 2);
    return ww__balance_doubt(work->plan, &burn->exact.pack, covariance, &burn->doubt, err);
}

/* The tone with both exposures: what is off in the base is off in the burn, whose filters err
 * besides, as far as it is of all light. */
static void foretell(const ww__balance_work *work, size_t i, const double base[COLOURS],
                     const double act[ACTS]) {
    double log_h[COLOURS], sd[COLOURS], change[COLOURS], covariance[COLOURS * COLOURS];
    ww__balance_light_sd(work, i, false, sd);
    ww_response_change(&work->plan->response, act, change);
    ww_response_change_covariance(&work->plan->response, act, covariance);
    for (size_t c = 0; c < COLOURS; c++) {
        const double share = pow(10.0, change[c]);
        log_h[c] = base[c] + log10(1.0 + share);
        sd[c] = hypot(sd[c], share / (1.0 + share) * sqrt(covariance[c * COLOURS + c]));
    }
    ww__balance_burnt(work, i, log_h, sd);
}

ww_status ww__balance_burn(ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    const size_t i = ww__balance_find(plan, work->request->burn);
    double base[COLOURS], share[COLOURS], act[ACTS];
    ww_status status;
    plan->burn = (ww_balance_burn){.set = true, .tone = i};
    plan->burn.possible = find_missing(work, i, base, share);
    if (!plan->burn.possible) {
        plan->holds = false;
        return ww__print_say(&plan->notes, err,
                             "'%s' cannot be brought to its aim by burning: the base exposure "
                             "alone gives it that much light, or more, in a channel. Take a base "
                             "with less, dodge it, or aim darker.",
                             ww__print_show(plan->tone[i].tone).text);
    }
    status = solve(work, share, &plan->burn, act, err);
    if (status == WW_OK)
        status = doubt(work, share, act, &plan->burn, err);
    if (status == WW_OK)
        foretell(work, i, base, act);
    return status;
}
