/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/tones_parts.h"
#include "support/tones_case.h"

static const ww_tones_chain *only(ww_tones *tones, const tones_case *c) {
    tones_case_make("chain", c, tones);
    return &tones->chain[0];
}

static void expect_runs(const char *row, const ww_tones *tones, size_t n,
                        const ww_tones_fate fate[]) {
    const ww_tones_chain *chain = &tones->chain[0];
    test_close("begins at white", chain->run[0].from, 0.0, 0.0);
    test_close("ends with the range", chain->run[chain->n_runs - 1].to, -tones->subject_range, 0.0);
    for (size_t i = 0; i < n && i < chain->n_runs; i++) {
        test_text(row, ww_tones_fate_name(chain->run[i].fate), ww_tones_fate_name(fate[i]));
        test_true("joined", i == 0 || chain->run[i].from == chain->run[i - 1].to);
    }
    if (chain->n_runs != n)
        fail_msg("%s: %zu stretches where %zu were expected", row, chain->n_runs, n);
}

/* Where the gradient is 0.2, by closed form: film 0.56 on its line, so that the paper needs a slope
 * of 0.2/0.56 where there is no flare: s 2 p (1 - p) = 0.357143, p = 0.031798 and 0.968202. Print
 * at white: p 0.02. In the film's density these lie ln(p/(1 - p)) / s apart. */
static void both_ends_of_the_paper(void **state) {
    (void)state;
    static const ww_tones_fate fate[] = {WW_TONES_PAPER_TOE, WW_TONES_KEPT,
                                         WW_TONES_PAPER_SHOULDER};
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.flare = 0.0;
    c.request.subject_range = 2.6;
    const double s = 5.799090, p = 0.5 - sqrt(0.25 - 0.2 / 0.56 / (2.0 * s));
    const double toe = (log(p / (1.0 - p)) - log(0.02 / 0.98)) / s / 0.56;
    const double shoulder = (log((1.0 - p) / p) - log(0.02 / 0.98)) / s / 0.56;
    const ww_tones_chain *chain = only(&tones, &c);
    expect_runs("paper", &tones, 3, fate);
    test_close("toe", chain->run[0].to, -toe, 1e-6);
    test_close("shoulder", chain->run[1].to, -shoulder, 1e-6);
    test_close("kept", chain->kept_stops.value, (shoulder - toe) / log10(2.0), 1e-5);
    test_text("of white", ww_tones_fate_name(chain->row[0].fate), "toe of the paper");
    ww_tones_release(&tones);
}

/* A veil as light as the darkest tones, and a paper that has room for all: camera flare is what is
 * left of 10^L / (10^L + F). */
static void flare_kills_shadows(void **state) {
    (void)state;
    static const ww_tones_fate fate[] = {WW_TONES_KEPT, WW_TONES_CAMERA_FLARE};
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.flare = 0.1;
    c.paper[0].channel[WW_VISUAL].shape =
        (ww_shape){.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.05, 1.0, -1.5, 0.001}};
    c.request.place_density = 0.3;
    const ww_tones_chain *chain = only(&tones, &c);
    expect_runs("flare", &tones, 2, fate);
    /* 0.56 x 1.0 x 10^L / (10^L + 0.1) = 0.2: 10^L = 0.02/0.36 */
    test_close("from", chain->run[1].from, log10(0.02 / 0.36), 1e-6);
    ww_tones_release(&tones);
    /* The room's light does the same at the other end of the chain. */
    c.request.flare = 0.0;
    c.request.viewing_flare = 0.1;
    chain = only(&tones, &c);
    test_text("viewing", ww_tones_fate_name(chain->run[chain->n_runs - 1].fate), "viewing flare");
    ww_tones_release(&tones);
    c.request.viewing_flare = 0.0;
    c.request.enlarger_flare = 0.5;
    chain = only(&tones, &c);
    test_text("enlarger", ww_tones_fate_name(chain->run[0].fate), "enlarger flare");
    ww_tones_release(&tones);
}

static void film_and_the_rest(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.flare = 0.0;
    ww_channel_curve *film = &c.film[0].channel[WW_VISUAL];
    ww_channel_curve *paper = &c.paper[0].channel[WW_VISUAL];
    paper->shape =
        (ww_shape){.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.05, 1.0, -1.5, 0.001}};
    c.request.place_density = 0.3;
    /* Steep in the middle of the scene, flat beyond it on both sides. */
    film->shape = tones_case_paper_shape(6.0, TONES_CASE_SPEED + 1.1);
    const ww_tones_chain *chain = only(&tones, &c);
    expect_runs("film", &tones, 3,
                (ww_tones_fate[]){WW_TONES_FILM_SHOULDER, WW_TONES_KEPT, WW_TONES_FILM_TOE});
    ww_tones_release(&tones);
    film->domain_high = TONES_CASE_SPEED + 2.0;
    c.request.place_stops = 2.0;
    chain = only(&tones, &c);
    test_text("beyond", ww_tones_fate_name(chain->run[0].fate), "beyond the film's measured range");
    test_close("from", chain->run[0].to, -0.2, 1e-6);
    test_true("absent", !ww_quantity_present(chain->row[0].negative) &&
                            !ww_quantity_present(chain->row[0].print));
    ww_tones_release(&tones);
    film->domain_high = 2.0;
    paper->domain_high = 0.1 - 1.5 + 0.3;
    chain = only(&tones, &c);
    test_text("paper", ww_tones_fate_name(chain->run[chain->n_runs - 1].fate),
              "beyond the paper's measured range");
    ww_tones_release(&tones);
    /* Both as steep as they get, and not enough. */
    tones_case_start(&c);
    c.request.flare = 0.0;
    c.request.place_density = 0.1;
    film->shape = tones_case_line(0.56, TONES_CASE_SPEED, 0.4);
    paper->shape =
        (ww_shape){.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.05, 0.3, -1.5, 0.001}};
    chain = only(&tones, &c);
    expect_runs("contrast", &tones, 1, (ww_tones_fate[]){WW_TONES_CONTRAST});
    test_close("nothing", chain->kept_stops.value, 0.0, 0.0);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(both_ends_of_the_paper),
                                       cmocka_unit_test(flare_kills_shadows),
                                       cmocka_unit_test(film_and_the_rest)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
