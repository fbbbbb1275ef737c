/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/tones_case.h"
#include <wedgework/viewing.h>

/* Source: a chain in closed form, worked out to four decimals (support/tones_case.h). */
static void synthetic_chain(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    tones_case_make("chain", &c, &tones);
    assert_int_equal(tones.n, 1);
    const ww_tones_chain *chain = &tones.chain[0];
    assert_int_equal(chain->n, 9); /* white, 7 stops, the darkest at 7.31 */
    test_close("white, film", chain->row[0].negative.value, 1.4650, 6e-5);
    test_close("white, print", chain->row[0].print.value, 0.0900, 6e-5);
    test_close("darkest, film", chain->row[8].negative.value, 0.4000, 6e-5);
    test_close("darkest, print", chain->row[8].print.value, 1.8651, 6e-5);
    test_close("its scene", chain->row[8].point.scene, -2.2, 1e-12);
    /* L* of D 0.0900: 92.2; by CIE 15's formula, by hand */
    test_close("white, L*", chain->row[0].lightness.value, 116.0 * pow(10.0, -0.03) - 16.0, 1e-3);
    test_close("grey", chain->grey.print.value, 0.411, 6e-4);
    test_true("no doubt known", !chain->doubted && test_noted(&tones.notes, "no covariance"));
    for (size_t i = 0; i < TONES_CASE_ROWS; i++) {
        ww_tone_point p;
        ww_tone_chain_follow(&chain->chain, tones_case_rows[i].scene, &p);
        test_close("negative", p.negative.value, tones_case_rows[i].negative, 6e-5);
        test_close("print", p.print.value, tones_case_rows[i].print, 6e-5);
    }
    test_true("holds", tones.holds && !tones.wanted.given);
    ww_tones_release(&tones);
}

/* Films and papers make each pair once, papers first in the order given. */
static void overlays(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.film[1] = c.film[0];
    c.film[1].meta.development_time_min = (ww_optional){true, 12.5};
    c.paper[1] = c.paper[0];
    c.paper[1].meta.contrast = (char[]){"3"};
    c.request.n_films = c.request.n_papers = 2;
    tones_case_make("overlays", &c, &tones);
    assert_int_equal(tones.n, 4);
    test_text("film", tones.chain[1].film, "Heron film, 12.5 min");
    test_text("paper", tones.chain[2].paper, "Heron paper, 3");
    test_text("first", tones.chain[0].film, "Heron film");
    ww_tones_release(&tones);
    c.request.n_papers = 4;
    c.request.n_films = 4;
    for (size_t i = 1; i < 4; i++) {
        c.film[i] = c.film[0];
        c.paper[i] = c.paper[0];
    }
    tones_case_refuses("sixteen", &c, WW_EDOMAIN, "more than 12 curves");
}

/* A shifted exposure moves tones along the film and nothing else: on its straight part, by the
 * slope. */
static void exposure_shifts(void **state) {
    (void)state;
    tones_case c;
    ww_tones plain = WW_TONES_INIT, more = WW_TONES_INIT;
    tones_case_start(&c);
    tones_case_make("plain", &c, &plain);
    c.request.film_stops = 1.3;
    tones_case_make("more", &c, &more);
    for (size_t i = 0; i < plain.chain[0].n; i++) {
        test_close("film", more.chain[0].row[i].negative.value,
                   plain.chain[0].row[i].negative.value + 0.56 * 1.3 * log10(2.0), 1e-6);
        test_close("print", more.chain[0].row[i].print.value, plain.chain[0].row[i].print.value,
                   1e-6);
    }
    ww_tones_release(&plain);
    ww_tones_release(&more);
}

/* Red, green and blue, each with its own print exposure: every white at net 0.04. */
static void colour(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    const ww_channel_curve film = c.film[0].channel[WW_VISUAL];
    const ww_channel_curve paper = c.paper[0].channel[WW_VISUAL];
    c.film[0].channel[WW_VISUAL] = c.paper[0].channel[WW_VISUAL] =
        (ww_channel_curve){.n_points = 0};
    c.film[0].meta.emulsion = WW_EMULSION_COLOUR_NEGATIVE;
    for (int k = WW_RED; k <= WW_BLUE; k++) {
        c.film[0].channel[k] = film;
        c.film[0].channel[k].shape.parameter[0] += 0.3 * k; /* the mask */
        c.film[0].channel[k].shape.parameter[2] -= 0.1 * k; /* green and blue are faster */
        c.film[0].channel[k].figure[WW_FIGURE_SPEED_POINT] =
            tones_case_given(TONES_CASE_SPEED - 0.1 * k);
        c.paper[0].channel[k] = paper;
        c.paper[0].channel[k].shape.parameter[3] -= 0.2 * k;
        c.paper[0].channel[k].domain_low -= 0.2 * k;
        c.paper[0].channel[k].domain_high -= 0.2 * k;
    }
    tones_case_make("colour", &c, &tones);
    assert_int_equal(tones.n, 3);
    for (size_t k = 0; k < 3; k++) {
        test_close("white", tones.chain[k].row[0].print.value, 0.09, 1e-9);
        test_close("dark", tones.chain[k].row[8].print.value, 1.8651, 6e-5);
        assert_int_equal(tones.chain[k].film_channel, k);
        test_close("one exposure, by the slowest", tones.chain[k].chain.white_log_h,
                   TONES_CASE_SPEED + 2.2, 1e-9);
        test_close("film", tones.chain[k].row[8].negative.value, 0.40 + (0.3 + 0.056) * (double)k,
                   6e-5);
    }
    test_true("told", test_noted(&tones.notes, "as if dyes were pure"));
    test_true("layer", test_noted(&tones.notes, "on the speed point of its slowest layer"));
    ww_tones_release(&tones);
    c.request.callier = 1.2;
    tones_case_refuses("Callier", &c, WW_EMISMATCH, "scatters next to no light");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(synthetic_chain),
                                       cmocka_unit_test(overlays),
                                       cmocka_unit_test(exposure_shifts), cmocka_unit_test(colour)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
