/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/match_case.h"

/* Source: the case, by hand; doubts rounded up to 0.01 D. */
static void sentences_and_tables(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    ww__report report = WW__REPORT_INIT;
    match->aim = (char[]){"Heron gloss"};
    ww__match_report(match, &report);
    test_text("act", ww__text_string(&report.act),
              "Send gray through this curve: tones up to 1.00 D above white come out as the aim's, "
              "trust +-0.02 D; the worst that remains is -0.48 D at 100 %.");
    test_text(
        "why", ww__text_string(&report.why),
        "Why: this output goes from 0.08 to 1.60 D; the aim (Heron gloss) from 0.06 to 2.06 D. "
        "Matched are densities above each one's own white.");
    expect_row("middle", &report, "What remains, output less aim", 3,
               "gray|middle|-0.01|0.02|41 %");
    /* 25 %: 0.25^1.5 = 0.125; aim 0.08 + 0.5, print 0.08 + 1.52 x 0.25 and x 0.125 (points of the
     * curve lie 1/255 apart). */
    expect_row("a quarter", &report, "Curve", 7, "25.0|0.58|0.46|12.5|0.27|-0.31");
    test_true("notes", find_block(&report, "Notes")->n == 1);
    ww__report_release(&report);
    ww_notes_release(&match->notes);
}

static void other_acts(void **state) {
    (void)state;
    ww_match *match = match_case(3, WW_RAMP_VALUES);
    ww__report report = WW__REPORT_INIT;
    match->absolute = true;
    ww__match_report(match, &report);
    test_text(
        "colours", ww__text_string(&report.act),
        "Send each colour through this curve of its own: tones up to 1.00 D over this paper "
        "come out as the aim's, trust +-0.02 D; the worst that remains is -0.48 D at value 0.00 in "
        "blue.");
    test_true("a table each", find_block(&report, "Curve, blue") != NULL);
    ww__report_release(&report);
    ww_notes_release(&match->notes);
    match = match_case(1, WW_RAMP_VALUE);
    match->worst.density = 0.003;
    match->lightness = true;
    report = (ww__report)WW__REPORT_INIT;
    ww__match_report(match, &report);
    test_text("steps", ww__text_string(&report.act),
              "Send gray through this curve: all tones come out in equal steps of L*, trust +-0.02 "
              "D.");
    test_text(
        "why", ww__text_string(&report.why),
        "Why: this output goes from 0.08 to 1.60 D; equal steps of L* between them are the aim.");
    ww__report_release(&report);
    ww_notes_release(&match->notes);
}

/* A slip stands first. */
static void slips(void **state) {
    (void)state;
    for (int taken = 0; taken < 2; taken++) {
        ww_match *match = match_case(1, WW_RAMP_GRAY);
        ww__report report = WW__REPORT_INIT;
        match->slip = (ww_tone_slip){.moved = taken ? -1 : 1, .taken = taken == 1, .control = 45.0};
        match->slip_in = taken ? NULL : (char[]){"rag.csv"};
        ww__match_report(match, &report);
        test_holds("act", ww__text_string(&report.act),
                   taken ? "A step was read twice near 45 %: look at the rows there, or read them "
                           "again. With all later readings a step back, send gray through this "
                           "curve: tones up to"
                         : "A step may have been skipped near 45 % in 'rag.csv': look at the rows "
                           "there, or read them again. As they stand, send gray through this "
                           "curve: tones up to");
        ww__report_release(&report);
        ww_notes_release(&match->notes);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(sentences_and_tables),
                                       cmocka_unit_test(other_acts), cmocka_unit_test(slips)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
