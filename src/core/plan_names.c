/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/balance.h>
#include <wedgework/compare.h>
#include <wedgework/control.h>
#include <wedgework/develop.h>
#include <wedgework/print_result.h>
#include <wedgework/scan.h>
#include <wedgework/strip.h>

/* Words and rounding of what plans decide: files and pages show the same, and neither room knows
 * the plan's. */

const char *ww_verdict_name(ww_verdict verdict) {
    switch (verdict) {
    case WW_VERDICT_PRINTS:
        return "prints";
    case WW_VERDICT_BURN:
        return "burn";
    case WW_VERDICT_BLOCKED:
        return "blocked";
    case WW_VERDICT_LOST:
        break;
    }
    return "lost";
}

const char *ww_develop_measure_key(ww_develop_measure measure) {
    static const char *const key[] = {"contrast_index", "average_gradient", "gamma",
                                      "range_gradient"};
    assert((size_t)measure < WW_DEVELOP_MEASURES);
    return key[measure];
}

const unsigned ww_scan_bits[WW_SCAN_BITS] = {8, 10, 12, 14, 16};

const char *ww_scan_way_name(ww_scan_way way) {
    switch (way) {
    case WW_SCAN_ONE:
        return "one scan";
    case WW_SCAN_SECOND:
        return "second scan";
    case WW_SCAN_AVERAGE:
        return "average";
    case WW_SCAN_BOTH:
        return "both";
    case WW_SCAN_NO_WAY:
        break;
    }
    return "none";
}

double ww_scan_trust(ww_quantity stops) {
    return ww_doubt_shown(stops.high - stops.value, 0.1);
}

double ww_scan_plan_trust(const ww_scan_plan *plan) {
    double trust = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            trust = fmax(trust, ww_scan_trust(plan->channel[c].stops));
    return trust;
}

bool ww_scan_plan_apart(const ww_scan_plan *plan) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present && plan->channel[c].stops.value - plan->stops > WW_SCAN_APART)
            return true;
    return false;
}

double ww_scan_asked(double least) {
    const double unit = least > 0.0 ? pow(10.0, floor(log10(least)) - 1.0) : 1.0;
    return unit * ceil(least / unit - 1e-6);
}

const char *ww_strip_kind_name(ww_strip_kind kind) {
    switch (kind) {
    case WW_STRIP_PLAN:
        return "plan";
    case WW_STRIP_READ:
        return "read";
    case WW_STRIP_PROOF:
        return "proof";
    case WW_STRIP_SAFELIGHT:
        break;
    }
    return "safelight";
}

const char *ww_miss_cause_name(ww_miss_cause cause) {
    static const char *const name[WW_MISS_CAUSES] = {
        [WW_MISS_NOTHING] = "nothing",    [WW_MISS_EXPOSURE] = "exposure",
        [WW_MISS_CONTRAST] = "contrast",  [WW_MISS_LIGHT_END] = "light end",
        [WW_MISS_ONE] = "one tone alone", [WW_MISS_BOTH] = "exposure and contrast",
    };
    assert((size_t)cause < WW_MISS_CAUSES);
    return name[cause];
}

const char *ww_balance_kind_name(ww_balance_kind kind) {
    switch (kind) {
    case WW_BALANCE_PRINT:
        return "print";
    case WW_BALANCE_NEGATIVE:
        return "negative";
    case WW_BALANCE_CARRIED:
        break;
    }
    return "carried";
}

const char *ww_compare_control_name(const ww_compare_print *print) {
    switch (print->control) {
    case WW_COMPARE_RAMP:
        return ww_ramp_name(print->ramp);
    case WW_COMPARE_LOG_H:
        return "log H";
    case WW_COMPARE_LABEL:
        break;
    }
    return "tone";
}

const char *ww_compare_drift_name(size_t drift) {
    static const char *const name[WW_COMPARE_DRIFTS] = {"red-green", "blue-green", "a*", "b*"};
    assert(drift < WW_COMPARE_DRIFTS);
    return name[drift];
}

const char *ww_compare_limit_name(ww_compare_limit limit) {
    static const char *const name[WW_LIMIT_COUNT] = {
        [WW_LIMIT_WHITE] = "white",
        [WW_LIMIT_BLACK] = "black",
        [WW_LIMIT_LIGHT] = "light",
        [WW_LIMIT_MIDDLE] = "middle",
        [WW_LIMIT_DARK] = "dark",
        [WW_LIMIT_DRIFT] = "drift",
        [WW_LIMIT_DE2000_MEAN] = "de2000_mean",
        [WW_LIMIT_DE2000_MAX] = "de2000_max",
        [WW_LIMIT_NEUTRAL_AB] = "neutral_ab",
    };
    assert((size_t)limit < WW_LIMIT_COUNT);
    return name[limit];
}

const char *ww_compare_limit_unit(ww_compare_limit limit) {
    return limit <= WW_LIMIT_DRIFT ? "D" : "";
}

const char *ww_control_state_name(ww_control_state state) {
    static const char *const name[] = {"in control", "warning", "out of control"};
    return name[state];
}

const char *ww_control_role_name(ww_control_role role) {
    static const char *const name[WW_CONTROL_ROLES] = {"D-min", "LD", "HD", "D-max"};
    assert(role < WW_CONTROL_ROLES);
    return name[role];
}

const char *ww_control_rule_short(size_t i) {
    static const char *const name[WW_CONTROL_RULES] = {"beyond", "action", "3 sigma", "2 of 3",
                                                       "4 of 5", "8",      "trend",   "drift"};
    assert(i < WW_CONTROL_RULES);
    return name[i];
}

const char *ww_control_rule_name(size_t i) {
    static const char *const name[WW_CONTROL_RULES] = {"beyond the limit",
                                                       "beyond the action limit",
                                                       "beyond 3 sigma",
                                                       "2 of 3 beyond 2 sigma",
                                                       "4 of 5 beyond 1 sigma",
                                                       "8 on one side",
                                                       "trend of 6",
                                                       "slow drift"};
    assert(i < WW_CONTROL_RULES);
    return name[i];
}

void ww_control_limits_of(const ww_control_chart *chart, ww_optional *lower, ww_optional *upper,
                          bool *user) {
    *user = chart->below.set || chart->above.set;
    if (*user) {
        *lower = (ww_optional){chart->below.set, chart->aim + chart->below.value};
        *upper = (ww_optional){chart->above.set, chart->aim + chart->above.value};
        return;
    }
    *lower =
        (ww_optional){chart->has_history && chart->kind != WW_CONTROL_SPREAD, chart->history.lower};
    *upper = (ww_optional){chart->has_history, chart->history.upper};
}

const ww_control_lot *ww_control_focus(const ww_control_series *series, size_t *at) {
    const ww_control_row *row;
    if (!series->any)
        return NULL;
    row = &series->row[series->row_at];
    *at = row->at;
    return &series->lot[row->lot];
}

const char *ww_control_channel_name(const ww_control_chart *chart) {
    return chart->channel == WW_CHANNEL_COUNT ? "colours" : ww_channel_name(chart->channel);
}

const ww_control_series *ww_control_worst(const ww_control *control) {
    const ww_control_series *worst = NULL;
    for (size_t i = 0; i < control->n; i++) {
        const ww_control_series *one = &control->series[i];
        if (one->any && (!worst || one->row[one->row_at].state > worst->row[worst->row_at].state))
            worst = one;
    }
    return worst;
}
