/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/time_law.h"
#include "support/support.h"
#include <float.h>
#include <math.h>

/* Source: gamma = gamma_inf (1 - e^(-k (t - t0))) in closed form. Points lie on it, so that the
 * least sum of squares is 0 and the law comes back. */

enum { N = 5 };
static const double times[N] = {4.1, 5.3, 7.7, 10.9, 15.2};

static double law_at(double infinity, double rate, double start, double t) {
    return infinity * (1.0 - exp(-rate * (t - start)));
}

static void make(double infinity, double rate, double start, ww_time_gamma_point point[N]) {
    for (int i = 0; i < N; i++)
        point[i] = (ww_time_gamma_point){times[i], law_at(infinity, rate, start, times[i]), 0.01};
}

static const struct {
    const char *name;
    double infinity, rate, start;
} laws[] = {
    {"at once", 1.13, 0.157, 0.0},
    {"late", 0.87, 0.231, 1.7},
    {"slow", 2.31, 0.043, 0.9},
};

static void comes_back(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof laws / sizeof laws[0]; i++) {
        ww_time_gamma_point point[N];
        ww__time_law sums;
        ww_time_gamma_line line;
        double slope;
        make(laws[i].infinity, laws[i].rate, laws[i].start, point);
        ww__time_law_set(&sums, point, N, 0.0);
        test_close(laws[i].name, ww__time_law_free(&sums, &line), 0.0, 1e-12);
        test_close("level", ww__time_law_level(&line), laws[i].infinity, 2e-5);
        test_close("rate", line.rate, laws[i].rate, 2e-6);
        test_close("start", ww__time_law_start(&line, sums.first), laws[i].start, 2e-5);
        test_close("between", ww__time_law_at(&line, sums.first, 8.31, &slope),
                   law_at(laws[i].infinity, laws[i].rate, laws[i].start, 8.31), 1e-7);
        test_close("slope", slope,
                   laws[i].infinity * laws[i].rate * exp(-laws[i].rate * (8.31 - laws[i].start)),
                   1e-6);
        test_close("possible", ww__time_law_possible(&sums, NULL), 0.0, 1e-12);
        test_close("of its rate", ww__time_law_of_rate(&sums, laws[i].rate, NULL), 0.0, 1e-12);
        test_close("with its rate", ww__time_law_with_rate(&sums, laws[i].rate), 0.0, 1e-12);
        test_close("with its level", ww__time_law_with_infinity(&sums, laws[i].infinity), 0.0,
                   1e-12);
        test_close("with its start", ww__time_law_with_start(&sums, laws[i].start), 0.0, 1e-12);
        test_close("through its contrast",
                   ww__time_law_through(&sums, 6.1,
                                        law_at(laws[i].infinity, laws[i].rate, laws[i].start, 6.1)),
                   0.0, 1e-12);
    }
}

static void others_leave_more(void **state) {
    ww_time_gamma_point point[N];
    ww__time_law sums;
    ww_time_gamma_line line;
    (void)state;
    make(0.87, 0.231, 1.7, point);
    ww__time_law_set(&sums, point, N, 0.0);
    test_true("t0 = 0", ww__time_law_at_once(&sums, &line) > 1.0);
    test_close("begins at once", ww__time_law_start(&line, sums.first), 0.0, 1e-9);
    test_true("another level", ww__time_law_with_infinity(&sums, 1.0) > 1.0);
    test_true("another rate", ww__time_law_with_rate(&sums, 0.12) > 1.0);
    test_true("another start", ww__time_law_with_start(&sums, 0.5) > 1.0);
    test_true("another contrast", ww__time_law_through(&sums, 6.1, 0.65) > 1.0);
    /* 1 sd of 0.05 in quadrature with 0.01 at contrast 1: weights by hand */
    ww__time_law_set(&sums, point, N, 0.05);
    test_close("weight", sums.weight[2], 1.0 / (0.0001 + pow(0.05 * point[2].contrast, 2.0)), 1e-9);
}

/* A straight line belongs to the law, at rate 0; t0 below 0 is not possible. */
static void straight(void **state) {
    ww_time_gamma_point point[N];
    ww__time_law sums;
    ww_time_gamma_line line;
    (void)state;
    for (int i = 0; i < N; i++)
        point[i] = (ww_time_gamma_point){times[i], 0.25 + 0.06 * times[i], 0.01};
    ww__time_law_set(&sums, point, N, 0.0);
    test_close("sum", ww__time_law_free(&sums, &line), 0.0, 1e-6);
    test_close("slope", line.growth, 0.06, 1e-4);
    (void)ww__time_law_of_rate(&sums, 0.0, &line);
    test_close("start", ww__time_law_start(&line, sums.first), -0.25 / 0.06, 1e-6);
    test_true("never levels off", ww__time_law_level(&line) == DBL_MAX);
    test_true("not from 0", ww__time_law_possible(&sums, &line) > 1.0);
    test_close("best from 0", ww__time_law_start(&line, sums.first), 0.0, 1e-9);
    for (int i = 0; i < N; i++)
        point[i].contrast = 0.9 - 0.01 * times[i];
    (void)ww__time_law_free(&sums, &line);
    test_close("does not fall", line.growth, 0.0, 0.0);
    test_true("has no start", ww__time_law_start(&line, sums.first) == -DBL_MAX);
}

static void two_points(void **state) {
    const ww_time_gamma_point a = {5.0, 0.5, 1.0}, b = {10.0, 0.75, 1.0};
    const ww_time_gamma_point steep = {10.0, 1.1, 1.0}, low = {10.0, 0.4, 1.0};
    (void)state;
    /* k = -ln(0.75 / 0.5 - 1) / 5 */
    test_close("t0 = 0", ww__time_law_two(0.0, &a, &b), 0.1386294361119891, 1e-12);
    const double k = ww__time_law_two(2.0, &a, &b);
    test_close("t0 = 2", (1.0 - exp(-8.0 * k)) / (1.0 - exp(-3.0 * k)), 1.5, 1e-9);
    test_close("too steep", ww__time_law_two(0.0, &a, &steep), 0.0, 0.0);
    test_true("falls", ww__time_law_two(0.0, &a, &low) == DBL_MAX);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(comes_back),
                                       cmocka_unit_test(others_leave_more),
                                       cmocka_unit_test(straight), cmocka_unit_test(two_points)};
    return cmocka_run_group_tests_name("law of development", tests, NULL, NULL);
}
