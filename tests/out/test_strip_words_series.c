/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/strip_words.h"
#include "strip_made.h"
#include <math.h>

/* Source: the interface: the act as a sentence in units that can be set. */

/* As a timer of 0.1 s has it. */
static void set_piece(ww_strip_piece *piece, double time_s) {
    piece->time_s = time_s;
    piece->set_s = round(10.0 * time_s) / 10.0;
}

/* A stop of the lens is a factor 2 of the time: definition. Under 2 s no hand is even, over 120 s
 * none is patient: common practice. */
static void times_for_another_stop(void **state) {
    static const struct {
        double first_s, last_s;
        const char *says;
    } rows[] = {
        {2.0, 120.0, NULL},
        {100.0, 400.0, " 100.0 to 400.0 s; with the lens opened 2 stops, 25.0 to 100.0 s."},
        {0.4, 1.6, " 0.4 to 1.6 s; with the lens stopped down 3 stops, 3.2 to 12.8 s."},
        /* Set to 0.1 s it is 1.3, of which twice is 2.6. */
        {1.25, 5.0, " 1.3 to 5.0 s; with the lens stopped down 1 stop, 2.5 to 10.0 s."},
        {3600.0, 14400.0, "14400.0 s (4 h); with the lens opened 7 stops, 28.1 to 112.5 s."},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_strip strip = strip_made();
        ww__text text = WW__TEXT_INIT;
        set_piece(&strip.series.piece[0], rows[i].first_s);
        set_piece(&strip.series.piece[strip.series.n - 1], rows[i].last_s);
        ww__words_strip_act(&text, &strip);
        if (rows[i].says)
            test_holds("lens", ww__text_string(&text), rows[i].says);
        else
            test_lacks("no lens", ww__text_string(&text), "lens");
        ww__text_release(&text);
    }
}

/* What the act offers can be given: half of 15, 60.4 and 240 s, each less the one before. A stop of
 * the lens is a factor 2 of the time: definition. */
static void hand_for_another_stop(void **state) {
    ww_strip strip = strip_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__words_strip_lens(&text, &strip);
    test_text("none is needed", ww__text_string(&text), "");
    set_piece(&strip.series.piece[0], 15.0);
    set_piece(&strip.series.piece[1], 60.4);
    set_piece(&strip.series.piece[2], 240.0);
    ww__words_strip_lens(&text, &strip);
    test_text("opened 1 stop", ww__text_string(&text),
              "With the lens opened 1 stop: give the whole strip 7.5 s, then cover piece by piece "
              "and add 22.7 and 89.8 s.");
    ww__text_release(&text);
    strip.series.n = 0;
    ww__words_strip_lens(&text, &strip);
    test_text("no strip", ww__text_string(&text), "");
    ww__text_release(&text);
}

static void expect(const char *row, void (*words)(ww__text *, const ww_strip *),
                   const ww_strip *strip, const char *want) {
    ww__text text = WW__TEXT_INIT;
    words(&text, strip);
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void act_of_a_plan(void **state) {
    ww_strip strip = strip_made();
    (void)state;
    strip.kind = WW_STRIP_PLAN;
    expect("plan", ww__words_strip_act, &strip,
           "3 pieces in 1/6 stop around 14.3 s: give the whole strip 12.7 s, then cover piece by "
           "piece and add 1.6 and 2.2 s.");
    expect("why", ww__words_strip_why, &strip,
           "Why: equal stops are equal steps in the print, and these span 1/3 stop.");
}

int main(void) {
    /* The made strip's pieces are one storage, which the second and the third change. */
    const struct CMUnitTest tests[] = {cmocka_unit_test(act_of_a_plan),
                                       cmocka_unit_test(hand_for_another_stop),
                                       cmocka_unit_test(times_for_another_stop)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
