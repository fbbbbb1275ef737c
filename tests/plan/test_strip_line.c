/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/strip_case.h"
#include "support/support.h"
#include <math.h>

/* A strip of n steps, one log10 time apart, from 1 s on. */
static void make(const double density[], size_t n, double error, ww_strip *strip,
                 ww__strip_line *line) {
    static ww_strip_step step[16];
    static char label[] = "x";
    *strip = (ww_strip){.kind = WW_STRIP_READ, .step = step, .n_steps = n};
    for (size_t i = 0; i < n; i++)
        step[i] = (ww_strip_step){.step = label,
                                  .time_s = pow(10.0, (double)i),
                                  .state = WW_CELL_VALUE,
                                  .density = density[i],
                                  .error = error,
                                  .n = 1};
    *line = (ww__strip_line)WW__STRIP_LINE_INIT;
    test_status("line", ww__strip_line_make(strip, line, NULL), WW_OK, NULL);
}

static void drop(ww_strip *strip, ww__strip_line *line) {
    ww__strip_line_release(line);
    ww_notes_release(&strip->notes);
    line->n = 0;
}

/* Textbook (pool adjacent violators, equal weights): 1 3 2 4 gives 1 2.5 2.5 4. */
static void falls_are_evened_out(void **state) {
    static const double density[] = {1.0, 3.0, 2.0, 4.0};
    ww_strip strip;
    ww__strip_line line;
    (void)state;
    make(density, 4, 1.0, &strip, &line); /* so large an error puts nothing out of order */
    test_close("first", line.point[0].density, 1.0, 0.0);
    test_close("second", line.point[1].density, 2.5, 1e-12);
    test_close("third", line.point[2].density, 2.5, 1e-12);
    test_close("last", line.point[3].density, 4.0, 0.0);
    test_true("marks", !strip.step[0].evened && strip.step[1].evened && strip.step[2].evened);
    test_true("said", strip_case_noted(&strip, "2 steps"));
    drop(&strip, &line);
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
    make(bent, 7, 0.01, &strip, &line);
    for (int i = 0; i < 7; i++)
        test_close("through its points", ww__strip_line_density(&line, i), bent[i], 1e-12);
    for (int i = 0; i <= 600; i++) {
        const double density = ww__strip_line_density(&line, i / 100.0);
        test_true("never falls", density >= before - 1e-12);
        test_true("no overshoot", density >= -1e-12 && density <= 2.0 + 1e-12);
        before = density;
    }
    drop(&strip, &line);
    make(straight, 4, 0.01, &strip, &line);
    test_close("straight", ww__strip_line_density(&line, 1.37), 0.1 + 1.37 * 0.35, 1e-12);
    test_close("half-width there", ww__strip_line_half(&line, 1.37, NULL),
               1.959964 * 0.01 * hypot(0.63, 0.37), 1e-7);
    drop(&strip, &line);
}

/* Where a straight line of slope 0.35, with the error of the two readings either side (definition:
 * weights 1 - u and u) and of white, meets x0's density: fixed point of x = x0 -+ half / slope. */
static double met(double x0, double sign, double white) {
    double x = x0;
    for (int i = 0; i < 100; i++) {
        const double u = x - floor(x);
        x = x0 + sign * 1.959963984540054 * hypot(0.01 * hypot(1.0 - u, u), white) / 0.35;
    }
    return x;
}

static void finds_on_a_straight_line(void **state) {
    static const double density[] = {0.1, 0.45, 0.8, 1.15};
    const double x0 = (0.603 - 0.1) / 0.35;
    ww_strip strip;
    ww__strip_line line;
    ww__strip_found found;
    (void)state;
    make(density, 4, 0.01, &strip, &line);
    found = ww__strip_line_find(&line, 0.603);
    test_true("crossed", found.crossed && found.met && !found.low_open && !found.high_open);
    test_close("place", found.log_t, x0, 1e-9);
    test_close("low", found.low, met(x0, -1.0, 0.0), 1e-9);
    test_close("high", found.high, met(x0, 1.0, 0.0), 1e-9);
    test_close("half", found.half, 1.959963984540054 * 0.01 * hypot(x0 - 1.0, 2.0 - x0) / 0.35,
               1e-9);
    assert_int_equal(found.before, 1);
    line.level_error = 0.02; /* errors of two readings: root of their squares */
    found = ww__strip_line_find(&line, 0.603);
    test_close("with white", found.high, met(x0, 1.0, 0.02), 1e-9);
    line.level_error = 0.0;
    found = ww__strip_line_find(&line, 0.45);
    test_close("on a step", found.log_t, 1.0, 1e-9);
    found = ww__strip_line_find(&line, 0.11);
    test_true("at the end", found.crossed && found.low_open && !found.high_open);
    found = ww__strip_line_find(&line, 1.16);
    test_true("past it, within error", !found.crossed && found.met && found.high_open);
    found = ww__strip_line_find(&line, 1.30);
    test_true("past it", !found.crossed && !found.met);
    drop(&strip, &line);
}

