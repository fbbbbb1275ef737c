/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/lsq.h"
#include "core/model.h"
#include "core/shapes.h"
#include "refs/closed_curves.h"
#include "support/support.h"
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/start.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* ------------------------------------------------------------------ derivatives */

/*
 * Source: central differences with steps h and 2h. They differ by three times the error of the
 * first (h^2), so that their difference and the rounding error eps D/h bound the tolerance; that it
 * is small itself is asserted, so that the check means something.
 */
static void check_derivative(const char *row, double derivative, double d1, double d2, double h,
                             double density) {
    const double tolerance = fabs(d2 - d1) + 4.0 * DBL_EPSILON * fabs(density) / h + 1e-15;
    test_true(row, tolerance < 1e-6 * (1.0 + fabs(derivative)));
    test_close(row, derivative, d1, tolerance);
}

static double difference(const ww_shape *shape, size_t i, double x, double h) {
    ww_shape above = *shape, below = *shape;
    above.parameter[i] += h;
    below.parameter[i] -= h;
    return (ww_model_density(&above, x, NULL) - ww_model_density(&below, x, NULL)) / (2.0 * h);
}

static void gradients(void **state) {
    (void)state;
    for (size_t s = 0; s < COUNT(shapes); s++) {
        const ww_shape *shape = &shapes[s].shape;
        for (int k = 0; k < POSITIONS; k++) {
            const double x = position(&shapes[s], k);
            const double density = ww_model_density(shape, x, NULL);
            double gradient[WW_MODEL_PARAMETERS_MAX];
            ww__model_gradient(shape, x, gradient);
            for (size_t i = 0; i < shape->n; i++) {
                char row[96];
                const double h = 2e-5 * fmax(fabs(shape->parameter[i]), 0.05);
                snprintf(row, sizeof row, "%s, parameter %zu at %.3f", shapes[s].name, i, x);
                check_derivative(row, gradient[i], difference(shape, i, x, h),
                                 difference(shape, i, x, 2.0 * h), h, density);
            }
        }
    }
}

static double rate(const ww_shape *shape, double x, double h) {
    return (ww_model_density(shape, x + h, NULL) - ww_model_density(shape, x - h, NULL)) /
           (2.0 * h);
}

static void slopes(void **state) {
    (void)state;
    for (size_t s = 0; s < COUNT(shapes); s++) {
        for (int k = 0; k < POSITIONS; k++) {
            const double x = position(&shapes[s], k), h = 2e-5;
            double slope;
            const double density = ww_model_density(&shapes[s].shape, x, &slope);
            check_derivative(shapes[s].name, slope, rate(&shapes[s].shape, x, h),
                             rate(&shapes[s].shape, x, 2.0 * h), h, density);
        }
    }
}

/* Source: definition. Strictly rising (or falling), and between the limits. */
static void rising(void **state) {
    (void)state;
    for (size_t s = 0; s < COUNT(shapes); s++) {
        const ww_shape *shape = &shapes[s].shape;
        const double sign = shape->falling ? -1.0 : 1.0;
        double thin, dense = HUGE_VAL;
        test_true(shapes[s].name, ww__model_valid(shape));
        test_true(shapes[s].name, ww__model_limit(shape, false, &thin));
        const bool bounded = ww__model_limit(shape, true, &dense);
        test_true(shapes[s].name, bounded == (shape->model != WW_MODEL_TOE_LINE));
        double before = ww_model_density(shape, shapes[s].low, NULL);
        for (int k = 0; k < POSITIONS; k++) {
            double slope;
            const double density = ww_model_density(shape, position(&shapes[s], k), &slope);
            test_true(shapes[s].name, sign * (density - before) > 0.0 && sign * slope > 0.0);
            test_true(shapes[s].name, density > thin && density < dense);
            before = density;
        }
        for (double x = -300.0; x <= 300.0; x += 0.7) { /* flat to rounding, but never back */
            double slope;
            const double at = ww_model_density(shape, x, &slope);
            const double next = ww_model_density(shape, x + 0.7, NULL);
            test_true(shapes[s].name, sign * (next - at) >= -4.0 * DBL_EPSILON * fabs(at));
            test_true(shapes[s].name, sign * slope >= 0.0);
        }
        test_close(shapes[s].name, ww_model_density(shape, -sign * 1e6, NULL), thin, 1e-12);
        if (bounded)
            test_close(shapes[s].name, ww_model_density(shape, sign * 1e6, NULL), dense, 1e-12);
    }
}

