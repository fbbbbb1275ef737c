/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/series_made.h"
#include "core/story.h"
#include <math.h>

/* Readings of a simulated emulsion, no model's, noise 0.006; what is wrong with them is known. */
static ww__series readings(void) {
    dice d = {78};
    const emulsion e = emulsion_draw(&d, EMULSION_NORMAL, false);
    return made_of_emulsion(&e, &d, 0.006);
}

static ww__story best_of(const ww__series *s, bool moved_before) {
    ww__choice choice;
    ww__story best;
    test_status("choice", ww__choice_make(s, false, NULL, &choice, NULL), WW_OK, NULL);
    test_status("best", ww__story_best(s, &choice, moved_before, &best, NULL), WW_OK, NULL);
    for (size_t c = 0; c < choice.n; c++) /* none, where it explains no more than no story does */
        if (!(best.score < choice.candidate[c].fit.aicc))
            best = (ww__story){.score = HUGE_VAL};
    return best;
}

static void names_what_was_done(void **state) {
    (void)state;
    ww__series s = readings();
    test_true("clean", !(best_of(&s, false).score < HUGE_VAL));
    s.density[9] += 0.2;
    const ww__story slip = best_of(&s, false);
    test_true("slip", slip.score < HUGE_VAL && slip.cause == WW_CAUSE_UNKNOWN && slip.point == 9);
    s.density[9] -= 0.2;
    const double density = s.density[9];
    s.density[9] = s.density[10];
    s.density[10] = density;
    const ww__story swap = best_of(&s, false);
    test_true("swap", swap.cause == WW_CAUSE_SWAPPED && swap.point == 9);
    ww__series_release(&s);
}

/* Where readings were moved already, no second move is told. */
static void moves_once(void **state) {
    (void)state;
    ww__series s = readings();
    for (size_t i = 10; i + 1 < s.n; i++)
        s.density[i] = s.density[i + 1];
    s.weight[s.n - 1] = 0.0;
    test_true("skip", best_of(&s, false).moved == 1);
    test_true("again", best_of(&s, true).moved == 0);
    ww__series_release(&s);
}

static void applies(void **state) {
    (void)state;
    ww__series s = readings();
    const double gap = s.u[1] - s.u[0], from = s.u[5];
    s.weight[8] = 0.0;
    assert_int_equal(ww__story_partner(&s, 7), 9);
    const ww__story swap = {WW_CAUSE_SWAPPED, 0, 7, 0.0};
    test_status("swap", ww__story_apply(&s, &swap, NULL), WW_OK, NULL);
    test_true("swap", s.weight[7] == 0.0 && s.weight[9] == 0.0 && s.weight[6] == 1.0);
    const ww__story skip = {WW_CAUSE_SKIPPED, 1, 5, 0.0};
    test_status("skip", ww__story_apply(&s, &skip, NULL), WW_OK, NULL);
    test_close("skip", s.u[5], from + gap, 1e-12);
    const ww__story slip = {WW_CAUSE_UNKNOWN, 0, 2, 0.0};
    test_status("slip", ww__story_apply(&s, &slip, NULL), WW_OK, NULL);
    test_close("slip", s.weight[2], 0.0, 0.0);
    ww__series_release(&s);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_what_was_done),
        cmocka_unit_test(moves_once),
        cmocka_unit_test(applies),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
