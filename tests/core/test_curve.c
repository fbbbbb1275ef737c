/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve.h>

static const char CLOSED[] = "closed form D = 0.25 + 0.25 ln(1 + e^(2.8 (x + 2))), softplus";
static const char DEFINITION[] = "definition";

/* The softplus curve above is a toe-line: gamma 0.7, toe softness 1/2.8. */
static ww_channel_curve softplus_curve(bool falling) {
    ww_channel_curve curve = {.present = true,
                              .fitted = true,
                              .shape = {.model = WW_MODEL_TOE_LINE,
                                        .falling = falling,
                                        .n = 4,
                                        .parameter = {0.25, 0.7, -2.0, 1.0 / 2.8}},
                              .domain_low = -3.1,
                              .domain_high = -0.4};
    if (falling) {
        curve.domain_low = 0.4;
        curve.domain_high = 3.1;
    }
    return curve;
}

static double closed_density(double x) {
    return 0.25 + 0.25 * log1p(exp(2.8 * (x + 2.0)));
}

static double closed_slope(double x) {
    return 0.7 / (1.0 + exp(-2.8 * (x + 2.0)));
}

static const struct {
    const char *name;
    const char *source;
    double log_h;
    double density;
    double tolerance;
} points[] = {
    /* log Hm and the arc points to six digits, computed apart from this program. */
    {"net 0.10", CLOSED, -2.253440, 0.35, 1e-6},
    {"short arc", CLOSED, -2.276353, 0.344825, 1e-6},
    {"long arc", CLOSED, -0.515439, 1.293077, 1e-6},
    {"D at x0 is 0.25 + 0.25 ln 2", CLOSED, -2.0, 0.4232867951399863, 1e-12},
};

static void follows_the_closed_form(void **state) {
    const ww_channel_curve rising = softplus_curve(false), falling = softplus_curve(true);
    (void)state;
    for (size_t i = 0; i < sizeof points / sizeof points[0]; i++) {
        const char *row = points[i].name;
        double density = 0, slope = 0, log_h = 0;
        ww_error err = WW_ERROR_INIT;
        test_status(row, ww_curve_density(&rising, points[i].log_h, &density, &slope, &err), WW_OK,
                    &err);
        test_close(row, density, points[i].density, points[i].tolerance);
        test_close(row, slope, closed_slope(points[i].log_h), 1e-12);
        test_status(row, ww_curve_log_h(&rising, density, &log_h, &err), WW_OK, &err);
        test_close(row, log_h, points[i].log_h, 1e-9);
        /* Mirrored in log H, as reversal materials are. */
        test_status(row, ww_curve_density(&falling, -points[i].log_h, &density, &slope, &err),
                    WW_OK, &err);
        test_close(row, density, points[i].density, points[i].tolerance);
        test_close(row, slope, -closed_slope(points[i].log_h), 1e-12);
        test_status(row, ww_curve_log_h(&falling, density, &log_h, &err), WW_OK, &err);
        test_close(row, log_h, -points[i].log_h, 1e-9);
    }
}

static void rises_throughout_and_closes_on_its_inverse(void **state) {
    const ww_channel_curve curve = softplus_curve(false);
    double before = 0.0;
    (void)state;
    for (int i = 0; i <= 270; i++) {
        const double x = i == 270 ? curve.domain_high : -3.1 + 0.01 * i;
        double density = 0, log_h = 0;
        test_status(CLOSED, ww_curve_density(&curve, x, &density, NULL, NULL), WW_OK, NULL);
        test_close(CLOSED, density, closed_density(x), 1e-12);
        test_true("rises", density > before);
        test_status(CLOSED, ww_curve_log_h(&curve, density, &log_h, NULL), WW_OK, NULL);
        test_close("inverse", log_h, x, 1e-7); /* slope at the foot is 0.03 */
        before = density;
    }
}

