/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/observer.h"
#include "support/support.h"

/* Source: white of D50 for the 2 degree observer, CIE 15. */
static void white(void **state) {
    static const double d50[3] = {96.422, 100.0, 82.521};
    (void)state;
    for (size_t axis = 0; axis < 3; axis++) {
        double sum = 0.0;
        for (size_t row = 0; row < WW__OBSERVER_ROWS; row++)
            sum += ww__observer_weight(row, axis);
        test_close("white", sum, d50[axis], 0.01);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(white)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
