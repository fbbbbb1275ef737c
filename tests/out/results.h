/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_OUT_RESULTS_H
#define WEDGEWORK_TESTS_OUT_RESULTS_H

#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve.h>
#include <wedgework/print.h>

/* Results made by hand, for tests that show them. All names and numbers are invented. */

/* What a name from outside may hold: quotes, a shell's and gnuplot's own signs, an escape sequence,
 * markup, bytes that are no UTF-8. */
#define HOSTILE                                                                                    \
    "'; system(\"touch pwned\") # `touch pwned` @{x}^2_3 \n!touch pwned\n\x1b[31m <b>&\xff"

static inline char *copy(const char *string) {
    char *made = malloc(strlen(string) + 1);
    assert_non_null(made);
    return strcpy(made, string);
}

static inline ww_optional given(double value) {
    return (ww_optional){true, value};
}

static inline ww_quantity between(double value, double low, double high) {
    return (ww_quantity){value, low, high, WW_FITTED};
}

/* The five-parameter logistic D = base + range / (1 + e^(-slope (x - middle))): asymmetry 1. */
static inline ww_shape logistic(double base, double range, double slope, double middle) {
    return (ww_shape){
        .model = WW_MODEL_LOGISTIC, .n = 5, .parameter = {base, range, slope, middle, 1.0}};
}

static inline void add_point(ww_channel_curve *channel, const char *step, double log_h,
                             double density) {
    channel->point = realloc(channel->point, (channel->n_points + 1) * sizeof *channel->point);
    assert_non_null(channel->point);
    channel->point[channel->n_points++] = (ww_curve_point){
        .step = copy(step), .log_h = log_h, .density = density, .n = 1, .state = WW_CELL_VALUE};
}

static inline void add_suspect(ww_channel_curve *channel, size_t point, double residual,
                               ww_cause cause) {
    channel->suspect =
        realloc(channel->suspect, (channel->n_suspects + 1) * sizeof *channel->suspect);
    assert_non_null(channel->suspect);
    channel->point[point].density += residual;
    channel->suspect[channel->n_suspects++] = (ww_suspect){point, residual, cause};
}

/* A channel on its shape: n readings evenly from low to high, exactly on the curve, with figures
 * computed, each with an interval of +-0.02. */
static inline void make_channel(ww_curve *curve, ww_channel name, ww_shape shape, double low,
                                double high, size_t n) {
    ww_channel_curve *channel = &curve->channel[name];
    const ww_figure_rules rules = {.paper = curve->meta.material == WW_MATERIAL_PAPER,
                                   .reversal = shape.falling,
                                   .emulsion = curve->meta.emulsion,
                                   .exposure_unit = curve->meta.exposure_unit};
    *channel = (ww_channel_curve){.present = true,
                                  .fitted = true,
                                  .shape = shape,
                                  .domain_low = low,
                                  .domain_high = high,
                                  .residual_sd = 0.0074};
    for (size_t i = 0; i < n; i++) {
        char step[32];
        const double log_h = low + (high - low) * (double)i / (double)(n - 1);
        snprintf(step, sizeof step, "%zu", i + 1);
        add_point(channel, step, log_h, ww_model_density(&shape, log_h, NULL));
    }
    assert_int_equal(ww_figure_compute(&shape, low, high, shape.parameter[0], &rules,
                                       &channel->construction, NULL),
                     WW_OK);
    for (int f = 0; f < WW_FIGURE_COUNT; f++) {
        const double value = channel->construction.value[f];
        channel->figure[f] =
            (ww_quantity){value, value - 0.02, value + 0.02, channel->construction.how[f]};
    }
}

#define FILM_SLOPE 1.93
#define FILM_MIDDLE (-1.17)

static inline ww_curve make_film(void) {
    ww_curve curve = WW_CURVE_INIT;
    curve.meta.name = copy("Lantern 100");
    curve.meta.material = WW_MATERIAL_FILM;
    curve.meta.emulsion = WW_EMULSION_BLACK_AND_WHITE;
    curve.meta.exposure_unit = WW_UNIT_LUX_SECOND;
    make_channel(&curve, WW_VISUAL, logistic(0.27, 2.1, FILM_SLOPE, FILM_MIDDLE), -3.31, 0.83, 21);
    return curve;
}

