/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/series.h"
#include "support/emulsion.h"
#include "support/support.h"
#include <gsl/gsl_sort.h>

/* Source: definition (the header), except where a row names another. */

static void born_empty(void **state) {
    (void)state;
    static const size_t sizes[] = {0, 1, 37};
    for (size_t k = 0; k < sizeof sizes / sizeof *sizes; k++) {
        ww__series s = WW__SERIES_INIT;
        test_status("new", ww__series_new(sizes[k], &s, NULL), WW_OK, NULL);
        assert_int_equal(s.n, sizes[k]);
        test_true("no base", !s.has_base);
        for (size_t i = 0; i < s.n; i++) {
            test_close("weight", s.weight[i], 1.0, 0.0);
            assert_int_equal(s.order[i], i);
        }
        test_status("sort", ww__series_sort(&s, NULL), WW_OK, NULL);
        assert_int_equal(ww__series_rows(&s), sizes[k]);
        ww__series_release(&s);
        assert_null(s.u);
        ww__series_release(&s); /* twice is harmless */
    }
    ww__series_release(NULL);
}

static void too_many(void **state) {
    (void)state;
    ww_error err = WW_ERROR_INIT;
    double mark = 0.0;
    ww__series s = {.n = 3, .u = &mark};
    test_status("too many", ww__series_new(SIZE_MAX / 2, &s, &err), WW_EMEMORY, &err);
    test_true("untouched", s.n == 3 && s.u == &mark);
}

/* Source: gsl_sort_index, where no two exposures are equal. */
static void sorted_by_exposure(void **state) {
    (void)state;
    enum { N = 101 };
    dice d = {3};
    size_t want[N];
    ww__series s = WW__SERIES_INIT;
    test_status("new", ww__series_new(N, &s, NULL), WW_OK, NULL);
    for (size_t i = 0; i < N; i++)
        s.u[i] = dice_normal(&d, 1.3);
    gsl_sort_index(want, s.u, 1, N);
    test_status("sort", ww__series_sort(&s, NULL), WW_OK, NULL);
    assert_memory_equal(s.order, want, sizeof want);
    ww__series_release(&s);
}

static void ties_keep_their_order(void **state) {
    (void)state;
    static const double u[] = {0.3, -1.7, 0.3, 0.0, -1.7, -0.0, 0.3};
    static const size_t want[] = {1, 4, 3, 5, 0, 2, 6};
    enum { N = sizeof u / sizeof *u };
    ww__series s = WW__SERIES_INIT;
    test_status("new", ww__series_new(N, &s, NULL), WW_OK, NULL);
    for (size_t i = 0; i < N; i++)
        s.u[i] = u[i];
    test_status("sort", ww__series_sort(&s, NULL), WW_OK, NULL);
    assert_memory_equal(s.order, want, sizeof want);
    ww__series_release(&s);
}

static void rows_that_count(void **state) {
    (void)state;
    ww__series s = WW__SERIES_INIT;
    test_status("new", ww__series_new(5, &s, NULL), WW_OK, NULL);
    s.weight[0] = 0.0;
    s.weight[3] = 2.7;
    assert_int_equal(ww__series_rows(&s), 4);
    s.has_base = true; /* a base without weight does not count */
    assert_int_equal(ww__series_rows(&s), 4);
    s.base_weight = 0.3;
    assert_int_equal(ww__series_rows(&s), 5);
    s.has_base = false;
    assert_int_equal(ww__series_rows(&s), 4);
    ww__series_release(&s);
}

static void copies_all(void **state) {
    (void)state;
    ww__series s = WW__SERIES_INIT, copy = WW__SERIES_INIT;
    test_status("new", ww__series_new(3, &s, NULL), WW_OK, NULL);
    for (size_t i = 0; i < 3; i++) {
        s.u[i] = -(double)i;
        s.density[i] = 0.3 * (double)i;
    }
    s.weight[1] = 0.0;
    s.has_base = true;
    s.base = 0.21;
    s.base_weight = 2.0;
    test_status("sort", ww__series_sort(&s, NULL), WW_OK, NULL);
    test_status("copy", ww__series_copy(&s, &copy, NULL), WW_OK, NULL);
    assert_int_equal(copy.n, 3);
    assert_memory_equal(copy.u, s.u, 3 * sizeof *s.u);
    assert_memory_equal(copy.density, s.density, 3 * sizeof *s.density);
    assert_memory_equal(copy.weight, s.weight, 3 * sizeof *s.weight);
    assert_memory_equal(copy.order, s.order, 3 * sizeof *s.order);
    test_true("base", copy.has_base && copy.base == 0.21 && copy.base_weight == 2.0);
    copy.u[0] = 9.0;
    test_close("apart", s.u[0], 0.0, 0.0);
    ww__series_release(&copy);
    ww__series_release(&s);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(born_empty),         cmocka_unit_test(too_many),
        cmocka_unit_test(sorted_by_exposure), cmocka_unit_test(ties_keep_their_order),
        cmocka_unit_test(rows_that_count),    cmocka_unit_test(copies_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
