/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "working_read.h"

static void film_and_paper(void **state) {
    ww_curve film = make_film(), paper = make_paper();
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    /* Source: ISO 6, S = 0.8 / Hm; 0.8 / 10^-2.168 = 117.79 by hand. */
    film.speed.standard = WW_SPEED_ISO_6;
    film.speed.exact = between(117.8, 110, 126);
    film.channel[WW_VISUAL].figure[WW_FIGURE_SPEED_POINT] = between(-2.168, -2.2, -2.1);
    film.exposure = WW_EXPOSURE_WEDGE;
    film.meta.log_h0 = given(0.3);
    ww__working_curve(&film, &report);
    html = read_working(&report);
    test_holds("exposure", html,
               "<dd>log H = log h0 - density of the wedge step</dd>\n<dd "
               "class=\"numbers\">log h0 = 0.300</dd>");
    test_holds("speed", html, "0.8 / 10^-2.168 = 117.8");
    test_holds("source", html, "Source: ISO 6:1993");
    free(html);
    /* Source: ISO 6846, R = 100 times the range of log H: 100 x (1.05 - -0.05) = 110. */
    paper.channel[WW_VISUAL].construction.iso_from = -0.05;
    paper.channel[WW_VISUAL].construction.iso_to = 1.05;
    paper.channel[WW_VISUAL].figure[WW_FIGURE_ISO_RANGE] = between(110, 104, 116);
    ww__working_curve(&paper, &report);
    html = read_working(&report);
    test_holds("R", html, "100 x (1.050 - -0.050) = 110.0");
    free(html);
    ww_curve_release(&film);
    ww_curve_release(&paper);
}

/* A curve that was not fitted has no more than its exposures. */
static void without_a_fit(void **state) {
    ww_curve none = WW_CURVE_INIT;
    ww__report report = WW__REPORT_INIT;
    char *html;
    (void)state;
    ww__working_curve(&none, &report);
    html = read_working(&report);
    test_lacks("no model", html, "the curve");
    free(html);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(film_and_paper),
                                       cmocka_unit_test(without_a_fit)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
