/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include <math.h>

/* Source: the definition, by hand. */

static void add(ww_readings *readings, const char *step, double width) {
    ww_row *row = made_step(readings, step, WW_COLUMN_VISUAL, 0.3);
    if (width != 0.0)
        row->width = (ww_optional){true, width};
}

/* Rows of steps and widths; 0 is none. */
static const struct {
    const char *name;
    const char *step[6];
    double width[6];
    ww_status status;
    double want[6];
    size_t n;
    const char *says;
} rows[] = {
    {"none", {"1", "2"}, {0, 0}, WW_OK, {0}, 0, NULL},
    {"in the order of the rows", {"3", "1", "2"}, {2.731, 1, 4.5}, WW_OK, {2.731, 1, 4.5}, 3, NULL},
    {"base is no step", {"base", "1", "2"}, {0, 7, 8}, WW_OK, {7, 8}, 2, NULL},
    {"base with one", {"1", "base", "2"}, {7, 5, 8}, WW_OK, {7, 8}, 2, NULL},
    {"only base", {"1", "base"}, {0, 5}, WW_OK, {0}, 0, NULL},
    {"repeats", {"2", "1", "2", "1"}, {7, 8, 7, 8}, WW_OK, {7, 8}, 2, NULL},
    {"no labels", {"", ""}, {7, 8}, WW_OK, {7, 8}, 2, NULL},
    {"not all", {"1", "2", "3"}, {7, 0, 8}, WW_EMISMATCH, {0}, 0, "step '2' has no width"},
    {"repeats disagree", {"1", "2", "1"}, {7, 8, 9}, WW_EMISMATCH, {0}, 0, "9 wide here and 7"},
    {"below 0", {"1", "2"}, {7, -8}, WW_EDOMAIN, {0}, 0, "-8"},
    {"NaN", {"1", "2"}, {(double)NAN, 8}, WW_EDOMAIN, {0}, 0, "not above 0"},
    {"infinite", {"1", "2"}, {7, (double)INFINITY}, WW_EDOMAIN, {0}, 0, "step '2'"},
};

static void widths_are_those_of_the_steps(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_readings readings = WW_READINGS_INIT;
        double untouched = 0.0, *width = &untouched;
        size_t n = 99;
        ww_error err = WW_ERROR_INIT;
        for (size_t k = 0; k < 6 && rows[i].step[k]; k++)
            add(&readings, rows[i].step[k], rows[i].width[k]);
        test_status(rows[i].name, ww_readings_widths(&readings, &width, &n, &err), rows[i].status,
                    &err);
        if (rows[i].status != WW_OK) {
            test_true(rows[i].name, width == &untouched && n == 99);
            test_true(rows[i].name, strstr(err.msg, rows[i].says) != NULL);
        } else {
            test_close(rows[i].name, (double)n, (double)rows[i].n, 0.0);
            test_true(rows[i].name, (width == NULL) == (n == 0));
            for (size_t k = 0; k < n; k++)
                test_close(rows[i].name, width[k], rows[i].want[k], 0.0);
            free(width);
        }
        ww_readings_release(&readings);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(widths_are_those_of_the_steps)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
