/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>
#include <string.h>

/* Source: the law of development in closed form; the interface (a quarter; budget of an act). */

static void family(develop_case *c) {
    develop_case_start(c, 1.0, 0.1386294361, 0.0);
    for (int i = 1; i <= 3; i++)
        develop_case_add(c, 5.0 * i, 0.004, 1.0);
}

static void plan_index(const develop_case *c, double index, ww_development *plan) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    request.contrast_index = (ww_optional){true, index};
    test_status("plan", ww_develop_plan(c->input, c->n, &request, plan, NULL), WW_OK, NULL);
}

static const struct {
    const char *name;
    double aim;
    ww_time_gamma_place place;
    double next; /* 0: none */
} places[] = {
    {"inside", 0.60, WW_TIME_GAMMA_INSIDE, 0.0},
    {"within a quarter", 0.90, WW_TIME_GAMMA_INSIDE, 16.6096},
    {"longer", 0.94, WW_TIME_GAMMA_LONGER, 20.2945},
    {"far longer: half as long again", 0.99, WW_TIME_GAMMA_LONGER, 22.5},
    {"shorter", 0.38, WW_TIME_GAMMA_SHORTER, 3.4483},
    {"far shorter", 0.20, WW_TIME_GAMMA_SHORTER, 3.0},
    {"never", 1.05, WW_TIME_GAMMA_NEVER, 22.5},
};

static void ends(void **state) {
    develop_case c;
    (void)state;
    family(&c);
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        ww_development plan = WW_DEVELOPMENT_INIT;
        plan_index(&c, places[i].aim, &plan);
        assert_int_equal(plan.answer.place, places[i].place);
        test_true(places[i].name, plan.holds == (places[i].place == WW_TIME_GAMMA_INSIDE));
        test_true(places[i].name, ww_quantity_present(plan.time) == plan.holds);
        test_true(places[i].name, plan.next_min.set == (places[i].next > 0.0));
        if (plan.next_min.set)
            test_close(places[i].name, plan.next_min.value, places[i].next, 0.01);
        ww_development_release(&plan);
    }
    develop_case_end(&c);
}

/* The whole interval is what the doubts make together, in quadrature, about as they are. */
static void budget(void **state) {
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c);
    plan_index(&c, 0.6, &plan);
    const double without = plan.time.high - plan.time.low;
    double square = 0.0;
    for (size_t i = 0; i < plan.n_doubts; i++)
        square += plan.doubt[i].minutes * plan.doubt[i].minutes;
    test_close("together", sqrt(square), without / 2.0, 1e-6);
    test_text("first", plan.doubt[0].from, "curve fits");
    ww_development_release(&plan);
    for (size_t i = 0; i < c.n; i++)
        c.curve[i].exposure = WW_EXPOSURE_WEDGE;
    plan_index(&c, 0.6, &plan);
    /* 3 % of 0.6 over the slope k (1 - 0.6) */
    const double wedge = 0.018 / (0.1386294361 * 0.4);
    test_text("wedge", plan.doubt[plan.n_doubts - 1].from, "wedge");
    test_close("wedge", plan.doubt[plan.n_doubts - 1].minutes, wedge, 1e-3);
    test_close("in quadrature", (plan.time.high - plan.time.low) / 2.0, hypot(without / 2.0, wedge),
               2e-3);
    ww_development_release(&plan);
    for (size_t i = 0; i < c.n; i++)
        c.curve[i].meta.wedge = WW_WEDGE_CERTIFIED;
    plan_index(&c, 0.6, &plan);
    test_close("certified", plan.time.high - plan.time.low, without, 1e-9);
    ww_development_release(&plan);
    develop_case_end(&c);
}

