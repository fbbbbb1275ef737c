/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/three.h"
#include <assert.h>
#include <math.h>
#include <string.h>
#include <wedgework/layers.h>

enum { LAYERS = WW_LAYERS, ROUNDS_MOST = 40 };

/* [channel][cyan, magenta, yellow] */
static const double dye[LAYERS][LAYERS] = {
    {1.00, 0.05, 0.00}, {0.15, 1.00, 0.05}, {0.10, 0.20, 1.00}};

static const double dye_sd[LAYERS][LAYERS] = {
    {0.00, 0.04, 0.01}, {0.08, 0.00, 0.06}, {0.05, 0.06, 0.00}};

static const double near_enough = 1e-9; /* [D] */
static const double step_most = 0.2;    /* [log H] of one round, for curves bend */

/* What a layer's dye comes to at a log exposure, and how fast. */
static ww_status dye_of(const ww_curve *paper, const double share[LAYERS], double log_h,
                        double *amount, double *slope, ww_error *err) {
    *amount = *slope = 0.0;
    for (int c = 0; c < LAYERS; c++) {
        double density, rise;
        const ww_status status = ww_curve_density(&paper->channel[c], log_h, &density, &rise, err);
        if (status != WW_OK)
            return status;
        *amount += share[c] * density;
        *slope += share[c] * rise;
    }
    return WW_OK;
}

ww_status ww_layers_density(const ww_curve *paper, const double log_h[LAYERS],
                            double density[LAYERS], double by[LAYERS][LAYERS], ww_error *err) {
    double dyes[LAYERS][LAYERS], share[LAYERS][LAYERS], made[LAYERS] = {0.0};
    assert(paper && log_h && density);
    memcpy(dyes, dye, sizeof dyes);
    (void)ww__three_invert(dyes, share);
    for (int k = 0; k < LAYERS; k++) {
        double amount, slope;
        const ww_status status = dye_of(paper, share[k], log_h[k], &amount, &slope, err);
        if (status != WW_OK)
            return status;
        for (int c = 0; c < LAYERS; c++) {
            made[c] += dye[c][k] * amount;
            if (by)
                by[c][k] = dye[c][k] * slope;
        }
    }
    memcpy(density, made, sizeof made);
    return WW_OK;
}

static ww_status no_layers(ww_error *err) {
    return ww_error_set(err, WW_ENODATA,
                        "no light of the paper's three layers within its measured curves gives "
                        "these densities; take a grey with less of a cast");
}

/* One round of Newton's method; *off is what was left before it [D]. */
static bool improve(const ww_curve *paper, const double density[LAYERS], double log_h[LAYERS],
                    double turn[LAYERS][LAYERS], double *off) {
    double made[LAYERS], by[LAYERS][LAYERS];
    *off = 0.0;
    if (ww_layers_density(paper, log_h, made, by, NULL) != WW_OK ||
        ww__three_invert(by, turn) == 0.0)
        return false;
    for (int c = 0; c < LAYERS; c++)
        *off = fmax(*off, fabs(density[c] - made[c]));
    for (int k = 0; k < LAYERS; k++) {
        double step = 0.0;
        for (int c = 0; c < LAYERS; c++)
            step += turn[k][c] * (density[c] - made[c]);
        step = fmax(fmin(step, step_most), -step_most);
        log_h[k] = fmax(fmin(log_h[k] + step, paper->channel[k].domain_high),
                        paper->channel[k].domain_low);
    }
    return isfinite(*off);
}

ww_status ww_layers_log_h(const ww_curve *paper, const double density[LAYERS], double log_h[LAYERS],
                          double turn[LAYERS][LAYERS], ww_error *err) {
    double at[LAYERS], made[LAYERS][LAYERS], off = HUGE_VAL;
    assert(paper && density && log_h && turn);
    for (int c = 0; c < LAYERS; c++)
        if (ww_curve_log_h(&paper->channel[c], density[c], &at[c], NULL) != WW_OK)
            return no_layers(err);
    for (int round = 0; round < ROUNDS_MOST && off > near_enough; round++)
        if (!improve(paper, density, at, made, &off))
            return no_layers(err);
    if (off > near_enough)
        return no_layers(err);
    memcpy(log_h, at, sizeof at);
    memcpy(turn, made, sizeof made);
    return WW_OK;
}

/* Of dye k, how much more there is than where its layer had got the light of channel c; *linear is
 * what slopes at a reference make of the way from there. */
static bool beyond_grey(const ww_curve *paper, const double share[LAYERS],
                        const double log_h[LAYERS], const double reference[LAYERS], int k, int c,
                        double *beyond, double *linear) {
    const double at[] = {log_h[k], log_h[c]}, from[] = {reference[k], reference[c]};
    *beyond = *linear = 0.0;
    for (int i = 0; i < 2; i++) {
        const double sign = i == 0 ? 1.0 : -1.0;
        double has, had, slope;
        if (dye_of(paper, share, at[i], &has, &slope, NULL) != WW_OK ||
            dye_of(paper, share, from[i], &had, &slope, NULL) != WW_OK)
            return false;
        *beyond += sign * (has - had);
        *linear += sign * slope * (at[i] - from[i]);
    }
    return true;
}

static bool turn_at(const ww_curve *paper, const double log_h[LAYERS],
                    double turn[LAYERS][LAYERS]) {
    double density[LAYERS], by[LAYERS][LAYERS];
    return ww_layers_density(paper, log_h, density, by, NULL) == WW_OK &&
           ww__three_invert(by, turn) != 0.0;
}

void ww_layers_dye_sd(const ww_curve *paper, const double log_h[LAYERS],
                      const double reference[LAYERS], double sd[LAYERS]) {
    double dyes[LAYERS][LAYERS], share[LAYERS][LAYERS];
    double turn[LAYERS][LAYERS], turn_there[LAYERS][LAYERS];
    assert(paper && log_h && reference && sd);
    memcpy(dyes, dye, sizeof dyes);
    (void)ww__three_invert(dyes, share);
    for (int c = 0; c < LAYERS; c++)
        sd[c] = 0.0;
    if (!turn_at(paper, log_h, turn) || !turn_at(paper, reference, turn_there))
        return;
    for (int c = 0; c < LAYERS; c++)
        for (int k = 0; k < LAYERS; k++) {
            double beyond, linear;
            if (!beyond_grey(paper, share[k], log_h, reference, k, c, &beyond, &linear))
                continue;
            for (int layer = 0; layer < LAYERS; layer++)
                sd[layer] = hypot(sd[layer], dye_sd[c][k] * (turn[layer][c] * beyond -
                                                             turn_there[layer][c] * linear));
        }
}
