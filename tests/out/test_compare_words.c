/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/compare_words.h"
#include "results.h"
#include "support/compare_case.h"

/* Source: differences of the case by hand; doubts rounded up but for a quarter of the last place.
 */

static void acts(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    ww__text text = WW__TEXT_INIT;
    compare_case_usual(false, &made);
    /* CIEDE2000 is tested in test_colour.c; its doubt is 1.96 * 0.2 * sqrt 2 = 0.554 */
    made.pair[0].de2000_max = 9.51;
    made.pair[0].de2000_at = 6;
    ww__words_compare_act(&text, &made);
    test_text("difference", ww__text_string(&text),
              "'Rag' against 'Gloss': black 0.55 D lighter, which no curve takes away; of the "
              "tones that it can print, at most 0.06 D darker at tone 3 (middle, visual), trust "
              "+-0.03 D; in colour at most CIEDE2000 9.5 at tone 6, trust +-0.6.");
    ww__text_release(&text);
    made.print[1].screen = true;
    ww__words_compare_act(&text, &made);
    test_holds("a display", ww__text_string(&text), "of the tones that it can show, at most");
    ww__text_release(&text);
    made.print[1].screen = false;
    made.print[1].main = WW_GREEN;
    ww__words_compare_why(&text, &made);
    test_holds("channel", ww__text_string(&text), "'Rag' runs from 0.10 to 1.60 D in green; 7");
    ww__text_release(&text);
    made.print[1].main = WW_VISUAL;
    ww__words_compare_why(&text, &made);
    test_holds("ends", ww__text_string(&text),
               "Why: 'Gloss' runs from 0.05 to 2.15 D and 'Rag' runs from 0.10 to 1.60 D; 7 tones");
    ww__text_release(&text);
    ww_comparison_release(&made);
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings again = compare_case_print("Again", compare_case_gloss, 0.0, 1.5);
    compare_case_two(&gloss, &again, NULL, &made);
    ww__words_compare_act(&text, &made);
    test_text("alike", ww__text_string(&text),
              "'Again' against 'Gloss': no tone differs by 0.01 D, trust +-0.03 D.");
    ww__text_release(&text);
    ww_comparison_release(&made);
    ww_readings_release(&gloss);
    ww_readings_release(&again);
    compare_case_usual(true, &made);
    ww__words_compare_act(&text, &made);
    test_text("beyond", ww__text_string(&text),
              "'Rag' is beyond 2 of 4 limits: black -0.55 D (limit 0.05), neutral_ab 3.5 (limit "
              "1.0); carry to the next run 0.05 D lighter in the light tones.");
    ww__text_release(&text);
    made.pair[0].within = WW_COMPARE_WITHIN;
    made.pair[0].check[WW_LIMIT_LIGHT].doubtful = true;
    ww__words_compare_act(&text, &made);
    test_text("within", ww__text_string(&text),
              "'Rag' is within all 4 limits, 1 of them in doubt.");
    ww__text_release(&text);
    made.pair[0].within = WW_COMPARE_UNKNOWN;
    ww__words_compare_act(&text, &made);
    test_text("unknown", ww__text_string(&text), "'Rag' is not shown to be within 1 of 4 limits.");
    ww__text_release(&text);
    ww_comparison_release(&made);
}

static void reasons(void **state) {
    (void)state;
    static const char *const words[WW__COMPARE_NEVER] = {
        "'Rag' has a white 0.05 D darker", "'Rag' has a black 0.55 D lighter: tones over 1.60 D",
        "'Rag' has a white of another hue: 3.5 yellower (b*), 0.5 redder (a*), trust +-0.6.", NULL};
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_usual(false, &made);
    for (size_t which = 0; which <= WW__COMPARE_NEVER; which++) {
        const char *want = which < WW__COMPARE_NEVER ? words[which] : NULL;
        ww__text text = WW__TEXT_INIT;
        test_true("there",
                  ww__words_compare_never(&text, &made, &made.pair[0], which) == (want != NULL));
        if (want)
            test_holds("reason", ww__text_string(&text), want);
        ww__text_release(&text);
    }
    ww_comparison_release(&made);
}

/* A display of 6500 K beside a print: the eye takes it for too cool; either may come first. */
static void displays(void **state) {
    (void)state;
    ww_readings print = compare_case_print("Print", compare_case_gloss, 0.0, 1.5);
    ww_readings screen = WW_READINGS_INIT;
    for (size_t i = 0; i < 6; i++) {
        ww_row *row = made_step(&screen, (const char *[]){"1", "2", "3", "4", "5", "6"}[i],
                                WW_COLUMN_LUMINANCE, 120.0 / (double)(1 << i));
        made_value(&screen, row, WW_COLUMN_CHROMATICITY_X, 0.31272);
        made_value(&screen, row, WW_COLUMN_CHROMATICITY_Y, 0.32903);
    }
    for (int turned = 0; turned < 2; turned++) {
        ww_comparison made = WW_COMPARISON_INIT;
        ww__text text = WW__TEXT_INIT;
        compare_case_two(turned ? &screen : &print, turned ? &print : &screen, NULL, &made);
        test_true("hue", ww__words_compare_never(&text, &made, &made.pair[0], 2));
        test_holds("cool", ww__text_string(&text), "takes the display for too cool");
        ww__text_release(&text);
        ww_comparison_release(&made);
    }
    ww_readings_release(&print);
    ww_readings_release(&screen);
}

static void darker(void **state) {
    (void)state;
    static const struct {
        double difference;
        const char *words;
    } rows[] = {{0.062, "0.06 D darker"}, {-0.0549, "0.05 D lighter"}, {0.004, "no different"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_darker(&text, rows[i].difference);
        test_text("darker", ww__text_string(&text), rows[i].words);
        ww__text_release(&text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(acts), cmocka_unit_test(reasons),
                                       cmocka_unit_test(displays), cmocka_unit_test(darker)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
