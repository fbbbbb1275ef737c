/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include "core/trace.h"
#include "support/support.h"

#include <math.h>

static const ww_shape sigmoid = {
    .model = WW_MODEL_LOGISTIC, .n = WW__LOGISTIC_COUNT, .parameter = {0.11, 2.3, 4.1, 0.37, 1.0}};

/* Inverse of the logistic, closed form. */
static double sigmoid_at(double density) {
    const double share = (density - 0.11) / 2.3;
    return 0.37 + log(share / (1.0 - share)) / 4.1;
}

static void density_is_reached(void **state) {
    (void)state;
    static const double densities[] = {0.1101, 0.113, 0.21, 0.7, 1.26, 1.9, 2.39, 2.409};
    ww__trace trace;
    ww__trace_start(&trace, &sigmoid, -3.1, 3.3);
    for (size_t i = 0; i < sizeof densities / sizeof densities[0]; i++) {
        ww__spot spot = {0};
        test_true("found", ww__trace_reach(&trace, densities[i], &spot) == WW__REACH_FOUND);
        test_close("inverse of the logistic", spot.u, sigmoid_at(densities[i]), 1e-9);
        test_close("density", spot.density, densities[i], 0.0);
        test_close("slope", spot.slope, ww__trace_at(&trace, spot.u).slope, 1e-5);
    }
    ww__spot spot = {.u = 2.731};
    test_true("before", ww__trace_reach(&trace, 0.1, &spot) == WW__REACH_BEFORE);
    test_true("beyond", ww__trace_reach(&trace, 2.41, &spot) == WW__REACH_BEYOND);
    test_true("no number", ww__trace_reach(&trace, (double)NAN, &spot) == WW__REACH_BEFORE);
    test_close("untouched", spot.u, 2.731, 0.0);
    const ww__spot first = trace.spot[0], last = trace.spot[trace.n - 1];
    test_true("first", ww__trace_reach(&trace, first.density, &spot) == WW__REACH_FOUND);
    test_close("first", spot.u, -3.1, 1e-9);
    test_true("last", ww__trace_reach(&trace, last.density, &spot) == WW__REACH_FOUND);
    test_true("last, within", spot.u <= 3.3);
}

/* On a plateau the inverse is not unique: the place is one where the curve has that density. */
static void plateau(void **state) {
    (void)state;
    ww__trace trace;
    ww__spot spot = {0};
    ww__trace_start(&trace, &sigmoid, -3.0, 60.0);
    const double top = trace.spot[trace.n - 1].density;
    test_true("found", ww__trace_reach(&trace, top, &spot) == WW__REACH_FOUND);
    test_close("density", ww__trace_at(&trace, spot.u).density, top, 1e-12);
}

static void falling_shapes_are_mirrored(void **state) {
    (void)state;
    ww_shape slide = sigmoid;
    slide.falling = true;
    ww__trace trace;
    ww__spot spot = {0};
    ww__trace_start(&trace, &slide, -3.3, 3.1);
    test_close("first", trace.spot[0].u, -3.1, 0.0);
    test_close("last", trace.spot[trace.n - 1].u, 3.3, 0.0);
    test_true("found", ww__trace_reach(&trace, 0.7, &spot) == WW__REACH_FOUND);
    test_close("u", spot.u, sigmoid_at(0.7), 1e-9);
    test_close("log H", ww__trace_log_h(&trace, spot.u), -sigmoid_at(0.7), 1e-9);
    test_true("slope", spot.slope > 0.0);
}

