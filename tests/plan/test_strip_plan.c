/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/strip_case.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/* Handbook series, two decimals: 1/3 stop around 16 s, and 16 s and half a stop. */
static void handbook_series(void **state) {
    static const double thirds[] = {8.0, 10.08, 12.70, 16.0, 20.16, 25.40, 32.0};
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    test_status("thirds", ww_strip_plan(16.0, 1.0 / 3.0, 7, 0.1, &strip, NULL), WW_OK, NULL);
    assert_int_equal(strip.series.n, 7);
    for (size_t i = 0; i < 7; i++)
        test_close("thirds", strip.series.piece[i].time_s, thirds[i], 0.0051);
    test_true("holds", strip.holds && strip.kind == WW_STRIP_PLAN);
    ww_strip_release(&strip);
    test_status("halves", ww_strip_plan(16.0, 0.5, 3, 0.01, &strip, NULL), WW_OK, NULL);
    test_close("16 s and half a stop", strip.series.piece[2].set_s, 22.63, 1e-9);
    ww_strip_release(&strip);
}

/* An even number has the centre between two pieces. Source: definition. */
static void even_count(void **state) {
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    test_status("even", ww_strip_plan(11.3, 0.731, 4, 0.1, &strip, NULL), WW_OK, NULL);
    test_close("around the centre",
               sqrt(strip.series.piece[1].time_s * strip.series.piece[2].time_s), 11.3, 1e-9);
    test_close("a step", log2(strip.series.piece[3].time_s / strip.series.piece[2].time_s), 0.731,
               1e-12);
    ww_strip_release(&strip);
}

/* What a hand adds comes to the total on the timer, wherever the timer's step lies. Source:
 * definition; roundings of totals are at most half a step. */
static void additions_make_totals(void **state) {
    static const double timers[] = {0.01, 0.1, 0.25, 0.5, 1.0};
    (void)state;
    for (size_t k = 0; k < sizeof timers / sizeof timers[0]; k++) {
        ww_strip strip = WW_STRIP_INIT;
        double sum = 0.0;
        test_status("plan", ww_strip_plan(27.31, 1.0 / 6.0, 9, timers[k], &strip, NULL), WW_OK,
                    NULL);
        for (size_t i = 0; i < strip.series.n; i++) {
            const ww_strip_piece *piece = &strip.series.piece[i];
            sum += piece->add_s;
            test_close("sum", sum, piece->set_s, 1e-9);
            test_true("half a step", fabs(piece->set_s - piece->time_s) <= 0.5 * timers[k] + 1e-9);
            test_close("off", piece->off_stops, log2(piece->set_s / piece->time_s), 1e-12);
            test_close("on the timer", remainder(piece->add_s, timers[k]), 0.0, 1e-9);
        }
        ww_strip_release(&strip);
    }
}

/* Source: common practice of the notes' limits (a second; 1/24 stop). */
static void notes_for_the_hand(void **state) {
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    test_status("easy", ww_strip_plan(16.0, 1.0 / 3.0, 7, 0.1, &strip, NULL), WW_OK, NULL);
    test_true("covering", strip_case_noted(&strip, "Cover, don't uncover"));
    test_true("lamp", strip_case_noted(&strip, "7 of them"));
    test_true("where to lay it", strip_case_noted(&strip, "the tone that matters"));
    test_true("nothing short", !strip_case_noted(&strip, "Under a second"));
    test_true("nothing rounded", !strip_case_noted(&strip, "1/24"));
    ww_strip_release(&strip);
    test_status("short", ww_strip_plan(5.0, 1.0 / 6.0, 7, 0.1, &strip, NULL), WW_OK, NULL);
    /* 3.536, 3.969 s: 3.5, 4.0 s */
    test_true("short", strip_case_noted(&strip, "Piece 3 adds only 0.4 s") ||
                           strip_case_noted(&strip, "adds only 0.5 s"));
    ww_strip_release(&strip);
    /* 4, 5.66, 8 s on whole seconds: 6 s are 0.085 stop over */
    test_status("coarse", ww_strip_plan(4.0 * sqrt(2.0), 0.5, 3, 1.0, &strip, NULL), WW_OK, NULL);
    test_true("rounded", strip_case_noted(&strip, "1 of 3 pieces stands off"));
    test_true("by how much",
              strip_case_noted(&strip, "0.08 stop") || strip_case_noted(&strip, "0.09 stop"));
    ww_strip_release(&strip);
}

static void refusals(void **state) {
    static const struct {
        const char *name;
        double centre, step;
        size_t count;
        double timer;
        const char *says;
    } rows[] = {
        {"no time", 0.0, 0.5, 5, 0.1, "centre"},
        {"less than no time", -4.0, 0.5, 5, 0.1, "centre"},
        {"no number", NAN, 0.5, 5, 0.1, "centre"},
        {"a day", 86400.0, 0.5, 5, 0.1, "centre"},
        {"no step", 16.0, 0.0, 5, 0.1, "step"},
        {"downwards", 16.0, -0.5, 5, 0.1, "step"},
        {"a huge step", 16.0, 3.5, 5, 0.1, "step"},
        {"one piece", 16.0, 0.5, 1, 0.1, "pieces"},
        {"too many", 16.0, 0.5, 25, 0.1, "pieces"},
        {"no timer", 16.0, 0.5, 5, 0.0, "timer"},
        {"longer than an hour", 600.0, 1.0, 9, 0.1, "more than an hour"},
        {"shorter than the timer", 1.0, 1.0, 9, 0.1, "the timer goes by"},
        {"two alike", 2.0, 1.0 / 12.0, 5, 0.5, "the same seconds"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_strip strip = WW_STRIP_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(
            rows[i].name,
            ww_strip_plan(rows[i].centre, rows[i].step, rows[i].count, rows[i].timer, &strip, &err),
            WW_EDOMAIN, &err);
        if (!strstr(err.msg, rows[i].says))
            fail_msg("%s: '%s' is not in: %s", rows[i].name, rows[i].says, err.msg);
        test_true("untouched", strip.series.piece == NULL);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(handbook_series),
        cmocka_unit_test(even_count),
        cmocka_unit_test(additions_make_totals),
        cmocka_unit_test(notes_for_the_hand),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
