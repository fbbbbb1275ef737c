/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/bend.h"
#include "core/series_made.h"
#include <math.h>

/* A straight line of slope 0.6 through every step: a toe-line whose toe lies before them. */
static const ww_shape line = {
    .model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.25, 0.6, -2.6, 0.05}};

/*
 * Parabolas D = 1.1 + 0.6 (u + 0.5) + bend (u + 0.5)^2 over log H -0.5 to 0.4, and zigzags that a
 * straight line explains. Source: closed form; slope falls by 1.8 |bend| of 0.6 over the run.
 */
static const struct {
    const char *name;
    size_t steps;
    double bend, zigzag;
    bool found;
} rows[] = {
    {"straight", 7, 0.0, 0.0, false},
    {"straight, scattered", 7, 0.0, 0.006, false},
    {"bends down", 7, -0.12, 0.0, true},
    {"bends down, scattered", 7, -0.12, 0.003, true},
    {"within the scatter", 7, -0.12, 0.03, false},
    {"by less than a tenth", 7, -0.03, 0.0, false},
    {"bends up", 7, 0.12, 0.0, false},
    {"three steps say nothing", 3, -0.2, 0.0, false},
};

static void bends(void **state) {
    (void)state;
    for (int falling = 0; falling <= 1; falling++)
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            ww__series s = made_series(rows[i].steps, -0.5, 0.15);
            ww_shape shape = line;
            shape.falling = falling;
            for (size_t k = 0; k < s.n; k++) {
                const double x = s.u[k] + 0.5;
                s.density[k] = 1.1 + 0.6 * x + rows[i].bend * x * x +
                               (k % 2 ? rows[i].zigzag : -rows[i].zigzag);
            }
            test_true(rows[i].name, ww__bend_found(&s, &shape) == rows[i].found);
            ww__series_release(&s);
        }
}

/* The thinnest steps lie on the toe: the straight part does not begin the strip. */
static void not_where_the_toe_is_seen(void **state) {
    (void)state;
    ww__series s = made_series(9, -3.2, 0.15);
    made_of_shape(&line, &s);
    for (size_t k = 5; k < s.n; k++)
        s.density[k] -= 0.3 * (s.u[k] - s.u[5]) * (s.u[k] - s.u[5]);
    test_true("toe", !ww__bend_found(&s, &line));
    ww__series_release(&s);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bends),
        cmocka_unit_test(not_where_the_toe_is_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
