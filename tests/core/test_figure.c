/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include "support/support.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/figure.h>

/* A softplus a1 ln(1 + e^(a2 (x - x0))) over base 0.25 is a toe-line with gamma a1 a2, softness
 * 1/a2. */
#define TOE_LINE(gamma, toe, softness)                                                             \
    {                                                                                              \
        .model = WW_MODEL_TOE_LINE, .n = WW__TOE_LINE_COUNT, .parameter = {                        \
            0.25,                                                                                  \
            gamma,                                                                                 \
            toe,                                                                                   \
            softness                                                                               \
        }                                                                                          \
    }
#define LOGISTIC(base, range, slope, middle)                                                       \
    {                                                                                              \
        .model = WW_MODEL_LOGISTIC, .n = WW__LOGISTIC_COUNT, .parameter = {                        \
            base,                                                                                  \
            range,                                                                                 \
            slope,                                                                                 \
            middle,                                                                                \
            1.0                                                                                    \
        }                                                                                          \
    }

static const ww_shape curve_a = TOE_LINE(0.25 * 2.8, -2.0, 1.0 / 2.8);
static const ww_shape curve_b = TOE_LINE(0.184483 * 4.0, -2.014623, 1.0 / 4.0);
static const ww_shape line_62 = TOE_LINE(0.62, -2.317, 1e-6);
static const ww_shape line_137 = TOE_LINE(1.37, -2.317, 1e-6);
static const ww_shape paper_105 = LOGISTIC(0.05, 2.0, 5.799090, 0.5);
static const ww_shape paper_110 = LOGISTIC(0.05, 2.0, 5.535495, 0.5);
static const ww_shape paper_90 = LOGISTIC(0.05, 2.0, 6.765605, 0.5);
static const ww_shape film_sigmoid = LOGISTIC(0.25, 2.4, 1.7, -1.3);

static const ww_figure_rules film = {.emulsion = WW_EMULSION_BLACK_AND_WHITE,
                                     .exposure_unit = WW_UNIT_LUX_SECOND};
static const ww_figure_rules layer = {.emulsion = WW_EMULSION_COLOUR_NEGATIVE};
static const ww_figure_rules paper = {.paper = true, .exposure_unit = WW_UNIT_LUX_SECOND};
static const ww_figure_rules plain_paper = {.paper = true};
static const ww_figure_rules reversal = {.reversal = true, .emulsion = WW_EMULSION_COLOUR_REVERSAL};
static const ww_figure_rules reversal_paper = {
    .paper = true, .reversal = true, .exposure_unit = WW_UNIT_LUX_SECOND};

static double logit(double share) {
    return log(share / (1.0 - share));
}

static ww_figure_set compute(const char *row, const ww_shape *shape, double low, double high,
                             const ww_figure_rules *rules) {
    ww_figure_set set;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_figure_compute(shape, low, high, shape->parameter[0], rules, &set, &err),
                WW_OK, &err);
    return set;
}

typedef struct value_row {
    const char *name, *source;
    const ww_shape *shape;
    double low, high;
    const ww_figure_rules *rules;
    ww_figure figure;
    ww_how how;
    double value, tolerance;
} value_row;

#define SOFTPLUS "closed form of the softplus"
#define LINE "closed form: every gradient of a straight line is its slope"
#define ISO_6846 "ISO 6846 criteria on a logistic, closed form"