/* 0.02 D over 2.0 of log H are 0.01 of contrast: as much scatter as errors of 0.01 would give. */
static void repeatability(void **state) {
    develop_case c, wide;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development given = WW_DEVELOPMENT_INIT, own = WW_DEVELOPMENT_INIT;
    (void)state;
    develop_case_start(&c, 1.0, 0.1386294361, 0.0);
    develop_case_start(&wide, 1.0, 0.1386294361, 0.0);
    for (int i = 0; i < 3; i++) {
        const double t = 6.2 + 0.5 * i; /* contrasts all near the aim */
        develop_case_add(&c, t, 0.004, 1.0);
        develop_case_add(&wide, t, 1.96 * 0.01, 1.0);
    }
    request.contrast_index = (ww_optional){true, 0.60};
    (void)ww_develop_plan(wide.input, wide.n, &request, &own, NULL);
    request.repeatability = 0.02;
    (void)ww_develop_plan(c.input, c.n, &request, &given, NULL);
    test_close("as wide", (given.time.high - given.time.low) / (own.time.high - own.time.low), 1.0,
               0.1);
    test_text("its line", given.doubt[1].from, "one development to the next");
    ww_development_release(&given);
    ww_development_release(&own);
    develop_case_end(&c);
    develop_case_end(&wide);
}

/* Toe-line: from net 0.10 the gradient over a range is nearly gamma; N by hand from the law. */
static void ranges(void **state) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    const double stop = log10(2.0);
    (void)state;
    family(&c);
    for (size_t i = 0; i < c.n; i++)
        c.curve[i].channel[WW_VISUAL].shape.parameter[3] = 0.005; /* hardly a toe */
    request.density_range = (ww_optional){true, 1.26};
    request.subject_range = (ww_optional){true, 2.1};
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_close("gradient", plan.aim, 0.6, 1e-12);
    test_close("time", plan.time.value, develop_case_time(&c, 0.6), 0.01);
    assert_int_equal(plan.n_ranges, WW_DEVELOP_RANGES);
    for (size_t i = 0; i < plan.n_ranges; i++) {
        const ww_develop_range *r = &plan.range[i];
        const double range = 2.1 - r->n * stop;
        assert_int_equal(r->n, (int)i - 2);
        test_close("range", r->subject_range, range, 1e-12);
        test_close("gradient", r->gradient, 1.26 / range, 1e-12);
        if (ww_quantity_present(r->time))
            test_close("time", r->time.value, develop_case_time(&c, 1.26 / range), 0.01);
    }
    test_true("N+1 is told", ww_quantity_present(plan.range[3].time));
    test_true("more development", plan.range[3].time.value > plan.time.value);
    ww_development_release(&plan);
    /* The steps end 2.2 over net 0.10: nothing of a range of 2.4 */
    for (size_t i = 0; i < c.n; i++)
        c.curve[i].channel[WW_VISUAL].domain_high = 0.3;
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    assert_int_equal(plan.range[1].short_of, 3);
    test_true("not told", !plan.range[1].known && !ww_quantity_present(plan.range[1].time));
    ww_development_release(&plan);
    request.subject_range.value = 2.6;
    ww_error err = WW_ERROR_INIT;
    test_status("N itself", ww_develop_plan(c.input, c.n, &request, &plan, &err), WW_ENODATA, &err);
    test_holds("which", err.msg, "the steps end");
    develop_case_end(&c);
}

static void one_time(void **state) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    family(&c);
    request.contrast_index = (ww_optional){true, 0.6};
    test_status("one time", ww_develop_plan(c.input, 1, &request, &plan, &err), WW_ENODATA, &err);
    test_holds("what to do", err.msg, "develop one more strip");
    c.curve[1].channel[WW_VISUAL].figure[WW_FIGURE_CONTRAST_INDEX].how = WW_ABSENT;
    test_status("no index", ww_develop_plan(c.input, 2, &request, &plan, &err), WW_ENODATA, &err);
    test_text("whose", err.file, "strips/1.json");
    test_status("two others", ww_develop_plan(c.input, 3, &request, &plan, &err), WW_OK, &err);
    test_true("said", test_noted(&plan.notes, "'1.json' (10 min) is not used"));
    ww_development_release(&plan);
    develop_case_end(&c);
}

static void falls(void **state) {
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c);
    develop_case_add(&c, 8.0, 0.004, 0.6); /* 0.40, under the 0.50 of 5 min */
    plan_index(&c, 0.6, &plan);
    test_true("told", plan.row[1].falls && !plan.row[2].falls);
    test_true("off", plan.row[1].off.set && plan.row[1].off.value < -0.05);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(ends),          cmocka_unit_test(budget),
                                       cmocka_unit_test(repeatability), cmocka_unit_test(ranges),
                                       cmocka_unit_test(one_time),      cmocka_unit_test(falls)};
    return cmocka_run_group_tests_name("the time for a contrast", tests, NULL, NULL);
}
