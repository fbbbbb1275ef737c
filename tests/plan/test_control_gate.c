/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <stdio.h>

/* Ten strips of paper; each step moves by its own size from strip to strip: mean moving ranges are
 * these, and sigma a 1.128th of them. */
static ww_control_log made(const char *head, double ld, double hd) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    char text[200];
    snprintf(text, sizeof text, "%sstep,red,green,blue\nLD,0.7,0.7,0.7\nHD,1.6,1.6,1.6\n", head);
    test_status("reference", control_case_reference(&log, text, NULL), WW_OK, NULL);
    for (int i = 0; i < 10; i++) {
        char date[40];
        const double up = i % 2 ? 1.0 : 0.0;
        snprintf(date, sizeof date, "2026-11-%02d", i + 1);
        snprintf(text, sizeof text,
                 "step,red,green,blue\nLD,%.4f,%.4f,0.7000\nHD,%.4f,1.6000,1.6000\n", 0.7 + ld * up,
                 0.7 + 0.5 * ld * up, 1.6 + hd * up);
        control_case_strip(&log, "paper", "", date, text);
    }
    return log;
}

/* Source: sigma by the mean moving range. */
static void sigma_of_what_prints_are_judged_by(void **state) {
    ww_control_log log = made("", 0.0376, 0.0752);
    ww_control control = control_case_judge(&log, NULL);
    const ww_control_chart *measure = NULL;
    double sd = 0.0;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("grey", ww_control_repeatability(&control, false, &sd, &measure, &err), WW_OK,
                &err);
    test_close("green at LD", sd, 0.0188 / 1.128, 1e-9);
    test_true("green", measure->channel == WW_GREEN);
    test_text("LD", measure->measure, "LD");
    test_status("colour", ww_control_repeatability(&control, true, &sd, &measure, &err), WW_OK,
                &err);
    test_close("the widest at LD", sd, 0.0376 / 1.128, 1e-9);
    test_true("red", measure->channel == WW_RED);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void where_it_cannot_be_had(void **state) {
    static const double value[] = {0.7, 0.71};
    ww_control_log film = made("# density: transmission\n", 0.0376, 0.0752);
    ww_control_log few = WW_CONTROL_LOG_INIT, none = WW_CONTROL_LOG_INIT;
    ww_control control = control_case_judge(&film, NULL);
    const ww_control_chart *measure = NULL;
    double sd = 2.731;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("film", ww_control_repeatability(&control, false, &sd, &measure, &err), WW_ENODATA,
                &err);
    test_holds("film", err.msg, "film");
    ww_control_release(&control);
    control_case_series(&few, 0.7, value, 2);
    control = control_case_judge(&few, NULL);
    test_status("few", ww_control_repeatability(&control, false, &sd, &measure, &err), WW_ENODATA,
                &err);
    test_holds("few", err.msg, "2 of the 10 strips");
    ww_control_release(&control);
    control = control_case_judge(&none, NULL);
    test_status("none", ww_control_repeatability(&control, false, &sd, &measure, &err), WW_ENODATA,
                &err);
    ww_control_release(&control);
    test_close("untouched", sd, 2.731, 0.0);
    ww_control_log_release(&few);
    ww_control_log_release(&film);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sigma_of_what_prints_are_judged_by),
        cmocka_unit_test(where_it_cannot_be_had),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
