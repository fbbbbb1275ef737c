/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/fit.h>

/*
 * A paper between two that were measured reaches each share of its range at a log exposure between
 * theirs. Points of that are fitted as any paper's readings are, so that the rest of the plan need
 * not know the difference.
 */
enum { POINTS = 33, STEP_SIZE = 8 };
static const double most_left = 0.01;     /* [D] rms that the fit may leave */
static const double ends_left_out = 1e-3; /* share of the common range */

/* Readings for the fit, all in one place. */
typedef struct table {
    ww_readings readings;
    ww_row row[POINTS + 1];
    char step[POINTS + 1][STEP_SIZE];
} table;

static void add_row(table *t, double log_h, double density) {
    static char none[] = "";
    const size_t i = t->readings.n++;
    snprintf(t->step[i], sizeof t->step[i], i == 0 ? "base" : "%zu", i);
    t->row[i] = (ww_row){.step = t->step[i],
                         .tone = none,
                         .pack = none,
                         .is_base = i == 0,
                         .exposure = {i > 0, log_h}};
    t->row[i].cell[WW_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = density, .n = 1};
}

bool ww__print_between_shares(const ww__print_sheet *a, const ww__print_sheet *b, double *low,
                              double *high) {
    *low = fmax(a->lightest / a->dmax, b->lightest / b->dmax);
    *high = fmin(a->darkest / a->dmax, b->darkest / b->dmax);
    return *low < *high;
}

/* Shares of the range over which both were measured, close together at both ends. */
static bool fill(const ww__print_between *between, table *t) {
    const ww__print_sheet *a = between->one, *b = between->two;
    const double white = a->white + between->way * (b->white - a->white);
    const double dmax = a->dmax + between->way * (b->dmax - a->dmax);
    double low = 0.0, high = 0.0;
    if (!ww__print_between_shares(a, b, &low, &high))
        return false;
    const double from = low + ends_left_out * (high - low);
    const double to = high - ends_left_out * (high - low);
    t->readings = (ww_readings){.row = t->row, .exposure = WW_EXPOSURE_LOG_H};
    t->readings.has[WW_VISUAL] = true;
    add_row(t, 0.0, white);
    for (size_t i = 0; i < POINTS; i++) {
        const double turn = 3.14159265358979323846 * (double)i / (POINTS - 1);
        const double share = from + (to - from) * 0.5 * (1.0 - cos(turn));
        double log_h = 0.0;
        if (!between->log_h(between, share, &log_h))
            return false;
        add_row(t, log_h, white + share * dmax);
    }
    return true;
}

/* What is known of both is known of what lies between. */
static void take_meta(const ww__print_sheet *a, ww_curve *curve) {
    const ww_meta *from = &a->curve->meta;
    curve->meta.material = WW_MATERIAL_PAPER;
    curve->meta.status = from->status;
    curve->meta.exposure_unit = from->exposure_unit;
    curve->meta.read = from->read;
    curve->meta.exposed_by = from->exposed_by;
    curve->meta.wedge = from->wedge;
    curve->meta.wedge_sd = from->wedge_sd;
    curve->meta.log_h0 = from->log_h0;
    curve->meta.log_h0_sd = from->log_h0_sd;
    curve->meta.exposure_time_s = from->exposure_time_s;
    curve->exposure = a->curve->exposure;
}

/* A fit of the points, good enough to stand for them. `made` is false where it is not. */
static ww_status fit_points(const table *t, const ww_fit_options *options, ww_curve *curve,
                            bool *made, ww_error *err) {
    const ww_channel_curve *channel = &curve->channel[WW_VISUAL];
    const ww_status status = ww_fit_readings(&t->readings, options, curve, err);
    *made = status == WW_OK && channel->fitted && channel->residual_rms <= most_left;
    if (status == WW_OK && !*made)
        ww_curve_release(curve);
    return status == WW_EMEMORY ? status : WW_OK;
}

/* Between two of one model lies most often another of it; else the points choose. */
static ww_status fit_table(const table *t, const ww__print_sheet *a, const ww__print_sheet *b,
                           ww_curve *curve, bool *made, ww_error *err) {
    ww_fit_options options = {.resamples = 0, .seed = 1, .threads = 1};
    ww_status status = WW_OK;
    *made = false;
    options.model = a->channel->shape.model;
    options.model_given = options.model == b->channel->shape.model;
    if (options.model_given)
        status = fit_points(t, &options, curve, made, err);
    options.model_given = false;
    return status == WW_OK && !*made ? fit_points(t, &options, curve, made, err) : status;
}

ww_status ww__print_between_fit(const ww__print_between *between, ww_curve *curve, bool *made,
                                ww_error *err) {
    table *t = calloc(1, sizeof *t);
    ww_status status = WW_OK;
    *made = false;
    if (!t)
        return ww_error_set(err, WW_EMEMORY, "no memory for a paper between two");
    if (fill(between, t))
        status = fit_table(t, between->one, between->two, curve, made, err);
    free(t);
    if (!*made)
        return status;
    ww_channel_curve *channel = &curve->channel[WW_VISUAL];
    /* How far the points lie off the fit says nothing of how well they are known. */
    free(channel->covariance);
    channel->covariance = NULL;
    take_meta(between->one, curve);
    return WW_OK;
}

double ww__print_between_width(const ww__print_sheet *sheet, double log_h) {
    return sheet->splits ? ww__print_split_width(sheet, log_h)
                         : ww__print_halves_width(sheet, log_h);
}
