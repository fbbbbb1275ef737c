/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_made.h"
#include "out/balance_words.h"

static void same(const char *row, ww__text *text, const char *want) {
    test_text(row, ww__text_string(text), want);
    ww__text_release(text);
}

/* Source: direction rules of handbooks: excess of a colour in the print is named by that colour;
 * dyes cyan, magenta, yellow absorb red, green, blue. */
static void casts_have_names(void **state) {
    static const struct {
        double excess[3];
        const char *words;
    } rows[] = {
        {{8, -2, 7}, "too dark and too green"},
        {{-8, 2, -7}, "too light and too magenta"},
        {{0, 0, 0}, "right in density and colour"},
        {{1, 1, -0.5}, "right in density and colour"},
        {{6, -3, -3}, "right in density but too cyan"},
        {{-6, 3, 3}, "right in density but too red"},
        {{-1.5, -1.5, 4}, "right in density but too yellow"},
        {{1.5, 1.5, -4}, "right in density but too blue"},
        /* Of green the eye sees most, 0.6 of it, of blue a tenth: 2.4 and 0.4 CC, a 24th of a
         * stop being 1.25. */
        {{0, 4, 0}, "too dark and too magenta"},
        {{0, 0, 4}, "right in density but too yellow"},
        {{20, 20, 20}, "too dark but neutral"},
        {{-20, -20, -20}, "too light but neutral"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_balance balance = balance_made();
        ww__text text = WW__TEXT_INIT;
        memcpy(balance.excess_cc, rows[i].excess, sizeof rows[i].excess);
        ww__words_cast(&text, &balance);
        same(rows[i].words, &text, rows[i].words);
    }
}

/* Source: the project's issue, "take out 18 magenta, 0.4 stop less", in twelfths of a stop. */
static void changes_are_said(void **state) {
    static const struct {
        ww_balance_setting to;
        const char *words;
    } rows[] = {
        {{{{60, 27.5, 0}}, 8.5}, "take out 17.5 magenta, 1/3 stop less"},
        {{{{65, 45, 0}}, 11.0}, "add 5 yellow, the time as it was"},
        {{{{65, 40, 0}}, 22.0}, "take out 5 magenta, add 5 yellow, 1 stop more"},
        {{{{50, 40, 0}}, 11.1}, "take out 10 yellow and 5 magenta, the time all but as it was"},
        {{{{60, 45, 0}}, 11.0}, "leave pack and time as they are"},
        {{{{60.1, 44.9, 0}}, 11.1}, "leave the pack, the time all but as it was"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_balance balance = balance_made();
        ww__text text = WW__TEXT_INIT;
        balance.settable = rows[i].to;
        ww__words_filter_change(&text, &balance);
        same(rows[i].words, &text, rows[i].words);
    }
}

/* Definition: what is foretold is the aim, but not surely; or it is off it by over 0.02 D. */
static void a_further_print_is_told(void **state) {
    ww_balance balance = balance_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    balance.crossover.found = true;
    balance.tone[0].within = false;
    ww__words_balance_why(&text, &balance);
    test_holds("crossover", ww__text_string(&text),
               "the doubt is wider than a hand's tolerance. The greys cross");
    ww__text_release(&text);
    balance.tone[0].predicted[WW_BLUE] += 0.021;
    ww__words_balance_why(&text, &balance);
    test_holds("off", ww__text_string(&text), "which is not within a hand's tolerance. The greys");
    balance.tone[0].predicted[WW_BLUE] -= 0.021;
    ww__text_release(&text);
}

static void the_act_can_be_set(void **state) {
    ww_balance balance = balance_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__words_balance_act(&text, &balance);
    same("act", &text,
         "too dark and too green: take out 17.5 magenta, 1/3 stop less; set 60Y27.5M, 8.5 s; trust "
         "+-3.0 CC and +-1/12 stop.");
    ww__words_balance_why(&text, &balance);
    same("why", &text,
         "Why: 'card' reads 0.88, 0.68, 0.86 in red, green and blue and shall read 0.71, 0.70, "
         "0.72; expect 0.71, 0.69, 0.72, within a hand's tolerance.");
    /* Definition: a print too dark that gets more time gets it for the filters. */
    balance.settable = (ww_balance_setting){{{90, 75, 0}}, 12.6};
    ww__words_balance_act(&text, &balance);
    test_holds("filters", ww__text_string(&text),
               "1/6 stop more for the light that the filters take; set");
    ww__text_release(&text);
    balance.settable = balance_made().settable;
    balance.burn = (ww_balance_burn){.set = true,
                                     .possible = true,
                                     .tone = 1,
                                     .settable = {{{55, 30, 0}}, 3.4},
                                     .doubt = {.known = true, .filter = 7.9, .stops = 0.5}};
    balance.head_scale = 1.5;
    ww__words_balance_act(&text, &balance);
    test_holds("burn", ww__text_string(&text),
               "; burn 'dark' with 55Y30M, 3.4 s more; trust +-8.0 dial and +-1/2 stop.");
    test_holds("unit", ww__text_string(&text), "+-3.0 dial and");
    ww__text_release(&text);
}

/* Definition: a stored plan's pack is exact, and its print was made with the step that was set: a
 * hand moves from there, and from its own pack where it gave that. */
static void a_stored_plan_is_told_from_what_was_set(void **state) {
    ww_balance balance = balance_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    balance.kind = WW_BALANCE_NEGATIVE;
    balance.filter_step = 2.5;
    balance.from.pack = (ww_pack){{59.5, 44.8, 0}};
    balance.settable.pack = (ww_pack){{45, 55, 0}};
    ww__words_balance_act(&text, &balance);
    test_holds("given", ww__text_string(&text), "from 59.5Y44.8M, 11.0 s: take out 14.5 yellow");
    ww__text_release(&text);
    balance.stored = true;
    ww__words_balance_act(&text, &balance);
    test_holds("stored", ww__text_string(&text),
               "from 60Y45M, 11.0 s: take out 15 yellow, add 10 magenta");
    ww__text_release(&text);
}

/* A plan that is carried over to another lot, size or negative. */
static void what_is_carried_is_told(void **state) {
    ww_balance balance = balance_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    balance.kind = WW_BALANCE_CARRIED;
    balance.stored = true;
    balance.settable.pack = (ww_pack){{0, 0, 0}};
    ww__words_balance_act(&text, &balance);
    test_holds("carried", ww__text_string(&text), "carried over, from 60Y45M, 11.0 s: ");
    test_holds("no filter", ww__text_string(&text), "; set no filter, 8.5 s");
    test_holds("trust", ww__text_string(&text), "trust");
    ww__text_release(&text);
    balance.settable.time_s = 2841844.2; /* of a size that none prints: 1000 times */
    ww__words_balance_act(&text, &balance);
    test_lacks("no headline", ww__text_string(&text), "; set");
    test_holds("why", ww__text_string(&text),
               "; it cannot be set: 2841844 s is beyond the 0.1 to 3600 s of a print");
    ww__text_release(&text);
    balance.settable.time_s = 8.5;
    balance.doubt_known = false;
    ww__words_balance_act(&text, &balance);
    test_lacks("no trust", ww__text_string(&text), "trust");
    ww__text_release(&text);
    balance.carried = (ww_balance_offset){.change = {{0, 5, 0}}, .factor = 1.0};
    ww__words_balance_why(&text, &balance);
    same("lot", &text,
         "Why: the stored pack and time were changed as the other plan changed its own; expect the "
         "grey at the stored plan's aim, 0.71, 0.69, 0.72 in red, green and blue, give or take "
         "0.06 D.");
    balance.n_tones = 0; /* nothing is foretold */
    balance.carried = (ww_balance_offset){.factor = 25.0 / 9.0};
    ww__words_balance_why(&text, &balance);
    same("size", &text, "Why: the other size takes 2.78 times the time.");
    balance.n_tones = 1;
    balance.kind = WW_BALANCE_NEGATIVE;
    ww__words_balance_act(&text, &balance);
    test_holds("negative", ww__text_string(&text), "for the new negative, from 60Y45M, 11.0 s: ");
    ww__text_release(&text);
    ww__words_balance_why(&text, &balance);
    test_holds("negative", ww__text_string(&text), "what it holds back more, it is given more");
    ww__text_release(&text);
}

/* Definition: 12 of each of three filters is grey, 46Y38M12C being 34Y26M and 12 of grey; the
 * project's issue has these packs from a handbook. */
static void grey_of_filters_is_told(void **state) {
    ww_balance balance = balance_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    memset(balance.excess_cc, 0, sizeof balance.excess_cc);
    balance.from.pack = (ww_pack){{46, 38, 12}};
    balance.settable.pack = (ww_pack){{34, 26, 0}};
    ww__words_balance_act(&text, &balance);
    test_holds("grey", ww__text_string(&text),
               "right in density and colour, and what all three filters share only holds back "
               "light: take out 12 yellow and 12 magenta and 12 cyan");
    ww__text_release(&text);
    balance.settable = balance.from;
    balance.left_alone = true;
    ww__words_balance_act(&text, &balance);
    test_holds("kept", ww__text_string(&text),
               "right in density and colour: leave pack and time as they are; set 46Y38M12C");
    ww__text_release(&text);
    balance.settable.pack = (ww_pack){{34, 26, 0}};
    balance.left_alone = false;
    balance.from.pack.cc[WW_CYAN] = 0.0;
    ww__words_balance_act(&text, &balance);
    test_lacks("two filters", ww__text_string(&text), "holds back light");
    ww__text_release(&text);
}

/* Definition: a print at its aim is left alone without a doubt cast on it; a change of less than a
 * step is told as such. */
static void a_right_print_is_left_alone(void **state) {
    ww_balance balance = balance_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    memset(balance.excess_cc, 0, sizeof balance.excess_cc);
    balance.settable = balance.from;
    balance.left_alone = true;
    balance.tone[0].within = false;
    ww__words_balance_act(&text, &balance);
    test_holds("left", ww__text_string(&text),
               "right in density and colour: leave pack and time as they are; set");
    ww__text_release(&text);
    ww__words_balance_why(&text, &balance);
    test_lacks("no doubt", ww__text_string(&text), "further print");
    ww__text_release(&text);
    balance.left_alone = false;
    balance.settable.pack.cc[WW_MAGENTA] -= 2.5;
    ww__words_balance_act(&text, &balance);
    test_holds("a step", ww__text_string(&text),
               "right in density and colour to within a step of filters or time: take out 2.5 "
               "magenta");
    ww__text_release(&text);
}

/* Definition: of a doubt wider than the change, that comes first, with the reading that is behind
 * most of it; what filters do is taught by any print, and is none. */
static void what_is_not_told_is_said_first(void **state) {
    ww_balance balance = balance_made();
    ww__text text = WW__TEXT_INIT;
    (void)state;
    balance.untold = true;
    balance.least_sure = WW_BLUE;
    balance.doubt_cc = 46.0;
    balance.budget[0].cc = 30.0;
    balance.budget[1].cc = 34.9;
    ww__words_balance_act(&text, &balance);
    test_holds("readings", ww__text_string(&text),
               "the readings do not tell the filters, whose doubt is wider than their change: read "
               "this print again, several times, first in blue. As a guess, too dark and too "
               "green: take out 17.5 magenta");
    ww__text_release(&text);
    balance.budget[0].from = "prints' scatter";
    ww__words_balance_act(&text, &balance);
    test_holds("scatter", ww__text_string(&text), "change: make the same print again, and read");
    ww__text_release(&text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(casts_have_names),
        cmocka_unit_test(changes_are_said),
        cmocka_unit_test(grey_of_filters_is_told),
        cmocka_unit_test(a_right_print_is_left_alone),
        cmocka_unit_test(a_further_print_is_told),
        cmocka_unit_test(the_act_can_be_set),
        cmocka_unit_test(what_is_carried_is_told),
        cmocka_unit_test(a_stored_plan_is_told_from_what_was_set),
        cmocka_unit_test(what_is_not_told_is_said_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
