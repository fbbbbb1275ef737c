/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>
#include <stdlib.h>

/* Source: the law of development in closed form; definitions. */

static ww_develop_request index_of(double contrast_index) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    request.contrast_index = (ww_optional){true, contrast_index};
    return request;
}

static void a_plan(void **state) {
    develop_case c;
    ww_development plan = WW_DEVELOPMENT_INIT;
    const ww_develop_request request = index_of(0.62);
    ww_error err = WW_ERROR_INIT;
    (void)state;
    develop_case_start(&c, 1.07, 0.137, 0.0);
    develop_case_add(&c, 5.0, 0.004, 1.0);
    develop_case_add(&c, 8.0, 0.004, 1.0);
    develop_case_add(&c, 13.0, 0.004, 1.0);
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, &err), WW_OK, &err);
    test_true("holds", plan.holds);
    test_close("time", plan.time.value, develop_case_time(&c, 0.62), 1e-4);
    test_true("interval",
              plan.time.low < plan.time.value - 0.02 && plan.time.high > plan.time.value + 0.02);
    test_close("for that temperature", plan.temperature_c.value, 20.0, 0.0);
    test_close("gamma infinity", plan.law[WW_DEVELOP_GAMMA].gamma_infinity.value, 1.07, 1e-4);
    test_text("name", plan.row[1].name, "1.json");
    ww_development_release(&plan);
    ww_development_release(&plan);
    ww_development_release(NULL);
    develop_case_end(&c);
}

/* A shift of log H moves speed points and changes no contrast and no time. */
static void shift(void **state) {
    develop_case c;
    ww_development one = WW_DEVELOPMENT_INIT, other = WW_DEVELOPMENT_INIT;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    (void)state;
    request.density_range = (ww_optional){true, 1.17};
    request.subject_range = (ww_optional){true, 1.93};
    develop_case_start(&c, 1.07, 0.137, 0.0);
    for (int i = 0; i < 3; i++)
        develop_case_add(&c, 5.0 + 4.0 * i, 0.004, 1.0);
    test_status("one", ww_develop_plan(c.input, c.n, &request, &one, NULL), WW_OK, NULL);
    for (size_t i = 0; i < c.n; i++) {
        ww_channel_curve *channel = &c.curve[i].channel[WW_VISUAL];
        ww_quantity *speed = &channel->figure[WW_FIGURE_SPEED_POINT];
        channel->shape.parameter[2] += 0.731;
        channel->domain_low += 0.731;
        channel->domain_high += 0.731;
        *speed = (ww_quantity){speed->value + 0.731, speed->low + 0.731, speed->high + 0.731,
                               speed->how};
    }
    test_status("other", ww_develop_plan(c.input, c.n, &request, &other, NULL), WW_OK, NULL);
    test_close("time", other.time.value, one.time.value, 1e-6);
    test_close("gradient", other.row[1].contrast[WW_DEVELOP_OVER_RANGE].value,
               one.row[1].contrast[WW_DEVELOP_OVER_RANGE].value, 1e-9);
    test_close("speed point", other.speed_point.value, one.speed_point.value + 0.731, 1e-6);
    test_close("gain", other.speed_stops.value, one.speed_stops.value, 1e-9);
    ww_development_release(&one);
    ww_development_release(&other);
    develop_case_end(&c);
}

static void film_range(void **state) {
    (void)state;
    test_close("no flare", ww_develop_film_range(2.17, 0.0), 2.17, 1e-12);
    /* (10^-2 + 0.01) / 1.01 = 0.0198020 */
    test_close("1 % of flare", ww_develop_film_range(2.0, 0.01), -log10(0.02 / 1.01), 1e-12);
}

static void refuses(const char *row, const develop_case *c, ww_develop_request request,
                    ww_status want) {
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_develop_plan(c->input, c->n, &request, &plan, &err), want, &err);
    test_true(row, plan.row == NULL && plan.n == 0);
}

static void refusals(void **state) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    (void)state;
    develop_case_start(&c, 1.07, 0.137, 0.0);
    refuses("no curve", &c, index_of(0.6), WW_EDOMAIN);
    develop_case_add(&c, 5.0, 0.004, 1.0);
    develop_case_add(&c, 9.0, 0.004, 1.0);
    refuses("nothing asked", &c, request, WW_ENODATA);
    refuses("too much", &c, index_of(4.1), WW_EDOMAIN);
    refuses("no number", &c, index_of(NAN), WW_EDOMAIN);
    request.density_range = (ww_optional){true, 1.2};
    refuses("half", &c, request, WW_EDOMAIN);
    request.subject_range = (ww_optional){true, 2.0};
    request.contrast_index = (ww_optional){true, 0.6};
    refuses("both", &c, request, WW_EDOMAIN);
    request.contrast_index.set = false;
    request.flare = 0.3;
    refuses("flare", &c, request, WW_EDOMAIN);
    request = index_of(0.6);
    request.repeatability = -0.1;
    refuses("repeatability", &c, request, WW_EDOMAIN);
    request = index_of(0.6);
    request.temperature_c = (ww_optional){true, 99.0};
    refuses("temperature", &c, request, WW_EDOMAIN);
    request = index_of(0.6);
    request.below_stops = 0.5;
    refuses("placing", &c, request, WW_EDOMAIN);
    request = index_of(0.6);
    request.metered_index = (ww_optional){true, 0.0};
    refuses("index", &c, request, WW_EDOMAIN);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_plan), cmocka_unit_test(shift),
                                       cmocka_unit_test(film_range), cmocka_unit_test(refusals)};
    return cmocka_run_group_tests_name("development plans", tests, NULL, NULL);
}
