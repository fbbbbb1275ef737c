/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include "support/support.h"

#include <math.h>
#include <string.h>
#include <wedgework/speed.h>

#define TOE_LINE(base, gamma, toe, softness)                                                       \
    {                                                                                              \
        .model = WW_MODEL_TOE_LINE, .n = WW__TOE_LINE_COUNT, .parameter = {                        \
            base,                                                                                  \
            gamma,                                                                                 \
            toe,                                                                                   \
            softness                                                                               \
        }                                                                                          \
    }

static const ww_speed_rules iso_6 = {.emulsion = WW_EMULSION_BLACK_AND_WHITE,
                                     .exposure_unit = WW_UNIT_LUX_SECOND,
                                     .black_and_white = WW_VISUAL};

static const char *speed_of(const ww_shape *shape, double high, const ww_speed_rules *rules,
                            ww_speed *speed) {
    ww_channel_shape channel[WW_CHANNEL_COUNT] = {{0}};
    const char *reason = "not set";
    channel[rules->black_and_white] = (ww_channel_shape){
        .shape = shape, .low = -4, .high = high, .base_fog = shape->parameter[0]};
    ww_speed_from_shapes(channel, rules, speed, &reason);
    return reason;
}

static void black_and_white(void **state) {
    (void)state;
    const ww_shape a = TOE_LINE(0.25, 0.7, -2.0, 1.0 / 2.8);
    const ww_shape b = TOE_LINE(0.25, 0.184483 * 4.0, -2.014623, 0.25);
    ww_speed speed;
    /* Curve B meets the ISO triangle: softplus, closed form. */
    assert_null(speed_of(&b, 1, &iso_6, &speed));
    test_true("B", speed.standard == WW_SPEED_ISO_6 && speed.condition_met);
    test_close("B", speed.exact.value, 100.000, 5e-4);
    test_close("B", speed.density_difference.value, 0.799999, 1e-6);
    test_close("B", speed.arithmetic, 100, 0);
    test_close("B", speed.degrees, 21, 0);
    /* By the formula: 0.8 10^(0.2956 - 0.296) / Hm. */
    test_close("B", speed.delta_x.value, 99.908, 0.002);
    test_true("B", speed.exact.how == WW_FITTED && speed.exact.low == speed.exact.value);
    /* Curve A does not: the same figure, another name. */
    assert_null(speed_of(&a, 1, &iso_6, &speed));
    test_true("A", speed.standard == WW_SPEED_EXPOSURE_INDEX && !speed.condition_met);
    test_close("A", speed.exact.value, 143.394, 5e-4);
    test_close("A", speed.density_difference.value, 0.645592, 1e-6);
    test_close("A", speed.arithmetic, 160, 0);
    test_close("A", speed.delta_x.value, 143.394 * pow(10.0, 0.374820 - 0.296), 0.002);
    /* Too short to test the condition: still no ISO, and it says what would help. */
    const char *const reason = speed_of(&b, -0.8, &iso_6, &speed);
    test_true("short", speed.standard == WW_SPEED_EXPOSURE_INDEX);
    test_true("short", !speed.density_difference.set && !speed.delta_x.set);
    test_true("short", reason && strstr(reason, "more exposure"));
}

/* A straight line gains 1.30 times its slope: the condition's edges 0.75 and 0.85. */
static void contrast_condition(void **state) {
    (void)state;
    static const struct {
        double gain;
        ww_speed_standard standard;
    } rows[] = {{0.7495, WW_SPEED_EXPOSURE_INDEX},
                {0.7505, WW_SPEED_ISO_6},
                {0.80, WW_SPEED_ISO_6},
                {0.8495, WW_SPEED_ISO_6},
                {0.8505, WW_SPEED_EXPOSURE_INDEX},
                {1.31, WW_SPEED_EXPOSURE_INDEX}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww_shape line = TOE_LINE(0.11, rows[i].gain / 1.30, -2.2, 1e-5);
        ww_speed speed;
        assert_null(speed_of(&line, 1, &iso_6, &speed));
        test_true("condition", speed.standard == rows[i].standard);
        test_close("gain", speed.density_difference.value, rows[i].gain, 1e-9);
    }
}

static void known_point_is_used(void **state) {
    (void)state;
    const ww_shape b = TOE_LINE(0.25, 0.184483 * 4.0, -2.014623, 0.25);
    ww_channel_shape channel[WW_CHANNEL_COUNT] = {{0}};
    ww_speed looked_up, given;
    const char *reason;
    assert_null(speed_of(&b, 1, &iso_6, &looked_up));
    channel[WW_VISUAL] = (ww_channel_shape){&b, -4, 1, 0.25, {true, log10(0.8 / 100.0)}};
    ww_speed_from_shapes(channel, &iso_6, &given, &reason);
    test_close("same", given.exact.value, looked_up.exact.value, 1e-3);
}

