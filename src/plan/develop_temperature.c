/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/develop_parts.h"
#include <float.h>
#include <math.h>

static const double past = 0.25;  /* of the measured range of temperature */
static const double apart = 0.05; /* [C] temperatures that are two */

static double inverse(double celsius) {
    return 1.0 / (celsius + WW__DEVELOP_KELVIN);
}

/* What one curve at another temperature says: ln of its time against the one that gives its
 * contrast at the reference, and the standard error of that. */
static bool pair_of(const ww_development *plan, const ww_develop_row *row, double *ratio,
                    double *sd) {
    const ww_quantity contrast = row->contrast[plan->measure];
    const ww_time_gamma *law = &plan->law[plan->measure];
    ww_time_gamma_answer answer;
    if (!row->other_temperature || !ww_quantity_present(contrast) || !(contrast.value > 0.0) ||
        ww_time_gamma_time(law, contrast.value, &answer, NULL) != WW_OK ||
        answer.place != WW_TIME_GAMMA_INSIDE)
        return false;
    const double own = hypot((contrast.high - contrast.low) / (2.0 * WW__DEVELOP_95),
                             law->scatter * contrast.value) /
                       (answer.slope * answer.time.value);
    const double of_law =
        (answer.time.high - answer.time.low) / (2.0 * WW__DEVELOP_95 * answer.time.value);
    *ratio = log(row->time_min / answer.time.value);
    *sd = fmax(hypot(own, of_law), WW__DEVELOP_SD_LEAST);
    return true;
}

/* B through the reference, by weighted least squares; where pairs disagree, its error is as much
 * wider. */
static void find_slope(ww_development *plan) {
    ww_develop_temperature *by = &plan->by_temperature;
    const double reference = inverse(by->reference_c);
    double above = 0.0, below = 0.0, chi_squared = 0.0, ratio, sd;
    for (size_t i = 0; i < plan->n; i++) {
        if (!pair_of(plan, &plan->row[i], &ratio, &sd))
            continue;
        const double x = inverse(plan->row[i].temperature_c.value) - reference;
        above += x * ratio / (sd * sd);
        below += x * x / (sd * sd);
        by->pairs++;
    }
    if (by->pairs == 0)
        return;
    by->known = true;
    by->slope = above / below;
    for (size_t i = 0; i < plan->n; i++)
        if (pair_of(plan, &plan->row[i], &ratio, &sd)) {
            const double x = inverse(plan->row[i].temperature_c.value) - reference;
            chi_squared += pow((ratio - by->slope * x) / sd, 2.0);
        }
    by->slope_sd = sqrt(1.0 / below);
    if (by->pairs > 1)
        by->slope_sd *= sqrt(fmax(chi_squared / (double)(by->pairs - 1), 1.0));
    const double ten = reference - inverse(by->reference_c + 10.0);
    const double half = WW__DEVELOP_95 * by->slope_sd * ten;
    by->factor_10 = (ww_quantity){exp(by->slope * ten), exp(by->slope * ten - half),
                                  exp(by->slope * ten + half), WW_FITTED};
}

static ww_quantity move(const ww_develop_temperature *by, ww_quantity time, double celsius) {
    const double x = inverse(celsius) - inverse(by->reference_c);
    const double factor = exp(by->slope * x), half = WW__DEVELOP_95 * by->slope_sd * fabs(x);
    if (!ww_quantity_present(time))
        return time;
    const double low = time.low > 0.0 ? hypot(log(time.value / time.low), half) : half;
    const double high = hypot(log(time.high / time.value), half);
    const double value = time.value * factor;
    return (ww_quantity){value, time.low > 0.0 ? value * exp(-low) : 0.0, value * exp(high),
                         time.how};
}

static void add_doubt(ww_development *plan, double celsius, double factor) {
    const ww_develop_temperature *by = &plan->by_temperature;
    const double x = inverse(celsius) - inverse(by->reference_c);
    for (size_t i = 0; i < plan->n_doubts; i++)
        plan->doubt[i].minutes *= factor;
    plan->doubt[plan->n_doubts++] = (ww_develop_doubt){
        "temperature", WW__DEVELOP_95 * by->slope_sd * fabs(x) * plan->time.value};
}

/* The time at each temperature that was developed at, coldest first. */
static void find_each(ww_development *plan) {
    ww_develop_temperature *by = &plan->by_temperature;
    double last = -DBL_MAX;
    while (by->n < WW_DEVELOP_TEMPERATURES) {
        double next = DBL_MAX;
        for (size_t i = 0; i < plan->n; i++)
            if (plan->row[i].temperature_c.value > last + apart)
                next = fmin(next, plan->row[i].temperature_c.value);
        if (next == DBL_MAX)
            return;
        by->at[by->n++] = (ww_develop_at){next, move(by, plan->time, next)};
        last = next;
    }
}

ww_status ww__develop_temperature(const ww_develop_request *request, ww_development *plan,
                                  ww_error *err) {
    ww_develop_temperature *by = &plan->by_temperature;
    const double wanted = request->temperature_c.value;
    (void)err;
    if (plan->temperature_c.set)
        find_slope(plan);
    if (by->known && ww_quantity_present(plan->time))
        find_each(plan);
    if (!request->temperature_c.set ||
        (plan->temperature_c.set && fabs(wanted - by->reference_c) < apart))
        return WW_OK;
    const double room = past * (by->most_c - by->least_c);
    plan->other_temperature =
        !by->known || wanted < by->least_c - room || wanted > by->most_c + room;
    if (plan->other_temperature) {
        plan->time = (ww_quantity)WW_QUANTITY_INIT;
        for (size_t i = 0; i < plan->n_ranges; i++)
            plan->range[i].time = (ww_quantity)WW_QUANTITY_INIT;
        plan->next_min =
            (ww_optional){plan->answer.place == WW_TIME_GAMMA_INSIDE, plan->answer.foreseen.value};
    } else {
        const double at_reference = plan->time.value;
        plan->time = move(by, plan->time, wanted);
        if (ww_quantity_present(plan->time))
            add_doubt(plan, wanted, plan->time.value / at_reference);
        for (size_t i = 0; i < plan->n_ranges; i++)
            plan->range[i].time = move(by, plan->range[i].time, wanted);
    }
    plan->temperature_c = (ww_optional){true, wanted};
    return WW_OK;
}