/* A level: every time on it will do. Source: definition. */
static void finds_on_a_level(void **state) {
    static const double density[] = {0.1, 1.5, 2.0, 2.0, 2.0};
    ww_strip strip;
    ww__strip_line line;
    ww__strip_found found;
    (void)state;
    make(density, 5, 0.01, &strip, &line);
    found = ww__strip_line_find(&line, 2.0);
    test_true("crossed", found.crossed && found.high_open);
    test_close("its middle", found.log_t, 3.0, 1e-9);
    test_true("from before it begins", found.low < 2.0 && found.low > 1.0);
    test_close("to the end", found.high, 4.0, 1e-12);
    drop(&strip, &line);
}

/* Steps of one time are one exposure, alone they are a line of one point. */
static void one_time(void **state) {
    static char label[] = "x";
    ww_strip_step step[2] = {
        {.step = label, .time_s = 12.0, .state = WW_CELL_VALUE, .density = 0.30, .error = 0.01},
        {.step = label, .time_s = 12.0, .state = WW_CELL_VALUE, .density = 0.34, .error = 0.01}};
    ww_strip strip = {.kind = WW_STRIP_READ, .step = step, .n_steps = 2};
    ww__strip_line line = WW__STRIP_LINE_INIT;
    ww__strip_found found;
    (void)state;
    test_status("line", ww__strip_line_make(&strip, &line, NULL), WW_OK, NULL);
    assert_int_equal(line.n, 1);
    test_close("mean", line.point[0].density, 0.32, 1e-12);
    test_close("error", line.point[0].error, 0.01 / sqrt(2.0), 1e-12);
    found = ww__strip_line_find(&line, 0.325);
    test_true("met there", found.met && found.low_open && found.high_open);
    ww__strip_line_release(&line);
    ww_notes_release(&strip.notes);
}

/* Source: the header's rule: within 0.02 of the darkest for a stop, at 1.0 or more; its
 * error holds what the second half of the plateau stands over the first: 2.04 - 2.025. */
static void black(void **state) {
    static const double reached[] = {0.1, 1.5, 2.02, 2.03, 2.04};
    static const double rising[] = {0.1, 1.5, 1.8, 1.95, 2.04};
    static const double white[] = {0.01, 0.02, 0.02, 0.02, 0.02};
    ww_strip strip;
    ww__strip_line line;
    double mean, error;
    size_t first;
    (void)state;
    make(reached, 5, 0.01, &strip, &line);
    test_true("reached", ww__strip_line_black(&line, &mean, &error, &first));
    test_close("mean", mean, 2.03, 1e-12);
    test_close("error", error, hypot(0.01 / sqrt(3.0), 0.015), 1e-12);
    assert_int_equal(first, 2);
    drop(&strip, &line);
    make(rising, 5, 0.01, &strip, &line);
    test_true("rising", !ww__strip_line_black(&line, &mean, &error, &first));
    drop(&strip, &line);
    make(white, 5, 0.01, &strip, &line);
    test_true("white is level too", !ww__strip_line_black(&line, &mean, &error, &first));
    drop(&strip, &line);
}

static void shown(void **state) {
    static const double density[] = {0.1, 0.5, 1.5, 1.9};
    ww_strip strip;
    ww__strip_line line;
    (void)state;
    make(density, 4, 0.01, &strip, &line);
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
        cmocka_unit_test(finds_on_a_straight_line),
        cmocka_unit_test(finds_on_a_level),
        cmocka_unit_test(one_time),
        cmocka_unit_test(black),
        cmocka_unit_test(shown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