static const struct {
    const char *name;
    bool inverse;
    double input;
    ww_status status;
} refusals[] = {
    {"at the low end", false, -3.1, WW_OK},
    {"at the high end", false, -0.4, WW_OK},
    {"just below", false, -3.1000001, WW_EDOMAIN},
    {"just above", false, -0.3999999, WW_EDOMAIN},
    {"not a number", false, (double)NAN, WW_EDOMAIN},
    {"infinite", false, (double)INFINITY, WW_EDOMAIN},
    {"a density at the base", true, 0.25, WW_ENODATA},
    {"a density below the base", true, -0.04, WW_ENODATA},
    {"a density beyond the last step", true, 1.39, WW_ENODATA},
    {"no density", true, (double)NAN, WW_EDOMAIN},
    {"an infinite density", true, -(double)INFINITY, WW_EDOMAIN},
};

static void stays_within_the_measured_range(void **state) {
    const ww_channel_curve curve = softplus_curve(false);
    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        double result = -77.25;
        ww_error err = WW_ERROR_INIT;
        const ww_status status =
            refusals[i].inverse ? ww_curve_log_h(&curve, refusals[i].input, &result, &err)
                                : ww_curve_density(&curve, refusals[i].input, &result, NULL, &err);
        test_status(refusals[i].name, status, refusals[i].status, &err);
        test_true(refusals[i].name, (result == -77.25) == (status != WW_OK));
        if (!refusals[i].inverse) {
            result = -77.25;
            if (status == WW_EDOMAIN) {
                double covariance[16] = {0};
                ww_channel_curve doubtful = curve;
                doubtful.covariance = covariance;
                test_status(refusals[i].name,
                            ww_curve_density_sd(&doubtful, refusals[i].input, &result, &err),
                            WW_EDOMAIN, &err);
                test_true(refusals[i].name, result == -77.25);
            }
        }
    }
}

static void has_no_answer_without_a_fit(void **state) {
    ww_channel_curve curve = softplus_curve(false);
    double result = -77.25;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no covariance", ww_curve_density_sd(&curve, -1.5, &result, &err), WW_ENODATA,
                &err);
    curve.fitted = false;
    test_status("unfitted", ww_curve_density(&curve, -1.5, &result, NULL, &err), WW_ENODATA, &err);
    test_text("unfitted", err.msg,
              "no curve was fitted to this channel; read at least 5 exposed steps");
    test_status("unfitted", ww_curve_log_h(&curve, 0.7, &result, &err), WW_ENODATA, &err);
    test_status("unfitted", ww_curve_density_sd(&curve, -1.5, &result, &err), WW_ENODATA, &err);
    curve = softplus_curve(false);
    curve.present = false;
    test_status("absent", ww_curve_density(&curve, -1.5, &result, NULL, NULL), WW_ENODATA, NULL);
    assert_true(result == -77.25);
}

/*
 * Propagation of errors: var D = g' C g. With one parameter in doubt at a time the closed form's
 * own derivatives give the standard error; two that are wholly correlated add or cancel.
 */
static void carries_the_doubt_of_the_parameters(void **state) {
    static const double at[] = {-3.1, -2.253440, -1.731, -0.4};
    (void)state;
    for (size_t i = 0; i < sizeof at / sizeof at[0]; i++) {
        ww_channel_curve curve = softplus_curve(false);
        const double net = closed_density(at[i]) - 0.25;
        double c[16] = {0}, sd = 0;
        ww_error err = WW_ERROR_INIT;
        curve.covariance = c;
        c[0] = 0.006 * 0.006;
        test_status("base+fog", ww_curve_density_sd(&curve, at[i], &sd, &err), WW_OK, &err);
        test_close("base+fog: dD/dD0 = 1", sd, 0.006, 1e-15);
        c[0] = 0.0;
        c[5] = 0.013 * 0.013;
        test_status("gamma", ww_curve_density_sd(&curve, at[i], &sd, &err), WW_OK, &err);
        test_close("gamma: dD/dgamma = net D / gamma", sd, 0.013 * net / 0.7, 1e-14);
        c[5] = 0.0;
        c[10] = 0.021 * 0.021;
        test_status("toe", ww_curve_density_sd(&curve, at[i], &sd, &err), WW_OK, &err);
        test_close("toe position: dD/dx_t = -slope", sd, 0.021 * closed_slope(at[i]), 1e-14);
        c[10] = 0.0;
        c[0] = 0.006 * 0.006;
        c[5] = 0.013 * 0.013;
        c[1] = c[4] = -0.006 * 0.013;
        test_status("both", ww_curve_density_sd(&curve, at[i], &sd, &err), WW_OK, &err);
        test_close("wholly correlated", sd, fabs(0.006 - 0.013 * net / 0.7), 1e-9);
    }
}

