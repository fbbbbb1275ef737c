/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/develop_parts.h"
#include <math.h>
#include <stdlib.h>

static const double every = 0.05;    /* [log H] */
static const double mix_past = 0.35; /* share beyond a neighbour: contrasts scatter about the law */

/* The two curves that a time lies between, or the two at the end that it lies beyond. */
typedef struct neighbours {
    size_t a, b;  /* rows */
    double share; /* of b */
} neighbours;

static bool usable(const ww_develop_input input[], const size_t order[], const ww_development *plan,
                   size_t i) {
    const ww_develop_row *row = &plan->row[i];
    return !row->other_temperature && ww_quantity_present(row->speed_point) &&
           ww_quantity_present(row->base_fog) &&
           ww_quantity_present(row->contrast[plan->measure]) &&
           input[order[i]].curve->channel[row->channel].fitted;
}

static bool find(const ww_develop_input input[], const size_t order[], const ww_development *plan,
                 neighbours *found) {
    const double time = plan->answer.time.value;
    bool has_a = false, has_b = false;
    for (size_t i = 0; i < plan->n; i++) {
        const double at = plan->row[i].time_min;
        if (!usable(input, order, plan, i) || (has_b && at > plan->row[found->b].time_min))
            continue;
        if (!has_a) {
            found->a = i;
            has_a = true;
        } else if (at > plan->row[found->a].time_min) {
            if (has_b && plan->row[found->b].time_min < time)
                found->a = found->b;
            found->b = i;
            has_b = true;
        }
    }
    return has_a && has_b;
}

/* Contrasts are mixed as the curves are, so that the mixture has the contrast wanted; where the
 * two do not differ enough to tell, time says how. */
static double share_of(const ww_development *plan, const neighbours *found) {
    const ww_develop_row *a = &plan->row[found->a], *b = &plan->row[found->b];
    const ww_quantity one = a->contrast[plan->measure], other = b->contrast[plan->measure];
    const double by_time =
        log(plan->answer.time.value / a->time_min) / log(b->time_min / a->time_min);
    const double by_contrast = (plan->aim - one.value) / (other.value - one.value);
    const bool past = by_time < 0.0 || by_time > 1.0;
    if (other.low > one.high &&
        (past || (by_contrast >= -mix_past && by_contrast <= 1.0 + mix_past)))
        return by_contrast;
    return by_time;
}

static double net_at(const ww_channel_curve *channel, const ww_develop_row *row, double above) {
    return ww_model_density(&channel->shape, row->speed_point.value + above, NULL) -
           row->base_fog.value;
}

ww_status ww__develop_foretell(const ww_develop_input input[], const size_t order[],
                               ww_development *plan, ww_error *err) {
    neighbours found = {0, 0, 0.0};
    if (!plan->aimed || plan->answer.place != WW_TIME_GAMMA_INSIDE ||
        !ww_quantity_present(plan->speed_point) || !ww_quantity_present(plan->base_fog) ||
        !find(input, order, plan, &found))
        return WW_OK;
    found.share = share_of(plan, &found);
    const ww_develop_row *a = &plan->row[found.a], *b = &plan->row[found.b];
    const ww_channel_curve *one = &input[order[found.a]].curve->channel[a->channel];
    const ww_channel_curve *other = &input[order[found.b]].curve->channel[b->channel];
    const double at = plan->speed_point.value;
    double low =
        fmax(one->domain_low - a->speed_point.value, other->domain_low - b->speed_point.value);
    double high =
        fmin(one->domain_high - a->speed_point.value, other->domain_high - b->speed_point.value);
    low = fmax(low, fmin(one->domain_low, other->domain_low) - at);
    high = fmin(high, fmax(one->domain_high, other->domain_high) - at);
    if (!(high > low))
        return WW_OK;
    const size_t n = (size_t)ceil((high - low) / every) + 1;
    plan->foretold = calloc(n, sizeof *plan->foretold);
    if (!plan->foretold)
        return ww_error_set(err, WW_EMEMORY, "no memory for a curve of %zu points", n);
    plan->n_foretold = n;
    for (size_t i = 0; i < n; i++) {
        const double above = low + (high - low) * (double)i / (double)(n - 1);
        plan->foretold[i] = (ww_develop_point){
            at + above, plan->base_fog.value + (1.0 - found.share) * net_at(one, a, above) +
                            found.share * net_at(other, b, above)};
    }
    return WW_OK;
}
