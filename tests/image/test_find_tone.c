/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_tone.h"
#include "support/emulsion.h"
#include "support/support.h"

#include <math.h>

enum { WIDE = 60, HIGH = 40 };

static ww__grid preview(double light[]) {
    return (ww__grid){.x = 10.0,
                      .y = 20.0,
                      .along = {1.0, 0.0},
                      .across = {0.0, 1.0},
                      .step_u = 3.0,
                      .step_v = 3.0,
                      .nu = WIDE,
                      .nv = HIGH,
                      .light = light};
}

/* Source: definition: log10 of the mean of the cells put together, plus the floor. */
static void logs_of_means(void **state) {
    static double light[WIDE * HIGH];
    const ww__grid g = preview(light);
    ww__tone t = WW__TONE_INIT;
    (void)state;
    for (size_t i = 0; i < WIDE * HIGH; i++)
        light[i] = 0.01 + 0.013 * (double)(i % WIDE) + 0.001 * (double)(i / WIDE);
    test_status("new", ww__tone_new(&g, 2, 0.0, &t, NULL), WW_OK, NULL);
    test_true("size", t.width == WIDE / 2 && t.height == HIGH / 2);
    test_close("scale", t.scale, 6.0, 0.0);
    test_close("least floor", t.floor, 1e-4, 1e-12);
    const double mean = 0.01 + 0.013 * 20.5 + 0.001 * 14.5;
    test_close("value", t.value[10 + 7 * t.width], log10(mean + 1e-4), 1e-12);
    ww__tone_release(&t), ww__tone_release(&t), ww__tone_release(NULL);
    test_status("coarse file", ww__tone_new(&g, 1, 1.0 / 255.0, &t, NULL), WW_OK, NULL);
    test_close("half a code", t.floor, 0.5 / 255.0, 1e-12);
    ww__tone_release(&t);
}

/* Source: the noise that was put in. */
static void noise_is_that_of_the_dark(void **state) {
    static double light[WIDE * HIGH];
    const ww__grid g = preview(light);
    ww__tone t = WW__TONE_INIT;
    dice d = {12};
    (void)state;
    for (size_t i = 0; i < WIDE * HIGH; i++)
        light[i] = i % WIDE < 20 ? 0.01 + dice_normal(&d, 8e-4) : 0.8 + dice_normal(&d, 0.02);
    test_status("new", ww__tone_new(&g, 1, 0.0, &t, NULL), WW_OK, NULL);
    test_close("noise", t.noise, 8e-4, 4e-4);
    test_close("floor", t.floor, 3.0 * t.noise, 1e-12);
    test_true("dark weighs less", t.weight[5] < t.weight[50]);
    ww__tone_release(&t);
}

/* Source: a plane is its own interpolation. */
static void lines_through_a_plane(void **state) {
    static double light[WIDE * HIGH];
    const ww__grid g = preview(light);
    ww__tone t = WW__TONE_INIT;
    const ww__line line = {3.3, 4.1, 0.8, 0.6, 30}, out = {-5.0, 4.0, 1.0, 0.0, 10};
    double value[30], weight[30];
    (void)state;
    for (size_t i = 0; i < WIDE * HIGH; i++)
        light[i] = pow(10.0, -1.0 + 0.01 * (double)(i % WIDE) - 0.02 * (double)(i / WIDE)) - 1e-4;
    test_status("new", ww__tone_new(&g, 1, 0.0, &t, NULL), WW_OK, NULL);
    ww__tone_line(&t, &line, value, weight);
    for (size_t i = 0; i < 30; i++) {
        const double x = 3.3 + 0.8 * (double)i - 0.5, y = 4.1 + 0.6 * (double)i - 0.5;
        test_close("value", value[i], -1.0 + 0.01 * x - 0.02 * y, 2e-3);
        test_true("known", weight[i] > 0.0);
    }
    ww__tone_line(&t, &out, value, weight);
    test_true("outside", weight[4] <= 0.0 && weight[6] > 0.0);
    ww__tone_release(&t);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(logs_of_means),
        cmocka_unit_test(noise_is_that_of_the_dark),
        cmocka_unit_test(lines_through_a_plane),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
