/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double cc = 0.01;              /* [log H] of 1 CC */
static const double middle_density = 0.745; /* -log10 0.18 */

/* --- the next print --------------------------------------------------------------------------- */

static bool is_within(const ww_balance_tone *tone) {
    if (!tone->foretold)
        return false;
    for (size_t c = 0; c < COLOURS; c++)
        if (fabs(tone->predicted[c] - tone->aim[c]) > WW_BALANCE_WITHIN &&
            fabs(tone->left_cc[c]) > WW_BALANCE_WITHIN_CC)
            return false;
    return true;
}

/* One grey through the real curves, after acts; not foretold where a density leaves them. */
static void foretell(const ww__balance_work *work, size_t i, ww_balance_tone *tone) {
    const ww__balance_spot *spot = &work->spot[i];
    const ww_response *response = &work->plan->response;
    const ww_optional repeatability = work->request->repeatability;
    double log_h[COLOURS], moved[COLOURS * COLOURS], by[COLOURS][COLOURS];
    ww_response_change(response, work->act_set, log_h);
    ww_response_change_covariance(response, work->act_set, moved);
    for (size_t c = 0; c < COLOURS; c++) {
        log_h[c] += spot->log_h[c];
        tone->left_cc[c] = (spot->aim_log_h[c] - log_h[c]) / cc;
    }
    tone->foretold =
        work->plan->kind == WW_BALANCE_PRINT &&
        ww_layers_density(work->request->paper, log_h, tone->predicted, by, NULL) == WW_OK;
    for (size_t c = 0; c < COLOURS && tone->foretold; c++) {
        double sd = 0.0;
        for (size_t k = 0; k < COLOURS; k++) {
            sd = hypot(sd, by[c][k] * sqrt(moved[k * COLOURS + k]));
            sd = hypot(sd, by[c][k] *
                               hypot(spot->error[k], hypot(spot->curve_sd[k], spot->wedge_sd[k])));
        }
        tone->predicted_half[c] =
            WW__BALANCE_95 * hypot(sd, repeatability.set ? repeatability.value : 0.0);
    }
    tone->within = is_within(tone);
}

void ww__balance_burnt(const ww__balance_work *work, size_t i, const double log_h[]) {
    ww_balance_tone *tone = &work->plan->tone[i];
    for (size_t c = 0; c < COLOURS; c++)
        tone->left_cc[c] = (work->spot[i].aim_log_h[c] - log_h[c]) / cc;
    tone->foretold =
        ww_layers_density(work->request->paper, log_h, tone->predicted, NULL, NULL) == WW_OK;
    tone->within = is_within(tone);
}

/* --- greys against each other ----------------------------------------------------------------- */

/* How far the packs of two greys lie apart: a colour less green [CC]. */
static double apart(const ww_balance *plan, size_t a, size_t b, size_t colour, double *sd) {
    const ww_balance_tone *x = &plan->tone[a], *y = &plan->tone[b];
    *sd = sqrt(x->change_sd[colour] * x->change_sd[colour] +
               x->change_sd[WW_GREEN] * x->change_sd[WW_GREEN] +
               y->change_sd[colour] * y->change_sd[colour] +
               y->change_sd[WW_GREEN] * y->change_sd[WW_GREEN]) /
          cc;
    return (x->change[colour] - x->change[WW_GREEN] - y->change[colour] + y->change[WW_GREEN]) / cc;
}

static bool compared(const ww_balance *plan, size_t i) {
    return !plan->tone[i].burnt;
}

static bool find_middle(const ww_balance *plan, size_t *middle) {
    size_t n = 0;
    for (size_t i = 0; i < plan->n_tones; i++) {
        if (!compared(plan, i))
            continue;
        if (n++ == 0 || fabs(plan->tone[i].aim[WW_GREEN] - middle_density) <
                            fabs(plan->tone[*middle].aim[WW_GREEN] - middle_density))
            *middle = i;
    }
    return n > 1;
}

static bool any_apart(const ww_balance *plan) {
    for (size_t a = 0; a < plan->n_tones; a++)
        for (size_t b = 0; b < a; b++)
            for (size_t c = WW_RED; c <= WW_BLUE; c += 2) {
                double sd, by;
                if (!compared(plan, a) || !compared(plan, b))
                    continue;
                by = fabs(apart(plan, a, b, c, &sd));
                if (by > WW_BALANCE_CROSSOVER && by > WW__BALANCE_95 * sd)
                    return true;
            }
    return false;
}

void ww__balance_crossover(ww__balance_work *work) {
    ww_balance *plan = work->plan;
    ww_balance_crossover found = {.channel = WW_RED};
    if (plan->kind != WW_BALANCE_PRINT || !find_middle(plan, &found.middle))
        return;
    found.known = true;
    found.tone = found.middle;
    for (size_t i = 0; i < plan->n_tones; i++)
        for (size_t c = WW_RED; c <= WW_BLUE && compared(plan, i); c += 2) {
            double sd;
            const double by = i == found.middle ? 0.0 : apart(plan, i, found.middle, c, &sd);
            if (fabs(by) <= fabs(found.worst_cc))
                continue;
            found.worst_cc = by;
            found.doubt_cc = WW__BALANCE_95 * sd;
            found.tone = i;
            found.channel = (ww_channel)c;
        }
    found.found = any_apart(plan);
    plan->crossover = found;
    plan->holds = plan->holds && !found.found;
}

ww_status ww__balance_foretell(ww__balance_work *work, ww_error *err) {
    (void)err;
    for (size_t i = 0; i < work->plan->n_tones; i++)
        foretell(work, i, &work->plan->tone[i]);
    ww__balance_crossover(work);
    return WW_OK;
}
