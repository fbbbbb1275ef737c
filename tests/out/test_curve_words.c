/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/curve_words.h"
#include "results.h"

/* Sources: the interface's rules for text (the finding first, with its doubt; averages with their
 * end-points; R in tens; no ISO speed outside the contrast condition); the grade beside R: the
 * table of wedgework/paper.h. Figures are set by hand, so that only the wording is tested. */
static void set(ww_channel_curve *channel, ww_figure figure, double value, double low,
                double high) {
    channel->figure[figure] = between(value, low, high);
}

static void expect_act(const char *row, const ww_curve *curve, const char *want) {
    ww__text text = WW__TEXT_INIT;
    ww__words_curve_act(&text, curve);
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void expect_why(const char *row, const ww_curve *curve, const char *want) {
    ww__text text = WW__TEXT_INIT;
    ww__words_curve_why(&text, curve);
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void set_film(ww_channel_curve *channel) {
    set(channel, WW_FIGURE_GAMMA, 0.6134, 0.5892, 0.6349);
    set(channel, WW_FIGURE_AVERAGE_GRADIENT, 0.5671, 0.5518, 0.5823);
    channel->construction.gradient_from = -2.1037;
    channel->construction.gradient_to = -0.6037;
}

static void films(void **state) {
    ww_curve curve = make_film();
    (void)state;
    set_film(&curve.channel[WW_VISUAL]);
    expect_act(
        "no speed", &curve,
        "gamma 0.61 (0.59 to 0.63), average gradient 0.57 (0.55 to 0.58) between log H -2.10 "
        "and -0.60; no speed.");
    curve.speed = (ww_speed){.standard = WW_SPEED_ISO_6,
                             .exact = between(118.3, 112.4, 124.6),
                             .arithmetic = 125,
                             .degrees = 22};
    expect_act("ISO 6", &curve,
               "ISO 125/22 (118, 112 to 125); gamma 0.61 (0.59 to 0.63), average gradient 0.57 "
               "(0.55 to 0.58) between log H -2.10 and -0.60.");
    curve.speed.standard = WW_SPEED_EXPOSURE_INDEX;
    curve.channel[WW_VISUAL].figure[WW_FIGURE_GAMMA] = (ww_quantity)WW_QUANTITY_INIT;
    curve.channel[WW_VISUAL].figure[WW_FIGURE_AVERAGE_GRADIENT] = (ww_quantity)WW_QUANTITY_INIT;
    expect_act("outside the condition", &curve, "exposure index 125/22 (118, 112 to 125).");
    curve.speed.arithmetic = 0;
    curve.speed.exact = between(2.9, 2.9, 2.9);
    curve.speed.degrees = 6;
    expect_act("off the scale", &curve, "exposure index off the scale (2.9).");
    curve.speed.standard = WW_SPEED_NONE;
    expect_act("nothing", &curve, "a curve, but neither a speed nor a gamma follows from it.");
    ww_curve_release(&curve);
}

static void colour(void **state) {
    ww_curve curve = make_colour();
    (void)state;
    for (int c = WW_RED; c <= WW_BLUE; c++)
        set(&curve.channel[c], WW_FIGURE_GAMMA, 0.55 + 0.07 * c, 0.54 + 0.07 * c, 0.56 + 0.07 * c);
    expect_act("three channels", &curve,
               "gamma red 0.55 (0.54 to 0.56), green 0.62 (0.61 to 0.63), blue 0.69 (0.68 to "
               "0.70); no speed.");
    ww_curve_release(&curve);
}

static void papers(void **state) {
    ww_curve curve = make_paper();
    ww_channel_curve *channel = &curve.channel[WW_VISUAL];
    (void)state;
    set(channel, WW_FIGURE_ISO_RANGE, 106.4, 103.7, 109.2);
    set(channel, WW_FIGURE_DMAX, 2.034, 2.011, 2.057);
    expect_act("grade 2 is 0.95 to 1.14", &curve,
               "R 110 (106, 104 to 109) from net 0.04 to 90 % of net D-max, about grade 2 "
               "(medium); D-max 2.03 (2.01 to 2.06) D.");
    set(channel, WW_FIGURE_ISO_RANGE, 181.0, 181.0, 181.0);
    channel->figure[WW_FIGURE_DMAX] = (ww_quantity)WW_QUANTITY_INIT;
    expect_act("no nominal grade", &curve, "R 180 (181) from net 0.04 to 90 % of net D-max.");
    channel->figure[WW_FIGURE_ISO_RANGE] = (ww_quantity)WW_QUANTITY_INIT;
    expect_act("no range", &curve, "no range R: the curve does not reach both of its ends.");
    ww_curve_release(&curve);
}

static void without_curve(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    (void)state;
    curve.channel[WW_GREEN].present = true;
    add_point(&curve.channel[WW_GREEN], "1", -2.0, 0.3);
    expect_act("too few", &curve,
               "no curve: these readings do not carry one. Next, read at least 5 exposed steps, "
               "from the first tone to the densest.");
    expect_why("too few", &curve, "");
    ww_curve_release(&curve);
}

static void why(void **state) {
    ww_curve film = make_film(), three = make_colour();
    (void)state;
    add_suspect(&film.channel[WW_VISUAL], 6, 0.14, WW_CAUSE_SLIP);
    film.channel[WW_VISUAL].point[20].state = WW_CELL_OVER;
    expect_why("one of 21 suspect, one beyond", &film,
               "a logistic curve through 19 readings, log H -3.31 to 0.83, leaves 0.007 D (1 sd).");
    three.channel[WW_RED].residual_sd = 0.0121;
    three.channel[WW_BLUE].shape.model = WW_MODEL_SPLINE;
    three.channel[WW_BLUE].point[16].cut = true;
    expect_why("unlike channels", &three,
               "fitted curves through 16 to 17 readings each, log H -3.10 to 0.90, leave 0.007 to "
               "0.012 D (1 sd).");
    ww_curve_release(&film);
    ww_curve_release(&three);
}

static void iso_ranges(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__words_iso_range(&text, between(94.9, 92.3, 97.4));
    test_text("R", ww__text_string(&text), "90 (95, 92 to 97)");
    ww__text_release(&text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(films),         cmocka_unit_test(colour), cmocka_unit_test(papers),
        cmocka_unit_test(without_curve), cmocka_unit_test(why),    cmocka_unit_test(iso_ranges),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