static const value_row values[] = {
    {"A: speed point", SOFTPLUS, &curve_a, -4, 1, &film, WW_FIGURE_SPEED_POINT, WW_FITTED,
     -2.253440, 6e-7},
    {"A: average gradient", SOFTPLUS ", 1.50 log H from net 0.10", &curve_a, -4, 1, &film,
     WW_FIGURE_AVERAGE_GRADIENT, WW_FITTED, 0.520067, 6e-7},
    {"A: contrast index", "three-point rule on a softplus, computed apart", &curve_a, -4, 1, &film,
     WW_FIGURE_CONTRAST_INDEX, WW_FITTED, 0.538500, 6e-7},
    {"A: base+fog", "definition", &curve_a, -4, 1, &film, WW_FIGURE_BASE_FOG, WW_FITTED, 0.25, 0},
    {"A: exposure range to the last step", SOFTPLUS, &curve_a, -4, 1, &film,
     WW_FIGURE_EXPOSURE_RANGE, WW_MEASURED, 3.253440, 6e-7},
    {"A: a layer's speed point", SOFTPLUS ": -2 + ln(e^0.6 - 1) / 2.8", &curve_a, -4, 1, &layer,
     WW_FIGURE_SPEED_POINT, WW_FITTED, -2.0699537030, 1e-9},
    {"A: gamma", SOFTPLUS ": the run from 0.95 of the last slope to the last step", &curve_a, -4, 1,
     &film, WW_FIGURE_GAMMA, WW_FITTED, 0.6934239948, 1e-9},
    {"A: toe", SOFTPLUS ": from the start of that run down to base+fog", &curve_a, -4, 1, &film,
     WW_FIGURE_TOE, WW_FITTED, -2.0285312108, 1e-9},
    {"B: speed point", SOFTPLUS, &curve_b, -4, 1, &film, WW_FIGURE_SPEED_POINT, WW_FITTED,
     -2.096910, 6e-7},
    {"B: average gradient", SOFTPLUS, &curve_b, -4, 1, &film, WW_FIGURE_AVERAGE_GRADIENT, WW_FITTED,
     0.631207, 6e-7},
    {"B: contrast index", "three-point rule on a softplus, computed apart", &curve_b, -4, 1, &film,
     WW_FIGURE_CONTRAST_INDEX, WW_FITTED, 0.649266, 6e-7},
    {"line 0.62: gamma", LINE, &line_62, -4, 1, &film, WW_FIGURE_GAMMA, WW_FITTED, 0.62, 1e-6},
    {"line 0.62: contrast index", LINE, &line_62, -4, 1, &film, WW_FIGURE_CONTRAST_INDEX, WW_FITTED,
     0.62, 1e-6},
    {"line 0.62: average gradient", LINE, &line_62, -4, 1, &film, WW_FIGURE_AVERAGE_GRADIENT,
     WW_FITTED, 0.62, 1e-6},
    {"line 1.37: contrast index", LINE, &line_137, -4, 1, &film, WW_FIGURE_CONTRAST_INDEX,
     WW_FITTED, 1.37, 1e-6},
    {"contrast index, last point just measured", "as A; its far point is -0.515439", &curve_a, -4,
     -0.5154, &film, WW_FIGURE_CONTRAST_INDEX, WW_FITTED, 0.538500, 6e-7},
    {"average gradient, last point just measured", "as A", &curve_a, -4, -0.75343, &film,
     WW_FIGURE_AVERAGE_GRADIENT, WW_FITTED, 0.520067, 6e-7},

    {"paper 105: ISO range", ISO_6846 ": 100 ln 441 / s", &paper_105, -3, 4, &paper,
     WW_FIGURE_ISO_RANGE, WW_FITTED, 105.0, 1e-4},
    {"paper 110: ISO range", ISO_6846, &paper_110, -3, 4, &paper, WW_FIGURE_ISO_RANGE, WW_FITTED,
     110.0, 1e-4},
    {"paper 90: ISO range", ISO_6846, &paper_90, -3, 4, &plain_paper, WW_FIGURE_ISO_RANGE,
     WW_FITTED, 90.0, 1e-4},
    {"paper 105: speed", ISO_6846 ": 1000 / H at net 0.60", &paper_105, -3, 4, &paper,
     WW_FIGURE_PAPER_SPEED, WW_FITTED, 442.70, 0.005},
    {"paper 105: speed point", ISO_6846 ": 0.5 - ln(7/3) / s", &paper_105, -3, 4, &paper,
     WW_FIGURE_SPEED_POINT, WW_FITTED, 0.353891, 6e-7},
    {"paper 105: average gradient", ISO_6846 ": (0.9 2.0 - 0.04) / 1.05", &paper_105, -3, 4, &paper,
     WW_FIGURE_AVERAGE_GRADIENT, WW_FITTED, 1.76 / 1.05, 1e-6},
    {"paper 105: D-max", ISO_6846, &paper_105, -3, 4, &paper, WW_FIGURE_DMAX, WW_FITTED, 2.05,
     1e-8},
};

