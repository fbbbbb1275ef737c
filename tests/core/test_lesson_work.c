/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <math.h>
#include <wedgework/lesson.h>

enum { FINE = 4001 };

/* Closed curve A: D = 0.25 + 0.25 ln(1 + e^(2.8 (x + 2))), x from -3.6 to 0.4. Source of expected
 * values: computed from that closed form (facts: gradient measures); the contrast index by its
 * three-point definition. */
static void closed_curve(void **state) {
    static double x[FINE], d[FINE];
    ww_lesson_working working;
    (void)state;
    for (size_t i = 0; i < FINE; i++) {
        x[i] = -3.6 + 0.001 * (double)i;
        d[i] = 0.25 + 0.25 * log1p(exp(2.8 * (x[i] + 2.0)));
    }
    const ww_lesson_points points = {x, d, FINE, {true, 0.25}};
    ww_lesson_work(&points, false, 1, 0.0, &working);
    test_close("base", working.result[WW_LESSON_BASE].value, 0.25, 0.0);
    test_close("speed point", working.result[WW_LESSON_SPEED_POINT].value, -2.253440, 2e-5);
    test_close("speed", working.result[WW_LESSON_SPEED].value, 143.394, 0.01);
    test_close("gradient", working.result[WW_LESSON_GRADIENT].value, 0.520067, 2e-5);
    test_close("contrast index", working.result[WW_LESSON_INDEX].value, 0.538500, 2e-5);
    test_close("its centre", working.result[WW_LESSON_INDEX].number[1], -2.452444, 1e-4);
    /* from 0.95 of 0.7 on: x = -2 + ln(19)/2.8 - a little, as slope at the end is 0.69914 */
    test_true("gamma", working.result[WW_LESSON_GAMMA].value > 0.68 &&
                           working.result[WW_LESSON_GAMMA].value < 0.70);
    test_true("no R on film", !working.result[WW_LESSON_RANGE].there);
    assert_null(ww_lesson_rule_of(WW_LESSON_RANGE, false));
}

/* Logistic paper, closed form: white 0.05, net 2.0, s = 5.799090: range 1.050 (R 105), net 0.60
 * at x0 - ln(7/3)/s. */
static void logistic_paper(void **state) {
    static double x[FINE], d[FINE];
    ww_lesson_working working;
    (void)state;
    for (size_t i = 0; i < FINE; i++) {
        x[i] = -2.0 + 0.001 * (double)i;
        d[i] = 0.05 + 2.0 / (1.0 + exp(-5.799090 * x[i]));
    }
    const ww_lesson_points points = {x, d, FINE, {true, 0.05}};
    ww_lesson_work(&points, true, 1, 0.0, &working);
    test_close("R", working.result[WW_LESSON_RANGE].value, 105.0, 0.01);
    test_close("gradient", working.result[WW_LESSON_GRADIENT].value, 1.76 / 1.05, 1e-3);
    test_close("speed point", working.result[WW_LESSON_SPEED_POINT].value,
               -log(7.0 / 3.0) / 5.799090, 1e-5);
    test_close("D-max", working.result[WW_LESSON_BLACK].value, 2.05, 1e-3);
    test_true("no speed on paper", !working.result[WW_LESSON_SPEED].there);
}

/* By hand: readings on a straight line of slope 0.62 from base 0.20 at log H -2 on, flat before.
 * A straight line's contrast index is its slope (facts). */
static void by_hand(void **state) {
    double x[21], d[21];
    ww_lesson_working working;
    (void)state;
    for (size_t i = 0; i < 21; i++) {
        x[i] = -2.6 + 0.15 * (double)i;
        d[i] = 0.20 + 0.62 * fmax(0.0, x[i] + 2.0);
    }
    const ww_lesson_points points = {x, d, 21, {true, 0.20}};
    ww_lesson_work(&points, false, 2, 0.0, &working);
    test_close("gamma", working.result[WW_LESSON_GAMMA].value, 0.62, 1e-12);
    test_close("of steps", working.result[WW_LESSON_GAMMA].number[3], 17.0, 0.0);
    test_close("index", working.result[WW_LESSON_INDEX].value, 0.62, 1e-9);
    test_close("speed point", working.result[WW_LESSON_SPEED_POINT].value, -2.0 + 0.10 / 0.62,
               1e-12);
    test_close("gradient", working.result[WW_LESSON_GRADIENT].value, 0.62, 1e-12);
}

static void what_is_not_there(void **state) {
    double x[6] = {0.0, 0.15, 0.30, 0.45, 0.60, 0.75}, d[6] = {1.0, 0.9, 0.7, 0.5, 0.3, 0.2};
    ww_lesson_working working;
    ww_lesson_points points = {x, d, 6, {true, 0.2}};
    (void)state;
    ww_lesson_work(&points, false, 2, 0.0, &working);
    for (size_t f = 1; f < WW_LESSON_FIGURES; f++)
        if (ww_lesson_rule_of((ww_lesson_figure)f, false)) {
            test_true("falls: none", !working.result[f].there);
            assert_non_null(working.result[f].why_not);
        }
    points.base.set = false;
    ww_lesson_work(&points, true, 1, 0.0, &working);
    test_holds("no base", working.result[WW_LESSON_RANGE].why_not, "no reading of the base");
    points.n = 2;
    ww_lesson_work(&points, true, 1, 0.0, &working);
    test_holds("too few", working.result[WW_LESSON_GAMMA].why_not, "too few");
}

/* By hand it comes near the hidden curve. Tolerances: what a class reads to (common practice:
 * speed point to 1/6 stop, gamma to 0.03), as a standard deviation. */
static void hidden(void **state) {
    double apart[2] = {0.0, 0.0}, n = 0.0;
    (void)state;
    for (unsigned long seed = 1; seed <= 30; seed++) {
        ww_lesson_strip strip;
        ww_lesson_working of_curve;
        double x[WW_LESSON_STEPS], d[WW_LESSON_STEPS];
        test_status("draw", ww_lesson_draw(seed, 1, WW_LESSON_FILM, &strip, NULL), WW_OK, NULL);
        test_status("hidden", ww_lesson_work_hidden(&strip, &of_curve, NULL), WW_OK, NULL);
        test_close("slope of the line", of_curve.result[WW_LESSON_GAMMA].number[0],
                   strip.curve.gamma, 1e-3);
        for (size_t i = 0; i < WW_LESSON_STEPS; i++) {
            x[i] = strip.row[WW_LESSON_STEPS - i].log_h;
            d[i] = strip.row[WW_LESSON_STEPS - i].hidden;
        }
        const ww_lesson_points points = {x, d, WW_LESSON_STEPS, {true, strip.curve.base_fog}};
        ww_lesson_working by_hand_of;
        ww_lesson_work(&points, false, 2, 0.0, &by_hand_of);
        apart[0] += pow(
            by_hand_of.result[WW_LESSON_GAMMA].value - of_curve.result[WW_LESSON_GAMMA].value, 2.0);
        apart[1] += pow(by_hand_of.result[WW_LESSON_SPEED_POINT].value -
                            of_curve.result[WW_LESSON_SPEED_POINT].value,
                        2.0);
        n += 1.0;
    }
    test_true("gamma", sqrt(apart[0] / n) < 0.03);
    test_true("speed point", sqrt(apart[1] / n) < 0.05);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(closed_curve), cmocka_unit_test(logistic_paper), cmocka_unit_test(by_hand),
        cmocka_unit_test(what_is_not_there), cmocka_unit_test(hidden)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
