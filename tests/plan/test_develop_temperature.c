/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>

/* Source: Arrhenius' law in closed form: k(T) = k(20 C) e^(-B (1/T - 1/293.15)), and so times. */
static const double b = 6300.0; /* [K] */

static double factor(double celsius) {
    return exp(b * (1.0 / (celsius + 273.15) - 1.0 / 293.15));
}

static void family(develop_case *c) {
    develop_case_start(c, 1.0, 0.14, 0.0);
    for (int i = 0; i < 4; i++)
        develop_case_add(c, 5.0 + 3.0 * i, 0.003, 1.0);
}

/* A strip at another temperature that has the contrast of so long a time at 20 C. */
static void add_other(develop_case *c, double celsius, double as_long, double off) {
    ww_curve *curve = develop_case_add(c, as_long, 0.003, 1.0);
    curve->meta.temperature_c.value = celsius;
    curve->meta.development_time_min.value = as_long * factor(celsius) * off;
}

static void plan_at(const develop_case *c, double celsius, ww_development *plan) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    request.contrast_index = (ww_optional){true, 0.62};
    request.temperature_c = (ww_optional){celsius > 0.0, celsius};
    test_status("plan", ww_develop_plan(c->input, c->n, &request, plan, NULL), WW_OK, NULL);
}

static void pairs(void **state) {
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    const double at_20 = -log(1.0 - 0.62) / 0.14;
    (void)state;
    family(&c);
    add_other(&c, 24.0, 8.3, 1.0);
    add_other(&c, 17.0, 7.1, 1.0);
    plan_at(&c, 23.0, &plan);
    test_true("holds", plan.holds && plan.by_temperature.known);
    assert_int_equal(plan.by_temperature.pairs, 2);
    test_close("time at 23 C", plan.time.value, at_20 * factor(23.0), 1e-3);
    test_close("10 degrees", plan.by_temperature.factor_10.value, 1.0 / factor(30.0), 1e-3);
    test_true("told with doubt",
              plan.by_temperature.factor_10.low < plan.by_temperature.factor_10.high);
    test_close("for", plan.temperature_c.value, 23.0, 0.0);
    assert_int_equal(plan.by_temperature.n, 3);
    test_close("17 C", plan.by_temperature.at[0].time.value, at_20 * factor(17.0), 1e-3);
    test_close("20 C", plan.by_temperature.at[1].time.value, at_20, 1e-3);
    test_text("in the budget", plan.doubt[plan.n_doubts - 1].from, "temperature");
    ww_development_release(&plan);
    plan_at(&c, 20.0, &plan);
    test_close("at the reference", plan.time.value, at_20, 1e-3);
    ww_development_release(&plan);
    develop_case_end(&c);
}

/* Told from a quarter of 17 to 24 C below to a quarter above: 15.25 to 25.75. */
static void limits(void **state) {
    static const struct {
        double celsius;
        bool told;
    } rows[] = {{15.2, false}, {15.3, true}, {25.7, true}, {25.8, false}};
    develop_case c;
    (void)state;
    family(&c);
    add_other(&c, 24.0, 8.3, 1.0);
    add_other(&c, 17.0, 7.1, 1.0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_development plan = WW_DEVELOPMENT_INIT;
        plan_at(&c, rows[i].celsius, &plan);
        test_true("told", plan.holds == rows[i].told);
        test_true("else not", plan.other_temperature != rows[i].told);
        ww_development_release(&plan);
    }
    develop_case_end(&c);
}

static void none(void **state) {
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c);
    plan_at(&c, 22.0, &plan);
    test_true("not told", !plan.holds && plan.other_temperature);
    test_true("no time", !ww_quantity_present(plan.time));
    test_true("but the one at 20 C is there", ww_quantity_present(plan.answer.time));
    ww_development_release(&plan);
    plan_at(&c, 0.0, &plan);
    test_true("for 20 C only", test_noted(&plan.notes, "Times are for 20 C only"));
    ww_development_release(&plan);
    /* A strip as contrasty as none of the others is no pair. */
    add_other(&c, 24.0, 40.0, 1.0);
    plan_at(&c, 0.0, &plan);
    test_true("no pair", !plan.by_temperature.known);
    ww_development_release(&plan);
    develop_case_end(&c);
}

/* Two strips at one temperature that disagree widen the doubt. */
static void disagree(void **state) {
    develop_case c;
    ww_development agree = WW_DEVELOPMENT_INIT, plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c);
    add_other(&c, 24.0, 8.3, 1.0);
    add_other(&c, 24.0, 7.3, 1.0);
    plan_at(&c, 24.0, &agree);
    develop_case_end(&c);
    family(&c);
    add_other(&c, 24.0, 8.3, 0.9);
    add_other(&c, 24.0, 7.3, 1.1);
    plan_at(&c, 24.0, &plan);
    test_true("wider", plan.time.high - plan.time.low > 2.0 * (agree.time.high - agree.time.low));
    ww_development_release(&agree);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(pairs), cmocka_unit_test(limits),
                                       cmocka_unit_test(none), cmocka_unit_test(disagree)};
    return cmocka_run_group_tests_name("development and temperature", tests, NULL, NULL);
}
