/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/strip_case.h"
#include "support/support.h"
#include <math.h>

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
    strip_case_line(density, 4, 0.01, &strip, &line);
    found = ww__strip_find(&line, 0.603);
    test_true("crossed", found.crossed && found.met && !found.low_open && !found.high_open);
    test_close("place", found.log_t, x0, 1e-9);
    test_close("low", found.low, met(x0, -1.0, 0.0), 1e-9);
    test_close("high", found.high, met(x0, 1.0, 0.0), 1e-9);
    test_close("half", found.half, 1.959963984540054 * 0.01 * hypot(x0 - 1.0, 2.0 - x0) / 0.35,
               1e-9);
    assert_int_equal(found.before, 1);
    line.level_error = 0.02; /* errors of two readings: root of their squares */
    found = ww__strip_find(&line, 0.603);
    test_close("with white", found.high, met(x0, 1.0, 0.02), 1e-9);
    line.level_error = 0.0;
    found = ww__strip_find(&line, 0.45);
    test_close("on a step", found.log_t, 1.0, 1e-9);
    found = ww__strip_find(&line, 0.11);
    test_true("at the end", found.crossed && found.low_open && !found.high_open);
    found = ww__strip_find(&line, 1.16);
    test_true("past it, within error", !found.crossed && found.met && found.high_open);
    found = ww__strip_find(&line, 1.30);
    test_true("past it", !found.crossed && !found.met);
    strip_case_drop(&strip, &line);
}

/* A level: every time on it will do. Source: definition. */
static void finds_on_a_level(void **state) {
    static const double density[] = {0.1, 1.5, 2.0, 2.0, 2.0};
    ww_strip strip;
    ww__strip_line line;
    ww__strip_found found;
    (void)state;
    strip_case_line(density, 5, 0.01, &strip, &line);
    found = ww__strip_find(&line, 2.0);
    test_true("crossed", found.crossed && found.high_open);
    test_close("its middle", found.log_t, 3.0, 1e-9);
    test_true("from before it begins", found.low < 2.0 && found.low > 1.0);
    test_close("to the end", found.high, 4.0, 1e-12);
    strip_case_drop(&strip, &line);
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
    found = ww__strip_find(&line, 0.325);
    test_true("met there", found.met && found.low_open && found.high_open);
    ww__strip_line_release(&line);
    ww_notes_release(&strip.notes);
}

/* Source: the header's rule: within 0.02 of the darkest for a stop, at 1.0 or more; its
 * error holds what the second half of the plateau stands over the first: 2.04 - 2.025. */
static void black(void **state) {
    static const double reached[] = {0.1, 1.5, 2.02, 2.03, 2.04};
    static const double rising[] = {0.1, 1.5, 1.8, 1.95, 2.04};
    static const double reversed[] = {0.1, 1.5, 1.8, 2.02, 2.04}; /* and less beyond */
    static const double one[] = {0.1, 1.5, 2.05};
    static const double white[] = {0.01, 0.02, 0.02, 0.02, 0.02};
    ww_strip strip;
    ww__strip_line line;
    double mean, error;
    size_t first;
    (void)state;
    strip_case_line(reached, 5, 0.01, &strip, &line);
    test_true("reached", ww__strip_find_black(&line, &mean, &error, &first));
    test_close("mean", mean, 2.03, 1e-12);
    test_close("error", error, hypot(0.01 / sqrt(3.0), 0.015), 1e-12);
    assert_int_equal(first, 2);
    strip_case_drop(&strip, &line);
    strip_case_line(rising, 5, 0.01, &strip, &line);
    test_true("rising", !ww__strip_find_black(&line, &mean, &error, &first));
    strip_case_drop(&strip, &line);
    strip_case_line(reversed, 5, 0.01, &strip, &line);
    line.reversed = true;
    test_true("reversed", ww__strip_find_black(&line, &mean, &error, &first));
    test_close("mean of the darkest run", mean, 2.03, 1e-12);
    strip_case_drop(&strip, &line);
    strip_case_line(one, 3, 0.01, &strip, &line);
    line.reversed = true;
    test_true("one step of it", ww__strip_find_black(&line, &mean, &error, &first));
    test_close("that step", mean, 2.05, 1e-12);
    test_close("with its error", error, 0.01, 1e-12);
    strip_case_drop(&strip, &line);
    strip_case_line(white, 5, 0.01, &strip, &line);
    test_true("white is level too", !ww__strip_find_black(&line, &mean, &error, &first));
    strip_case_drop(&strip, &line);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_on_a_straight_line),
        cmocka_unit_test(finds_on_a_level),
        cmocka_unit_test(one_time),
        cmocka_unit_test(black),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
