/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/spline.h"
#include "support/support.h"
#include <gsl/gsl_bspline.h>
#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/start.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

typedef struct layout {
    const char *name;
    double low, high;
    size_t n;
} layout;

static const layout layouts[] = {
    {"fewest", -2.731, 0.117, WW__SPLINE_ORDER},
    {"a film's range", -3.05, 0.05, 11},
    {"most", 0.31, 0.97, WW__SPLINE_BASIS_MAX},
    {"far from zero", 1234.5, 1236.75, 9},
};

static double interval_of(const layout *l) {
    return (l->high - l->low) / (double)(l->n - 3);
}

/* Positions from below the first spline to above the last one, none of them on a knot. */
enum { POSITIONS = 211 };
static double position(const layout *l, size_t k) {
    const double h = interval_of(l), from = l->low - 4.0 * h, to = l->high + 4.0 * h;
    return from + (to - from) * ((double)k + 0.317) / POSITIONS;
}

/* The j-th B-spline stands on four intervals that begin at this knot. */
static double first_knot(const layout *l, size_t j) {
    return l->low + ((double)j - 3.0) * interval_of(l);
}

/*
 * Source: gsl_bspline_eval. GSL's knots are clamped at the ends, so its range is made six
 * intervals wider: there its j+6-th spline is our j-th. A B-spline of unit height sum has the area
 * of one interval; ours has the area 1.
 */
static void slope_is_the_bspline(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(layouts); i++) {
        const layout *l = &layouts[i];
        const double h = interval_of(l);
        gsl_bspline_workspace *w = gsl_bspline_alloc(WW__SPLINE_ORDER, l->n + 10);
        gsl_vector *b = gsl_vector_alloc(gsl_bspline_ncoeffs(w));
        gsl_bspline_knots_uniform(l->low - 6.0 * h, l->high + 6.0 * h, w);
        for (size_t k = 0; k < POSITIONS; k++) {
            double value[WW__SPLINE_BASIS_MAX], slope[WW__SPLINE_BASIS_MAX];
            const double x = position(l, k);
            ww__spline_rise(l->low, l->high, l->n, x, value, slope);
            gsl_bspline_eval(x, b, w);
            for (size_t j = 0; j < l->n; j++)
                test_close(l->name, slope[j] * h, gsl_vector_get(b, j + 6),
                           1e-14 + 4e-16 * fabs(x) / h);
        }
        gsl_vector_free(b);
        gsl_bspline_free(w);
    }
}

static double slope_at(double x, void *context) {
    const void *const *c = context;
    const layout *l = c[0];
    double value[WW__SPLINE_BASIS_MAX], slope[WW__SPLINE_BASIS_MAX];
    ww__spline_rise(l->low, l->high, l->n, x, value, slope);
    return slope[*(const size_t *)c[1]];
}

/* Source: Gauss-Legendre quadrature of GSL, exact for the cubic between two knots. */
static void value_is_the_integral(void **state) {
    (void)state;
    gsl_integration_glfixed_table *table = gsl_integration_glfixed_table_alloc(4);
    for (size_t i = 0; i < COUNT(layouts); i++) {
        const layout *l = &layouts[i];
        for (size_t k = 0; k < POSITIONS; k += 10) {
            double value[WW__SPLINE_BASIS_MAX];
            const double x = position(l, k);
            ww__spline_rise(l->low, l->high, l->n, x, value, NULL);
            for (size_t j = 0; j < l->n; j++) {
                const void *context[2] = {l, &j};
                const gsl_function f = {slope_at, context};
                double sum = 0.0;
                for (size_t piece = 0; piece < 4; piece++) {
                    const double from = first_knot(l, j + piece);
                    const double to = fmin(first_knot(l, j + piece + 1), x);
                    if (from < to)
                        sum += gsl_integration_glfixed(&f, from, to, table);
                }
                test_close(l->name, value[j], sum, 1e-13 + 4e-15 * fabs(x));
            }
        }
    }
    gsl_integration_glfixed_table_free(table);
}

/* Source: closed form. Slopes of B-splines are a partition of unity between low and high. */
static void partition(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(layouts); i++) {
        const layout *l = &layouts[i];
        for (size_t k = 0; k < POSITIONS; k++) {
            double value[WW__SPLINE_BASIS_MAX], slope[WW__SPLINE_BASIS_MAX], sum = 0.0;
            const double x = position(l, k);
            ww__spline_rise(l->low, l->high, l->n, x, value, slope);
            for (size_t j = 0; j < l->n; j++)
                sum += slope[j] * interval_of(l);
            if (x >= l->low && x <= l->high)
                test_close(l->name, sum, 1.0, 1e-14);
            else
                test_true(l->name, sum >= 0.0 && sum < 1.0);
        }
    }
}

/* Source: definition: 0 before, 1 after, and rising between. */
static void limits(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(layouts); i++) {
        const layout *l = &layouts[i];
        double before[WW__SPLINE_BASIS_MAX] = {0};
        for (size_t k = 0; k < POSITIONS; k++) {
            double value[WW__SPLINE_BASIS_MAX], slope[WW__SPLINE_BASIS_MAX];
            const double x = position(l, k);
            ww__spline_rise(l->low, l->high, l->n, x, value, slope);
            for (size_t j = 0; j < l->n; j++) {
                const bool starts = x > first_knot(l, j), ends = x >= first_knot(l, j + 4);
                test_true(l->name, starts || (value[j] == 0.0 && slope[j] == 0.0));
                test_true(l->name, !ends || (value[j] == 1.0 && slope[j] == 0.0));
                test_true(l->name, !starts || ends || slope[j] > 0.0);
                test_true(l->name, value[j] >= before[j] && value[j] <= 1.0);
                before[j] = value[j];
            }
        }
        double value[WW__SPLINE_BASIS_MAX], slope[WW__SPLINE_BASIS_MAX];
        ww__spline_rise(l->low, l->high, l->n, -1e300, value, slope);
        test_true("far below", value[l->n - 1] == 0.0 && slope[0] == 0.0);
        ww__spline_rise(l->low, l->high, l->n, 1e300, value, slope);
        test_true("far above", value[0] == 1.0 && slope[l->n - 1] == 0.0);
    }
}

/* Source: closed form of the cardinal cubic B-spline: 1/6, 4/6, 1/6 at its knots; areas in 24ths.
 */
static void knots(void **state) {
    (void)state;
    static const double height[] = {0.0, 1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0, 0.0};
    static const double area[] = {0.0, 1.0 / 24.0, 12.0 / 24.0, 23.0 / 24.0, 1.0};
    for (size_t k = 0; k < COUNT(height); k++) {
        double value[4], slope[4];
        ww__spline_rise(0.0, 1.0, 4, (double)k - 1.0, value, slope); /* the third starts at -1 */
        test_close("height", slope[2], height[k], 1e-16);
        test_close("area", value[2], area[k], 1e-16);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slope_is_the_bspline),
        cmocka_unit_test(value_is_the_integral),
        cmocka_unit_test(partition),
        cmocka_unit_test(limits),
        cmocka_unit_test(knots),
    };
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
