/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* NIST/SEMATECH 6.3.2.2, a hundredth of it, as densities: limits 0.458159 to 0.558041. */
static const double flowrate[] = {0.496, 0.476, 0.499, 0.513, 0.478, 0.512,
                                  0.526, 0.524, 0.536, 0.521, 0.559, 0.558};

static void history(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    const ww_control_chart *chart;
    ww_optional lower, upper;
    bool user;
    (void)state;
    control_case_series(&log, 0.5, flowrate, 9);
    control = control_case_judge(&log, NULL);
    test_true("nine make no limits", !control.judged && control.state == WW_CONTROL_IN);
    ww_control_release(&control);
    ww_control_log_release(&log);
    control_case_series(&log, 0.5, flowrate, 11);
    control = control_case_judge(&log, NULL);
    chart = control_case_chart(&control, "LD", WW_VISUAL);
    ww_control_limits_of(chart, &lower, &upper, &user);
    test_true("from history", !user && control.judged);
    test_close("aim", chart->aim, 0.5, 1e-12);
    test_close("centre", chart->history.centre, 0.5081, 1e-12);
    test_close("lower", lower.value, 0.458159, 1e-6);
    test_close("upper", upper.value, 0.558041, 1e-6);
    test_true("0.559 is out", control.state == WW_CONTROL_OUT);
    test_close("deviation", chart->point[10].deviation, 0.059, 1e-12);
    ww_control_release(&control);
    ww_control_log_release(&log);
    control_case_series(&log, 0.5, flowrate, 12);
    control = control_case_judge(&log, NULL);
    test_true("0.558 is not; what was out before is past", control.state == WW_CONTROL_WARNING);
    test_true("not twice", !control.series[0].again);
    test_true("row", control.series[0].row[10].state == WW_CONTROL_OUT);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* Source: the interface: the first 10 to 20, then frozen until `control baseline`. */
static void the_baseline_stays(void **state) {
    static const double value[] = {0.70, 0.71, 0.70, 0.72, 0.70, 0.69, 0.71, 0.70, 0.72, 0.70,
                                   0.90, 0.91, 0.90, 0.92, 0.90, 0.91, 0.93, 0.90, 0.91, 0.90};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    static char text[] = "", main_process[] = "main";
    ww_control_baseline later = {.number = 1,
                                 .process = main_process,
                                 .machine = text,
                                 .first = 11,
                                 .strips = 10,
                                 .why = text,
                                 .entered = text};
    ww_control_request twenty = {.baseline = 20};
    ww_control control;
    (void)state;
    control_case_series(&log, 0.7, value, COUNT(value));
    control = control_case_judge(&log, NULL);
    test_close("first ten", control_case_chart(&control, "LD", WW_VISUAL)->history.centre, 0.705,
               1e-9);
    test_true("out ever since", control.state == WW_CONTROL_OUT && control.series[0].again);
    ww_control_release(&control);
    control = control_case_judge(&log, &twenty);
    test_close("twenty", control_case_chart(&control, "LD", WW_VISUAL)->history.centre, 0.8065,
               1e-9);
    ww_control_release(&control);
    control_case_delete(&log, 1, "dropped"); /* the eleventh takes its place */
    control = control_case_judge(&log, NULL);
    test_close("taken out", control_case_chart(&control, "LD", WW_VISUAL)->history.centre, 0.725,
               1e-9);
    ww_control_release(&control);
    log.baseline = &later;
    log.n_baselines = 1;
    control = control_case_judge(&log, NULL);
    test_close("anew", control_case_chart(&control, "LD", WW_VISUAL)->history.centre, 0.908, 1e-9);
    test_true("in control again", control.state == WW_CONTROL_IN);
    ww_control_release(&control);
    log.baseline = NULL;
    log.n_baselines = 0;
    ww_control_log_release(&log);
}

/* Order of dates is that of runs; order of entry that of the baseline. */
static void a_strip_of_yesterday(void **state) {
    static const double value[] = {0.70, 0.71, 0.70, 0.72, 0.70, 0.69, 0.71, 0.70, 0.72, 0.70};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    control_case_series(&log, 0.7, value, COUNT(value));
    control_case_strip(&log, "main", "", "2026-10-31", "step,visual\nLD,0.95\n");
    control = control_case_judge(&log, NULL);
    test_close("first row", (double)control.series[0].row[0].strip->number, 11.0, 0.0);
    test_true("it is out", control.series[0].row[0].state == WW_CONTROL_OUT);
    test_true("the last is not", control.state == WW_CONTROL_IN);
    test_close("baseline", control_case_chart(&control, "LD", WW_VISUAL)->history.centre, 0.705,
               1e-9);
    ww_control_release(&control);
    control = control_case_judge(&log, &(ww_control_request){.strip = 11});
    test_true("asked for", control.state == WW_CONTROL_OUT);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void each_process_by_itself(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "film", "measure,control\nLD,0.08\n");
    control_case_strip(&log, "film", "left", "2026-11-01", CONTROL_WORKED);
    control_case_strip(&log, "film", "right", "2026-11-01",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.53,0.76,0.98\n"
                       "HD,1.30,1.77,2.03\n");
    control_case_strip(&log, "paper", "", "2026-11-01", CONTROL_WORKED);
    control = control_case_judge(&log, NULL);
    assert_int_equal(control.n, 3);
    test_true("the worst", control.state == WW_CONTROL_OUT && !control.judged);
    test_text("which", ww_control_worst(&control)->machine, "right");
    ww_control_release(&control);
    control = control_case_judge(&log, &(ww_control_request){.process = "film", .machine = "left"});
    assert_int_equal(control.n, 1);
    test_true("left is in", control.state == WW_CONTROL_IN && control.judged);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void nothing_counts(void **state) {
    static const double value[] = {0.7};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = control_case_judge(&log, NULL);
    size_t at;
    (void)state;
    test_true("none", !control.any && control.n == 0 && !ww_control_worst(&control));
    ww_control_release(&control);
    control_case_series(&log, 0.7, value, 1);
    control_case_delete(&log, 1, "dropped");
    control = control_case_judge(&log, NULL);
    test_true("deleted", !control.any && control.n == 1 && !ww_control_worst(&control));
    test_true("no focus", !ww_control_focus(&control.series[0], &at));
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void refusals(void **state) {
    static const double value[] = {0.7, 0.71};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = WW_CONTROL_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    control_case_series(&log, 0.7, value, 2);
    control_case_delete(&log, 2, "dropped");
    test_status("9", ww_control_judge(&log, &(ww_control_request){.baseline = 9}, &control, &err),
                WW_EDOMAIN, &err);
    test_status("21", ww_control_judge(&log, &(ww_control_request){.baseline = 21}, &control, &err),
                WW_EDOMAIN, &err);
    test_status("none", ww_control_judge(&log, &(ww_control_request){.strip = 3}, &control, &err),
                WW_ENODATA, &err);
    test_status("deleted",
                ww_control_judge(&log, &(ww_control_request){.strip = 2}, &control, &err),
                WW_ENODATA, &err);
    test_status(
        "another process",
        ww_control_judge(&log, &(ww_control_request){.strip = 1, .process = "x"}, &control, &err),
        WW_ENODATA, &err);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(history),
        cmocka_unit_test(the_baseline_stays),
        cmocka_unit_test(a_strip_of_yesterday),
        cmocka_unit_test(each_process_by_itself),
        cmocka_unit_test(nothing_counts),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
