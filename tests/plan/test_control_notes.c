/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <stdio.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

static const double ten[] = {0.70, 0.71, 0.70, 0.72, 0.70, 0.69, 0.71, 0.70, 0.72, 0.70};

static void on_the_baseline(void **state) {
    static const double still[] = {0.70, 0.70, 0.70, 0.70, 0.70, 0.70, 0.70, 0.70, 0.70, 0.70};
    static const double unquiet[] = {0.70, 0.71, 0.70, 0.71, 0.70, 0.71, 0.70, 0.95, 0.70, 0.71};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    control_case_series(&log, 0.7, ten, 4);
    control = control_case_judge(&log, NULL);
    test_true("how many", test_noted(&control.notes, "4 of the 10 strips"));
    test_true("not judged", test_noted(&control.notes, "not judged"));
    test_true("roles", test_noted(&control.notes, "does not say which steps are LD and HD"));
    ww_control_release(&control);
    control_case_limits(&log, "main", "measure,control\nLD,0.08\nHD,0.1\n");
    control = control_case_judge(&log, NULL);
    test_true("own limits", test_noted(&control.notes, "Your own limits decide"));
    test_true("idle limit", test_noted(&control.notes, "'HD' is of nothing"));
    ww_control_release(&control);
    ww_control_log_release(&log);
    control_case_series(&log, 0.7, ten, COUNT(ten));
    control_case_delete(&log, 10, "dropped");
    control_case_strip(&log, "main", "", "2026-11-11", "step,visual\nLD,0.7\n");
    control = control_case_judge(&log, NULL);
    test_true("false alarms", test_noted(&control.notes, "one strip in 43 is beyond"));
    test_true("how many there are", test_noted(&control.notes, "Charts here: 1. A warning alone"));
    test_true("taken out", test_noted(&control.notes, "1 strip was taken out"));
    test_true("no floor", !test_noted(&control.notes, "scatters less"));
    ww_control_release(&control);
    ww_control_log_release(&log);
    control_case_series(&log, 0.7, still, COUNT(still));
    control = control_case_judge(&log, NULL);
    test_true("floor", test_noted(&control.notes, "taken as 0.003 D"));
    ww_control_release(&control);
    ww_control_log_release(&log);
    control_case_series(&log, 0.7, unquiet, COUNT(unquiet));
    control = control_case_judge(&log, NULL);
    test_true("unquiet", test_noted(&control.notes, "Strip 8 is one of the baseline") ==
                             (0.95 > control_case_chart(&control, "LD", WW_VISUAL)->history.upper));
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* Two lots on the same three days, the new one 0.03 further off its aim throughout. */
static void lots_that_ran_together(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    for (int lot = 0; lot < 2; lot++) {
        test_status("reference",
                    control_case_reference(&log,
                                           lot ? "# lot: B\nstep,visual\nLD,0.8\nHD,1.8\n"
                                               : "# lot: A\nstep,visual\nLD,0.7\nHD,1.7\n",
                                           NULL),
                    WW_OK, NULL);
        for (int day = 1; day <= 3; day++) {
            char date[40], text[80];
            snprintf(date, sizeof date, "2026-11-%02d", day);
            snprintf(text, sizeof text, "step,visual\nLD,%.2f\nHD,%.2f\n", lot ? 0.83 : 0.7,
                     lot ? 1.8 : 1.7);
            control_case_strip(&log, "main", "", date, text);
        }
    }
    control = control_case_judge(&log, NULL);
    assert_int_equal(control.series[0].n_lots, 2);
    test_true("told", test_noted(&control.notes, "on 3 days, the new one reads LD +0.030"));
    test_true("HD agrees", !test_noted(&control.notes, "reads HD "));
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void lots_that_did_not(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    test_status("A", control_case_reference(&log, "# lot: A\nstep,visual\nLD,0.7\n", NULL), WW_OK,
                NULL);
    control_case_strip(&log, "main", "", "2026-11-01", "step,visual\nLD,0.7\n");
    test_status("B", control_case_reference(&log, "# lot: B\nstep,visual\nLD,0.8\n", NULL), WW_OK,
                NULL);
    control_case_strip(&log, "main", "", "2026-11-02", "step,visual\nLD,0.8\n");
    control = control_case_judge(&log, NULL);
    test_true("asks", test_noted(&control.notes, "Strips of both lots run together"));
    ww_control_release(&control);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(on_the_baseline),
        cmocka_unit_test(lots_that_ran_together),
        cmocka_unit_test(lots_that_did_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
