/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "support/print_case.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

static const ww__print_test no_test = {.used = false};

static void test_format(void **state) {
    char text[16];
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    test_text("number", ww__print_format(text, sizeof text, "%.2f log H", 1.25), "1.25 log H");
    test_text("cut", ww__print_format(text, sizeof text, "%s", "a text that is too long"),
              "a text that is ");
    if (test_comma_locale())
        test_text("comma locale", ww__print_format(text, sizeof text, "%.2f", 1.25), "1.25");
    assert_int_equal(ww__print_say(&notes, NULL, "%.1f s", 18.5), WW_OK);
    test_text("note", notes.text[0], "18.5 s");
    ww_notes_release(&notes);
}

/* Names come from files: no control characters reach a terminal, and no name fills a page. */
static void test_show(void **state) {
    char longest[400];
    (void)state;
    test_text("plain", ww__print_show("cloud").text, "cloud");
    test_text("escape", ww__print_show("a\x1b[31mb").text, "a?[31mb");
    memset(longest, 'x', sizeof longest - 1);
    longest[sizeof longest - 1] = '\0';
    assert_int_equal(strlen(ww__print_show(longest).text), 43); /* 40 and "..." */
}

/* One sentence: the contrast with its ends, and every kind of loss. */
static void test_why(void **state) {
    ww__print_spot spots[2] = {{.name = "cloud"}, {.name = "shadow"}};
    ww__print_negative negative = WW__PRINT_NEGATIVE_INIT;
    ww__print_fate fate = {.contrast_reached = true};
    ww_print_paper paper = {.mismatch = -0.06};
    (void)state;
    negative.spot = spots;
    negative.n = 2;
    negative.first_aim = 0.10;
    negative.contrast = true;
    negative.other = 1;
    paper.paper_range = (ww_quantity){1.0, 1.0, 1.0, WW_FITTED};
    assert_int_equal(ww__print_words_why(&negative, &fate, &no_test, &paper, NULL), WW_OK);
    test_text("hard", paper.why,
              "it takes 1.00 log H from 'cloud' at 0.10 to 'shadow' at 90 % of black and the "
              "negative gives 1.06: 0.06 too hard.");
    free(paper.why);
    paper.why = NULL;
    paper.mismatch = 0.004;
    negative.first_aim = 0.005;
    negative.other_aim = (ww_optional){true, 1.65};
    fate.lost = 2;
    fate.lost_tone = "sky";
    fate.blocked = fate.merged = fate.unreached = 1;
    fate.blocked_tone = fate.merged_tone = fate.unreached_tone = "x";
    assert_int_equal(ww__print_words_why(&negative, &fate, &no_test, &paper, NULL), WW_OK);
    test_text(
        "losses", paper.why,
        "it takes 1.00 log H from 'cloud' at 0.005 to 'shadow' at 1.65 and the negative gives "
        "1.00: they match; 'x': its aim is not on this paper; 'x': blocked, there is no "
        "detail on the film to print; 'sky' and 1 more: lost, its detail falls under 0.02 in "
        "the print; 'x': merges into black.");
    free(paper.why);
}

/* What shows a slip of typing stands beside the time. Source: 1 stop is log10 2. */
static void test_odds(void **state) {
    ww__print_spot spot = {.name = "cloud"};
    ww__print_negative negative = WW__PRINT_NEGATIVE_INIT;
    const ww__print_fate fate = {.contrast_reached = false};
    ww__print_test test = {.used = true, .compared = true, .against = 1.0, .margin = 0.1};
    ww_print_paper paper = {.why = NULL};
    (void)state;
    negative.spot = &spot;
    negative.n = 1;
    assert_int_equal(ww__print_words_why(&negative, &fate, &test, &paper, NULL), WW_OK);
    test_holds("longer", paper.why, "; the test print took 3.3 stops more light than this curve");
    free(paper.why);
    paper.why = NULL;
    test.against = -0.301;
    assert_int_equal(ww__print_words_why(&negative, &fate, &test, &paper, NULL), WW_OK);
    test_holds("shorter", paper.why, "; the test print took 1.0 stop less light than this curve");
    free(paper.why);
    paper.why = NULL;
    test.against = 0.099;
    assert_int_equal(ww__print_words_why(&negative, &fate, &test, &paper, NULL), WW_OK);
    test_lacks("within the margin", paper.why, "the test print");
    free(paper.why);
}

/* Why contrast can't be told, in a printer's words: with the tone and the density. */
static void test_no_contrast(void **state) {
    static const struct {
        bool past_black, contrast;
        ww_optional other_aim;
        const char *words;
    } rows[] = {
        {true,
         true,
         {false, 0.0},
         "'cloud' at 1.90 is to print darker than 90 % of black, where the thinnest tone goes, so "
         "no range is left to tell the contrast by: place it lighter."},
        {false,
         true,
         {false, 0.0},
         "the contrast can't be told: this paper was not measured where it would print 'shadow' at "
         "90 % of black."},
        {false,
         true,
         {true, 1.95},
         "the contrast can't be told: this paper was not measured where it would print 'shadow' at "
         "1.95."},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__print_spot spots[2] = {{.name = "cloud"}, {.name = "shadow"}};
        ww__print_negative negative = WW__PRINT_NEGATIVE_INIT;
        const ww__print_fate fate = {.past_black = rows[i].past_black};
        ww_print_paper paper = {.why = NULL};
        negative.spot = spots;
        negative.n = 2;
        negative.first_aim = 1.90;
        negative.contrast = rows[i].contrast;
        negative.other = 1;
        negative.other_aim = rows[i].other_aim;
        assert_int_equal(ww__print_words_why(&negative, &fate, &no_test, &paper, NULL), WW_OK);
        test_text("no contrast", paper.why, rows[i].words);
        free(paper.why);
    }
}

/* What the hand has to do stands in the sentence: tones that need it, and all stops together. */
static void test_work(void **state) {
    ww__print_spot spots[2] = {{.name = "cloud"}, {.name = "shadow"}};
    ww__print_negative negative = WW__PRINT_NEGATIVE_INIT;
    const ww__print_fate fate = {.contrast_reached = false};
    ww_print_tone tone[3] = {{.burn_stops = {true, 0.75}},
                             {.burn_stops = {false, 0.0}},
                             {.base = true, .burn_stops = {true, 1.0}}};
    ww_print_paper paper = {.tone = tone, .n_tones = 3, .work_stops = 0.75};
    (void)state;
    negative.spot = spots;
    negative.n = 2;
    assert_int_equal(ww__print_words_why(&negative, &fate, &no_test, &paper, NULL), WW_OK);
    test_text("one", paper.why,
              "the contrast can't be told: this paper was not measured as dark as 90 % of black; "
              "one tone needs 0.8 stop of local work.");
    free(paper.why);
    paper.why = NULL;
    tone[1].burn_stops = (ww_optional){true, -1.3};
    paper.work_stops = 2.05 + 1e-9;
    assert_int_equal(ww__print_words_why(&negative, &fate, &no_test, &paper, NULL), WW_OK);
    test_text("two", paper.why,
              "the contrast can't be told: this paper was not measured as dark as 90 % of black; "
              "2 tones need 2.1 stops of local work in all.");
    free(paper.why);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_show),        cmocka_unit_test(test_why),
        cmocka_unit_test(test_work),        cmocka_unit_test(test_odds),
        cmocka_unit_test(test_no_contrast), cmocka_unit_test(test_format),
    };
    return cmocka_run_group_tests_name("print_words", tests, NULL, NULL);
}
