/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/lesson.h>

/* Source: definition: base before the toe, the straight line between the bends, D-max after the
 * shoulder; the middle of a bend by hand, r(0, w) = 2w (1/8 - 1/32) = 3w/16, slope 1/2. */
static void curve_by_hand(void **state) {
    static const ww_lesson_curve curve = {0.23, 0.62, -1.7, 0.4, 0.9, 0.5};
    double slope;
    (void)state;
    test_close("base", ww_lesson_density(&curve, -2.2, &slope), 0.23, 1e-14);
    test_close("flat", slope, 0.0, 0.0);
    test_close("line", ww_lesson_density(&curve, -0.3, &slope), 0.23 + 0.62 * 1.4, 1e-14);
    test_close("its slope", slope, 0.62, 0.0);
    test_close("toe", ww_lesson_density(&curve, -1.7, &slope), 0.23 + 0.62 * 3.0 * 0.4 / 16.0,
               1e-14);
    test_close("half the slope", slope, 0.31, 1e-14);
    test_close("D-max", ww_lesson_density(&curve, 1.5, NULL), 0.23 + 0.62 * 2.6, 1e-13);
}

/* Source: closed form: slopes agree with differences. */
static void slope_is_the_derivative(void **state) {
    static const ww_lesson_curve curve = {0.06, 2.1, -0.4, 0.21, 0.5, 0.3};
    (void)state;
    for (double x = -1.0; x < 1.0; x += 0.0371) {
        double slope;
        ww_lesson_density(&curve, x, &slope);
        test_close("slope",
                   (ww_lesson_density(&curve, x + 1e-5, NULL) -
                    ww_lesson_density(&curve, x - 1e-5, NULL)) /
                       2e-5,
                   slope, 1e-6);
    }
}

/* What the header promises of every seed. */
static void strips(void **state) {
    const unsigned long last = test_quick() ? 40 : 400;
    size_t papers = 0;
    double squares = 0.0, n = 0.0;
    (void)state;
    for (unsigned long seed = 1; seed <= last; seed++) {
        ww_lesson_strip strip, again, other;
        test_status("strip", ww_lesson_draw(seed, 3, WW_LESSON_EITHER, &strip, NULL), WW_OK, NULL);
        test_status("again", ww_lesson_draw(seed, 3, WW_LESSON_EITHER, &again, NULL), WW_OK, NULL);
        test_status("other", ww_lesson_draw(seed, 4, WW_LESSON_EITHER, &other, NULL), WW_OK, NULL);
        papers += strip.paper;
        size_t moved = 0, thin = 0;
        for (size_t i = 0; i <= WW_LESSON_STEPS; i++) {
            const ww_lesson_row *row = &strip.row[i];
            assert_true(row->read == again.row[i].read);
            assert_true(row->hidden == other.row[i].hidden);
            moved += row->read != other.row[i].read;
            test_close("to hundredths", 100.0 * row->read, round(100.0 * row->read), 1e-9);
            const double z = (row->read - row->hidden) / strip.sd;
            squares += z * z;
            n += 1.0;
            assert_true(fabs(z) < 6.0);
            thin += i > 0 && row->hidden < strip.curve.base_fog + (strip.paper ? 0.04 : 0.10);
            assert_true(i < 2 || row->hidden <= strip.row[i - 1].hidden + 1e-12);
        }
        test_true("another student errs otherwise", moved > 5);
        test_true("steps under the speed point", thin >= 3);
        test_true("sd", strip.sd >= 0.010 && strip.sd <= 0.020);
    }
    test_true("both materials", papers > last / 3 && papers < last - last / 3);
    /* rounding adds 0.0029^2 to variances of 0.010^2 to 0.020^2: 2 to 8 % */
    test_close("errors are as said", squares / n, 1.04, 4.0 * sqrt(2.0 / n) + 0.03);
}

static void materials(void **state) {
    ww_lesson_strip strip;
    (void)state;
    test_status("film", ww_lesson_draw(1, 1, WW_LESSON_FILM, &strip, NULL), WW_OK, NULL);
    test_true("film", !strip.paper);
    test_status("paper", ww_lesson_draw(1, 1, WW_LESSON_PAPER, &strip, NULL), WW_OK, NULL);
    test_true("paper", strip.paper);
}

static void refusals(void **state) {
    ww_lesson_strip strip = {.seed = 77};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("seed 0", ww_lesson_draw(0, 1, WW_LESSON_FILM, &strip, &err), WW_EDOMAIN, &err);
    test_status("student 0", ww_lesson_draw(1, 0, WW_LESSON_FILM, &strip, &err), WW_EDOMAIN, &err);
    test_status("too great", ww_lesson_draw(4294967296UL, 1, WW_LESSON_FILM, &strip, &err),
                WW_EDOMAIN, &err);
    test_true("untouched", strip.seed == 77);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(curve_by_hand), cmocka_unit_test(slope_is_the_derivative),
        cmocka_unit_test(strips), cmocka_unit_test(materials), cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
