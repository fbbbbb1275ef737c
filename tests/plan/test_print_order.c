/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/* A logistic paper with another black: log H of a net density from the middle, in closed form. */
static double log_h(double dmax, double steepness, double net) {
    return -log(dmax / net - 1.0) / steepness;
}

static void shape(ww_curve *curve, double dmax, double steepness) {
    ww_channel_curve *channel = &curve->channel[WW_VISUAL];
    channel->shape.parameter[1] = dmax;
    channel->shape.parameter[2] = steepness;
    channel->figure[WW_FIGURE_DMAX].value = 0.05 + dmax;
}

/* The steepness that puts two net densities a range apart. */
static double steep_for(double dmax, double light, double dark, double range) {
    return (log(dmax / light - 1.0) - log(dmax / dark - 1.0)) / range;
}

/*
 * Two papers hold all; "easy", of the longer toe, needs no local work, "near" matches exactly and
 * needs a burn of the cloud. Less work wins as long as the range misses by no more than what nobody
 * sees, 0.05: project convention.
 */
static void test_work_against_mismatch(void **state) {
    static const struct {
        double mismatch;
        const char *first;
    } rows[] = {{0.02, "easy"}, {0.048, "easy"}, {0.052, "near"}, {0.09, "near"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double range = 1.00;
        const double near = steep_for(2.0, 0.25, 0.9 * 2.0, range);
        const double easy = steep_for(1.7, 0.25, 0.9 * 1.7, range + rows[i].mismatch);
        const double toe = log_h(1.7, easy, 0.25) - log_h(1.7, easy, 0.04);
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        print_case_start(&c);
        print_case_tone(&c, "wall", WW_PART_WHOLE, 1.20);
        print_case_tone(&c, "shadow", WW_PART_WHOLE, 1.20 - range);
        print_case_tone(&c, "cloud", WW_PART_THIN, 1.20 + toe - 0.12);
        print_case_tone(&c, "cloud", WW_PART_DENSE, 1.20 + toe - 1e-6);
        shape(print_case_paper(&c, "near", 1.05, 0.0), 2.0, near);
        shape(print_case_paper(&c, "easy", 1.05, 0.0), 1.7, easy);
        print_case_place(&c, "wall", 0.25);
        print_case_make(rows[i].first, &c, &plan);
        test_true("both hold", plan.paper[0].holds && plan.paper[1].holds);
        test_true("said where the farther one is first",
                  print_case_noted(&plan, "in steps of 0.05 log H, count as alike") ==
                      (strcmp(rows[i].first, "easy") == 0));
        if (strcmp(plan.paper[0].paper, rows[i].first) != 0)
            fail_msg("mismatch %g: '%s' first (work %g and %g)", rows[i].mismatch,
                     plan.paper[0].paper, plan.paper[0].work_stops, plan.paper[1].work_stops);
        ww_print_plan_release(&plan);
    }
}

/* Where nothing holds the fewest tones are given up, however far the range is off. */
static void test_fewest_lost(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "cellar", WW_PART_WHOLE, 0.22);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.30);
    print_case_tone(&c, "coal", WW_PART_WHOLE, 0.50);
    print_case_tone(&c, "sky", WW_PART_WHOLE, 1.60);
    print_case_paper(&c, "hard", 0.90, 0.0);
    print_case_paper(&c, "less hard", 1.10, 0.0);
    print_case_place(&c, "sky", 0.04);
    print_case_make("both lose", &c, &plan);
    test_true("nothing holds", !plan.holds);
    test_text("fewest", plan.paper[0].paper, "less hard");
    test_true("said",
              print_case_noted(
                  &plan, "The choice gives up 1 tone, with 0.0 stop of local work; next, 'hard' "
                         "would give up 2"));
    test_true("what it wants", print_case_noted(&plan, "about 0.28 log H softer than this"));
    ww_print_plan_release(&plan);
}