static void published_values(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        const value_row *const r = &values[i];
        const ww_figure_set set = compute(r->name, r->shape, r->low, r->high, r->rules);
        test_close(r->name, set.value[r->figure], r->value, r->tolerance);
        test_true(r->name, set.how[r->figure] == r->how);
        test_true(r->name, set.reason[r->figure] == NULL);
    }
}

/* The construction of curve A's contrast index, computed apart with a bracketing solver. */
static void construction_of_the_index(void **state) {
    (void)state;
    const ww_figure_set set = compute("A", &curve_a, -4, 1, &film);
    test_close("centre", set.index_centre, -2.452444, 6e-7);
    test_close("near arc", set.index_from, -2.276353, 6e-7);
    test_close("far arc", set.index_to, -0.515439, 6e-7);
    test_close("gradient from", set.gradient_from, -2.253440, 6e-7);
    test_close("gradient to", set.gradient_to, -0.753440, 6e-7);
}

/*
 * A logistic of range R and slope k is steepest, R k / 4, at its middle, and its slope is
 * R k f (1 - f) at share f: every place has a closed form.
 */
static void sigmoid_in_closed_form(void **state) {
    (void)state;
    const double range = 2.4, k = 1.7, middle = -1.3, high = 2.5;
    const double half_run = 0.5 * sqrt(0.05), z = logit(0.5 + half_run);
    const double gamma = range * 2.0 * half_run / (2.0 * z / k);
    const double fifth_share = 0.5 + sqrt(0.25 - 0.2 * gamma / (range * k));
    const double foot = middle + logit(0.10 / range) / k;
    const ww_figure_set set = compute("sigmoid", &film_sigmoid, -4.1, high, &film);
    test_close("gamma", set.value[WW_FIGURE_GAMMA], gamma, 1e-9);
    test_close("run from", set.run_from, middle - z / k, 1e-8);
    test_close("run to", set.run_to, middle + z / k, 1e-8);
    test_close("density there", set.run_density_from, 0.25 + range * (0.5 - half_run), 1e-8);
    /* The line goes through the middle, by symmetry; D-max is the density of the last step. */
    const double top = range / (1.0 + exp(-k * (high - middle)));
    test_close("toe", set.value[WW_FIGURE_TOE], middle - 0.5 * range / gamma, 1e-8);
    test_close("shoulder", set.value[WW_FIGURE_SHOULDER], middle + (top - 0.5 * range) / gamma,
               1e-8);
    test_close("exposure range", set.value[WW_FIGURE_EXPOSURE_RANGE],
               middle + logit(fifth_share) / k - foot, 1e-8);
    test_true("on the shoulder", set.how[WW_FIGURE_EXPOSURE_RANGE] == WW_FITTED);
    test_close("range from", set.range_from, foot, 1e-9);
    test_close("density range", set.value[WW_FIGURE_DENSITY_RANGE], range * fifth_share - 0.10,
               1e-8);
    test_close("D-max", set.value[WW_FIGURE_DMAX], 0.25 + range / (1.0 + exp(-k * (high - middle))),
               1e-12);
}

/* Reversal: the points 0.20 and 2.00 over D-min (from memory), on a falling logistic. */
static void reversal_in_closed_form(void **state) {
    (void)state;
    ww_shape slide = LOGISTIC(0.14, 3.1, 3.3, 0.9);
    slide.falling = true;
    const double thin = -(0.9 + logit(0.20 / 3.1) / 3.3), dense = -(0.9 + logit(2.00 / 3.1) / 3.3);
    const ww_figure_set set = compute("slide", &slide, -3.0, 1.2, &reversal);
    test_close("speed point", set.value[WW_FIGURE_SPEED_POINT], thin, 1e-9);
    test_close("from", set.gradient_from, thin, 1e-9);
    test_close("to", set.gradient_to, dense, 1e-9);
    test_close("average gradient", set.value[WW_FIGURE_AVERAGE_GRADIENT], 1.8 / (thin - dense),
               1e-9);
    test_true("toe at more exposure than shoulder",
              set.value[WW_FIGURE_TOE] > set.value[WW_FIGURE_SHOULDER]);
}

