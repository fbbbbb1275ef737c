/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_CURVE_SAMPLE_H
#define WEDGEWORK_TESTS_CURVE_SAMPLE_H

#include "support/support.h"
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve.h>

/* A curve with something in every member, for going out and coming back; no material is like it. */

static inline char *copy_of(const char *text) {
    char *copy = malloc(strlen(text) + 1);
    assert_non_null(copy);
    return strcpy(copy, text);
}

/* Numbers that no short decimal holds. */
static inline double awkward(size_t i) {
    return (double)(i + 1) * 0.1 + sqrt((double)i + 2.0) / 3.0;
}

static inline ww_quantity quantity(size_t i) {
    const double value = awkward(i);
    return (ww_quantity){value, value - 1.0 / 7.0, value + 1.0 / 9.0,
                         (ww_how)(WW_MEASURED + i % 4)};
}

static inline void fill_meta(ww_meta *meta) {
    *meta = (ww_meta){.name = copy_of("a \"quoted\" n\xC3\xA4me\\ with\ta tab"),
                      .contrast = copy_of("2\xC2\xBD"),
                      .pack = copy_of("60Y45M"),
                      .lot = copy_of(""),
                      .date = copy_of("a Tuesday"),
                      .material = WW_MATERIAL_PAPER,
                      .process = WW_PROCESS_REVERSAL,
                      .density = WW_DENSITY_REFLECTION,
                      .status = WW_STATUS_PRINTING,
                      .relative = WW_RELATIVE_WHITE,
                      .exposure_unit = WW_UNIT_SECOND,
                      .emulsion = WW_EMULSION_COLOUR_REVERSAL,
                      .grain = WW_GRAIN_STAINED,
                      .wedge = WW_WEDGE_CERTIFIED,
                      .exposed_by = WW_EXPOSED_PROJECTION,
                      .read = WW_READ_WET,
                      .log_h0 = {true, -0.1 - 0.2},
                      .log_h0_sd = {true, 0.0},
                      .exposure_time_s = {true, 1.0 / 3.0},
                      .development_time_min = {true, 8.1},
                      .temperature_c = {true, -0.0},
                      .wedge_sd = {true, 0.007},
                      .aperture = {true, 5.6},
                      .scale = {true, 4.7}};
}

static inline void fill_points(ww_channel_curve *channel, size_t n) {
    channel->point = calloc(n, sizeof *channel->point);
    assert_non_null(channel->point);
    channel->n_points = n;
    for (size_t i = 0; i < n; i++) {
        ww_curve_point *point = &channel->point[i];
        point->step = copy_of(i % 3 ? "repeated label" : "");
        point->log_h = -3.0 + awkward(i) / 3.0;
        point->state = i == 4 ? WW_CELL_OVER : i == 5 ? WW_CELL_MISSING : WW_CELL_VALUE;
        point->density = point->state == WW_CELL_VALUE ? awkward(i) / 2.0 : 0.0;
        point->sd = (ww_optional){i % 2 == 1, i % 2 == 1 ? awkward(i) / 300.0 : 0.0};
        point->n = i;
        point->cut = i >= 6;
        point->moved = i >= 5 ? -0.15 : 0.0;
    }
}

static inline void fill_channel(ww_channel_curve *channel, ww_model_kind model, size_t n) {
    channel->present = channel->fitted = true;
    channel->shape.model = model;
    channel->shape.falling = model == WW_MODEL_SPLINE;
    channel->shape.n = n;
    for (size_t i = 0; i < n; i++)
        channel->shape.parameter[i] = awkward(i);
    if (model == WW_MODEL_SPLINE) {
        channel->shape.knot_low = -awkward(7);
        channel->shape.knot_high = awkward(3);
    }
    channel->covariance = calloc(n * n, sizeof *channel->covariance);
    assert_non_null(channel->covariance);
    for (size_t i = 0; i < n * n; i++)
        channel->covariance[i] = (i % 2 ? -1e-9 : 1e-5) * awkward(i);
    for (size_t i = 0; i < n; i++)
        channel->covariance[i * n + i] = i == 0 ? DBL_TRUE_MIN : awkward(i) * 1e-6;
    channel->domain_low = -3.0 + 1e-15;
    channel->domain_high = 0.1 + 0.2;
    fill_points(channel, 8);
    channel->residual_sd = 0.1 / 17.0;
    channel->residual_rms = 0.1 / 19.0;
    channel->suspect = calloc(2, sizeof *channel->suspect);
    assert_non_null(channel->suspect);
    channel->n_suspects = 2;
    channel->suspect[0] = (ww_suspect){2, -0.1 / 3.0, WW_CAUSE_SKIPPED};
    channel->suspect[1] = (ww_suspect){1, 1e-17, WW_CAUSE_UNKNOWN};
    for (size_t f = 0; f < WW_FIGURE_COUNT; f++) {
        channel->figure[f] = quantity(f);
        channel->construction.value[f] = channel->figure[f].value;
        channel->construction.how[f] = channel->figure[f].how;
    }
    channel->construction.gradient_from = -2.0 / 3.0; /* falling: from the greater log H */
    channel->construction.gradient_to = -2.1;
    channel->construction.run_from = 0.7 / 3.0;
    channel->construction.run_to = 0.8 / 3.0;
    channel->construction.run_density_from = 1.3 / 7.0;
    channel->construction.index_centre = -2.4 / 7.0;
    channel->construction.index_from = -2.2 / 7.0;
    channel->construction.index_to = -0.5 / 7.0;
    channel->construction.range_from = -2.2 / 9.0;
    channel->construction.range_to = 0.4 / 9.0;
    channel->construction.iso_from = 0.1 / 7.0;
    channel->construction.iso_to = 1.1 / 7.0;
}

static inline void fill_curve(ww_curve *curve) {
    ww_channel_curve *bare = &curve->channel[WW_VISUAL];
    fill_meta(&curve->meta);
    fill_channel(&curve->channel[WW_RED], WW_MODEL_TOE_LINE_SHOULDER, 6);
    fill_channel(&curve->channel[WW_GREEN], WW_MODEL_LOGISTIC, 5);
    fill_channel(&curve->channel[WW_BLUE], WW_MODEL_SPLINE, 24);
    curve->exposure = WW_EXPOSURE_STOP;
    curve->channel[WW_GREEN].figure[WW_FIGURE_GAMMA] = (ww_quantity)WW_QUANTITY_INIT;
    bare->present = true;
    fill_points(bare, 3);
    bare->figure[WW_FIGURE_BASE_FOG] = quantity(0);
    curve->speed = (ww_speed){.standard = WW_SPEED_ISO_2240,
                              .exact = quantity(11),
                              .arithmetic = 0,
                              .degrees = -3,
                              .density_difference = {true, 0.78 / 7.0},
                              .condition_met = true,
                              .delta_x = {true, 100.0 / 7.0}};
    curve->crossover = (ww_crossover){.found = true,
                                      .worst_cc = quantity(5),
                                      .channel = WW_RED,
                                      .at = 0.1 / 3.0,
                                      .from = -1.0 / 3.0,
                                      .to = 2.0 / 3.0,
                                      .middle = 0.2 / 3.0};
    assert_int_equal(ww_notes_add(&curve->notes, NULL, "100 %% of \"it\" was\nread."), WW_OK);
    assert_int_equal(ww_notes_add(&curve->notes, NULL, "Invented."), WW_OK);
}

#endif