/* Source: definition. A falling shape is the mirror image of the same rising one. */
static void mirror(void **state) {
    (void)state;
    for (size_t s = 0; s < COUNT(shapes); s++) {
        ww_shape other = shapes[s].shape;
        other.falling = !other.falling;
        for (int k = 0; k < POSITIONS; k++) {
            double slope, mirrored;
            const double x = position(&shapes[s], k);
            const double density = ww_model_density(&shapes[s].shape, x, &slope);
            assert_true(density == ww_model_density(&other, -x, &mirrored));
            assert_true(slope == -mirrored);
        }
    }
}

/* ------------------------------------------------------------------ extremes */

static const struct extreme_row {
    const char *name;
    double x;
    double density, slope; /* source: closed form of the limit */
    ww_shape shape;
} extremes[] = {
    {"logistic far below", -1e6, 0.2, 0, {WW_MODEL_LOGISTIC, false, 5, {0.2, 2, 3, 0, 1}, 0, 0}},
    {"logistic far above", 1e6, 2.2, 0, {WW_MODEL_LOGISTIC, false, 5, {0.2, 2, 3, 0, 1}, 0, 0}},
    {"logistic, a step", 1e-3, 2.2, 0, {WW_MODEL_LOGISTIC, false, 5, {0.2, 2, 1e6, 0, 50}, 0, 0}},
    {"toe-line far below", -1e6, 0.2, 0, {WW_MODEL_TOE_LINE, false, 4, {0.2, 0.7, 0, 0.4}, 0, 0}},
    {"toe-line far above",
     1e6,
     0.2 + 0.7e6,
     0.7,
     {WW_MODEL_TOE_LINE, false, 4, {0.2, 0.7, 0, 0.4}, 0, 0}},
    {"toe-line, hard toe",
     1.5,
     1.25,
     0.7,
     {WW_MODEL_TOE_LINE, false, 4, {0.2, 0.7, 0, 1e-6}, 0, 0}},
    {"hard toe and shoulder, before",
     -1e6,
     0.2,
     0,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.2, 0.7, 0, 1e-6, 2, 1e-6}, 0, 0}},
    {"hard toe and shoulder, below",
     -1e-3,
     0.2,
     0,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.2, 0.7, 0, 1e-6, 2, 1e-6}, 0, 0}},
    {"hard toe and shoulder, straight",
     1.5,
     1.25,
     0.7,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.2, 0.7, 0, 1e-6, 2, 1e-6}, 0, 0}},
    {"hard toe and shoulder, above",
     1e6,
     1.6,
     0,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.2, 0.7, 0, 1e-6, 2, 1e-6}, 0, 0}},
    {"shoulder infinitely far",
     1.5,
     1.25,
     0.7,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.2, 0.7, 0, 1e-6, 1e9, 0.1}, 0, 0}},
    {"softest shoulder halves the line",
     1.5,
     0.2 + 0.7 * 0.75,
     0.35,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.2, 0.7, 0, 1e-9, 1e-9, 1e15}, 0, 0}},
};

static void extreme(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(extremes); i++) {
        const struct extreme_row *row = &extremes[i];
        double slope, gradient[WW_MODEL_PARAMETERS_MAX];
        test_true(row->name, ww__model_valid(&row->shape));
        test_close(row->name, ww_model_density(&row->shape, row->x, &slope), row->density,
                   1e-12 * fmax(1.0, row->density));
        test_close(row->name, slope, row->slope, 1e-12);
        ww__model_gradient(&row->shape, row->x, gradient);
        for (size_t k = 0; k < row->shape.n; k++)
            test_true(row->name, isfinite(gradient[k]));
    }
}

/* ------------------------------------------------------------------ closed forms */

static void closed_forms(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(forms); i++) {
        const struct form_row *row = &forms[i];
        double slope, x = 99.0;
        test_close(row->name, ww_model_density(row->shape, row->x, &slope), row->density,
                   row->tolerance);
        if (row->slope != 0.0)
            test_close(row->name, slope, row->slope, 10.0 * row->tolerance);
        test_status(row->name, ww_model_log_h(row->shape, row->density, -9.0, 7.0, &x, NULL), WW_OK,
                    NULL);
        test_close(row->name, x, row->x, (row->tolerance + 1e-10) / slope);
    }
}

/* ------------------------------------------------------------------ an open shoulder */

enum { STEPS = 21 };
typedef struct readings {
    double log_h[STEPS], density[STEPS];
} readings;