/* A logistic of range R and slope k has slope R k f (1 - f) at share f: closed form. */
static void slope_falls(void **state) {
    (void)state;
    static const double shares[] = {0.95, 0.5, 0.2, 0.013};
    ww__trace trace;
    ww__trace_start(&trace, &sigmoid, -3.1, 3.3);
    const ww__spot top = ww__trace_steepest(&trace);
    test_close("steepest", top.slope, 2.3 * 4.1 / 4.0, 1e-9);
    test_close("where", top.u, 0.37, 1e-4);
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        const double f = 0.5 + sqrt(0.25 - 0.25 * shares[i]);
        const double away = log(f / (1.0 - f)) / 4.1, level = shares[i] * 2.3 * 4.1 / 4.0;
        ww__spot spot;
        test_true("up", ww__trace_slope_falls(&trace, top, true, level, &spot));
        test_close("up", spot.u, 0.37 + away, 1e-9);
        test_close("density", spot.density, 0.11 + 2.3 * f, 1e-9);
        test_true("down", ww__trace_slope_falls(&trace, top, false, level, &spot));
        test_close("down", spot.u, 0.37 - away, 1e-9);
    }
    ww__spot spot;
    test_true("never", !ww__trace_slope_falls(&trace, top, true, 1e-9, &spot));
    test_close("the end", spot.u, 3.3, 0.0);
    test_true("never", !ww__trace_slope_falls(&trace, top, false, 1e-9, &spot));
    test_close("the start", spot.u, -3.1, 0.0);
}

/* Steepest at an end, and within the first or last stretch of the scan. */
static void steepest_near_an_end(void **state) {
    (void)state;
    static const double ends[][2] = {{-3.1, 0.2}, {0.6, 3.0}, {-3.1, 0.38}, {0.36, 3.0}};
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
        const double low = ends[i][0], high = ends[i][1];
        const double want = fmin(fmax(0.37, low), high);
        double slope;
        ww__trace trace;
        ww__trace_start(&trace, &sigmoid, low, high);
        const ww__spot top = ww__trace_steepest(&trace);
        ww_model_density(&sigmoid, want, &slope);
        test_close("where", top.u, want, 1e-4);
        test_close("slope", top.slope, slope, 1e-8);
    }
}

typedef struct brute_row {
    const char *name;
    ww_shape shape;
    double low, high;
} brute_row;

static const brute_row brute_rows[] = {
    {"toe, line, shoulder",
     {.model = WW_MODEL_TOE_LINE_SHOULDER,
      .n = WW__LINE_COUNT,
      .parameter = {0.21, 0.66, -2.3, 0.23, 2.1, 0.31}},
     -3.3,
     0.9},
    {"long straight part",
     {.model = WW_MODEL_TOE_LINE_SHOULDER,
      .n = WW__LINE_COUNT,
      .parameter = {0.21, 0.66, -2.3, 0.05, 2.1, 0.04}},
     -3.3,
     0.9},
    {"asymmetric logistic",
     {.model = WW_MODEL_LOGISTIC, .n = WW__LOGISTIC_COUNT, .parameter = {0.1, 2.1, 3.9, 0.2, 0.31}},
     -2.7,
     1.9},
    {"very steep between two scan places",
     {.model = WW_MODEL_LOGISTIC,
      .n = WW__LOGISTIC_COUNT,
      .parameter = {0.1, 2.1, 80.0, 0.217, 1.0}},
     -2.0,
     2.0},
    {"a jump between two scan places",
     {.model = WW_MODEL_TOE_LINE_SHOULDER,
      .n = WW__LINE_COUNT,
      .parameter = {0.65, 5.9, -0.0842, 0.0008, 0.019, 0.0009}},
     -0.5,
     0.5},
    {"two humps, the second higher",
     {.model = WW_MODEL_SPLINE,
      .n = 13,
      .parameter = {0.2, 0.0498, 0.0743, 0.247, 0.301, 0.202, 0.0743, 0.1, 0.273, 0.368, 0.223,
                    0.0672, 0.0369},
      .knot_low = -3.0,
      .knot_high = 0.6},
     -3.0,
     0.6},
    {"two humps, the first higher",
     {.model = WW_MODEL_SPLINE,
      .n = 13,
      .parameter = {0.2, 0.0498, 0.0743, 0.333, 0.407, 0.202, 0.0743, 0.1, 0.273, 0.368, 0.223,
                    0.0672, 0.0369},
      .knot_low = -3.0,
      .knot_high = 0.6},
     -3.0,
     0.6},
    {"many knots, four humps",
     {.model = WW_MODEL_SPLINE,
      .n = 21,
      .parameter = {0.2,    0.0183, 0.0302, 0.0498, 0.15,   0.0743, 0.0334,
                    0.0608, 0.165,  0.0672, 0.0369, 0.0743, 0.183,  0.183,
                    0.0743, 0.0369, 0.0672, 0.15,   0.0608, 0.0273, 0.015},
      .knot_low = -3.0,
      .knot_high = 0.6},
     -3.0,
     0.6},
};