/* A tone that is blocked on the film is lost on every paper, and has no say in the contrast. */
static void test_blocked_has_no_say(void **state) {
    static const char *const grades[] = {"2", "3"};
    static const double range[] = {1.05, 0.88}; /* middles of the table of grades */
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        print_case_start(&c);
        print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.30);
        print_case_tone(&c, "wall", WW_PART_WHOLE, 0.30 + range[i]);
        print_case_tone(&c, "cloud", WW_PART_THIN, 0.80 + range[i]);
        print_case_tone(&c, "cloud", WW_PART_DENSE, 0.81 + range[i]);
        print_case_place(&c, "wall", 0.04);
        print_case_make("blocked", &c, &plan);
        test_true("does not hold", !plan.holds);
        test_text("nearest", plan.paper[0].contrast, grades[i]);
        test_true("not as given up", !print_case_noted(&plan, "The choice gives up"));
        ww_print_plan_release(&plan);
    }
}

/* Nothing tells them apart: the order in which they were given. */
static void test_order_given(void **state) {
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.30);
    print_case_tone(&c, "wall", WW_PART_WHOLE, 1.35);
    print_case_paper(&c, "b", 1.05, 0.0);
    print_case_paper(&c, "a", 1.05, 0.0);
    print_case_make("alike", &c, &plan);
    test_text("first", plan.paper[0].paper, "b");
    test_text("second", plan.paper[1].paper, "a");
    ww_print_plan_release(&plan);
}

/*
 * The filters of one paper, R as its maker publishes it for 00, 0, 1 and so on to 5, through every
 * range that a negative may have: the choice is the filter, or the half between two, of that R, to
 * within the 0.05 that nobody sees, and a filter that was measured where one is as near. Halves
 * from memory: 145, 120, 100, 75, 50.
 */
static void test_filters(void **state) {
    static const double iso_range[] = {180, 160, 130, 110, 90, 60, 40};
    static const double half[] = {170, 145, 120, 100, 75, 50};
    static char label[][12] = {"filter 00", "filter 0", "filter 1", "filter 2",
                               "filter 3",  "filter 4", "filter 5"};
    enum { FILTERS = sizeof iso_range / sizeof iso_range[0] };
    print_case c;
    (void)state;
    print_case_start(&c);
    print_case_tone(&c, "shadow", WW_PART_WHOLE, 0.20);
    print_case_tone(&c, "cloud", WW_PART_WHOLE, 1.20);
    print_case_place(&c, "cloud", 0.04);
    for (size_t i = 0; i < FILTERS; i++)
        print_case_paper(&c, "invented", iso_range[i] / 100.0, 0.0)->meta.contrast = label[i];
    for (int step = 0; step <= (test_quick() ? 5 : 75); step++) {
        const double range = 0.35 + 0.02 * step;
        double nearest = 9.0, measured = 9.0;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        const ww_print_paper *choice;
        for (size_t i = 0; i < FILTERS; i++)
            measured = fmin(measured, fabs(iso_range[i] / 100.0 - range));
        nearest = measured;
        for (size_t i = 0; i + 1 < FILTERS; i++)
            nearest = fmin(nearest, fabs(half[i] / 100.0 - range));
        c.row[1].cell[WW_COLUMN_VISUAL].value = 0.20 + range;
        print_case_make("filters", &c, &plan);
        assert_int_equal(plan.n_papers, 2 * FILTERS - 1);
        choice = &plan.paper[0];
        if (fabs(choice->mismatch) > nearest + 0.05 + 0.003)
            fail_msg("range %.2f: %s misses by %.3f", range, choice->contrast, choice->mismatch);
        if (measured < 0.05 - 1e-6 && choice->interpolated)
            fail_msg("range %.2f: %s was not measured", range, choice->contrast);
        ww_print_plan_release(&plan);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_work_against_mismatch),
        cmocka_unit_test(test_fewest_lost),
        cmocka_unit_test(test_blocked_has_no_say),
        cmocka_unit_test(test_order_given),
        cmocka_unit_test(test_filters),
    };
    return cmocka_run_group_tests_name("print_order", tests, NULL, NULL);
}