/* Working parameters: logarithms of those that must be positive. */
static ww_shape open_shape(const double w[]) {
    ww_shape shape = {.model = WW_MODEL_TOE_LINE_SHOULDER, .n = WW__LINE_COUNT};
    for (size_t i = 0; i < shape.n; i++)
        shape.parameter[i] = ww__model_positive(&shape, i) ? exp(w[i]) : w[i];
    return shape;
}

static bool open_residual(const void *self, const double w[], double f[]) {
    const readings *r = self;
    const ww_shape shape = open_shape(w);
    for (size_t i = 0; i < STEPS; i++)
        f[i] = ww_model_density(&shape, r->log_h[i], NULL) - r->density[i];
    return ww__model_valid(&shape);
}

static bool open_jacobian(const void *self, const double w[], double j[]) {
    const readings *r = self;
    const ww_shape shape = open_shape(w);
    for (size_t i = 0; i < STEPS; i++) {
        double g[WW_MODEL_PARAMETERS_MAX];
        ww__model_gradient(&shape, r->log_h[i], g);
        for (size_t k = 0; k < shape.n; k++)
            j[i * shape.n + k] = g[k] * (ww__model_positive(&shape, k) ? shape.parameter[k] : 1.0);
    }
    return true;
}

/*
 * Source: definition. Readings of curve A, which has no shoulder, leave length and softness of one
 * open; the fit ends all the same, and no higher than the curve that the readings came from.
 */
static void open_shoulder(void **state) {
    (void)state;
    ww__lsq *lsq = NULL;
    assert_int_equal(ww__lsq_new(STEPS, WW__LINE_COUNT, &lsq, NULL), WW_OK);
    for (int k = 0; k < 20; k++) {
        readings r;
        double w[WW__LINE_COUNT] = {0.2, log(0.6), -2.2, log(0.2), log(2.0), log(0.2)};
        double truth = 0.0;
        for (size_t i = 0; i < STEPS; i++) {
            const double noise = 0.005 * sin(2.731 * (double)((i + 3) * (i + 3) * (size_t)(k + 7)));
            r.log_h[i] = -3.0 + 0.15 * (double)i;
            r.density[i] = ww_model_density(&curve_a, r.log_h[i], NULL) + noise;
            truth += noise * noise;
        }
        const ww__lsq_problem problem = {.n = STEPS,
                                         .p = WW__LINE_COUNT,
                                         .residual = open_residual,
                                         .jacobian = open_jacobian,
                                         .self = &r};
        ww__lsq_result result;
        test_status("open", ww__lsq_solve(lsq, &problem, w, &result, NULL), WW_OK, NULL);
        test_true("open", result.chi_squared <= truth);
    }
    ww__lsq_free(lsq);
}

/* ------------------------------------------------------------------ inverse, names, statuses */

/* Source: definition. Curve and inverse close on each other. */
static void inverse(void **state) {
    (void)state;
    for (size_t s = 0; s < COUNT(shapes); s++) {
        const ww_shape *shape = &shapes[s].shape;
        const double low = shapes[s].low - 30.0, high = shapes[s].high + 30.0;
        for (int k = 0; k < POSITIONS; k++) {
            double x = 99.0;
            const double density = ww_model_density(shape, position(&shapes[s], k), NULL);
            test_status(shapes[s].name, ww_model_log_h(shape, density, low, high, &x, NULL), WW_OK,
                        NULL);
            test_close(shapes[s].name, ww_model_density(shape, x, NULL), density, 1e-10);
        }
        double x = 99.0;
        const double end = ww_model_density(shape, shapes[s].high, NULL);
        test_status(shapes[s].name,
                    ww_model_log_h(shape, end, shapes[s].low, shapes[s].high, &x, NULL), WW_OK,
                    NULL);
        test_close(shapes[s].name, ww_model_density(shape, x, NULL), end, 1e-10);
    }
}

static const struct reach_row {
    const char *name;
    const ww_shape *shape;
    double density, low, high;
} reach_rows[] = {
    {"below base + fog", &paper, 0.069, -5.0, 5.0},
    {"above the densest", &paper, 2.0701, -5.0, 5.0},
    {"outside the limits, below", &paper, 0.11, 0.5, 5.0},
    {"outside the limits, above", &curve_a, 3.0, -3.0, 0.0},
    {"not a density", &paper, (double)NAN, -5.0, 5.0},
};

static void not_reached(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(reach_rows); i++) {
        const struct reach_row *row = &reach_rows[i];
        ww_error err = WW_ERROR_INIT;
        double x = 2.731;
        test_status(row->name,
                    ww_model_log_h(row->shape, row->density, row->low, row->high, &x, &err),
                    WW_ENODATA, &err);
        test_true(row->name, x == 2.731);
    }
}

