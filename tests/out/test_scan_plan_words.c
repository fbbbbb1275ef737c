/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/scan_plan_words.h"
#include "support/scan_plan_case.h"
#include <math.h>

/* Source: the interface (the act in units that can be set, with its doubt), and the issue's own
 * example of a first line. */

static void act_is(const char *row, const ww_scan_plan *plan, const char *want) {
    ww__text text = WW__TEXT_INIT;
    ww__words_scan_act(&text, plan);
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void why_holds(const char *row, const ww_scan_plan *plan, const char *words, bool said) {
    ww__text text = WW__TEXT_INIT;
    ww__words_scan_why(&text, plan);
    if (said)
        test_holds(row, ww__text_string(&text), words);
    else
        test_lacks(row, ww__text_string(&text), words);
    ww__text_release(&text);
}

/* A plan of three channels by hand. */
static void make(ww_scan_tone tone[], const double stops[], ww_scan_plan *plan) {
    static char base[] = "base", cloud[] = "cloud";
    tone[0] = (ww_scan_tone){.tone = base, .base = true, .density = 0.3};
    tone[1] = (ww_scan_tone){.tone = cloud, .kept = true, .density = 2.03, .snr = 38.2};
    *plan = (ww_scan_plan){.holds = true,
                           .way = WW_SCAN_ONE,
                           .passes = 1,
                           .first = 1,
                           .separate = 0.01,
                           .weakest = WW_BLUE};
    plan->stops = fmin(stops[0], fmin(stops[1], stops[2]));
    for (int c = 0; c < 3; c++)
        plan->channel[c] =
            (ww_scan_channel){.present = true,
                              .stops = {stops[c], stops[c] - 0.17, stops[c] + 0.17, WW_FITTED},
                              .tone = tone,
                              .n_tones = 2,
                              .highlight = 1,
                              .seen = true,
                              .sees = {2.5 + 0.1 * c, 0.0, 0.0, WW_FITTED},
                              .separable = 0.032,
                              .told = 0.0107};
}

static void exposures(void **state) {
    static const double apart[] = {0.7, 1.2, 1.9}, down[] = {-0.32, 0.2, 0.9},
                        alike[] = {1.31, 1.33, 1.35}, none[] = {0.02, 0.0, 0.03};
    ww_scan_tone tone[2];
    ww_scan_plan plan;
    (void)state;
    make(tone, apart, &plan);
    act_is("apart", &plan,
           "open up 0.7 stop (red 0.7, green 1.2, blue 1.9) from the wedge's scan: one scan tells "
           "0.010 D apart in 'cloud' over 3 x 3 pixels; trust +-0.2 stop.");
    tone[0].thin = (ww_optional){true, 0.3};
    for (int c = 0; c < 3; c++)
        plan.channel[c].stands_in = true;
    act_is("no base", &plan,
           "open up 0.7 stop (red 0.7, green 1.2, blue 1.9) from the wedge's scan, by thin 'base' "
           "in place of film base, which was not read and may clip: one scan tells 0.010 D apart "
           "in 'cloud' over 3 x 3 pixels; trust +-0.2 stop.");
    make(tone, down, &plan);
    act_is("down", &plan,
           "close down 0.3 stop (red -0.3, green +0.2, blue +0.9) from the wedge's scan: one scan "
           "tells 0.010 D apart in 'cloud' over 3 x 3 pixels; trust +-0.2 stop.");
    make(tone, alike, &plan);
    act_is("alike", &plan,
           "open up 1.3 stops from the wedge's scan: one scan tells 0.010 D apart in 'cloud' "
           "over 3 x 3 pixels; trust +-0.2 stop.");
    plan.off = true;
    act_is(
        "off", &plan,
        "all densities here are off, as a note says: open up 1.3 stops from the wedge's scan: one "
        "scan tells 0.010 D apart in 'cloud' over 3 x 3 pixels; trust +-0.2 stop.");
    make(tone, none, &plan);
    act_is("none", &plan,
           "keep the exposure of the wedge's scan: one scan tells 0.010 D apart in 'cloud' "
           "over 3 x 3 pixels; trust +-0.2 stop.");
}

static void ways(void **state) {
    static const double alike[] = {1.31, 1.33, 1.35};
    ww_scan_tone tone[2];
    ww_scan_plan plan;
    (void)state;
    make(tone, alike, &plan);
    plan.way = WW_SCAN_SECOND;
    plan.passes = 2, plan.second = 1;
    plan.second_stops = plan.channel[WW_BLUE].second_stops = 5.0 / 3.0;
    plan.channel[WW_BLUE].switch_at = 1.724;
    act_is(
        "second", &plan,
        "open up 1.3 stops from the wedge's scan, then scan again with 1.7 stops more: both "
        "tell 0.010 D apart in 'cloud' over 3 x 3 pixels, the second needed from 1.72 D (blue) on; "
        "trust +-0.2 stop.");
    plan.channel[WW_GREEN].second_stops = 1.0 / 3.0;
    plan.channel[WW_GREEN].switch_at = 1.401;
    act_is(
        "not as much in green", &plan,
        "open up 1.3 stops from the wedge's scan, then scan again with 1.7 stops more (0.3 stop "
        "in green): both tell 0.010 D apart in 'cloud' over 3 x 3 pixels, the second needed from "
        "1.40 D (green), 1.72 D (blue) on; trust +-0.2 stop.");
    plan.channel[WW_GREEN].second_stops = 0.0;
    plan.way = WW_SCAN_BOTH;
    plan.passes = 4, plan.second = 3;
    act_is("a mean of the second", &plan,
           "open up 1.3 stops from the wedge's scan, then average 3 with 1.7 stops more: together "
           "they tell 0.010 D apart in 'cloud' over 3 x 3 pixels, the later ones needed from "
           "1.72 D (blue) on; trust +-0.2 stop.");
    plan.first = 3, plan.second = 1;
    act_is("a mean of the first", &plan,
           "open up 1.3 stops from the wedge's scan and average 3 scans, then scan once with 1.7 "
           "stops more: together they tell 0.010 D apart in 'cloud' over 3 x 3 pixels, the last "
           "needed from 1.72 D (blue) on; trust +-0.2 stop.");
    plan.first = 2, plan.second = 2;
    act_is("both averaged", &plan,
           "open up 1.3 stops from the wedge's scan and average 2 scans, then average 2 with 1.7 "
           "stops more: together they tell 0.010 D apart in 'cloud' over 3 x 3 pixels, the later "
           "ones needed from 1.72 D (blue) on; trust +-0.2 stop.");
    plan.way = WW_SCAN_AVERAGE;
    plan.passes = plan.first = 4, plan.second = 0;
    act_is(
        "average", &plan,
        "open up 1.3 stops from the wedge's scan and average 4 scans: together they tell 0.010 D "
        "apart in 'cloud' over 3 x 3 pixels; trust +-0.2 stop.");
}

static void no_way(void **state) {
    static const double alike[] = {1.31, 1.33, 1.35};
    ww_scan_tone tone[2];
    ww_scan_plan plan;
    (void)state;
    make(tone, alike, &plan);
    plan.way = WW_SCAN_NO_WAY;
    act_is("neither", &plan,
           "open up 1.3 stops from the wedge's scan, but 0.010 D cannot be told apart in 'cloud' "
           "(2.03 D, blue), 0.011 D can by one scan; trust +-0.2 stop.");
    plan.channel[WW_BLUE].seen = false;
    plan.channel[WW_BLUE].sees.how = WW_EXTRAPOLATED;
    plan.channel[WW_GREEN].sees.how = WW_ABSENT;
    act_is(
        "blind", &plan,
        "open up 1.3 stops from the wedge's scan, but this scanner does not see 'cloud' (2.03 D, "
        "blue) in one scan: it stops seeing at 2.50 D (red), 2.70 D (blue, beyond its wedge); "
        "trust +-0.2 stop.");
    why_holds("blind", &plan, "at one pixel", false);
    tone[1].over = true;
    act_is("over", &plan,
           "open up 1.3 stops from the wedge's scan, but what becomes of 'cloud', which reads "
           "beyond the instrument, "
           "cannot be told; this scanner stops seeing at 2.50 D (red), 2.70 D (blue, beyond its "
           "wedge); trust +-0.2 stop.");
    why_holds("over", &plan, "'base' stands at 95 % of full scale, just under clipping.", true);
}

static void why(void **state) {
    static const double alike[] = {1.31, 1.33, 1.35};
    ww_scan_tone tone[2];
    ww_scan_plan plan;
    (void)state;
    make(tone, alike, &plan);
    why_holds("noise", &plan,
              "'cloud' (2.03 D, blue) has a signal-to-noise of 38: 0.032 D is told apart at one "
              "pixel, 0.011 D over 3 x 3.",
              true);
    tone[1].thin = (ww_optional){true, 1.95};
    why_holds("detail", &plan, "; on the film it holds 0.08 D, 2.5 times what a pixel tells.",
              true);
}

/* 95 % of the light is not 95 % of an encoded code. */
static void encoded(void **state) {
    static const double alike[] = {1.31, 1.33, 1.35};
    ww_scan_tone tone[2];
    ww_scan_plan plan;
    (void)state;
    make(tone, alike, &plan);
    why_holds("linear", &plan, "95 % of full scale, just", true);
    plan.encoded = true;
    why_holds("encoded", &plan, "95 % of full scale as light, just", true);
}

static void figures(void **state) {
    static const struct {
        double snr;
        const char *text;
    } rows[] = {{0.344, "0.3"}, {9.94, "9.9"}, {9.96, "10"}, {331.6, "332"}, {HUGE_VAL, "no end"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_snr(&text, rows[i].snr);
        test_text("snr", ww__text_string(&text), rows[i].text);
        ww__text_release(&text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(exposures), cmocka_unit_test(ways),
                                       cmocka_unit_test(no_way),    cmocka_unit_test(why),
                                       cmocka_unit_test(encoded),   cmocka_unit_test(figures)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
