/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/three.h"
#include "support/support.h"

/* Source: by hand: the cofactors of {{2,1,0},{1,3,1},{0,1,4}} over its determinant, 18. */
static void inverts_by_hand(void **state) {
    double m[3][3] = {{2, 1, 0}, {1, 3, 1}, {0, 1, 4}}, inverse[3][3];
    static const double want[3][3] = {{11, -4, 1}, {-4, 8, -2}, {1, -2, 5}};
    (void)state;
    test_close("determinant", ww__three_invert(m, inverse), 18.0, 1e-12);
    for (int r = 0; r < 3; r++)
        for (int c = 0; c < 3; c++)
            test_close("inverse", inverse[r][c], want[r][c] / 18.0, 1e-15);
}

static void leaves_what_has_none(void **state) {
    double m[3][3] = {{1, 2, 3}, {2, 4, 6}, {0, 1, 4}}, inverse[3][3] = {{7}};
    (void)state;
    test_close("determinant", ww__three_invert(m, inverse), 0.0, 0.0);
    test_close("untouched", inverse[0][0], 7.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(inverts_by_hand),
        cmocka_unit_test(leaves_what_has_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