static void names(void **state) {
    (void)state;
    static const char *const name[WW_MODEL_COUNT] = {"logistic", "toe-line-shoulder", "toe-line",
                                                     "spline"};
    static const char *const parameter[][6] = {
        {"base_fog", "range", "slope", "middle", "asymmetry"},
        {"base_fog", "gamma", "toe_position", "toe_softness", "straight_length",
         "shoulder_softness"}};
    char text[32];
    for (int i = 0; i < WW_MODEL_COUNT; i++) {
        ww_model_kind model = WW_MODEL_COUNT;
        test_text("name", ww_model_name((ww_model_kind)i), name[i]);
        test_true("brief", strlen(ww_model_brief((ww_model_kind)i)) > 20);
        test_status(name[i], ww_model_find(name[i], &model, NULL), WW_OK, NULL);
        assert_int_equal(model, i);
    }
    for (size_t i = 0; i < 5; i++)
        test_text("logistic", ww_model_parameter_name(&shapes[0].shape, i, text), parameter[0][i]);
    for (size_t i = 0; i < 6; i++)
        test_text("line", ww_model_parameter_name(&shapes[3].shape, i, text), parameter[1][i]);
    for (size_t i = 0; i < 4; i++)
        test_text("toe-line", ww_model_parameter_name(&curve_a, i, text), parameter[1][i]);
    test_text("spline", ww_model_parameter_name(&shapes[8].shape, 0, text), "base_fog");
    test_text("spline", ww_model_parameter_name(&shapes[8].shape, 8, text), "rise_8");

    static const char *const wrong[] = {"", "Logistic", "toe-lin", "toe-line ", "splines"};
    for (size_t i = 0; i < COUNT(wrong); i++) {
        ww_model_kind model = WW_MODEL_TOE_LINE;
        ww_error err = WW_ERROR_INIT;
        test_status(wrong[i], ww_model_find(wrong[i], &model, &err), WW_EDOMAIN, &err);
        assert_int_equal(model, WW_MODEL_TOE_LINE);
        for (int k = 0; k < WW_MODEL_COUNT; k++)
            test_true("the message lists them", strstr(err.msg, name[k]) != NULL);
    }
}

/* Source: contract. Which parameters must be > 0, and what makes a shape invalid. */
static void validity(void **state) {
    (void)state;
    /* slopes, ranges, lengths, softnesses and rises; a place or a density may have either sign */
    static const char *const positive[WW_MODEL_COUNT] = {"01101", "010111", "0101", "011111111"};
    for (size_t s = 0; s < COUNT(shapes); s++) {
        for (size_t i = 0; i < shapes[s].shape.n; i++) {
            ww_shape bad = shapes[s].shape;
            const bool must = positive[bad.model][i] == '1';
            test_true(shapes[s].name, ww__model_positive(&bad, i) == must);
            bad.parameter[i] = must ? 0.0 : -1e6;
            test_true(shapes[s].name, ww__model_valid(&bad) == !must);
            bad.parameter[i] = (double)NAN;
            test_true(shapes[s].name, !ww__model_valid(&bad));
            bad.parameter[i] = (double)INFINITY;
            test_true(shapes[s].name, !ww__model_valid(&bad));
        }
        ww_shape bad = shapes[s].shape;
        bad.n = bad.model == WW_MODEL_SPLINE ? 4 : bad.n - 1;
        test_true("too few", !ww__model_valid(&bad));
        bad.n = WW_MODEL_PARAMETERS_MAX + 1;
        test_true("too many", !ww__model_valid(&bad));
    }
    ww_shape bad = shapes[8].shape;
    bad.knot_high = bad.knot_low;
    test_true("no room between the knots", !ww__model_valid(&bad));
    bad.knot_high = (double)NAN;
    test_true("knots are numbers", !ww__model_valid(&bad));
    bad.model = WW_MODEL_COUNT;
    test_true("no such model", !ww__model_valid(&bad));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gradients),     cmocka_unit_test(slopes),   cmocka_unit_test(rising),
        cmocka_unit_test(mirror),        cmocka_unit_test(extreme),  cmocka_unit_test(closed_forms),
        cmocka_unit_test(open_shoulder), cmocka_unit_test(inverse),  cmocka_unit_test(not_reached),
        cmocka_unit_test(names),         cmocka_unit_test(validity),
    };
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
