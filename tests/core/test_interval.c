/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/interval.h"
#include "support/emulsion.h"
#include "support/support.h"
#include <stdlib.h>

enum { N = 999 };

/* 1 to n in no order: every value is its own rank, so that the p-quantile is p (n + 1) exactly. */
static void ranks(double value[], size_t n, uint64_t seed) {
    dice d = {seed};
    for (size_t i = 0; i < n; i++) {
        const size_t at = (size_t)dice_even(&d, 0.0, (double)i + 1.0);
        value[i] = value[at];
        value[at] = (double)(i + 1);
    }
}

typedef struct row {
    const char *name, *source;
    size_t n, under;
    double low, high, tolerance;
} row;

/*
 * Ends are ranks Phi(2 z0 -+ 1.96) (n + 1), z0 the normal quantile of under/n (Efron 1981). Phi by
 * the table of the normal distribution, four or five digits; hence the tolerances.
 */
static const row rows[] = {
    {"no bias", "Phi(-1.96) = 0.025", 1000, 500, 25.025, 975.975, 1e-6},
    {"half an sd up", "Phi(0.5) = 0.69146, Phi(-0.96) = 0.16853, Phi(2.96) = 0.99846", 100000,
     69146, 16853, 99846, 2.0},
    {"half an sd down", "the mirror image", 100000, 30854, 154, 83147, 2.0},
    {"a quarter", "Phi(0.25) = 0.59871, Phi(-1.46) = 0.07215, Phi(2.46) = 0.99305", 100000, 59871,
     7215, 99305, 2.0},
};

static void ends_by_table(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const row *r = &rows[i];
        double *value = calloc(r->n, sizeof *value), low, high;
        assert_non_null(value);
        ranks(value, r->n, 7);
        test_status(r->name, ww__interval_of(value, r->n, r->under, &low, &high, NULL), WW_OK,
                    NULL);
        test_close(r->name, low, r->low, r->tolerance);
        test_close(r->name, high, r->high, r->tolerance);
        free(value);
    }
}

/* Properties: no order, a scale and a shift carried through, mirrored in mirrored out, and a bias
 * that is never so large that an end leaves the values. */
static void properties(void **state) {
    (void)state;
    double a[N], b[N], c[N], low[3], high[3];
    dice d = {19};
    ranks(a, N, 1);
    for (size_t i = 0; i < N; i++)
        a[i] = dice_normal(&d, 0.37) + 0.1 * a[i] / N;
    for (size_t i = 0; i < N; i++) {
        b[i] = a[N - 1 - i] * 2.5 - 11.0;
        c[i] = -a[i];
    }
    test_status("a", ww__interval_of(a, N, 430, &low[0], &high[0], NULL), WW_OK, NULL);
    test_status("b", ww__interval_of(b, N, 430, &low[1], &high[1], NULL), WW_OK, NULL);
    test_status("c", ww__interval_of(c, N, N - 430, &low[2], &high[2], NULL), WW_OK, NULL);
    test_close("scaled low", low[1], 2.5 * low[0] - 11.0, 1e-12);
    test_close("scaled high", high[1], 2.5 * high[0] - 11.0, 1e-12);
    test_close("mirrored", low[2], -high[0], 1e-12);
    test_close("mirrored", high[2], -low[0], 1e-12);
    for (size_t i = 1; i < N; i++)
        test_true("sorted on return", a[i - 1] <= a[i]);
    for (size_t under = 0; under <= N; under += N) {
        test_status("all on a side", ww__interval_of(a, N, under, &low[0], &high[0], NULL), WW_OK,
                    NULL);
        test_true("inside the values", a[0] <= low[0] && low[0] < high[0] && high[0] <= a[N - 1]);
    }
}

static void too_few(void **state) {
    (void)state;
    double value[20], low = -1.5, high = 2.5;
    ww_error err = WW_ERROR_INIT;
    ranks(value, 20, 3);
    test_status("19", ww__interval_of(value, 19, 9, &low, &high, &err), WW_ENODATA, &err);
    test_true("untouched", low == -1.5 && high == 2.5);
    test_status("0", ww__interval_of(value, 0, 0, &low, &high, &err), WW_ENODATA, &err);
    test_status("20", ww__interval_of(value, 20, 10, &low, &high, &err), WW_OK, &err);
    /* The ends lie beyond ranks 1 and 20, at 0.525 and 20.475: the outermost values stand. */
    test_close("20", low, 1.0, 0.0);
    test_close("20", high, 20.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ends_by_table),
        cmocka_unit_test(properties),
        cmocka_unit_test(too_few),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
