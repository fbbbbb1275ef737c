/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/match_parts.h"
#include "support/support.h"
#include <math.h>

static ww_match match;

/* Responses that are straight lines between white and black. */
static void lines(double aim_white, double aim_black, double white, double black, bool absolute) {
    ww_match_channel *c = &match.channel[0];
    match = (ww_match){.n = 1, .ramp = WW_RAMP_GRAY, .absolute = absolute};
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        c->aim.density[i] = aim_white + drive * (aim_black - aim_white);
        c->print.density[i] = white + drive * (black - white);
    }
    c->aim.to = c->print.to = 1.0;
}

static void make(double aim_white, double aim_black, double white, double black, bool absolute) {
    ww_error err = WW_ERROR_INIT;
    lines(aim_white, aim_black, white, black, absolute);
    test_status("target", ww__match_target(&match, &match.channel[0], &err), WW_OK, &err);
}

static double target(double drive) {
    return ww_tone_response_at(match.channel[0].target, drive);
}

/* By hand. Kept to 1.00 D above paper: of a range of 2.0 half the drives. From there the hyperbola
 * over 1.0 of the aim and 0.5 of the print, s = 0.5: at its middle 1.08 + 0.5 0.5 / 0.75. */
static void led_into_a_lesser_black(void **state) {
    (void)state;
    const ww_match_channel *c = &match.channel[0];
    make(0.05, 2.05, 0.08, 1.58, false);
    test_close("kept", c->kept, 0.5, 0.002);
    test_close("kept to", c->kept_density, 1.0, 0.002);
    test_close("light", target(0.31), 0.08 + 0.62, 1e-9);
    test_close("middle of the lead", target(0.75), 1.08 + 0.5 * 0.5 / 0.75, 1e-3);
    test_close("black", target(1.0), 1.58, 1e-12);
    /* Its slope is that of the aim where it begins, s^2 of it at the end: no kink. */
    test_close("begins", (target(0.503) - target(0.5)) / 0.003, 2.0, 0.02);
    test_close("ends", (target(1.0) - target(0.998)) / 0.002, 2.0 * 0.25, 0.01);
    for (size_t i = 1; i < WW_MATCH_POINTS; i++)
        test_true("rises", c->out[i] > c->out[i - 1]);
    test_close("out", c->out[WW_MATCH_POINTS - 1], 1.0, 1e-12);
}

static void ranges(void **state) {
    (void)state;
    const ww_match_channel *c = &match.channel[0];
    make(0.05, 1.25, 0.08, 2.08, false); /* two thirds of 1.2 */
    test_close("kept to", c->kept_density, 0.8, 0.002);
    test_close("a greater black", target(1.0), 2.08, 1e-12);
    make(0.05, 2.05, 0.08, 2.08, false);
    test_close("alike", c->kept, 1.0, 0.0);
    test_close("alike", target(0.9), 1.88, 1e-9);
}

/* Densities themselves: white within reach is a tint, a greater black stays unused. */
static void absolute(void **state) {
    (void)state;
    const ww_match_channel *c = &match.channel[0];
    make(0.12, 1.62, 0.05, 2.05, true);
    test_close("a tint", target(0.0), 0.12, 1e-12);
    test_close("black", target(1.0), 1.62, 1e-12);
    test_close("sent", c->out[0], 0.035, 1e-9); /* 0.07 of 2.0 */
    test_close("kept", c->kept, 1.0, 0.0);
    /* Paper darker by 0.04: led over four times that; from there on densities themselves. */
    make(0.05, 1.55, 0.09, 2.09, true);
    test_close("paper", target(0.0), 0.09, 1e-12);
    test_close("led to", c->kept_from, 0.16 / 1.5, 0.002);
    test_close("beyond", target(0.2), 0.35, 1e-9);
    for (int i = 1; i <= 20; i++)
        test_true("rises", target(i / 100.0) > target((i - 1) / 100.0));
}

static void nothing_in_common(void **state) {
    (void)state;
    ww_error err = WW_ERROR_INIT;
    lines(0.05, 0.30, 0.25, 2.05, true);
    test_status("apart", ww__match_target(&match, &match.channel[0], &err), WW_EMISMATCH, &err);
    test_holds("apart", err.msg, "the aim runs from 0.05 to 0.30 D");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(led_into_a_lesser_black),
                                       cmocka_unit_test(ranges), cmocka_unit_test(absolute),
                                       cmocka_unit_test(nothing_in_common)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
