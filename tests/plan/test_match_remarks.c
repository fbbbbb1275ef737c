/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/readings_made.h"
#include "plan/match_parts.h"
#include "support/match_case.h"

/* Source: the case, by hand: black 1.60 where 2.08 is wanted, white 0.08 where the aim has 0.06. */

static ww_match *remarked(size_t n, bool absolute, double black, size_t passes) {
    ww_match *match = match_case(n, n == 1 ? WW_RAMP_GRAY : WW_RAMP_VALUES);
    ww_readings print = WW_READINGS_INIT;
    const ww_match_request request = {.print = &print, .absolute = absolute};
    print.has[WW_COLUMN_RED] = print.has[WW_COLUMN_BLUE] = true;
    ww_notes_release(&match->notes);
    match->absolute = absolute;
    match->passes = passes;
    for (size_t k = 0; k < n; k++) {
        ww_match_channel *c = &match->channel[k];
        c->print.n = c->aim.n = 21;
        c->black = black;
        for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
            c->target[i] =
                fmin(c->wanted[i], 1.08) + (black - 1.08) * fmax(0.0, (c->wanted[i] - 1.08) / 1.0);
    }
    test_status("remarks", ww__match_remarks(&request, match, NULL), WW_OK, NULL);
    return match;
}

static void blacks_and_whites(void **state) {
    (void)state;
    ww_match *match = remarked(1, false, 1.60, 0);
    test_true("short",
              test_noted(&match->notes, "this output's 1.60 is 0.48 D short of the aim's"));
    /* 0.48 of each unit beyond 1.08: 0.02 D at 1.122 D, a drive of 0.521. */
    test_true("from", test_noted(&match->notes, "From 52 % (1.12 D) on tones are lighter"));
    test_true("white", test_noted(&match->notes, "This paper is 0.02 D darker than the aim's;"));
    test_true("hue", test_noted(&match->notes, "One curve steers all three colours alike"));
    test_true("few", !test_noted(&match->notes, "is few"));
    test_true("next", test_noted(&match->notes, "give it as --refine"));
    ww_notes_release(&match->notes);
    match = remarked(1, true, 2.40, 0);
    test_true("denser", test_noted(&match->notes, "2.40, is 0.32 D denser than the aim's"));
    test_true("white", test_noted(&match->notes, "which no curve lightens"));
    ww_notes_release(&match->notes);
}

static void codes_and_colours(void **state) {
    (void)state;
    ww_match *match = remarked(3, false, 1.60, 1);
    test_true("codes",
              test_noted(&match->notes, "red: In 8 bits 17 of 256 codes fall together with their "
                                        "neighbour and 19 are left out; the greatest step between "
                                        "neighbours is 0.012 D (0.8 L*), at 0.69: under 1 L*"));
    test_true("shared inks", test_noted(&match->notes, "what inks share is not in them"));
    test_true("learnt", test_noted(&match->notes, "green: The corrected print moved"));
    ww_notes_release(&match->notes);
}

/* A step beside the limit of 1 L* is seen to be on its side. */
static void beside_the_limit(void **state) {
    (void)state;
    static const struct {
        double step;
        const char *told;
    } rows[] = {{0.97, "(0.97 L*), at 0.69: under 1 L*"},
                {1.03, "(1.03 L*), at 0.69: that can show"},
                {1.003, "(1.003 L*), at 0.69: that can show"},
                {1.26, "(1.3 L*), at 0.69: that can show"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_match *match = match_case(1, WW_RAMP_VALUE);
        ww_readings print = WW_READINGS_INIT;
        const ww_match_request request = {.print = &print};
        ww_notes_release(&match->notes);
        match->channel[0].codes.lightness = rows[i].step;
        test_status("remarks", ww__match_remarks(&request, match, NULL), WW_OK, NULL);
        test_true(rows[i].told, test_noted(&match->notes, rows[i].told));
        ww_notes_release(&match->notes);
    }
}

static void of_which_file(void **state) {
    (void)state;
    ww_readings print = WW_READINGS_INIT;
    ww_notes found = WW_NOTES_INIT, notes = WW_NOTES_INIT;
    test_status("note", ww_notes_add(&found, NULL, "The reading at 0.4 is off."), WW_OK, NULL);
    test_status("no name", ww__match_tell(&print, &found, &notes, NULL), WW_OK, NULL);
    test_text("no name", notes.text[0], "The reading at 0.4 is off.");
    print.file = made_text("b.csv");
    test_status("file", ww__match_tell(&print, &found, &notes, NULL), WW_OK, NULL);
    test_text("file", notes.text[1], "'b.csv': The reading at 0.4 is off.");
    ww_notes_release(&found);
    ww_notes_release(&notes);
    ww_readings_release(&print);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(blacks_and_whites), cmocka_unit_test(codes_and_colours),
        cmocka_unit_test(beside_the_limit), cmocka_unit_test(of_which_file)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
