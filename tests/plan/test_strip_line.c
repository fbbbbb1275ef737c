/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/strip_case.h"
#include "support/support.h"
#include <math.h>

/* Textbook (pool adjacent violators, equal weights): 1 3 2 4 gives 1 2.5 2.5 4. */
static void falls_are_evened_out(void **state) {
    static const double density[] = {1.0, 3.0, 2.0, 4.0};
    ww_strip strip;
    ww__strip_line line;
    (void)state;
    strip_case_line(density, 4, 1.0, &strip,
                    &line); /* so large an error puts nothing out of order */
    test_close("first", line.point[0].density, 1.0, 0.0);
    test_close("second", line.point[1].density, 2.5, 1e-12);
    test_close("third", line.point[2].density, 2.5, 1e-12);
    test_close("last", line.point[3].density, 4.0, 0.0);
    test_true("marks", !strip.step[0].evened && strip.step[1].evened && strip.step[2].evened);
    test_true("said", strip_case_noted(&strip, "2 steps"));
    strip_case_drop(&strip, &line);
}

/* Source: definition of an interpolant that keeps shape: through its points, nowhere falling,
 * straight where they are straight. */
static void keeps_shape(void **state) {
    static const double bent[] = {0.0, 0.01, 0.02, 1.0, 1.98, 2.0, 2.0};
    static const double straight[] = {0.1, 0.45, 0.8, 1.15};
    ww_strip strip;
    ww__strip_line line;
    double before = -1.0;
    (void)state;
    strip_case_line(bent, 7, 0.01, &strip, &line);
    for (int i = 0; i < 7; i++)
        test_close("through its points", ww__strip_line_density(&line, i), bent[i], 1e-12);
    for (int i = 0; i <= 600; i++) {
        const double density = ww__strip_line_density(&line, i / 100.0);
        test_true("never falls", density >= before - 1e-12);
        test_true("no overshoot", density >= -1e-12 && density <= 2.0 + 1e-12);
        before = density;
    }
    strip_case_drop(&strip, &line);
    strip_case_line(straight, 4, 0.01, &strip, &line);
    test_close("straight", ww__strip_line_density(&line, 1.37), 0.1 + 1.37 * 0.35, 1e-12);
    test_close("half-width there", ww__strip_line_half(&line, 1.37, NULL),
               1.959964 * 0.01 * hypot(0.63, 0.37), 1e-7);
    strip_case_drop(&strip, &line);
}

static void shown(void **state) {
    static const double density[] = {0.1, 0.5, 1.5, 1.9};
    ww_strip strip;
    ww__strip_line line;
    (void)state;
    strip_case_line(density, 4, 0.01, &strip, &line);
    test_status("shown", ww__strip_line_show(&line, &strip, NULL), WW_OK, NULL);
    test_close("begins", strip.line[0].time_s, 1.0, 1e-12);
    test_close("ends", strip.line[strip.n_line - 1].time_s, 1000.0, 1e-9);
    test_close("ends", strip.line[strip.n_line - 1].density, 1.9, 1e-12);
    strip.step = NULL; /* not its own */
    strip.n_steps = 0;
    ww__strip_line_release(&line);
    ww_strip_release(&strip);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(falls_are_evened_out),
        cmocka_unit_test(keeps_shape),
        cmocka_unit_test(shown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