static const ww_figure places[] = {WW_FIGURE_SPEED_POINT, WW_FIGURE_TOE, WW_FIGURE_SHOULDER};

static bool is_place(size_t figure) {
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++)
        if (places[i] == figure)
            return true;
    return false;
}

/* Mirrored axis: the same figures, places with the sign changed. */
static void mirrored_is_the_same(void **state) {
    (void)state;
    ww_shape mirrored = paper_105;
    mirrored.falling = true;
    const ww_figure_set a = compute("rising", &paper_105, -1.7, 2.9, &paper);
    const ww_figure_set b = compute("falling", &mirrored, -2.9, 1.7, &reversal_paper);
    for (size_t i = 0; i < WW_FIGURE_COUNT; i++) {
        const char *const key = ww_figure_key((ww_figure)i);
        test_true(key, a.how[i] == b.how[i]);
        if (i != WW_FIGURE_PAPER_SPEED)
            test_close(key, b.value[i], is_place(i) ? -a.value[i] : a.value[i], 1e-12);
    }
    test_close("speed from the mirrored point", b.value[WW_FIGURE_PAPER_SPEED],
               1e6 / a.value[WW_FIGURE_PAPER_SPEED], 1e-6);
    test_close("iso from", b.iso_from, -a.iso_from, 1e-12);
    test_close("range to", b.range_to, -a.range_to, 1e-12);
}

/* Shifting log H shifts the places and nothing else; shifting density shifts densities alone. */
static void shifts(void **state) {
    (void)state;
    static const double by = 0.731;
    ww_shape right = film_sigmoid, up = film_sigmoid;
    right.parameter[WW__LOGISTIC_MIDDLE] += by;
    up.parameter[0] += by;
    const ww_figure_set a = compute("plain", &film_sigmoid, -4.1, 2.5, &film);
    const ww_figure_set b = compute("right", &right, -4.1 + by, 2.5 + by, &film);
    const ww_figure_set c = compute("up", &up, -4.1, 2.5, &film);
    for (size_t i = 0; i < WW_FIGURE_COUNT; i++) {
        const char *const key = ww_figure_key((ww_figure)i);
        const bool density = i == WW_FIGURE_BASE_FOG || i == WW_FIGURE_DMAX;
        test_close(key, b.value[i], is_place(i) ? a.value[i] + by : a.value[i], 2e-9);
        test_close(key, c.value[i], density ? a.value[i] + by : a.value[i], 2e-9);
    }
}

typedef struct absent_row {
    const char *name;
    const ww_shape *shape;
    double low, high;
    const ww_figure_rules *rules;
    ww_figure figure;
    const char *word; /* that the reason must hold */
} absent_row;

static const ww_shape flat = TOE_LINE(0.002, -2.0, 0.2);
static const ww_shape slide_shape = {.model = WW_MODEL_LOGISTIC,
                                     .falling = true,
                                     .n = WW__LOGISTIC_COUNT,
                                     .parameter = {0.14, 3.1, 3.3, 0.9, 1.0}};

