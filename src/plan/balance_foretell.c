/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double cc = 0.01; /* [log H] of 1 CC */

/* Beyond its doubt, in both measures. */
static bool is_within(const ww_balance_tone *tone) {
    bool within = tone->foretold;
    for (size_t c = 0; c < COLOURS && within; c++)
        within = fabs(tone->predicted[c] - tone->aim[c]) + tone->predicted_half[c] <=
                     WW_BALANCE_WITHIN &&
                 fabs(tone->left_cc[c]) + tone->left_half_cc[c] <= WW_BALANCE_WITHIN_CC;
    return within;
}

void ww__balance_light_sd(const ww__balance_work *work, size_t i, bool against_aim,
                          double sd[COLOURS]) {
    const ww__balance_spot *spot = &work->spot[i];
    double moved[COLOURS * COLOURS];
    ww_response_change_covariance(&work->plan->response, work->act_set, moved);
    for (size_t k = 0; k < COLOURS; k++)
        sd[k] = hypot(hypot(sqrt(moved[k * COLOURS + k]),
                            hypot(spot->error[k], against_aim ? spot->aim_error[k] : 0.0)),
                      hypot(spot->dye_sd[k], hypot(spot->curve_sd[k], spot->wedge_sd[k])));
}

/* Half-widths of a grey that is foretold, by what its light is off by. */
static void doubt_tone(const ww__balance_work *work, double by[COLOURS][COLOURS],
                       const double light[COLOURS], ww_balance_tone *tone) {
    for (size_t c = 0; c < COLOURS && tone->foretold; c++) {
        double sd = work->scatter;
        for (size_t k = 0; k < COLOURS; k++)
            sd = hypot(sd, by[c][k] * light[k]);
        tone->predicted_half[c] = WW__BALANCE_95 * sd;
        tone->left_half_cc[c] =
            WW__BALANCE_95 * hypot(light[c], work->scatter / fabs(by[c][c])) / cc;
    }
    tone->within = is_within(tone);
}

/* One grey through the real curves, after acts; not foretold where a density leaves them. */
static void foretell(const ww__balance_work *work, size_t i, ww_balance_tone *tone) {
    const ww__balance_spot *spot = &work->spot[i];
    const ww_response *response = &work->plan->response;
    double log_h[COLOURS], by[COLOURS][COLOURS], light[COLOURS];
    ww_response_change(response, work->act_set, log_h);
    for (size_t c = 0; c < COLOURS; c++) {
        log_h[c] += spot->log_h[c];
        tone->left_cc[c] = (spot->aim_log_h[c] - log_h[c]) / cc;
    }
    tone->foretold =
        work->plan->kind == WW_BALANCE_PRINT &&
        ww_layers_density(work->request->paper, log_h, tone->predicted, by, NULL) == WW_OK;
    ww__balance_light_sd(work, i, false, light);
    doubt_tone(work, by, light, tone);
}

void ww__balance_burnt(const ww__balance_work *work, size_t i, const double log_h[],
                       const double sd[]) {
    double by[COLOURS][COLOURS];
    ww_balance_tone *tone = &work->plan->tone[i];
    for (size_t c = 0; c < COLOURS; c++)
        tone->left_cc[c] = (work->spot[i].aim_log_h[c] - log_h[c]) / cc;
    tone->foretold =
        ww_layers_density(work->request->paper, log_h, tone->predicted, by, NULL) == WW_OK;
    doubt_tone(work, by, sd, tone);
}

ww_status ww__balance_foretell(ww__balance_work *work, ww_error *err) {
    (void)err;
    for (size_t i = 0; i < work->plan->n_tones; i++)
        foretell(work, i, &work->plan->tone[i]);
    return WW_OK;
}
