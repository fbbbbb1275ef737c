/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"

/* Source: the worked film strip: contrasts 0.86, 1.01 and 1.05. */
static void contrast_of_the_worked_strip(void **state) {
    static const double contrast[] = {0.86, 1.01, 1.05};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_strip(&log, "main", "", "2026-11-01", CONTROL_WORKED);
    control = control_case_judge(&log, NULL);
    for (int c = WW_RED; c <= WW_BLUE; c++) {
        const ww_control_chart *chart = control_case_chart(&control, "HD-LD", (ww_channel)c);
        test_close("strip", chart->point[0].value, contrast[c], 1e-9);
        test_close("aim", chart->aim, contrast[c], 1e-9);
        test_close("off", chart->point[0].deviation, 0.0, 1e-9);
    }
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* Source: aim = reference + correction; spread = greatest less least deviation. */
static void deviations_and_spread(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    const ww_control_chart *spread;
    (void)state;
    test_status("reference",
                control_case_reference(&log,
                                       "step,red,green,blue,correction_red,correction_blue\n"
                                       "D-min,0.32,0.63,0.72,,\nLD,0.44,0.76,0.98,0.03,-0.01\n"
                                       "HD,1.30,1.77,2.03,0.02,\n",
                                       NULL),
                WW_OK, NULL);
    control_case_strip(&log, "main", "", "2026-11-01",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.52,0.75,1.00\n"
                       "HD,1.31,1.77,2.03\n");
    control = control_case_judge(&log, NULL);
    test_close("aim", control_case_chart(&control, "LD", WW_RED)->aim, 0.47, 1e-12);
    test_close("red", control_case_chart(&control, "LD", WW_RED)->point[0].deviation, 0.05, 1e-12);
    test_close("green", control_case_chart(&control, "LD", WW_GREEN)->point[0].deviation, -0.01,
               1e-12);
    test_close("blue", control_case_chart(&control, "LD", WW_BLUE)->point[0].deviation, 0.03,
               1e-12);
    test_close("contrast", control_case_chart(&control, "HD-LD", WW_RED)->aim, 0.85, 1e-12);
    test_close("contrast off", control_case_chart(&control, "HD-LD", WW_RED)->point[0].deviation,
               -0.06, 1e-12);
    spread = control_case_chart(&control, "LD spread", WW_CHANNEL_COUNT);
    test_close("spread", spread->point[0].value, 0.06, 1e-12);
    test_close("its aim", spread->aim, 0.0, 0.0);
    test_true("kind", spread->kind == WW_CONTROL_SPREAD);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void what_is_not_read_is_not_charted(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_strip(&log, "main", "", "2026-11-01",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.44,0.76,-\n"
                       "HD,1.30,1.77,over\n");
    control = control_case_judge(&log, NULL);
    test_true("LD", !control_case_chart(&control, "LD", WW_BLUE)->point[0].read);
    test_true("HD", !control_case_chart(&control, "HD", WW_BLUE)->point[0].read);
    test_true("contrast", !control_case_chart(&control, "HD-LD", WW_BLUE)->point[0].read);
    test_true("green", control_case_chart(&control, "HD-LD", WW_GREEN)->point[0].read);
    test_true("spread",
              !control_case_chart(&control, "LD spread", WW_CHANNEL_COUNT)->point[0].read);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* Steps without a role go by their own label, and grey strips have no spread. */
static void labels_of_the_user(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    size_t at;
    (void)state;
    test_status(
        "reference",
        control_case_reference(&log, "step,tone,visual\n4,,0.3\n7,ld,0.7\n11,HD,1.7\n", NULL),
        WW_OK, NULL);
    control_case_strip(&log, "main", "", "2026-11-01", "step,visual\n4,0.3\n7,0.71\n11,1.7\n");
    control = control_case_judge(&log, NULL);
    assert_int_equal(ww_control_focus(&control.series[0], &at)->n_charts, 4);
    test_close("4", control_case_chart(&control, "4", WW_VISUAL)->aim, 0.3, 1e-12);
    test_close("7 is LD", control_case_chart(&control, "LD", WW_VISUAL)->aim, 0.7, 1e-12);
    test_close("contrast", control_case_chart(&control, "HD-LD", WW_VISUAL)->aim, 1.0, 1e-12);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* A channel's own limit goes before one for all. */
static void limits_of_the_user(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    const ww_control_chart *chart;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "main",
                        "measure,channel,action,control\nld,green,,0.05\nLD,,0.04,0.08\n"
                        "D-min,,,+0.03\nHD spread,,,0.09\n");
    control_case_strip(&log, "main", "", "2026-11-01", CONTROL_WORKED);
    control = control_case_judge(&log, NULL);
    chart = control_case_chart(&control, "LD", WW_GREEN);
    test_close("own", chart->above.value, 0.05, 0.0);
    test_close("own below", chart->below.value, -0.05, 0.0);
    test_close("action of all", chart->action_above.value, 0.04, 0.0);
    test_close("all", control_case_chart(&control, "LD", WW_RED)->above.value, 0.08, 0.0);
    chart = control_case_chart(&control, "D-min", WW_BLUE);
    test_true("one side", chart->above.set && !chart->below.set);
    test_true("spread", control_case_chart(&control, "HD spread", WW_CHANNEL_COUNT)->above.set);
    test_true("none", !control_case_chart(&control, "HD", WW_RED)->above.set);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(contrast_of_the_worked_strip),
        cmocka_unit_test(deviations_and_spread),
        cmocka_unit_test(what_is_not_read_is_not_charted),
        cmocka_unit_test(labels_of_the_user),
        cmocka_unit_test(limits_of_the_user),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
