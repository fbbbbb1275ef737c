/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void develop_case_start(develop_case *c, double infinity, double rate, double start) {
    c->n = 0;
    c->infinity = infinity;
    c->rate = rate;
    c->start = start;
}

double develop_case_contrast(const develop_case *c, double time_min) {
    return c->infinity * (1.0 - exp(-c->rate * (time_min - c->start)));
}

double develop_case_time(const develop_case *c, double contrast) {
    return c->start - log(1.0 - contrast / c->infinity) / c->rate;
}

static ww_quantity about(double value, double half) {
    return (ww_quantity){value, value - half, value + half, WW_FITTED};
}

ww_curve *develop_case_add(develop_case *c, double time_min, double half, double factor) {
    assert_true(c->n < DEVELOP_CASE_MOST);
    ww_curve *curve = &c->curve[c->n];
    ww_channel_curve *channel = &curve->channel[WW_VISUAL];
    const double contrast = factor * develop_case_contrast(c, time_min);
    *curve = (ww_curve)WW_CURVE_INIT;
    curve->meta.material = WW_MATERIAL_FILM;
    curve->meta.emulsion = WW_EMULSION_BLACK_AND_WHITE;
    curve->meta.development_time_min = (ww_optional){true, time_min};
    curve->meta.temperature_c = (ww_optional){true, 20.0};
    curve->exposure = WW_EXPOSURE_LOG_H;
    *channel = (ww_channel_curve){
        .present = true,
        .fitted = true,
        .shape = {.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.2, contrast, -2.0, 0.1}},
        .domain_low = -3.2,
        .domain_high = 0.9};
    channel->covariance = calloc(16, sizeof *channel->covariance);
    assert_non_null(channel->covariance);
    for (size_t i = 0; i < 4; i++)
        channel->covariance[i * 4 + i] = i == 1 ? pow(half / 1.959963984540054, 2.0) : 1e-8;
    channel->figure[WW_FIGURE_GAMMA] = about(contrast, half);
    channel->figure[WW_FIGURE_AVERAGE_GRADIENT] = about(contrast, half);
    channel->figure[WW_FIGURE_CONTRAST_INDEX] = about(contrast, half);
    channel->figure[WW_FIGURE_BASE_FOG] = about(0.2, 0.01);
    channel->figure[WW_FIGURE_BASE_FOG].how = WW_MEASURED;
    channel->figure[WW_FIGURE_SPEED_POINT] = about(-1.9 - 0.02 * time_min, 0.02);
    (void)snprintf(c->file[c->n], sizeof c->file[c->n], "strips/%zu.json", c->n);
    c->input[c->n] = (ww_develop_input){curve, c->file[c->n]};
    c->n++;
    return curve;
}

void develop_case_end(develop_case *c) {
    for (size_t i = 0; i < c->n; i++)
        ww_curve_release(&c->curve[i]);
    c->n = 0;
}