/* The steepest slope and the run of 0.95 of it, looked up on 200,001 slopes. */
static void steepest_by_brute_force(void **state) {
    (void)state;
    enum { N = 200001 };
    static double slope[N];
    for (size_t i = 0; i < sizeof brute_rows / sizeof brute_rows[0]; i++) {
        const brute_row *const r = &brute_rows[i];
        const double step = (r->high - r->low) / (N - 1);
        size_t top = 0;
        for (size_t j = 0; j < N; j++) {
            ww_model_density(&r->shape, r->low + step * (double)j, &slope[j]);
            top = slope[j] > slope[top] ? j : top;
        }
        size_t a = top, b = top;
        while (a > 0 && slope[a - 1] >= 0.95 * slope[top])
            a--;
        while (b + 1 < N && slope[b + 1] >= 0.95 * slope[top])
            b++;
        ww__trace trace;
        ww__spot from, to;
        ww__trace_start(&trace, &r->shape, r->low, r->high);
        const ww__spot steepest = ww__trace_steepest(&trace);
        ww__trace_slope_falls(&trace, steepest, false, 0.95 * steepest.slope, &from);
        ww__trace_slope_falls(&trace, steepest, true, 0.95 * steepest.slope, &to);
        test_close(r->name, steepest.slope, slope[top], 1e-7 * slope[top]);
        test_close(r->name, from.u, r->low + step * (double)a, 1.01 * step);
        test_close(r->name, to.u, r->low + step * (double)b, 1.01 * step);
    }
}

static double cubic(double u, void *context) {
    *(int *)context += 1;
    return u * u * u - 2.0;
}

static double jump(double u, void *context) {
    *(int *)context += 1;
    return u < 0.731 ? -1.0 : 1e-3;
}

static double steep_exponential(double u, void *context) {
    *(int *)context += 1;
    return exp(30.0 * (u - 0.9)) - 1.0;
}

static void roots(void **state) {
    (void)state;
    static const struct {
        const char *name;
        double (*f)(double u, void *context);
        double a, b, want;
    } rows[] = {
        {"cube root of 2", cubic, 0.0, 2.0, 1.2599210498948732},
        {"from the right", cubic, 2.0, 0.0, 1.2599210498948732},
        {"a jump", jump, 0.0, 1.0, 0.731},
        {"nearly flat, then steep", steep_exponential, -1.0, 1.0, 0.9},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int calls = 0;
        const double fa = rows[i].f(rows[i].a, &calls), fb = rows[i].f(rows[i].b, &calls);
        const double u = ww__trace_root(rows[i].f, &calls, rows[i].a, fa, rows[i].b, fb, 1e-10);
        test_close(rows[i].name, u, rows[i].want, 2e-10);
        test_true("few calls", calls < 50);
    }
    int calls = 0;
    test_close("root at an end", ww__trace_root(cubic, &calls, 1.0, 0.0, 2.0, 6.0, 1e-10), 1.0,
               0.0);
    test_close("root at the other", ww__trace_root(cubic, &calls, 1.0, -1.0, 2.0, 0.0, 1e-10), 2.0,
               0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(density_is_reached),
        cmocka_unit_test(plateau),
        cmocka_unit_test(falling_shapes_are_mirrored),
        cmocka_unit_test(slope_falls),
        cmocka_unit_test(steepest_near_an_end),
        cmocka_unit_test(steepest_by_brute_force),
        cmocka_unit_test(roots),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
