/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/profile.h"
#include "support/support.h"

/* Source: definition of the running median. */
static void lines_vanish_and_edges_stay(void **state) {
    const double value[] = {5.0, 5.0, 9.0, 5.0, 5.0, 1.0, 1.0, 1.0, -4.0, 1.0, 1.0};
    const double want[] = {5.0, 5.0, 5.0, 5.0, 5.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0};
    double smooth[11];
    (void)state;
    test_status("smooth", ww__profile_smooth(value, 11, 1, smooth, NULL), WW_OK, NULL);
    for (size_t i = 0; i < 11; i++)
        test_close("lines vanish, edges stay", smooth[i], want[i], 0.0);
}

static void dirt_does_not_reach_the_mean(void **state) {
    double cell[12 * 2];
    ww__grid g = {.nu = 2, .nv = 12, .light = cell};
    double light[2], scatter[2];
    (void)state;
    for (size_t v = 0; v < 12; v++)
        cell[2 * v] = v < 2 ? 0.9 : 0.25, cell[2 * v + 1] = -1.0;
    cell[2 * 11] = -1.0; /* nothing there */
    test_status("mean", ww__profile_mean(&g, 0, 12, light, scatter, NULL), WW_OK, NULL);
    test_close("clean", light[0], 0.25, 1e-15);
    test_close("no scatter", scatter[0], 0.0, 1e-15);
    test_true("nothing", light[1] < 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_vanish_and_edges_stay),
        cmocka_unit_test(dirt_does_not_reach_the_mean),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
