/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>

/* Source: definition. Laid over each other by their speed points and mixed, toe-lines without a toe
 * are straight lines of the mixed slope: those of the case have the contrast that is wanted. */
static void has_the_contrast(void **state) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    develop_case_start(&c, 1.0, 0.1386294361, 0.0);
    for (int i = 1; i <= 3; i++) {
        ww_channel_curve *channel = &develop_case_add(&c, 5.0 * i, 0.004, 1.0)->channel[WW_VISUAL];
        channel->shape.parameter[3] = 0.001;
        const double at = -2.0 + 0.1 / channel->shape.parameter[1];
        channel->figure[WW_FIGURE_SPEED_POINT] = (ww_quantity){at, at - 0.02, at + 0.02, WW_FITTED};
    }
    request.contrast_index = (ww_optional){true, 0.61};
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("drawn", plan.n_foretold > 40);
    const ww_develop_point *first = &plan.foretold[0], *last = &plan.foretold[plan.n_foretold - 1];
    const ww_develop_point *middle = &plan.foretold[plan.n_foretold / 2];
    test_close("slope", (last->density - middle->density) / (last->log_h - middle->log_h), 0.61,
               1e-6);
    test_close("base", first->density, 0.2, 1e-6);
    test_close("through the speed point",
               middle->density - 0.61 * (middle->log_h - plan.speed_point.value), 0.3, 1e-3);
    test_true("no further than was measured",
              first->log_h >= -3.2 - 1e-9 && last->log_h <= 0.9 + 1e-9);
    for (size_t i = 1; i < plan.n_foretold; i++)
        test_true("rises", plan.foretold[i].density >= plan.foretold[i - 1].density - 1e-12);
    ww_development_release(&plan);
    develop_case_end(&c);
}

static void none(void **state) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    develop_case_start(&c, 1.0, 0.1386294361, 0.0);
    develop_case_add(&c, 5.0, 0.004, 1.0);
    develop_case_add(&c, 9.0, 0.004, 1.0);
    request.contrast_index = (ww_optional){true, 2.0};
    test_status("no time", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("no curve", plan.n_foretold == 0);
    ww_development_release(&plan);
    request.contrast_index.value = 0.6;
    c.curve[1].channel[WW_VISUAL].figure[WW_FIGURE_SPEED_POINT].how = WW_ABSENT;
    test_status("one speed point", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK,
                NULL);
    test_true("no curve", plan.n_foretold == 0 && plan.holds);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(has_the_contrast), cmocka_unit_test(none)};
    return cmocka_run_group_tests_name("the curve foretold", tests, NULL, NULL);
}
