/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/tones_case.h"
#include <wedgework/exposure.h>
#include <wedgework/viewing.h>

static ww_tone_chain chain_of(const tones_case *c) {
    return (ww_tone_chain){.film = &c->film[0].channel[WW_VISUAL],
                           .paper = &c->paper[0].channel[WW_VISUAL],
                           .white_log_h = TONES_CASE_SPEED + 2.2,
                           .flare = c->request.flare,
                           .callier = 1.0};
}

static void place(ww_tone_chain *chain, double scene, double density) {
    ww_error err = WW_ERROR_INIT;
    test_status("place", ww_tone_chain_place(chain, scene, density, &chain->print_log_h, &err),
                WW_OK, &err);
}

/* Source: a chain in closed form, worked out to four decimals (support/tones_case.h). */
static void synthetic_chain(void **state) {
    (void)state;
    tones_case c;
    tones_case_start(&c);
    ww_tone_chain chain = chain_of(&c);
    ww_tone_point p;
    place(&chain, 0.0, 0.09);
    for (size_t i = 0; i < TONES_CASE_ROWS; i++) {
        ww_tone_chain_follow(&chain, tones_case_rows[i].scene, &p);
        test_true("known", p.gradient.set);
        test_close("negative", p.negative.value, tones_case_rows[i].negative, 6e-5);
        test_close("print", p.print.value, tones_case_rows[i].print, 6e-5);
    }
    /* image range 1.9017, by the same source */
    ww_tone_chain_follow(&chain, 0.0, &p);
    const double light = p.film_log_h;
    ww_tone_chain_follow(&chain, -2.2, &p);
    test_close("image range", light - p.film_log_h, 1.9017, 5e-5);
}

/* Source: common practice: mid-scale contrasts multiply, film 0.60 x paper 2.50 = 1.50; a paper of
 * slope 0.1 on its toe behind a film of 0.60 leaves 0.06. */
static void scale_and_toe(void **state) {
    (void)state;
    tones_case c;
    ww_tone_point p;
    tones_case_start(&c);
    c.request.flare = 0.0;
    c.film[0].channel[WW_VISUAL].shape = tones_case_line(0.60, -2.0, 0.40);
    c.paper[0].channel[WW_VISUAL].shape =
        (ww_shape){.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.05, 2.50, -0.5, 0.08}};
    ww_tone_chain chain = chain_of(&c);
    place(&chain, -1.0, 2.55);
    ww_tone_chain_follow(&chain, -1.0, &p);
    test_close("middle", p.gradient.value, 1.50, 1e-4);
    test_close("film", p.slope[WW_TONE_FILM].value, 0.60, 1e-9);
    /* The toe's slope is 2.50 / (1 + e^(-u)): 0.1 where e^(-u) = 24; density 0.2 ln(1 + 1/24). */
    place(&chain, 0.0, 0.05 + 2.50 * 0.08 * log(1.0 + 1.0 / 24.0));
    ww_tone_chain_follow(&chain, 0.0, &p);
    test_close("paper's toe", p.slope[WW_TONE_PAPER].value, 0.10, 1e-9);
    test_close("toe", p.gradient.value, 0.06, 1e-9);
}

/* Property: the chain's gradient is that of what it gives, through every link at once. */
static void gradient_is_a_derivative(void **state) {
    (void)state;
    tones_case c;
    const double step = 1e-5;
    tones_case_start(&c);
    ww_tone_chain chain = chain_of(&c);
    chain.callier = 1.27;
    chain.enlarger_flare = 0.011;
    chain.viewing_flare = 0.013;
    place(&chain, -0.9, 0.731);
    for (double scene = -0.37; scene > -1.9; scene -= 0.173) {
        ww_tone_point a, b, p;
        ww_tone_chain_follow(&chain, scene + step, &a);
        ww_tone_chain_follow(&chain, scene - step, &b);
        ww_tone_chain_follow(&chain, scene, &p);
        test_close("gradient", p.gradient.value, (b.viewed.value - a.viewed.value) / (2.0 * step),
                   1e-6);
        test_close("viewed", p.viewed.value, ww_viewing_veil(p.print.value, 0.013), 1e-12);
    }
    test_close("Callier, no flare", ww_exposure_flare_slope(1.3, 0.0), 1.0, 0.0);
}

