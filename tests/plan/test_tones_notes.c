/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/tones_case.h"

static void what_was_assumed(void **state) {
    (void)state;
    tones_case c;
    tones_case_start(&c);
    tones_case_says("detail", &c, "makes 0.020 D in the print", true);
    tones_case_says("film", &c, "falls on the speed point but for flare; --expose", true);
    tones_case_says("print", &c, "the scene's white comes out 0.04 above paper white", true);
    /* image range 1.9017 of 2.20 (the synthetic chain) */
    tones_case_says("flare", &c, "leaves 1.90 of the scene's 2.20 log H on the film", true);
    tones_case_says("none", &c, "without flare: enlarger (--enlarger-flare), viewing light", true);
    c.request.place_stops = 2.5;
    c.request.place_density = 0.7;
    c.request.film_stops = -0.5;
    tones_case_says("placed", &c, "the tone 2.50 stops below white comes out 0.70", true);
    tones_case_says("less", &c, "and 0.50 stop less", true);
    c.request.flare = c.request.viewing_flare = c.request.enlarger_flare = 0.01;
    tones_case_says("all flares", &c, "Taken as without flare", false);
}

static void what_was_read(void **state) {
    (void)state;
    tones_case c;
    tones_case_start(&c);
    tones_case_says("quiet", &c, "scanner", false);
    c.film[0].meta.status = WW_STATUS_SCANNER;
    tones_case_says("scanner", &c, "stand in for those that the enlarger sees", true);
    c.paper[0].meta.wedge = WW_WEDGE_NOMINAL;
    tones_case_says("nominal", &c, "'Heron paper' was exposed through a nominal wedge", true);
    c.film[0].meta.relative = WW_RELATIVE_BASE;
    tones_case_says("base, no flare", &c, "relative to its base", false);
    c.request.enlarger_flare = 0.01;
    tones_case_says("base", &c, "counted from the light through that base", true);
    c.paper[0].meta.relative = WW_RELATIVE_WHITE;
    c.paper[0].channel[WW_VISUAL].shape.parameter[0] = 0.0;
    tones_case_says("white", &c, "relative to its white: so are print densities", true);
    tones_case_says("no covariance", &c, "carries no covariance", true);
    tones_case_doubt(&c, 0.01, 0.01, 0.01, 0.01);
    tones_case_says("covariance", &c, "carries no covariance", false);
}

/* A status that is neither the paper's nor the eye's, of another channel than visual. */
static void by_which_filters(void **state) {
    (void)state;
    tones_case c;
    tones_case_start(&c);
    c.film[0].channel[WW_GREEN] = c.film[0].channel[WW_VISUAL];
    c.film[0].channel[WW_VISUAL] = (ww_channel_curve){.n_points = 0};
    c.film[0].meta.status = WW_STATUS_M;
    tones_case_says("status", &c, "status M, which stands in for the paper's own view of it", true);
    c.film[0].meta.status = WW_STATUS_PRINTING;
    tones_case_says("the paper's", &c, "stands in for the paper's own", false);
}

static void wanted(void **state) {
    (void)state;
    tones_case c;
    tones_case_start(&c);
    c.request.wanted = true;
    tones_case_says("level", &c, "which the given film has there", true);
    tones_case_says("no detail", &c, "Detail counts as kept", false);
    c.request.n_films = 0;
    tones_case_says("level", &c, "taken as 0.30, net 0.10 over a base of 0.20", true);
    tones_case_says("light", &c, "'light' is what the paper must get", true);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_assumed), cmocka_unit_test(what_was_read),
        cmocka_unit_test(by_which_filters), cmocka_unit_test(wanted)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
