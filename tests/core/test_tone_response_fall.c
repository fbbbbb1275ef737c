/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/tone_response_fall.h"
#include "support/support.h"

/* Source: the header, by hand. */
static void falls(void **state) {
    (void)state;
    static const struct {
        const char *row;
        double density[9];
        size_t cut;
    } rows[] = {
        {"rises", {0.1, 0.3, 0.5, 0.7, 0.9, 1.1, 1.3, 1.5, 1.7}, 0},
        {"a plateau", {0.1, 0.5, 0.9, 1.2, 1.5, 1.52, 1.51, 1.53, 1.50}, 0},
        {"a fall", {0.1, 0.5, 0.9, 1.2, 1.5, 1.7, 1.66, 1.60, 1.55}, 3},
        {"a fall that a reading hides", {0.1, 0.5, 0.9, 1.3, 1.6, 1.5, 1.58, 1.5, 1.45}, 3},
        {"one low at the end", {0.1, 0.3, 0.5, 0.7, 0.9, 1.1, 1.3, 1.5, 1.2}, 0},
        {"one high", {0.1, 0.3, 0.5, 0.7, 1.9, 1.1, 1.3, 1.5, 1.7}, 0},
        {"less than is told", {0.1, 0.5, 0.9, 1.2, 1.5, 1.52, 1.51, 1.49, 1.48}, 0},
        {"most of the scale", {0.1, 0.9, 1.6, 1.5, 1.4, 1.3, 1.2, 1.1, 1.0}, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_curve_point point[9] = {{.step = NULL}};
        ww__points points = {.point = point, .n = 9};
        size_t cut = 0;
        for (size_t k = 0; k < 9; k++) /* from the dark end: order plays no part */
            point[8 - k] = (ww_curve_point){
                .log_h = (double)k / 8.0, .density = rows[i].density[k], .state = WW_CELL_VALUE};
        test_close(rows[i].row, (double)ww__tone_response_fall_cut(&points), (double)rows[i].cut,
                   0.0);
        for (size_t k = 0; k < 9; k++) {
            cut += point[k].cut;
            test_true("the dark end", !point[k].cut || k >= 9 - rows[i].cut);
        }
        test_close(rows[i].row, (double)cut, (double)rows[i].cut, 0.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(falls)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