static void ends_of_what_was_measured(void **state) {
    (void)state;
    tones_case c;
    ww_tone_point p;
    ww_error err = WW_ERROR_INIT;
    double log_h = 7.0;
    tones_case_start(&c);
    ww_tone_chain chain = chain_of(&c);
    place(&chain, 0.0, 0.09);
    c.paper[0].channel[WW_VISUAL].domain_high = 0.0;
    ww_tone_chain_follow(&chain, -2.0, &p);
    test_true("paper", p.negative.set && p.paper_log_h.set && !p.print.set && !p.gradient.set);
    c.film[0].channel[WW_VISUAL].domain_low = -1.0;
    ww_tone_chain_follow(&chain, -2.0, &p);
    test_true("film", !p.negative.set && !p.paper_log_h.set);
    test_status("placed off the film", ww_tone_chain_place(&chain, -2.0, 0.5, &log_h, &err),
                WW_ENODATA, &err);
    test_holds("says where", err.msg, "outside its measured range, -1.00 to 2.00");
    test_status("too dark", ww_tone_chain_place(&chain, 0.0, 1.9, &log_h, &err), WW_ENODATA, &err);
    test_close("untouched", log_h, 7.0, 0.0);
}

/* Each way and back. Source: flare values in closed form, 1 % at D 2: 1.7033. */
static void way_back(void **state) {
    (void)state;
    tones_case c;
    ww_error err = WW_ERROR_INIT;
    double log_h, density;
    tones_case_start(&c);
    ww_tone_chain chain = chain_of(&c);
    chain.viewing_flare = 0.01;
    chain.callier = 1.3;
    chain.enlarger_flare = 0.01;
    test_status("expose", ww_tone_chain_expose(&chain, 1.7033, &log_h, &err), WW_OK, &err);
    /* D 2.0 of 0.05 + 2/(1 + e^(-s x)): e^(-s x) = 2/1.95 - 1 */
    test_close("log H", log_h, -log(2.0 / 1.95 - 1.0) / 5.799090, 1e-3);
    test_status("too dark for the light", ww_tone_chain_expose(&chain, 2.1, &log_h, &err),
                WW_ENODATA, &err);
    test_status("too dark for the paper", ww_tone_chain_expose(&chain, 1.75, &log_h, &err),
                WW_ENODATA, &err);
    test_status("unseen", ww_tone_chain_unseen(&chain, 1.7033, &density, &err), WW_OK, &err);
    test_close("film", density, 2.0 / 1.3, 1e-4);
    test_status("too dense", ww_tone_chain_unseen(&chain, 2.1, &density, &err), WW_ENODATA, &err);
}

static void steepest(void **state) {
    (void)state;
    tones_case c;
    double slope, density;
    tones_case_start(&c);
    ww_tone_chain_steepest(&c.paper[0].channel[WW_VISUAL], &slope, &density);
    test_close("half of the range times s", slope, 2.0 * 5.799090 / 4.0, 1e-6);
    test_close("in its middle", density, 1.05, 1e-2);
    test_text("camera", ww_tone_link_name(WW_TONE_CAMERA), "camera");
    test_text("viewing", ww_tone_link_name(WW_TONE_VIEWING), "viewing");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(synthetic_chain),
                                       cmocka_unit_test(scale_and_toe),
                                       cmocka_unit_test(gradient_is_a_derivative),
                                       cmocka_unit_test(ends_of_what_was_measured),
                                       cmocka_unit_test(way_back),
                                       cmocka_unit_test(steepest)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
