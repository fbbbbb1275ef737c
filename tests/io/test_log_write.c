/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"

/* The same reference by content is one; another correction makes another. */
static void references_by_content(void **state) {
    log_place place = log_place_new();
    ww_control_log made = log_made(place.path, 2), log = WW_CONTROL_LOG_INIT;
    long number;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("another",
                control_case_reference(&made,
                                       "# lot: 4127\n# status: M\n"
                                       "step,red,green,blue,correction_red\nD-min,0.32,0.63,0.72,\n"
                                       "LD,0.44,0.76,0.98,0.01\nHD,1.30,1.77,2.03,\n",
                                       NULL),
                WW_OK, NULL);
    control_case_strip(&made, "film", "left", "2026-11-06", CONTROL_WORKED);
    test_status("add", log_enter(place.path, &made, &number, &err), WW_OK, &err);
    test_status("read", ww_control_log_read(place.path, &log, &err), WW_OK, &err);
    assert_int_equal(log.n_references, 2);
    assert_int_equal(log.strip[1].reference, 0);
    assert_int_equal(log.strip[2].reference, 1);
    test_close("correction", log.reference[1].patches.patch[1].correction[WW_RED], 0.01, 0.0);
    ww_control_log_release(&log);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

static void limits_and_first_baselines(void **state) {
    log_place place = log_place_new();
    ww_control_log made = log_made(place.path, 1), log = WW_CONTROL_LOG_INIT;
    ww_control_entry entry = {.strip = &made.strip[0], .reference = &made.reference[0]};
    long number;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    control_case_limits(&made, "film",
                        "measure,channel,action,control\nLD,green,0.06,0.08\n"
                        "D-min,,,+0.05\n");
    entry.limits = &made.limits[0];
    entry.baseline = 15;
    test_status("add", ww_control_log_add(place.path, &entry, &number, &err), WW_OK, &err);
    test_status("read", ww_control_log_read(place.path, &log, &err), WW_OK, &err);
    assert_int_equal(log.n_limits, 1);
    assert_int_equal(log.limits[0].n, 2);
    test_text("process", log.limits[0].process, "film");
    test_text("measure", log.limits[0].limit[0].measure, "LD");
    test_true("channel", log.limits[0].limit[0].channel == WW_GREEN);
    test_close("below", log.limits[0].limit[0].below.value, -0.08, 0.0);
    test_close("action", log.limits[0].limit[0].action_above.value, 0.06, 0.0);
    test_true("all", log.limits[0].limit[1].channel == WW_CHANNEL_COUNT);
    test_true("one side", !log.limits[0].limit[1].below.set && log.limits[0].limit[1].above.set);
    assert_int_equal(log.baseline[0].strips, 15);
    test_close("from the first", (double)log.baseline[0].first, 0.0, 0.0);
    ww_control_log_release(&log);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

static void refusals_enter_nothing(void **state) {
    log_place place = log_place_new();
    ww_control_log made = log_made(place.path, 2), log = WW_CONTROL_LOG_INIT;
    static char process[] = "film", bad[] = "two\nlines", date[] = "2026-11-06";
    ww_control_note note = {.strip = 9,
                            .process = process,
                            .machine = process,
                            .date = date,
                            .text = date,
                            .entered = date};
    ww_control_entry entry = {.strip = &made.strip[0], .reference = &made.reference[0]};
    long number = 7;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no such strip", ww_control_log_note(place.path, &note, &err), WW_EINPUT, &err);
    test_holds("no such strip", err.msg, "no strip 9");
    test_status("no such strip", ww_control_log_delete(place.path, 3, "x", "y", &err), WW_EINPUT,
                &err);
    test_status("once", ww_control_log_delete(place.path, 1, "dropped", "y", &err), WW_OK, &err);
    test_status("twice", ww_control_log_delete(place.path, 1, "x", "y", &err), WW_EINPUT, &err);
    test_holds("twice", err.msg, "does not count already");
    note.strip = 0;
    note.text = bad;
    test_status("control characters", ww_control_log_note(place.path, &note, &err), WW_EINPUT,
                &err);
    free(made.strip[0].process);
    made.strip[0].process = strcpy(malloc(sizeof bad), bad);
    test_status("whole or not at all", ww_control_log_add(place.path, &entry, &number, &err),
                WW_EINPUT, &err);
    test_close("untouched", (double)number, 7.0, 0.0);
    entry.strip = &made.strip[1];
    entry.baseline = 99; /* refused by the table, after the reference was looked up */
    test_true("whole or not at all",
              ww_control_log_add(place.path, &entry, &number, &err) != WW_OK);
    test_status("read", ww_control_log_read(place.path, &log, &err), WW_OK, &err);
    assert_int_equal(log.n_strips, 2);
    assert_int_equal(log.n_notes, 0);
    assert_int_equal(log.n_baselines, 0);
    test_text("the first reason", log.strip[0].why, "dropped");
    ww_control_log_release(&log);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

/* Numbers are not given again: AUTOINCREMENT's own promise. */
static void over_is_kept(void **state) {
    log_place place = log_place_new();
    ww_control_log made = WW_CONTROL_LOG_INIT, log = WW_CONTROL_LOG_INIT;
    long number;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("reference", control_case_reference(&made, "step,visual\nLD,0.7\nHD,1.7\n", NULL),
                WW_OK, NULL);
    control_case_strip(&made, "film", "", "2026-11-06T08:15", "step,visual\nLD,0.731\nHD,over\n");
    test_status("add", log_enter(place.path, &made, &number, &err), WW_OK, &err);
    test_status("read", ww_control_log_read(place.path, &log, &err), WW_OK, &err);
    test_true("over", log.strip[0].patches.patch[1].state[WW_VISUAL] == WW_CELL_OVER);
    test_true("value", log.strip[0].patches.patch[0].density[WW_VISUAL] == 0.731);
    test_text("time", log.strip[0].date, "2026-11-06T08:15");
    ww_control_log_release(&log);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(references_by_content),
        cmocka_unit_test(limits_and_first_baselines),
        cmocka_unit_test(refusals_enter_nothing),
        cmocka_unit_test(over_is_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
