/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/strip_words.h"
#include "strip_made.h"

/* Source: the interface: the act as a sentence in units that can be set, with its doubt. */

static void expect(const char *row, void (*words)(ww__text *, const ww_strip *),
                   const ww_strip *strip, const char *want) {
    ww__text text = WW__TEXT_INIT;
    words(&text, strip);
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void acts_of_reading(void **state) {
    ww_strip strip = strip_made();
    (void)state;
    expect("read", ww__words_strip_act, &strip,
           "14.3 s prints 0.10 above paper; trust +-1/6 stop (12.9 to 15.8 s). Next, a strip of 3 "
           "pieces in 1/6 stop, 12.7 to 16.5 s.");
    expect("why", ww__words_strip_why, &strip,
           "Why: above paper, step 1 (12.0 s) reads 0.07, step 2 (16.0 s) reads 0.13.");
    strip.series.n = 0;
    strip.high_open = true;
    expect("open", ww__words_strip_act, &strip,
           "14.3 s prints 0.10 above paper; the interval runs from 12.9 s to its darker end, or "
           "beyond.");
    strip.plateau = true;
    strip.plateau_from_s = 12.0;
    strip.plateau_to_s = 16.0;
    strip.high_open = false;
    expect("level", ww__words_strip_act, &strip,
           "12.0 to 16.0 s all print 0.10 above paper, as far as can be told; trust +-1/6 stop "
           "(12.9 to 15.8 s).");
    strip.enough = true;
    strip.best.value = 12.0;
    expect("enough", ww__words_strip_act, &strip,
           "12.0 s is enough: 12.0 to 16.0 s all print 0.10 above paper, as far as can be told; "
           "trust +-5/12 stop (12.9 to 15.8 s).");
    strip.holds = false;
    strip.place = WW_STRIP_TURNED;
    expect(
        "turned", ww__words_strip_act, &strip,
        "No time: this strip lightens with time throughout: turned round? Give the times from its "
        "other end.");
    strip.place = WW_STRIP_LIGHT;
    expect("too light", ww__words_strip_act, &strip,
           "No time: 0.10 above paper is darker than the darkest step, 0.13 at 16.0 s.");
    strip.place = WW_STRIP_DARK;
    expect("too dark", ww__words_strip_act, &strip,
           "No time: 0.10 above paper is lighter than the lightest step, 0.07 at 12.0 s.");
    strip.place = WW_STRIP_NO_REACH;
    expect("no reach", ww__words_strip_act, &strip,
           "No time: 0.10 above paper is darker than this paper's black, 0.13 at 16.0 s.");
    strip.place = WW_STRIP_DISORDER;
    expect("disorder", ww__words_strip_act, &strip,
           "No time: 0.10 above paper lies among steps that are out of order; read those again.");
    strip.place = WW_STRIP_INSIDE;
    expect("one piece", ww__words_strip_act, &strip,
           "No time: 0.10 above paper is what the one piece reads, as far as can be told, 0.13 at "
           "16.0 s, and one does not tell how density rises.");
}

/* A step that the aim lies beyond is named with its own reading: it does not print the aim. */
static void aim_beyond_the_end(void **state) {
    ww_strip strip = strip_made();
    (void)state;
    strip.series.n = 0;
    strip.aim = given(0.14);
    strip.best = (ww_quantity){16.0, 15.3, 16.0, WW_MEASURED};
    strip.high_open = true;
    strip.lighter = given(1.0);
    strip.darker.set = false;
    expect("darker", ww__words_strip_act, &strip,
           "16.0 s reads 0.13, the nearest to 0.14 above paper; the interval runs from 15.3 s to "
           "its darker end, or beyond.");
    expect("why", ww__words_strip_why, &strip,
           "Why: above paper, step 2 (16.0 s) reads 0.13, the darkest, and the aim is that within "
           "error.");
    strip.aim = given(0.06);
    strip.best = (ww_quantity){12.0, 12.0, 12.6, WW_MEASURED};
    strip.high_open = false;
    strip.low_open = true;
    strip.darker = given(0.0);
    strip.lighter.set = false;
    expect("lighter", ww__words_strip_act, &strip,
           "12.0 s reads 0.07, the nearest to 0.06 above paper; the interval runs from the "
           "strip's lighter end, or beyond, to 12.6 s.");
}

static void acts_of_proofs(void **state) {
    ww_strip strip = strip_made();
    (void)state;
    strip.kind = WW_STRIP_PROOF;
    strip.black = given(2.07);
    strip.step[1].black = true;
    strip.series.n = 0;
    expect("proof", ww__words_strip_act, &strip,
           "Standard proof time 14.3 s, the least that prints clear film within 0.05 of maximum "
           "black; trust +-1/6 stop (12.9 to 15.8 s).");
    expect("why", ww__words_strip_why, &strip,
           "Why: maximum black is 2.07 above paper, the darkest step; step 1 (12.0 s) reads 0.07, "
           "step 2 (16.0 s) reads 0.13.");
    strip.step[0].black = true;
    strip.reversed = true;
    expect("reversed", ww__words_strip_why, &strip,
           "Why: maximum black is 2.07 above paper, the mean of the 2 darkest steps, before "
           "reversal (solarised); step 1 (12.0 s) reads 0.07, step 2 (16.0 s) reads 0.13.");
    strip.step[0].black = false;
    strip.holds = false;
    strip.place = WW_STRIP_LIGHT;
    expect("not reached", ww__words_strip_act, &strip,
           "No proof time: maximum black was not reached, 0.13 at 16.0 s.");
    strip.place = WW_STRIP_DARK;
    expect("all black", ww__words_strip_act, &strip,
           "No proof time: the lightest step is black already, 0.07 at 12.0 s.");
}

static void acts_of_safelights(void **state) {
    ww_strip strip = strip_made_safelight();
    (void)state;
    expect("safe", ww__words_strip_act, &strip,
           "120 s (2 min) under this safelight left no change; one shows at 300 s (5 min) and "
           "begins somewhere between.");
    expect("why", ww__words_strip_why, &strip,
           "Why: above paper, the covered piece reads 0.25, step 1 (120 s, 2 min) reads 0.26, step "
           "2 (300 s, 5 min) reads 0.31; over 0.02 more counts as a change.");
    strip.step[2].state = WW_CELL_OVER;
    expect("beyond the instrument", ww__words_strip_why, &strip,
           "Why: above paper, the covered piece reads 0.25, step 1 (120 s, 2 min) reads 0.26, step "
           "2 (300 s, 5 min) reads over; over 0.02 more counts as a change.");
    strip.step[2].state = WW_CELL_VALUE;
    strip.changed_s.set = false;
    expect("no change", ww__words_strip_act, &strip,
           "120 s (2 min) under this safelight left no change, and that is the longest tested.");
    strip.holds = false;
    strip.changed_s = given(90.0);
    expect("not safe", ww__words_strip_act, &strip,
           "This safelight is not safe: the shortest time tested, 90 s, left a change.");
    strip.insensitive = true;
    strip.grey = given(0.02);
    expect("no verdict", ww__words_strip_act, &strip,
           "No verdict: the covered grey, 0.02 above paper, is not one that shows a change; even "
           "so, 90 s left one.");
    strip.insensitive = false;
    strip.changed_s.set = false;
    strip.place = WW_STRIP_DISORDER;
    expect("contradiction", ww__words_strip_act, &strip,
           "No verdict: a piece that lay under the safelight is lighter than the covered one, so "
           "one of the two is not what it is told to be.");
}

static void remarks(void **state) {
    ww_strip_step step = {.out_of_order = true, .suspect = true};
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__words_strip_remark(&text, &step);
    test_text("remark", ww__text_string(&text), "out of order, suspect");
    ww__text_release(&text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(acts_of_reading),   cmocka_unit_test(aim_beyond_the_end),
        cmocka_unit_test(acts_of_proofs),    cmocka_unit_test(acts_of_safelights),
        cmocka_unit_test(remarks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