static void colour_negative(void **state) {
    (void)state;
    const ww_shape layer[3] = {TOE_LINE(0.22, 0.61, -2.31, 0.21), TOE_LINE(0.66, 0.63, -2.20, 0.17),
                               TOE_LINE(0.91, 0.71, -2.05, 0.19)};
    ww_speed_rules rules = {.emulsion = WW_EMULSION_COLOUR_NEGATIVE,
                            .exposure_unit = WW_UNIT_LUX_SECOND,
                            .status = WW_STATUS_M};
    ww_channel_shape channel[WW_CHANNEL_COUNT] = {{0}};
    double log_h[3], slowest = -9.0;
    ww_speed speed;
    const char *reason;
    for (int c = 0; c < 3; c++) {
        const double *const p = layer[c].parameter;
        channel[c] = (ww_channel_shape){.shape = &layer[c], .low = -4, .high = 1, .base_fog = p[0]};
        /* Inverse of the softplus, closed form. Net 0.15 a layer: ISO 5800, from memory. */
        log_h[c] = p[2] + p[3] * log(expm1(0.15 / (p[1] * p[3])));
        slowest = fmax(slowest, log_h[c]);
    }
    ww_speed_from_shapes(channel, &rules, &speed, &reason);
    assert_null(reason);
    test_true("standard", speed.standard == WW_SPEED_ISO_5800);
    test_close("speed", speed.exact.value,
               sqrt(2.0) * pow(10.0, -0.5 * (log_h[WW_GREEN] + slowest)), 1e-6);
    test_true("no condition", !speed.density_difference.set && !speed.delta_x.set);
    rules.status = WW_STATUS_UNKNOWN;
    ww_speed_from_shapes(channel, &rules, &speed, &reason);
    test_true("unknown status passes", speed.standard == WW_SPEED_ISO_5800);
    rules.status = WW_STATUS_A;
    ww_speed_from_shapes(channel, &rules, &speed, &reason);
    test_true("status A", speed.standard == WW_SPEED_NONE && strstr(reason, "status M"));
    rules.status = WW_STATUS_M;
    channel[WW_BLUE].shape = NULL;
    ww_speed_from_shapes(channel, &rules, &speed, &reason);
    test_true("two layers", speed.standard == WW_SPEED_NONE && strstr(reason, "all three"));
}

static ww_shape slide(double range) {
    return (ww_shape){.model = WW_MODEL_LOGISTIC,
                      .falling = true,
                      .n = WW__LOGISTIC_COUNT,
                      .parameter = {0.14, range, 3.3, 0.9, 1.0}};
}

/* Share of the range where a line from the place z0 touches a logistic, by plain halving. */
static double touching_share(double f0, double z0) {
    double a = 0.5, b = 0.999;
    for (int i = 0; i < 60; i++) {
        const double f = 0.5 * (a + b), z = log(f / (1.0 - f));
        if (f * (1.0 - f) * (z - z0) > f - f0)
            a = f;
        else
            b = f;
    }
    return a;
}

static void colour_reversal(void **state) {
    (void)state;
    const ww_speed_rules rules = {.emulsion = WW_EMULSION_COLOUR_REVERSAL,
                                  .exposure_unit = WW_UNIT_LUX_SECOND,
                                  .black_and_white = WW_VISUAL};
    static const double ranges[] = {3.2, 2.2, 1.9};
    for (size_t i = 0; i < 3; i++) {
        const ww_shape film = slide(ranges[i]);
        const double f0 = 0.20 / ranges[i], z0 = log(f0 / (1.0 - f0));
        /* HT at 2.00 over D-min, or where the line from HS touches, if thinner (from memory). */
        const double f = fmin(2.00 / ranges[i], touching_share(f0, z0));
        const double log_hs = -(0.9 + z0 / 3.3), log_ht = -(0.9 + log(f / (1.0 - f)) / 3.3);
        ww_channel_shape channel[WW_CHANNEL_COUNT] = {{0}};
        ww_speed speed;
        const char *reason;
        channel[WW_VISUAL] = (ww_channel_shape){&film, -3.0, 1.2, 0.14, {false, 0}};
        ww_speed_from_shapes(channel, &rules, &speed, &reason);
        assert_null(reason);
        test_true("standard", speed.standard == WW_SPEED_ISO_2240);
        test_close("speed", speed.exact.value, 10.0 * pow(10.0, -0.5 * (log_hs + log_ht)), 1e-6);
        test_true("which end", (f < 2.00 / ranges[i]) == (i > 0));
        channel[WW_GREEN] = channel[WW_VISUAL];
        channel[WW_VISUAL].shape = NULL;
        ww_speed_from_shapes(channel, &rules, &speed, &reason);
        test_true("only green", speed.standard == WW_SPEED_NONE && strstr(reason, "visual"));
    }
}

