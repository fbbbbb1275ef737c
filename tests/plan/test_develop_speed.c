/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <math.h>

/* Source: definitions; E = E_metered 2^(-below - s) in closed form. */

static void family(develop_case *c) {
    develop_case_start(c, 1.0, 0.1386294361, 0.0);
    for (int i = 1; i <= 3; i++)
        develop_case_add(c, 5.0 * i, 0.004, 1.0);
}

static ww_develop_request asked(double index) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    request.contrast_index = (ww_optional){index > 0.0, index};
    return request;
}

/* The case's speed points fall by 0.02 a minute: at 15 min 0.2 lower than at 5. */
static void gains(void **state) {
    develop_case c;
    ww_develop_request request = asked(0.6);
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c);
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_close("5 min", plan.row[0].speed_stops.value, -0.2 / log10(2.0), 1e-9);
    test_close("10 min", plan.row[1].speed_stops.value, -0.1 / log10(2.0), 1e-9);
    test_close("15 min", plan.row[2].speed_stops.value, 0.0, 1e-12);
    const double share = log(plan.time.value / 5.0) / log(2.0), at = -2.0 - 0.1 * share;
    test_close("speed point", plan.speed_point.value, at, 1e-9);
    test_close("its half-width", plan.speed_point.high - at, 0.02 * hypot(share, 1.0 - share),
               1e-9);
    test_close("gained", plan.speed_stops.value, (-2.2 - at) / log10(2.0), 1e-9);
    test_close("base", plan.base_fog.value, 0.2, 1e-12);
    const double gained = plan.speed_stops.high - plan.speed_stops.value;
    ww_development_release(&plan);
    /* What log h0 is off by moves all speed points alike, and no gain */
    for (size_t i = 0; i < c.n; i++) {
        ww_quantity *point = &c.curve[i].channel[WW_VISUAL].figure[WW_FIGURE_SPEED_POINT];
        const double half = hypot(0.02, 1.959963984540054 * 0.015);
        c.curve[i].meta.log_h0_sd = (ww_optional){true, 0.015};
        *point = (ww_quantity){point->value, point->value - half, point->value + half, WW_FITTED};
    }
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("no wider", plan.speed_stops.high - plan.speed_stops.value < 1.001 * gained);
    ww_development_release(&plan);
    /* Exposures that have no zero in common */
    c.curve[1].exposure = WW_EXPOSURE_STOP;
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("not compared", !plan.speeds_alike && !plan.row[0].speed_stops.set &&
                                  !ww_quantity_present(plan.speed_point));
    test_true("said", test_noted(&plan.notes, "Speeds are not compared"));
    ww_development_release(&plan);
    /* Lux seconds have, whatever gave them */
    for (size_t i = 0; i < c.n; i++) {
        c.curve[i].meta.exposure_unit = WW_UNIT_LUX_SECOND;
        c.curve[i].meta.log_h0 = (ww_optional){true, 0.1 * (double)i};
    }
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("compared", plan.speeds_alike);
    ww_development_release(&plan);
    develop_case_end(&c);
}

static void index_alone(void **state) {
    develop_case c;
    ww_develop_request request = asked(0.0);
    ww_development plan = WW_DEVELOPMENT_INIT;
    const double stop = log10(2.0);
    (void)state;
    develop_case_start(&c, 1.0, 0.14, 0.0);
    ww_curve *curve = develop_case_add(&c, 8.0, 0.004, 1.0);
    request.metered_index = (ww_optional){true, 160.0};
    curve->exposure = WW_EXPOSURE_STOP;
    curve->channel[WW_VISUAL].figure[WW_FIGURE_SPEED_POINT] =
        (ww_quantity){-3.0 * stop, -3.2 * stop, -2.9 * stop, WW_FITTED};
    test_status("index", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    /* 3 stops down where 10/3 (log2 10) were meant: a third of a stop slow */
    test_true("holds", plan.holds);
    test_close("index", plan.exposure_index.value, 160.0 * exp2(3.0) / 10.0, 1e-9);
    test_close("low", plan.exposure_index.low, 160.0 * exp2(2.9) / 10.0, 1e-9);
    test_close("high", plan.exposure_index.high, 160.0 * exp2(3.2) / 10.0, 1e-9);
    test_close("its time", plan.index_time_min.value, 8.0, 0.0);
    ww_development_release(&plan);
    request.below_stops = 4.0;
    curve->meta.log_h0 = (ww_optional){true, -1.0 * stop}; /* stop 0 lies there */
    test_status("index", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_close("placed four under", plan.exposure_index.value, 160.0 * exp2(2.0 - 4.0), 1e-9);
    ww_development_release(&plan);
    curve->exposure = WW_EXPOSURE_WEDGE;
    test_status("none", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_true("none", !plan.holds && !ww_quantity_present(plan.exposure_index));
    test_true("said", test_noted(&plan.notes, "There is no exposure index"));
    ww_development_release(&plan);
    develop_case_end(&c);
}

/* Series at two times: indices in equal steps, straight against log time. */
static void index_of_the_plan(void **state) {
    develop_case c;
    ww_develop_request request = asked(0.6);
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    family(&c);
    for (size_t i = 0; i < c.n; i++) {
        const double at = (-3.0 - 0.5 * (double)i) * log10(2.0);
        c.curve[i].exposure = WW_EXPOSURE_STOP;
        c.curve[i].channel[WW_VISUAL].figure[WW_FIGURE_SPEED_POINT] =
            (ww_quantity){at, at - 0.01, at + 0.01, WW_FITTED};
    }
    request.metered_index = (ww_optional){true, 100.0};
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    test_close("index", plan.exposure_index.value,
               80.0 * exp2(0.5 * log(plan.time.value / 5.0) / log(2.0)), 1e-6);
    test_close("for the time", plan.index_time_min.value, plan.time.value, 0.0);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(gains), cmocka_unit_test(index_alone),
                                       cmocka_unit_test(index_of_the_plan)};
    return cmocka_run_group_tests_name("speed and development", tests, NULL, NULL);
}