static inline ww_curve make_colour(void) {
    ww_curve curve = WW_CURVE_INIT;
    curve.meta.material = WW_MATERIAL_FILM;
    make_channel(&curve, WW_RED, logistic(0.26, 1.9, 1.21, -0.71), -3.1, 0.9, 17);
    make_channel(&curve, WW_GREEN, logistic(0.64, 2.1, 1.23, -0.83), -3.1, 0.9, 17);
    make_channel(&curve, WW_BLUE, logistic(0.93, 2.3, 1.27, -0.91), -3.1, 0.9, 17);
    return curve;
}

static inline ww_curve make_paper(void) {
    ww_curve curve = WW_CURVE_INIT;
    curve.meta.name = copy("Quayside gloss");
    curve.meta.contrast = copy("2.5");
    curve.meta.material = WW_MATERIAL_PAPER;
    curve.meta.exposure_unit = WW_UNIT_SECOND;
    make_channel(&curve, WW_VISUAL, logistic(0.06, 1.97, 5.7, 0.93), -0.21, 2.03, 16);
    return curve;
}

/* A plan of one paper and its tones, on storage that the caller keeps. */
struct made_plan {
    ww_print_plan plan;
    ww_print_paper paper[2];
    ww_print_tone tone[5];
};

static inline void make_plan(struct made_plan *made) {
    static char gloss[] = "Quayside gloss", matt[] = "Quayside matt", two_half[] = "2.5",
                three[] = "3";
    static char cloud[] = "cloud", shadow[] = "shadow", jetty[] = "jetty", base[] = "base";
    static char why[] = "it takes 1.05 log H and the negative gives 1.02: they match.";
    *made = (struct made_plan){
        .tone = {{.tone = shadow, .negative = 0.352, .print = given(1.7049), .aim = given(1.70)},
                 {.tone = cloud,
                  .negative = 1.34,
                  .negative_thin = given(1.302),
                  .negative_dense = given(1.378),
                  .print = given(0.0481),
                  .print_thin = given(0.0612),
                  .print_dense = given(0.0396),
                  .aim = given(0.10),
                  .separation = given(0.041),
                  .separation_straight = given(0.0216),
                  .verdict = WW_VERDICT_BURN,
                  .burn_stops = given(1.31),
                  .burn_seconds = given(27.83)},
                 {.tone = jetty, .negative = 0.62, .print = given(1.25), .beyond = true},
                 {.tone = base, .base = true, .negative = 0.24}},
        .paper = {{.paper = gloss,
                   .contrast = two_half,
                   .holds = true,
                   .why = why,
                   .time_s = given(18.37),
                   .doubt_stops = given(0.17),
                   .paper_range = between(1.05, 1.02, 1.09),
                   .mismatch = 0.031,
                   .n_tones = 4,
                   .budget = {{"readings", 0.09}, {"paper fit", 0.13}, {"timer", 0.01}},
                   .n_budget = 3},
                  {.paper = matt,
                   .contrast = three,
                   .time_s = given(16.08),
                   .doubt_stops = given(0.26),
                   .paper_range = between(0.88, 0.86, 0.90),
                   .mismatch = -0.14}},
        .plan = {.holds = true,
                 .n_papers = 2,
                 .negative_range = between(1.02, 0.99, 1.05),
                 .dense_tone = cloud,
                 .thin_tone = shadow}};
    made->paper[0].tone = made->tone;
    made->plan.paper = made->paper;
}

/* Whether gnuplot can be had; says so where not. */
static inline bool have_gnuplot(void) {
    const char *path = getenv("PATH");
    while (path && *path) {
        const size_t n = strcspn(path, ":");
        char name[1024];
        FILE *file;
        snprintf(name, sizeof name, "%.*s/gnuplot", (int)n, path);
        file = fopen(name, "rb");
        if (file) {
            fclose(file);
            return true;
        }
        path += n + (path[n] == ':');
    }
    puts("skipped: gnuplot is not on PATH");
    return false;
}

#endif