/*
 * Closed form, one parameter in doubt at a time: what moves the curve along log H moves both ends
 * alike, and gamma moves an end by (net D / gamma) / slope.
 */
static void carries_the_doubt_between_two_densities(void **state) {
    const double a = -1.731, b = -0.9;
    ww_channel_curve curve = softplus_curve(false);
    double c[16] = {0}, sd = -77.25;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("none", ww_curve_between_sd(&curve, a, b, &sd, &err), WW_ENODATA, &err);
    curve.covariance = c;
    c[10] = 0.021 * 0.021;
    test_status("toe", ww_curve_between_sd(&curve, a, b, &sd, &err), WW_OK, &err);
    test_close("toe position", sd, 0.0, 1e-12);
    c[10] = 0.0;
    c[5] = 0.013 * 0.013;
    test_status("gamma", ww_curve_between_sd(&curve, a, b, &sd, &err), WW_OK, &err);
    test_close("gamma", sd,
               0.013 / 0.7 *
                   fabs((closed_density(a) - 0.25) / closed_slope(a) -
                        (closed_density(b) - 0.25) / closed_slope(b)),
               1e-12);
    test_status("one place", ww_curve_between_sd(&curve, a, a, &sd, &err), WW_OK, &err);
    test_close("one place", sd, 0.0, 1e-12);
    test_status("beyond", ww_curve_between_sd(&curve, a, 99.0, &sd, &err), WW_EDOMAIN, &err);
}

static void refuses_an_impossible_covariance(void **state) {
    ww_channel_curve curve = softplus_curve(false);
    double c[16] = {0}, sd = -77.25;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    curve.covariance = c;
    c[0] = -1e-4;
    test_status("negative", ww_curve_density_sd(&curve, -1.5, &sd, &err), WW_ENODATA, &err);
    c[0] = (double)INFINITY;
    test_status("infinite", ww_curve_density_sd(&curve, -1.5, &sd, &err), WW_ENODATA, &err);
    assert_true(sd == -77.25);
    c[0] = -1e-18; /* what rounding may leave */
    test_status("rounding", ww_curve_density_sd(&curve, -1.5, &sd, &err), WW_OK, &err);
    test_close("rounding", sd, 0.0, 0.0);
}

static void names_causes(void **state) {
    static const struct {
        ww_cause cause;
        const char *name;
    } rows[] = {
        {WW_CAUSE_UNKNOWN, "unknown"}, {WW_CAUSE_SLIP, "slip"},
        {WW_CAUSE_SWAPPED, "swapped"}, {WW_CAUSE_SKIPPED, "skipped"},
        {WW_CAUSE_DUST, "dust"},       {WW_CAUSE_DECIMAL_POINT, "decimal point"},
    };
    ww_cause cause = WW_CAUSE_DUST;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_cause found = rows[i].cause == WW_CAUSE_DUST ? WW_CAUSE_SLIP : WW_CAUSE_DUST;
        test_text(DEFINITION, ww_cause_name(rows[i].cause), rows[i].name);
        test_status(rows[i].name, ww_cause_find(rows[i].name, &found, &err), WW_OK, &err);
        assert_int_equal(found, rows[i].cause);
    }
    test_status("no cause", ww_cause_find("Slip", &cause, &err), WW_EDOMAIN, &err);
    test_status("no cause", ww_cause_find("", &cause, NULL), WW_EDOMAIN, NULL);
    assert_int_equal(cause, WW_CAUSE_DUST);
}

