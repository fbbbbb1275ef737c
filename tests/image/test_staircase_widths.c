/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_widths.h"
#include "support/support.h"

enum { STEPS = 6 };

/* Source: arithmetic by hand. Edges of steps 2, 1, 3, 2, 4, 1 wide on a scale of 10. */
static const double edge[STEPS + 1] = {5, 25, 35, 65, 85, 125, 135};
static const struct {
    const char *name;
    double widths[STEPS];
    bool differs;
    size_t step;
    double given, seen;
} rows[] = {
    {"as they are", {2, 1, 3, 2, 4, 1}, false, 0, 0, 0},
    {"the other way round, in mm", {5, 20, 10, 15, 5, 10}, false, 0, 0, 0},
    {"by a ruler", {2.1, 0.95, 2.9, 2.1, 4.2, 1.1}, false, 0, 0, 0},
    {"one", {2, 1, 3, 2, 2.5, 1}, true, 4, 2.5, 4},
    {"one, the other way round", {5, 20, 16, 15, 5, 10}, true, 2, 16, 10},
    {"the first is said to be longer", {6, 1, 3, 2, 4, 1}, true, 0, 6, 2},
    {"the last ends further out than was said", {2, 1, 3, 2, 4, 0.5}, false, 0, 0, 0},
};

static void names_the_step_that_differs(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__width_misfit misfit;
        const bool differs = ww__widths_misfit(edge, rows[i].widths, STEPS, &misfit);
        test_true(rows[i].name, differs == rows[i].differs);
        if (!differs)
            continue;
        test_true(rows[i].name, misfit.step == rows[i].step);
        test_close(rows[i].name, misfit.given, rows[i].given, 1e-12);
        test_close(rows[i].name, misfit.seen, rows[i].seen, 1e-9);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(names_the_step_that_differs)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