typedef struct none_row {
    const char *name;
    double low, high;
    bool falling;
    ww_speed_rules rules;
    const char *word;
} none_row;

static const none_row nones[] = {
    {"paper", -4, 1, false, {.paper = true, .emulsion = WW_EMULSION_BLACK_AND_WHITE}, "paper"},
    {"no emulsion", -4, 1, false, {.exposure_unit = WW_UNIT_LUX_SECOND}, "emulsion"},
    {"relative", -4, 1, false, {.emulsion = WW_EMULSION_BLACK_AND_WHITE}, "lux seconds"},
    {"seconds",
     -4,
     1,
     false,
     {.emulsion = WW_EMULSION_BLACK_AND_WHITE, .exposure_unit = WW_UNIT_SECOND},
     "lux seconds"},
    {"falling negative",
     -1,
     4,
     true,
     {.emulsion = WW_EMULSION_BLACK_AND_WHITE, .exposure_unit = WW_UNIT_LUX_SECOND},
     "runs against"},
    /* Source: the scopes of ISO 6 (negatives) and ISO 2240 (colour reversal). In lux seconds or
     * not: they would not help. */
    {"black-and-white slide",
     -1,
     4,
     true,
     {.reversal = true,
      .emulsion = WW_EMULSION_BLACK_AND_WHITE,
      .exposure_unit = WW_UNIT_LUX_SECOND},
     "black-and-white reversal"},
    {"black-and-white slide, relative",
     -1,
     4,
     true,
     {.reversal = true, .emulsion = WW_EMULSION_BLACK_AND_WHITE},
     "black-and-white reversal"},
    {"colour negative in a reversal process",
     -1,
     4,
     true,
     {.reversal = true,
      .emulsion = WW_EMULSION_COLOUR_NEGATIVE,
      .exposure_unit = WW_UNIT_LUX_SECOND},
     "runs against"},
    {"rising slide",
     -4,
     1,
     false,
     {.emulsion = WW_EMULSION_COLOUR_REVERSAL, .exposure_unit = WW_UNIT_LUX_SECOND},
     "runs against"},
    {"another channel",
     -4,
     1,
     false,
     {.emulsion = WW_EMULSION_BLACK_AND_WHITE,
      .exposure_unit = WW_UNIT_LUX_SECOND,
      .black_and_white = WW_GREEN},
     "by green, which has no curve"},
    {"stained, no blue",
     -4,
     1,
     false,
     {.emulsion = WW_EMULSION_BLACK_AND_WHITE,
      .exposure_unit = WW_UNIT_LUX_SECOND,
      .black_and_white = WW_BLUE},
     "by blue, which has no curve"},
    {"no toe",
     -1,
     1,
     false,
     {.emulsion = WW_EMULSION_BLACK_AND_WHITE,
      .exposure_unit = WW_UNIT_LUX_SECOND,
      .black_and_white = WW_VISUAL},
     "less exposure"},
    {"only toe",
     -4,
     -2.4,
     false,
     {.emulsion = WW_EMULSION_BLACK_AND_WHITE,
      .exposure_unit = WW_UNIT_LUX_SECOND,
      .black_and_white = WW_VISUAL},
     "more exposure"},
    {"slide without thin steps",
     -1,
     1,
     true,
     {.emulsion = WW_EMULSION_COLOUR_REVERSAL, .exposure_unit = WW_UNIT_LUX_SECOND},
     "more exposure"},
    {"slide without dense steps",
     1.5,
     4,
     true,
     {.emulsion = WW_EMULSION_COLOUR_REVERSAL, .exposure_unit = WW_UNIT_LUX_SECOND},
     "less exposure"},
};

static void no_speed_says_why(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof nones / sizeof nones[0]; i++) {
        const none_row *const r = &nones[i];
        ww_shape shape = TOE_LINE(0.25, 0.7, -2.0, 1.0 / 2.8);
        ww_channel_shape channel[WW_CHANNEL_COUNT] = {{0}};
        ww_speed speed = {.standard = WW_SPEED_ISO_6, .arithmetic = 7};
        const char *reason = NULL;
        shape.falling = r->falling;
        channel[WW_VISUAL] = (ww_channel_shape){&shape, r->low, r->high, 0.25, {false, 0}};
        ww_speed_from_shapes(channel, &r->rules, &speed, &reason);
        test_true(r->name, speed.standard == WW_SPEED_NONE && speed.exact.how == WW_ABSENT);
        test_true(r->name, speed.arithmetic == 0);
        assert_non_null(reason);
        if (!strstr(reason, r->word))
            fail_msg("%s: '%s' does not speak of %s", r->name, reason, r->word);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(black_and_white),     cmocka_unit_test(contrast_condition),
        cmocka_unit_test(known_point_is_used), cmocka_unit_test(colour_negative),
        cmocka_unit_test(colour_reversal),     cmocka_unit_test(no_speed_says_why),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