static void chooses_the_black_and_white_channel(void **state) {
    enum { R = 1, G = 2, B = 4, V = 8 };
    static const struct {
        const char *name;
        unsigned present;
        ww_grain grain;
        ww_status status;
        ww_channel channel;
    } rows[] = {
        {"visual before all", R | G | B | V, WW_GRAIN_UNKNOWN, WW_OK, WW_VISUAL},
        {"visual of a stained one", B | V, WW_GRAIN_STAINED, WW_OK, WW_VISUAL},
        {"green", R | G | B, WW_GRAIN_SILVER, WW_OK, WW_GREEN},
        {"blue of a stained one", R | G | B, WW_GRAIN_STAINED, WW_OK, WW_BLUE},
        {"the only one", R, WW_GRAIN_UNKNOWN, WW_OK, WW_RED},
        {"the only one, stained", G, WW_GRAIN_STAINED, WW_OK, WW_GREEN},
        {"red and blue", R | B, WW_GRAIN_UNKNOWN, WW_ENODATA, WW_RED},
        {"none", 0, WW_GRAIN_UNKNOWN, WW_ENODATA, WW_RED},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_curve curve = WW_CURVE_INIT;
        ww_channel channel = WW_CHANNEL_COUNT;
        ww_error err = WW_ERROR_INIT;
        curve.meta.grain = rows[i].grain;
        for (unsigned c = 0; c < WW_CHANNEL_COUNT; c++)
            curve.channel[c].present = (rows[i].present >> c & 1u) != 0;
        test_status(rows[i].name, ww_curve_black_and_white_channel(&curve, &channel, &err),
                    rows[i].status, &err);
        assert_int_equal(channel, rows[i].status == WW_OK ? rows[i].channel : WW_CHANNEL_COUNT);
    }
}

/* That nothing leaks is what the sanitizers and valgrind see to. */
static void releases_everything_twice(void **state) {
    static const ww_curve empty = WW_CURVE_INIT;
    ww_curve curve = WW_CURVE_INIT;
    ww_channel_curve *green = &curve.channel[WW_GREEN];
    (void)state;
    green->present = true;
    green->point = calloc(2, sizeof *green->point);
    green->n_points = 2;
    green->point[0].step = calloc(3, 1);
    green->point[1].step = calloc(3, 1);
    green->covariance = calloc(16, sizeof *green->covariance);
    green->suspect = calloc(1, sizeof *green->suspect);
    green->n_suspects = 1;
    curve.meta.name = calloc(3, 1);
    assert_int_equal(ww_notes_add(&curve.notes, NULL, "a note"), WW_OK);
    ww_curve_release(&curve);
    assert_null(curve.meta.name);
    assert_null(curve.notes.text);
    assert_memory_equal(green, &empty.channel[WW_GREEN], sizeof *green);
    ww_curve_release(&curve);
    ww_curve_release(NULL);
}

/* Source: interface conventions on the zero of log H, row by row. */
static void knows_whether_its_zero_was_given(void **state) {
    static const struct {
        const char *name;
        ww_exposure_column column;
        bool log_h0, time, given;
    } rows[] = {
        {"wedge alone", WW_EXPOSURE_WEDGE, false, false, false},
        {"wedge, log h0", WW_EXPOSURE_WEDGE, true, false, true},
        {"wedge, time", WW_EXPOSURE_WEDGE, false, true, true},
        {"stops alone", WW_EXPOSURE_STOP, false, false, false},
        {"stops, log h0", WW_EXPOSURE_STOP, true, false, true},
        {"stops, time at the wedge", WW_EXPOSURE_STOP, false, true, false},
        {"log H", WW_EXPOSURE_LOG_H, false, false, true},
        {"seconds", WW_EXPOSURE_TIME, false, false, true},
        {"not known", WW_EXPOSURE_NONE, false, false, true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_curve curve = WW_CURVE_INIT;
        curve.exposure = rows[i].column;
        curve.meta.log_h0.set = rows[i].log_h0;
        curve.meta.exposure_time_s.set = rows[i].time;
        test_true(rows[i].name, ww_curve_origin_given(&curve) == rows[i].given);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(follows_the_closed_form),
        cmocka_unit_test(rises_throughout_and_closes_on_its_inverse),
        cmocka_unit_test(stays_within_the_measured_range),
        cmocka_unit_test(has_no_answer_without_a_fit),
        cmocka_unit_test(carries_the_doubt_of_the_parameters),
        cmocka_unit_test(carries_the_doubt_between_two_densities),
        cmocka_unit_test(refuses_an_impossible_covariance),
        cmocka_unit_test(names_causes),
        cmocka_unit_test(chooses_the_black_and_white_channel),
        cmocka_unit_test(knows_whether_its_zero_was_given),
        cmocka_unit_test(releases_everything_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
