/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>

/* Source: the interface and the law: what times leave open, what was assumed, is said. */

static void family(develop_case *c, size_t n, const double time[], double start) {
    develop_case_start(c, 1.0, 0.1386294361, start);
    for (size_t i = 0; i < n; i++)
        develop_case_add(c, time[i], 0.002, 1.0);
}

static void plan_of(const develop_case *c, double index, ww_development *plan) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    request.contrast_index = (ww_optional){true, index};
    test_status("plan", ww_develop_plan(c->input, c->n, &request, plan, NULL), WW_OK, NULL);
}

static const struct {
    const char *name;
    size_t n;
    double time[5];
    double start, aim;
    const char *said, *not_said;
} rows[] = {
    {"two", 2, {5, 10}, 0.0, 0.6, "Two times leave open", "Three times"},
    {"two, as if at once",
     2,
     {5, 10},
     0.0,
     0.6,
     "would level off at 1.000, at a rate of 0.1386",
     "There is no gamma infinity"},
    {"three at once", 3, {5, 8, 12}, 0.0, 0.6, "Three times are taken to show", "contradict a"},
    {"three, late",
     3,
     {5, 8, 12},
     1.5,
     0.6,
     "contradict a development that begins at once",
     "Three times are taken"},
    {"no repeats", 3, {5, 8, 12}, 0.0, 0.6, "How far one development differs", "scatter about"},
    {"four", 4, {4, 6, 9, 13}, 1.2, 0.6, "Times are for 20 C only", "How far one development"},
    {"extrapolated", 3, {5, 8, 12}, 0.0, 0.85, "it is extrapolated", "The interval is open"},
};

static void notes(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        develop_case c;
        ww_development plan = WW_DEVELOPMENT_INIT;
        family(&c, rows[i].n, rows[i].time, rows[i].start);
        plan_of(&c, rows[i].aim, &plan);
        test_true(rows[i].name, test_noted(&plan.notes, rows[i].said));
        test_true(rows[i].name, !test_noted(&plan.notes, rows[i].not_said));
        ww_development_release(&plan);
        develop_case_end(&c);
    }
}

static void curves_that_are_off(void **state) {
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c, 3, (const double[]){5, 10, 15}, 0.0);
    develop_case_add(&c, 7.0, 0.002, 0.7);
    plan_of(&c, 0.6, &plan);
    test_true("falls", test_noted(&plan.notes, "'3.json' (7 min) has less contrast than"));
    test_true("scatters", test_noted(&plan.notes, "The curves scatter about the law"));
    ww_development_release(&plan);
    develop_case_end(&c);
}

static void conditions(void **state) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c, 3, (const double[]){5, 8, 12}, 0.0);
    for (size_t i = 0; i < c.n; i++) {
        c.curve[i].meta.temperature_c.set = false;
        c.curve[i].exposure = WW_EXPOSURE_WEDGE;
        c.curve[i].meta.emulsion = WW_EMULSION_COLOUR_NEGATIVE;
    }
    request.density_range = (ww_optional){true, 1.2};
    request.subject_range = (ww_optional){true, 2.0};
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("temperature", test_noted(&plan.notes, "do not say their temperature"));
    test_true("wedge", test_noted(&plan.notes, "The wedge has no certificate"));
    test_true("flare", test_noted(&plan.notes, "give --flare"));
    test_true("colour", test_noted(&plan.notes, "A colour film's layers"));
    test_true("light", test_noted(&plan.notes, "the same light"));
    ww_development_release(&plan);
    request.flare = 0.005;
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("flare is given", !test_noted(&plan.notes, "give --flare"));
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(notes),
                                       cmocka_unit_test(curves_that_are_off),
                                       cmocka_unit_test(conditions)};
    return cmocka_run_group_tests_name("notes of a development plan", tests, NULL, NULL);
}
