/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <stdio.h>

/* Source: the trade's reading of LD (speed), HD-LD (contrast), D-min and D-max (common practice).
 * The reference reads 0.3, 0.7, 1.7 and 2.5. */
static void possibilities(void **state) {
    static const struct {
        const char *row;
        double d_min, ld, hd, d_max;
        const char *head, *holds, *lacks;
    } rows[] = {
        {"too much", 0.30, 0.80, 1.95, 2.50, "", "More development", "Less development"},
        {"too little", 0.30, 0.60, 1.45, 2.50, "", "Less development", "More development"},
        {"fog", 0.38, 0.70, 1.70, 2.50, "", "D-min higher", "development than before"},
        {"silver", 0.30, 0.70, 1.70, 2.70, "", "silver", "D-min higher"},
        {"speed", 0.30, 0.80, 1.80, 2.50, "", "More speed alone", "contrast"},
        {"contrast", 0.30, 0.70, 1.60, 2.50, "", "Less contrast alone", "speed"},
        {"all alike", 0.40, 0.80, 1.90, 2.70, "", "zero or calibration", "More development"},
        {"reversal", 0.30, 0.60, 1.45, 2.50, "# process: reversal\n", "More first development",
         "Less development"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_control_log log = WW_CONTROL_LOG_INIT;
        ww_control control;
        char text[200];
        snprintf(text, sizeof text, "%sstep,visual\nD-min,0.3\nLD,0.7\nHD,1.7\nD-max,2.5\n",
                 rows[i].head);
        test_status("reference", control_case_reference(&log, text, NULL), WW_OK, NULL);
        control_case_limits(&log, "main",
                            "measure,control\nD-min,0.05\nLD,0.08\nHD-LD,0.09\nD-max,0.12\n");
        snprintf(text, sizeof text, "step,visual\nD-min,%.2f\nLD,%.2f\nHD,%.2f\nD-max,%.2f\n",
                 rows[i].d_min, rows[i].ld, rows[i].hd, rows[i].d_max);
        control_case_strip(&log, "main", "", "2026-11-01", text);
        control = control_case_judge(&log, NULL);
        test_true(rows[i].row, test_noted(&control.causes, rows[i].holds));
        test_true(rows[i].row, !test_noted(&control.causes, rows[i].lacks));
        test_true(rows[i].row, test_noted(&control.causes, "The strip itself"));
        ww_control_release(&control);
        ww_control_log_release(&log);
    }
}

static void colours_apart(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "main", "measure,control\nLD spread,0.09\n");
    control_case_strip(&log, "main", "", "2026-11-01",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.38,0.76,1.05\n"
                       "HD,1.30,1.77,2.03\n");
    control = control_case_judge(&log, NULL);
    test_true("apart", test_noted(&control.causes, "The colours apart"));
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* History's sigma of LD and of contrast is 0.02/1.128; the eleventh strip is off by 3.4 and by 2.5:
 * beyond the limit in speed alone, and yet no speed alone. */
static void what_is_nearly_beyond_belongs_to_it(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    test_status("reference",
                control_case_reference(&log, "step,visual\nD-min,0.2\nLD,0.64\nHD,1.49\n", NULL),
                WW_OK, NULL);
    for (int day = 1; day <= 11; day++) {
        const double side = day % 2 ? 0.01 : -0.01;
        const double ld = day == 11 ? 0.70 : 0.64 + side;
        const double contrast = day == 11 ? 0.895 : 0.85 + side;
        char date[24], text[80];
        snprintf(date, sizeof date, "2026-11-%02d", day);
        snprintf(text, sizeof text, "step,visual\nD-min,0.2\nLD,%.3f\nHD,%.3f\n", ld,
                 ld + contrast);
        control_case_strip(&log, "main", "", date, text);
    }
    control = control_case_judge(&log, NULL);
    test_true("out", control.state == WW_CONTROL_OUT);
    test_true("development", test_noted(&control.causes, "More development"));
    test_true("not speed", !test_noted(&control.causes, "More speed alone"));
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void none_where_nothing_is_wrong(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "main", "measure,control\nLD,0.09\n");
    control_case_strip(&log, "main", "", "2026-11-01", CONTROL_WORKED);
    control = control_case_judge(&log, NULL);
    assert_int_equal(control.causes.n, 0);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(possibilities),
        cmocka_unit_test(colours_apart),
        cmocka_unit_test(what_is_nearly_beyond_belongs_to_it),
        cmocka_unit_test(none_where_nothing_is_wrong),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