static const absent_row absents[] = {
    {"never leaves the toe", &curve_a, -4, -2.2, &film, WW_FIGURE_GAMMA, "more exposure"},
    {"never leaves the toe", &curve_a, -4, -2.2, &film, WW_FIGURE_TOE, "gamma"},
    {"never leaves the toe", &curve_a, -4, -2.2, &film, WW_FIGURE_SHOULDER, "gamma"},
    {"never leaves the toe", &curve_a, -4, -2.2, &film, WW_FIGURE_DMAX, "gamma"},
    {"begins above the toe", &curve_a, -1, 2, &film, WW_FIGURE_SPEED_POINT, "less exposure"},
    {"begins above the toe", &curve_a, -1, 2, &film, WW_FIGURE_AVERAGE_GRADIENT, "less exposure"},
    {"begins above the toe", &curve_a, -1, 2, &film, WW_FIGURE_CONTRAST_INDEX, "less exposure"},
    {"begins above the toe", &curve_a, -1, 2, &film, WW_FIGURE_EXPOSURE_RANGE, "less exposure"},
    {"begins above the toe", &curve_a, -1, 2, &film, WW_FIGURE_DENSITY_RANGE, "less exposure"},
    {"begins above the toe", &curve_a, -1, 2, &film, WW_FIGURE_TOE, "less exposure"},
    {"near arc before the steps", &curve_a, -2.27, 2, &film, WW_FIGURE_CONTRAST_INDEX,
     "less exposure"},
    {"far arc beyond the steps", &curve_a, -4, -0.5155, &film, WW_FIGURE_CONTRAST_INDEX,
     "more exposure"},
    {"never near net 0.2", &curve_a, -4, -2.4, &film, WW_FIGURE_CONTRAST_INDEX, "more exposure"},
    {"no net 0.10", &curve_a, -4, -2.4, &film, WW_FIGURE_SPEED_POINT, "more exposure"},
    {"no net 0.10", &curve_a, -4, -2.4, &film, WW_FIGURE_EXPOSURE_RANGE, "more exposure"},
    {"1.49 log H after net 0.10", &curve_a, -4, -0.764, &film, WW_FIGURE_AVERAGE_GRADIENT, "1.50"},
    {"no shoulder", &curve_a, -4, 1, &film, WW_FIGURE_SHOULDER, "more exposure"},
    {"no plateau", &curve_a, -4, 1, &film, WW_FIGURE_DMAX, "more exposure"},
    {"only the shoulder", &film_sigmoid, -1.2, 2.5, &film, WW_FIGURE_GAMMA, "less exposure"},
    {"no rise", &flat, -4, 0.5, &film, WW_FIGURE_GAMMA, "longer scale"},
    {"film", &curve_a, -4, 1, &film, WW_FIGURE_ISO_RANGE, "papers"},
    {"film", &curve_a, -4, 1, &film, WW_FIGURE_PAPER_SPEED, "papers"},
    {"paper", &paper_105, -3, 4, &paper, WW_FIGURE_CONTRAST_INDEX, "negatives"},
    {"paper in seconds", &paper_105, -3, 4, &plain_paper, WW_FIGURE_PAPER_SPEED, "lux seconds"},
    {"paper, no net 0.60", &paper_105, -3, 0.2, &paper, WW_FIGURE_PAPER_SPEED, "more exposure"},
    {"paper without black", &paper_105, -3, 0.7, &paper, WW_FIGURE_ISO_RANGE, "D-max"},
    {"paper without black", &paper_105, -3, 0.7, &paper, WW_FIGURE_AVERAGE_GRADIENT, "D-max"},
    {"paper without white", &paper_105, -0.05, 4, &paper, WW_FIGURE_ISO_RANGE, "less exposure"},
    {"slide, thin steps missing", &slide_shape, -3, -0.5, &reversal, WW_FIGURE_SPEED_POINT,
     "more exposure"},
    {"slide, dense steps missing", &slide_shape, -0.8, 1.2, &reversal, WW_FIGURE_AVERAGE_GRADIENT,
     "less exposure"},
    {"slide, no black", &slide_shape, -1.0, 1.2, &reversal, WW_FIGURE_DMAX, "less exposure"},
    {"slide", &slide_shape, -3, 1.2, &reversal, WW_FIGURE_CONTRAST_INDEX, "negatives"},
};

static void absent_figures_say_why(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof absents / sizeof absents[0]; i++) {
        const absent_row *const r = &absents[i];
        char row[120];
        snprintf(row, sizeof row, "%s: %s", r->name, ww_figure_key(r->figure));
        const ww_figure_set set = compute(row, r->shape, r->low, r->high, r->rules);
        test_true(row, set.how[r->figure] == WW_ABSENT);
        const char *const reason = set.reason[r->figure];
        assert_non_null(reason);
        if (!strstr(reason, r->word))
            fail_msg("%s: '%s' does not speak of %s", row, reason, r->word);
    }
}

/* Closed form: a logistic's slope is range x rate x f (1 - f), its gamma the chord between the two
 * places where that is 0.95 of its greatest. A D-max found on the way down to it is in doubt. */
