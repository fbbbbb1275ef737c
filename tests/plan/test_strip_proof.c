/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/strip_case.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/start.h>

/* The least time within 0.05 of maximum black, on the logistic paper. Source: closed form. */
static void least_time(void **state) {
    const double truth = strip_case_time(3.0, 10.0, 1.95);
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    strip_case_start(&c, true);
    strip_case_paper(&c, 3.0, 10.0, 8.0, 1.0 / 3.0, 14);
    test_status("proof", ww_strip_proof(&c.readings, 0.1, &strip, NULL), WW_OK, NULL);
    test_true("holds", strip.holds && strip.black.set);
    test_close("black", strip.black.value, 2.0, 0.01);
    test_close("time", log2(strip.best.value / truth), 0.0, 1.0 / 6.0);
    test_true("interval", strip.best.low <= truth && truth <= strip.best.high);
    test_true("marks", strip.step[13].black && !strip.step[3].black);
    ww_strip_release(&strip);
    /* Paper white plays no part. */
    strip_case_start(&c, false);
    strip_case_paper(&c, 3.0, 10.0, 16.0, 1.0, 4);
    test_status("without white", ww_strip_proof(&c.readings, 0.1, &strip, NULL), WW_OK, NULL);
    test_true("as read", !strip.white.set);
    ww_strip_release(&strip);
}

static void not_reached(void **state) {
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    strip_case_start(&c, true);
    strip_case_paper(&c, 3.0, 20.0, 5.0, 1.0 / 3.0, 8); /* ends at 25 s, half-way up */
    test_status("proof", ww_strip_proof(&c.readings, 0.1, &strip, NULL), WW_OK, NULL);
    test_true("no time", !strip.holds && !ww_quantity_present(strip.best) && !strip.black.set);
    test_true("said", strip_case_noted(&strip, "Maximum black was not reached"));
    strip_case_next("goes on", &strip, 5.0 * exp2(7.0 / 3.0), 1.0 / 3.0, 7);
    ww_strip_release(&strip);
}

static void all_black(void **state) {
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    strip_case_start(&c, true);
    strip_case_step(&c, 20.0, 2.11);
    strip_case_step(&c, 30.0, 2.10);
    strip_case_step(&c, 40.0, 2.11);
    test_status("proof", ww_strip_proof(&c.readings, 0.1, &strip, NULL), WW_OK, NULL);
    test_true("no time", !strip.holds && strip.place == WW_STRIP_DARK);
    test_true("goes to less",
              strip.series.n > 0 && strip.series.piece[strip.series.n - 1].time_s < 20.001);
    ww_strip_release(&strip);
}

/* More light than the paper takes prints lighter again; what fell has no say in the black. Source:
 * mean of 2.08 and 2.09, less white, 0.06. */
static void reversed(void **state) {
    static const double density[] = {0.80, 1.30, 1.75, 2.08, 2.09, 2.05, 1.98};
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    strip_case_start(&c, true);
    for (size_t i = 0; i < sizeof density / sizeof density[0]; i++)
        strip_case_step(&c, 4.0 * exp2(0.5 * (double)i), density[i]);
    test_status("proof", ww_strip_proof(&c.readings, 0.1, &strip, NULL), WW_OK, NULL);
    test_close("black", strip.black.value + strip.white.value, 2.085, 1e-9);
    test_true("which", strip.step[3].black && strip.step[4].black && !strip.step[5].black);
    test_true("holds", strip.holds && strip.reversed);
    test_true("said", strip_case_noted(&strip, "reversal (solarised"));
    ww_strip_release(&strip);
}

static void refusals(void **state) {
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    strip_case_start(&c, true);
    strip_case_step(&c, 20.0, 2.11);
    test_status("timer", ww_strip_proof(&c.readings, -1.0, &strip, &err), WW_EDOMAIN, &err);
    c.readings.exposure = WW_EXPOSURE_NONE;
    test_status("no times", ww_strip_proof(&c.readings, 0.1, &strip, &err), WW_ENODATA, &err);
    c.readings.meta.material = WW_MATERIAL_FILM;
    test_status("film", ww_strip_proof(&c.readings, 0.1, &strip, &err), WW_EMISMATCH, &err);
    test_true("untouched", strip.step == NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(least_time), cmocka_unit_test(not_reached), cmocka_unit_test(all_black),
        cmocka_unit_test(reversed),   cmocka_unit_test(refusals),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
