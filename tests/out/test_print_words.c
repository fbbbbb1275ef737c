/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/print_words.h"
#include "results.h"

/* Source: the interface's example of a first line, and its rule that a result which carries no
 * recommendation names the one thing to do next. */
static void expect(const char *row, const struct made_plan *made, const char *want) {
    ww__text text = WW__TEXT_INIT;
    ww__words_print_act(&text, &made->plan, 0.1);
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static void the_act(void **state) {
    struct made_plan made;
    (void)state;
    make_plan(&made);
    expect("burn", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; burn the cloud +1 1/3 stop (27.8 s more); expect "
           "it at 0.08 to 0.12 above paper; trust +-1/6 stop.");
    made.tone[0].hand_stops = given(-0.5);
    expect("the hand's move is one more", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; local work in 2 moves, listed below; expect the "
           "cloud at 0.08 to 0.12 above paper; trust +-1/6 stop.");
    made.tone[0].hand_stops.set = false;
    made.tone[1].burn_stops = given(-0.52);
    made.tone[1].burn_seconds = given(-5.46);
    made.tone[1].separation.set = false;
    expect(
        "dodge", &made,
        "grade 2 1/2 (Quayside gloss), 18.4 s; dodge the cloud -1/2 stop (5.5 s less); expect it "
        "at 0.10 above paper; trust +-1/6 stop.");
    made.tone[1].verdict = WW_VERDICT_PRINTS;
    made.tone[1].aim.set = false;
    made.paper[0].doubt_stops.set = false;
    expect("straight", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; expect the shadow at 1.70 above paper.");
    made.tone[0].aim.set = false;
    expect("nothing placed", &made, "grade 2 1/2 (Quayside gloss), 18.4 s.");
}

/* A tone that is not there to be seen does not "print". Source: interface, verdicts; practice. */
static void fates(void **state) {
    static const struct {
        ww_print_tone tone;
        const char *fate, *given_up;
    } rows[] = {
        {{.verdict = WW_VERDICT_PRINTS}, "prints", NULL},
        {{.verdict = WW_VERDICT_BURN, .burn_stops = {true, 0.5}}, "burn", NULL},
        {{.verdict = WW_VERDICT_BURN, .burn_stops = {true, -0.5}}, "dodge", NULL},
        {{.base = true, .falls = WW_FALLS_BLACK}, "film base", NULL},
        {{.verdict = WW_VERDICT_LOST}, "lost", "lost"},
        {{.verdict = WW_VERDICT_BLOCKED}, "blocked", "blocked"},
        {{.falls = WW_FALLS_WHITE}, "paper white", "paper white"},
        {{.falls = WW_FALLS_LIGHTER}, "lighter than measured", "lighter than measured"},
        {{.falls = WW_FALLS_DARKER}, "darker than measured", "darker than measured"},
        {{.falls = WW_FALLS_BLACK}, "merges into black", "merges into black"},
        {{.falls = WW_FALLS_GLINT}, "glint, white", "glint, white"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *given_up = ww__words_print_given_up(&rows[i].tone);
        test_text(rows[i].fate, ww__words_print_fate(&rows[i].tone), rows[i].fate);
        test_true(rows[i].fate, !given_up == !rows[i].given_up);
        if (given_up)
            test_text(rows[i].fate, given_up, rows[i].given_up);
    }
}

/* The list of moves, in order. Source: the trade's: burns in stops and in seconds. */
static void expect_moves(const struct made_plan *made, const char *const want[]) {
    size_t n = 0;
    for (; want[n]; n++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_print_move(&text, &made->paper[0], n, 0.1);
        test_text("move", ww__text_string(&text), want[n]);
        ww__text_release(&text);
    }
    assert_int_equal(ww__words_print_moves(&made->paper[0]), n);
}

/* What the recipe's hand does is in the act, and in what is to be expected. */
static void moves_by_hand(void **state) {
    struct made_plan made;
    (void)state;
    make_plan(&made);
    made.tone[0].hand_stops = given(-1.2715); /* two dodges of half a stop */
    made.tone[0].hand_seconds = given(-10.76);
    made.tone[1].hand_stops = given(0.5);
    made.tone[1].hand_seconds = given(7.61);
    made.tone[1].print_after = given(0.15);
    expect("by hand", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; local work in 3 moves, listed below; expect the "
           "cloud at 0.13 to 0.17 above paper; trust +-1/6 stop.");
    expect_moves(&made, (const char *[]){"burn the cloud +1 1/3 stop (27.8 s more)",
                                         "by hand the shadow -1 1/4 stop (10.8 s less)",
                                         "by hand the cloud +1/2 stop (7.6 s more)", NULL});
    made.tone[0].hand_stops.set = false;
    expect("twice the same tone", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; local work in 2 moves, listed below; expect the "
           "cloud at 0.13 to 0.17 above paper; trust +-1/6 stop.");
}

static void unplaced_tones_are_burned_to_the_first_tone(void **state) {
    struct made_plan made;
    (void)state;
    make_plan(&made);
    made.tone[1].aim.set = false;
    expect("0.04, and its own detail", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; burn the cloud +1 1/3 stop (27.8 s more); expect "
           "it at 0.04 to 0.08 above paper; trust +-1/6 stop.");
}

static void what_is_not_held(void **state) {
    struct made_plan made;
    static char far_shore[] = "far shore";
    (void)state;
    make_plan(&made);
    made.plan.holds = false;
    made.tone[1].verdict = WW_VERDICT_LOST;
    made.tone[2].verdict = WW_VERDICT_BLOCKED;
    made.tone[2].tone = far_shore;
    expect("lost and blocked", &made,
           "No paper here holds all that was asked for; nearest is grade 2 1/2 (Quayside gloss), "
           "18.4 s; lost: the cloud; blocked: 'far shore'; expect the shadow at 1.70 above paper; "
           "trust +-1/6 stop.");
}

/* Names that are no nouns stand in quotes; one that can be typed is still a command's. */
static void names(void **state) {
    static const struct {
        const char *name, *shown;
    } rows[] = {{"a", "'a'"},       {"VII", "'VII'"},   {"zone3", "'zone3'"},
                {"sky", "the sky"}, {"Sky", "the Sky"}, {"far-shore", "the far-shore"}};
    struct made_plan made;
    (void)state;
    make_plan(&made);
    made.tone[1].verdict = WW_VERDICT_PRINTS;
    made.tone[1].aim.set = false;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char name[16], want[160];
        snprintf(name, sizeof name, "%s", rows[i].name);
        snprintf(want, sizeof want,
                 "grade 2 1/2 (Quayside gloss), 18.4 s; expect %s at 1.70 above paper; trust "
                 "+-1/6 stop.",
                 rows[i].shown);
        made.tone[0].tone = name;
        expect(rows[i].name, &made, want);
    }
}

static void without_time(void **state) {
    struct made_plan made;
    static char nominal[] = "nominal grade 2", label[] = "2";
    static char outside[] = "the test print's 5.00 lies outside";
    (void)state;
    make_plan(&made);
    made.paper[0].time_s.set = made.paper[0].doubt_stops.set = false;
    made.tone[1].burn_seconds.set = false;
    made.paper[0].nominal = true;
    made.paper[0].paper = nominal;
    made.paper[0].contrast = label;
    expect(
        "the straight print has the shadow on its aim", &made,
        "nominal grade 2; burn the cloud +1 1/3 stop; expect it at 0.08 to 0.12 above paper; no "
        "time yet. Next, make one test print, read the shadow above paper, and give it as --test "
        "SECONDS:shadow=DENSITY.");
    made.tone[1].verdict = WW_VERDICT_PRINTS;
    made.tone[1].print = given(0.10);
    expect(
        "the cloud on its aim", &made,
        "nominal grade 2; expect the shadow at 1.70 above paper; no time yet. Next, make one test "
        "print, read the cloud above paper, and give it as --test SECONDS:cloud=DENSITY.");
    made.tone[0].aim.set = made.tone[1].aim.set = false;
    expect(
        "nothing placed", &made,
        "nominal grade 2; no time yet. Next, make one test print, read the cloud above paper, and "
        "give it as --test SECONDS:cloud=DENSITY.");
    made.paper[0].no_time = outside;
    expect("a test print beyond the paper", &made,
           "nominal grade 2; no time: the test print's 5.00 lies outside.");
    made.paper[0].no_time = NULL;
    made.plan.dense_tone = made.plan.thin_tone = NULL;
    expect("no names", &made,
           "nominal grade 2; no time yet. Next, make one test print, read the densest tone above "
           "paper, and give it as --test SECONDS:TONE=DENSITY.");
    made.plan.n_papers = 0;
    expect(
        "no paper", &made,
        "No recommendation: there is no paper with a curve. Next, fit one from at least 5 exposed "
        "steps.");
}

static void many_tones_are_counted(void **state) {
    struct made_plan made;
    (void)state;
    make_plan(&made);
    for (int i = 0; i < 5; i++) {
        made.tone[i] = made.tone[1];
        made.tone[i].burn_seconds.set = false;
    }
    made.paper[0].n_tones = 5;
    expect("five burns", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; local work in 5 moves, listed below; expect the "
           "cloud at 0.08 to 0.12 above paper; trust +-1/6 stop.");
}

/* Where two tones were named, "it" could be either; the one with detail is what the eye checks. */
static void the_tone_expected_is_named(void **state) {
    struct made_plan made;
    (void)state;
    make_plan(&made);
    made.tone[0].verdict = WW_VERDICT_BURN;
    made.tone[0].burn_stops = given(-0.25);
    expect("two moves", &made,
           "grade 2 1/2 (Quayside gloss), 18.4 s; local work in 2 moves, listed below; expect the "
           "cloud at 0.08 to 0.12 above paper; trust +-1/6 stop.");
    expect_moves(&made, (const char *[]){"burn the cloud +1 1/3 stop (27.8 s more)",
                                         "dodge the shadow -1/4 stop", NULL});
    made.tone[0].burn_stops = given(0.25);
    made.tone[1].verdict = WW_VERDICT_LOST;
    expect(
        "one burned, one lost", &made,
        "grade 2 1/2 (Quayside gloss), 18.4 s; burn the shadow +1/4 stop; lost: the cloud; expect "
        "the shadow at 1.70 above paper; trust +-1/6 stop.");
}

static void papers_without_a_label(void **state) {
    struct made_plan made;
    static char empty[] = "";
    (void)state;
    make_plan(&made);
    made.paper[0].n_tones = 0;
    made.paper[0].contrast = empty;
    expect("a name", &made, "Quayside gloss, 18.4 s; trust +-1/6 stop.");
    made.paper[0].paper = NULL;
    expect("nothing", &made, "the paper given, 18.4 s; trust +-1/6 stop.");
}

static void why(void **state) {
    struct made_plan made;
    ww__text text = WW__TEXT_INIT;
    (void)state;
    make_plan(&made);
    ww__words_print_why(&text, &made.plan, 0.1);
    test_text("why", ww__text_string(&text),
              "Why: it takes 1.05 log H and the negative gives 1.02: they match.");
    ww__text_release(&text);
    made.paper[0].why = NULL;
    ww__words_print_why(&text, &made.plan, 0.1);
    test_text("no reason", ww__text_string(&text), "");
    ww__text_release(&text);
}

/* Flash and burn beside each other: what each leaves of the detail, and what the flash costs. */
static void flash_in_place_of_the_burn(void **state) {
    struct made_plan made;
    ww__text text = WW__TEXT_INIT;
    (void)state;
    make_plan(&made);
    made.paper[0].flash =
        (ww_print_flash){.set = true, .time_s = 1.23, .white = {0.0083, 0.0, 0.0279, WW_MEASURED}};
    made.tone[1].flash_separation = given(0.0283);
    ww__words_print_why(&text, &made.plan, 0.1);
    test_text("burned or flashed", ww__text_string(&text),
              "Why: it takes 1.05 log H and the negative gives 1.02: they match. Flashed 1.2 s and "
              "not burned, the cloud parts by 0.03 D, where the burn parts it by 0.04; white greys "
              "by 0.008 (0.000 to 0.028) D.");
    ww__text_release(&text);
    made.tone[1].burn_stops = given(-0.5);
    ww__words_print_why(&text, &made.plan, 0.1);
    test_true("a dodge is nothing that a flash could do", !strstr(text.bytes, "Flashed"));
    ww__text_release(&text);
}

/* Two exposures are both told, of print and burn, and the burn through the soft one alone. */
static void two_exposures(void **state) {
    static char label[] = "soft 60 %";
    struct made_plan made;
    (void)state;
    make_plan(&made);
    made.paper[0].contrast = label;
    made.paper[0].split = (ww_print_split){true, 0.6 * 18.37, 0.4 * 18.37};
    made.tone[1].soft_seconds = given(21.04);
    expect("burn", &made,
           "soft 60 % (Quayside gloss), 18.4 s in all: soft 11.0 s, hard 7.3 s; burn the cloud +1 "
           "1/3 stop (soft 16.7 s, hard 11.1 s more; or soft alone 21.0 s); expect it at 0.08 to "
           "0.12 above paper; trust +-1/6 stop.");
    test_true("mixed", ww__words_print_mixed(&made.paper[0]));
    made.paper[0].split = (ww_print_split){true, 18.37, 0.0};
    made.tone[1].soft_seconds.set = false;
    test_true("alone", !ww__words_print_mixed(&made.paper[0]));
    expect("one of them alone", &made,
           "soft 60 % (Quayside gloss), 18.4 s; burn the cloud +1 1/3 stop (27.8 s more); expect "
           "it at 0.08 to 0.12 above paper; trust +-1/6 stop.");
}

static void what_a_hand_works_on(void **state) {
    ww_print_tone tone = {.verdict = WW_VERDICT_BURN, .burn_stops = given(-0.5)};
    (void)state;
    test_true("dodged", ww__words_print_worked(&tone));
    tone.base = true;
    test_true("film base", !ww__words_print_worked(&tone));
    tone.base = false, tone.verdict = WW_VERDICT_LOST;
    test_true("lost, whatever is done", !ww__words_print_worked(&tone));
    tone.verdict = WW_VERDICT_BURN, tone.burn_stops.set = false;
    test_true("no move", !ww__words_print_worked(&tone));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_act),
        cmocka_unit_test(moves_by_hand),
        cmocka_unit_test(fates),
        cmocka_unit_test(unplaced_tones_are_burned_to_the_first_tone),
        cmocka_unit_test(what_is_not_held),
        cmocka_unit_test(names),
        cmocka_unit_test(without_time),
        cmocka_unit_test(many_tones_are_counted),
        cmocka_unit_test(the_tone_expected_is_named),
        cmocka_unit_test(papers_without_a_label),
        cmocka_unit_test(why),
        cmocka_unit_test(flash_in_place_of_the_burn),
        cmocka_unit_test(two_exposures),
        cmocka_unit_test(what_a_hand_works_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
