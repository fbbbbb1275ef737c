/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "support/support.h"
#include <math.h>

/* Source: by hand, from F = [2 0 0; 6 1 0; -8 5 3], whose F F^T is the matrix. */
static void test_factor(void **state) {
    double c[] = {4, 12, -16, 12, 37, -43, -16, -43, 98};
    static const double want[] = {2, 0, 0, 6, 1, 0, -8, 5, 3};
    double v[] = {2, 7, -10}, t[] = {0, 6, 3};
    (void)state;
    test_true("positive", ww__gls_factor(c, 3));
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j <= i; j++)
            test_close("F", c[3 * i + j], want[3 * i + j], 1e-12);
    /* F x = (2, 7, -10): x1 = 1, x2 = 1, x3 = (-10 + 8 - 5) / 3 */
    ww__gls_whiten(c, 3, v);
    test_close("x1", v[0], 1.0, 1e-12);
    test_close("x2", v[1], 1.0, 1e-12);
    test_close("x3", v[2], -7.0 / 3.0, 1e-12);
    /* F^T x = (0, 6, 3): x3 = 1, x2 = 6 - 5, x1 = (0 - 6 + 8) / 2 */
    ww__gls_whiten_transposed(c, 3, t);
    test_close("t3", t[2], 1.0, 1e-12);
    test_close("t2", t[1], 1.0, 1e-12);
    test_close("t1", t[0], 1.0, 1e-12);
}

/* Source: closed form; (3, 4) is 5 long, and what is left of (2, 1) is square to it. */
static void test_square(void **state) {
    const double along[] = {3.0, 4.0};
    double v[] = {2.0, 1.0};
    (void)state;
    test_close("dot", ww__gls_dot(along, v, 2), 10.0, 1e-12);
    ww__gls_make_square(v, along, 2);
    test_close("v0", v[0], 0.8, 1e-12); /* 2 - 3 * 10/25 */
    test_close("v1", v[1], -0.6, 1e-12);
}

static void test_not_positive(void **state) {
    double twice[] = {1, 1, 1, 1}, negative[] = {-1}, no_number[] = {(double)NAN};
    (void)state;
    test_true("twice the same", !ww__gls_factor(twice, 2));
    test_true("negative", !ww__gls_factor(negative, 1));
    test_true("no number", !ww__gls_factor(no_number, 1));
}

/* Source: tables of critical values of chi-square, upper 5 % and 1 %; e^(-x/2) for two of freedom.
 */
static void test_chance(void **state) {
    static const struct {
        size_t freedom;
        double chi_squared, chance;
    } rows[] = {{1, 3.841, 0.05},
                {5, 11.070, 0.05},
                {10, 18.307, 0.05},
                {1, 6.635, 0.01},
                {9, 21.666, 0.01}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        test_close("table", ww__gls_chance(rows[i].chi_squared, rows[i].freedom), rows[i].chance,
                   2e-5);
    test_close("closed", ww__gls_chance(2.731, 2), exp(-2.731 / 2.0), 1e-12);
    test_close("no freedom", ww__gls_chance(7.0, 0), 1.0, 0.0);
    test_close("no misfit", ww__gls_chance(0.0, 3), 1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_factor),
        cmocka_unit_test(test_square),
        cmocka_unit_test(test_not_positive),
        cmocka_unit_test(test_chance),
    };
    return cmocka_run_group_tests_name("gls", tests, NULL, NULL);
}