static void black_in_doubt(void **state) {
    (void)state;
    const double half = 0.5 * sqrt(0.05), chord = half / log((0.5 + half) / (0.5 - half));
    for (int i = 0; i < 8; i++) {
        static const double shares[] = {0.21, 0.19, 0.11, 0.09};
        const double share = shares[i / 2];
        ww_shape shape = slide_shape;
        shape.falling = i % 2;
        const double rest = 0.5 * (1.0 - sqrt(1.0 - 4.0 * share * chord)); /* 1 - f */
        const double end = 0.9 + log((1.0 - rest) / rest) / 3.3;
        const ww_figure_set set = shape.falling ? compute("slide", &shape, -end, 3, &reversal)
                                                : compute("film", &shape, -3, end, &film);
        const char *const reason = set.reason[WW_FIGURE_DMAX];
        const char *const more = shape.falling ? "less exposure" : "more exposure";
        test_true("there", (set.how[WW_FIGURE_DMAX] == WW_FITTED) == (share < 0.2));
        test_true("doubt", (reason != NULL) == (share > 0.1));
        test_true("remedy", !reason || strstr(reason, more));
        test_true("may be denser",
                  (reason && strstr(reason, "darker")) == (i / 2 == 1 || i / 2 == 2));
    }
}

static void impossible_input(void **state) {
    (void)state;
    static const struct {
        const char *name;
        double low, high, base;
    } rows[] = {{"no length", -1.0, -1.0, 0.2},
                {"backwards", 0.5, -1.0, 0.2},
                {"endless", -HUGE_VAL, 1.0, 0.2},
                {"no number", -1.0, (double)NAN, 0.2},
                {"no base", -1.0, 1.0, (double)NAN}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_figure_set set = {.gradient_from = 2.731};
        ww_error err = WW_ERROR_INIT;
        test_status(
            rows[i].name,
            ww_figure_compute(&curve_a, rows[i].low, rows[i].high, rows[i].base, &film, &set, &err),
            WW_EDOMAIN, &err);
        test_close(rows[i].name, set.gradient_from, 2.731, 0);
        test_status(
            rows[i].name,
            ww_figure_compute(&curve_a, rows[i].low, rows[i].high, rows[i].base, &film, &set, NULL),
            WW_EDOMAIN, NULL);
    }
}

static void words(void **state) {
    (void)state;
    for (size_t i = 0; i < WW_FIGURE_COUNT; i++) {
        test_true("key", strlen(ww_figure_key((ww_figure)i)) > 2);
        test_true("heading", strlen(ww_figure_heading((ww_figure)i, true)) > 2);
        test_true("unit", ww_figure_unit((ww_figure)i) != NULL);
        for (size_t j = 0; j < i; j++)
            test_true("keys differ",
                      strcmp(ww_figure_key((ww_figure)i), ww_figure_key((ww_figure)j)) != 0);
    }
    test_text("film", ww_figure_heading(WW_FIGURE_BASE_FOG, false), "base+fog");
    test_text("paper", ww_figure_heading(WW_FIGURE_BASE_FOG, true), "D-min");
    test_text("unit", ww_figure_unit(WW_FIGURE_EXPOSURE_RANGE), "log H");
    test_true("R of a film", !ww_figure_applies(WW_FIGURE_ISO_RANGE, &film));
    test_true("R of a paper", ww_figure_applies(WW_FIGURE_ISO_RANGE, &paper));
    test_true("index of a film", ww_figure_applies(WW_FIGURE_CONTRAST_INDEX, &film));
    test_true("index of a slide", !ww_figure_applies(WW_FIGURE_CONTRAST_INDEX, &reversal));
    test_true("gamma of anything", ww_figure_applies(WW_FIGURE_GAMMA, &reversal_paper));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_values),       cmocka_unit_test(construction_of_the_index),
        cmocka_unit_test(sigmoid_in_closed_form), cmocka_unit_test(reversal_in_closed_form),
        cmocka_unit_test(mirrored_is_the_same),   cmocka_unit_test(shifts),
        cmocka_unit_test(absent_figures_say_why), cmocka_unit_test(black_in_doubt),
        cmocka_unit_test(impossible_input),       cmocka_unit_test(words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
