/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/order.h"
#include "support/emulsion.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

/* Source: definition; the C library's qsort. */

static int by_size(const void *left, const void *right) {
    const double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

static void medians(void **state) {
    double one[] = {7.0}, odd[] = {3.0, -1.0, 2.5}, even[] = {4.0, 1.0, 2.0, 9.0};
    (void)state;
    test_close("one", ww__order_median(one, 1), 7.0, 0.0);
    test_close("odd", ww__order_median(odd, 3), 2.5, 0.0);
    test_close("even", ww__order_median(even, 4), 3.0, 0.0);
}

/* Ordered, turned, all alike, few values, organ pipes, sawteeth, noise. */
enum { KINDS = 7, MOST = 1500 };

static double value_of(size_t kind, size_t i, size_t n, dice *d) {
    const double at = (double)i, all = (double)n;
    switch (kind) {
    case 0:
        return at;
    case 1:
        return -at;
    case 2:
        return 0.25;
    case 3:
        return (double)(i * 7 % 3);
    case 4:
        return at < all / 2.0 ? at : all - at;
    case 5:
        return (double)(i % 64) - at / all;
    default:
        return dice_even(d, -1.0, 1.0);
    }
}

static void whatever_the_order_was(void **state) {
    static double value[MOST], ordered[MOST], own[MOST];
    static const size_t size[] = {1, 2, 12, 13, 14, 101, MOST};
    dice d = {17};
    (void)state;
    for (size_t kind = 0; kind < KINDS; kind++)
        for (size_t s = 0; s < sizeof size / sizeof size[0]; s++) {
            const size_t n = size[s];
            for (size_t i = 0; i < n; i++)
                ordered[i] = value[i] = value_of(kind, i, n, &d);
            qsort(ordered, n, sizeof ordered[0], by_size);
            for (size_t place = 0; place < n; place += 1 + n / 9) {
                memcpy(own, value, n * sizeof own[0]);
                test_close("value", ww__order_nth(own, n, place), ordered[place], 0.0);
                test_close("moved there", own[place], ordered[place], 0.0);
                for (size_t i = 0; i < n; i++)
                    test_true("parted", i < place ? own[i] <= own[place] : own[i] >= own[place]);
                qsort(own, n, sizeof own[0], by_size);
                test_true("nothing lost", memcmp(own, ordered, n * sizeof own[0]) == 0);
            }
        }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(medians),
        cmocka_unit_test(whatever_the_order_was),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
