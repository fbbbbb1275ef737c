/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

#define LOG_STOP 0.301029995663981195 /* log10 2 */

enum { STEPS = 21 };

static char label[] = "6";

/* Steps 0.15 apart along the paper, darkest first; those below `from` stand 0.15 too low. */
static void move_steps(ww_curve *paper, ww_curve_point point[STEPS], double from) {
    ww_channel_curve *channel = &paper->channel[WW_VISUAL];
    for (size_t i = 0; i < STEPS; i++) {
        const double log_h = 1.5 - 0.15 * (double)i;
        point[i] = (ww_curve_point){
            .step = label, .log_h = log_h, .moved = log_h < from ? -0.15 : 0.0, .n = 1};
    }
    channel->point = point;
    channel->n_points = STEPS;
}

static void start(print_case *c, ww_curve_point point[STEPS], double from) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.35);
    print_case_tone(c, "cloud", WW_PART_WHOLE, 1.35);
    move_steps(print_case_paper(c, "P", 1.05, 0.0), point, from);
    print_case_place(c, "cloud", 0.08);
}

static double line_of(const ww_print_paper *paper) {
    for (size_t i = 0; i < paper->n_budget; i++)
        if (strcmp(paper->budget[i].from, "moved steps") == 0)
            return paper->budget[i].stops;
    return 0.0;
}

/* t = H 10^D: exposures 0.15 log H off are a time 0.15/log10 2 stops off, where the aim lies among
 * the moved. Source: definition. */
static void test_time(void **state) {
    static const struct {
        const char *name;
        double from, test_density, doubt; /* of log H; no test where 0 */
    } rows[] = {
        {"no step was moved", -9.0, 0.0, 0.0},
        {"the aim is among those moved", 0.01, 0.0, 0.15},
        {"the aim is among the others", -0.9, 0.0, 0.0},
        {"the test is moved as far", 0.01, 0.20, 0.0},
        {"the test is among the others", 0.01, 1.5, 0.15},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_curve_point point[STEPS];
        print_case c;
        ww_print_plan plan = WW_PRINT_PLAN_INIT;
        start(&c, point, rows[i].from);
        c.request.test[0] = (ww_print_test){12.0, "shadow", rows[i].test_density};
        c.request.n_tests = rows[i].test_density > 0.0;
        print_case_make(rows[i].name, &c, &plan);
        test_close(rows[i].name, line_of(&plan.paper[0]), rows[i].doubt / LOG_STOP, 1e-9);
        test_true(rows[i].name, print_case_noted(&plan, "without that move") == false);
        test_true(rows[i].name, print_case_noted(&plan, "Without that move of the steps the time "
                                                        "would be ") == (rows[i].doubt > 0.0));
        test_true(rows[i].name, print_case_noted(&plan, "Of 'P', step '6' and those after it stand "
                                                        "0.15 log H off") == (rows[i].from > -9.0));
        ww_print_plan_release(&plan);
    }
}

/* The time that is told is 10^0.15 = 1.41 of the plan's. Source: definition. */
static void test_told(void **state) {
    ww_curve_point point[STEPS];
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    char words[64];
    (void)state;
    start(&c, point, 0.01);
    print_case_make("told", &c, &plan);
    ww__print_format(words, sizeof words, "the time would be %.3g s",
                     1.4125375446 * plan.paper[0].time_s.value);
    test_true("the time without it", print_case_noted(&plan, words));
    ww_print_plan_release(&plan);
}

/* Where the steps between the two ends were moved apart, the paper's range is as doubtful. */
static void test_range(void **state) {
    ww_curve_point point[STEPS];
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    (void)state;
    start(&c, point, 0.01);
    print_case_make("range", &c, &plan);
    const ww_quantity range = plan.paper[0].paper_range;
    test_close("half-width", 0.5 * (range.high - range.low), 0.15, 1e-9);
    ww_print_plan_release(&plan);
}

/* What lies half-way between a paper moved and one that was not is half as far off. */
static void test_half(void **state) {
    ww_curve_point point[STEPS];
    print_case c;
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    double stops = -1.0;
    (void)state;
    start(&c, point, 0.01);
    print_case_paper(&c, "P", 0.85, 0.0);
    c.paper[0].meta.contrast = (char[]){"grade 2"};
    c.paper[1].meta.contrast = (char[]){"grade 3"};
    print_case_make("half", &c, &plan);
    for (size_t i = 0; i < plan.n_papers; i++)
        if (plan.paper[i].interpolated)
            stops = line_of(&plan.paper[i]);
    test_close("half as far", stops, 0.5 * 0.15 / LOG_STOP, 1e-9);
    ww_print_plan_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_time),
        cmocka_unit_test(test_told),
        cmocka_unit_test(test_range),
        cmocka_unit_test(test_half),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
