/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/tones_words.h"
#include "support/tones_case.h"

static void expect(const char *row, const ww_tones *tones, bool why, const char *words, bool said) {
    ww__text text = WW__TEXT_INIT;
    if (why)
        ww__tones_why(tones, &text);
    else
        ww__tones_act(tones, &text);
    if (said)
        test_holds(row, ww__text_string(&text), words);
    else
        test_lacks(row, ww__text_string(&text), words);
    ww__text_release(&text);
}

/* Source: the case: kept from 0.53 to 6.31 stops below white by the closed form of
 * tests/plan/test_tones_fate.c, without flare. */
static void kept(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.flare = 0.0;
    tones_case_make("kept", &c, &tones);
    expect("act", &tones, false,
           "of the scene's 7.3 stops 6.8 keep their detail; the lightest 0.5 "
           "die in the toe of the paper.",
           true);
    expect("no doubt is known", &tones, false, "trust", false);
    expect("grey", &tones, true, "why: middle grey, 18 % of white, prints at ", true);
    expect("links", &tones, true, "camera 1.00 x film 0.56 x enlarger 1.00 x paper ", true);
    expect("ends", &tones, true, "The scene prints from 0.09 to ", true);
    ww_tones_release(&tones);
    tones_case_doubt(&c, 0.0, 0.006, 0.0, 0.09);
    tones_case_make("doubted", &c, &tones);
    expect("trust", &tones, false, "keep their detail, trust +-0.", true);
    ww_tones_release(&tones);
    c.request.detail = 0.05;
    tones_case_make("all", &c, &tones);
    expect("all", &tones, false, "all 7.3 stops of the scene keep their detail", true);
    ww_tones_release(&tones);
}

static void stretches(void **state) {
    (void)state;
    static const ww_tones_run run[] = {{0.0, -0.6, WW_TONES_BEYOND_FILM},
                                       {-0.6, -0.61, WW_TONES_FILM_SHOULDER},
                                       {-0.61, -1.0, WW_TONES_KEPT},
                                       {-1.0, -1.3, WW_TONES_CONTRAST},
                                       {-1.3, -2.2, WW_TONES_CAMERA_FLARE}};
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    tones_case_make("stretches", &c, &tones);
    tones.chain[0].n_runs = sizeof run / sizeof run[0];
    for (size_t i = 0; i < tones.chain[0].n_runs; i++)
        tones.chain[0].run[i] = run[i];
    expect("in words", &tones, false,
           "; the lightest 2.0 lie beyond the film's measured range, 1.0 from 3.3 below white on "
           "die in the contrast of film and paper, the darkest 3.0 in camera flare.",
           true);
    ww_tones_release(&tones);
}

static void others(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.flare = 0.0;
    c.paper[1] = c.paper[0];
    c.paper[1].meta.contrast = (char[]){"4"};
    c.paper[1].channel[WW_VISUAL].shape.parameter[2] = 8.0;
    c.request.n_papers = 2;
    tones_case_make("two", &c, &tones);
    expect("first", &tones, false, "'Heron paper': of the scene's 7.3 stops 6.8", true);
    expect("second", &tones, false, " by the others: ", true);
    expect("named", &tones, false, " by 'Heron paper, 4'.", true);
    ww_tones_release(&tones);
    c.paper[2] = c.paper[3] = c.paper[1];
    c.request.n_papers = 4;
    tones_case_make("four", &c, &tones);
    tones.chain[1].kept_stops.value = 3.2;
    tones.chain[2].kept_stops.value = 4.4;
    tones.chain[3].kept_stops.value = 5.4;
    expect("too many to name", &tones, false, " Kept by the others: 3.2 to 5.4.", true);
    ww_tones_release(&tones);
}

static void wanted(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.wanted = true;
    tones_case_make("wanted", &c, &tones);
    /* net 0.04 + 0.1 i under 1.99982, where the paper was measured to: 20 of 23 */
    expect("act", &tones, false, " D gives this print on 'Heron paper' in 20 of its 23 tones",
           true);
    expect("refused", &tones, false, "; 3 are darker than the paper was measured.", true);
    expect("given", &tones, false, " 'Heron film' is at most ", true);
    expect("why", &tones, true, "a straight print of slope 1.00 from net 0.04 at white", true);
    ww_tones_release(&tones);
    c.request.n_films = 0;
    c.request.subject_range = 1.5;
    tones_case_make("all", &c, &tones);
    expect("all", &tones, false, "in all its 16 tones.", true);
    expect("no film", &tones, false, "Heron film", false);
    ww_tones_release(&tones);
}

static void scene_stops(void **state) {
    (void)state;
    ww__text text = WW__TEXT_INIT;
    ww__tones_stops(&text, 0.0);
    ww__text_add(&text, " ");
    ww__tones_stops(&text, -0.75257498915995302); /* 2.5 log10 2 */
    test_text("stops", ww__text_string(&text), "white -2.5");
    ww__text_release(&text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(kept), cmocka_unit_test(stretches),
                                       cmocka_unit_test(others), cmocka_unit_test(wanted),
                                       cmocka_unit_test(scene_stops)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
