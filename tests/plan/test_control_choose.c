/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"

static void chooses_what_is_plain(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    const char *process = NULL, *machine = NULL;
    size_t reference = 99;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("empty", ww_control_choose(&log, &process, &machine, NULL), WW_OK, NULL);
    test_text("process", process, "main");
    test_text("machine", machine, "");
    test_true("no reference", !ww_control_reference_last(&log, "main", "", &reference));
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_strip(&log, "film", "left", "2026-11-01", CONTROL_WORKED);
    process = machine = NULL;
    test_status("one", ww_control_choose(&log, &process, &machine, NULL), WW_OK, NULL);
    test_text("process", process, "film");
    test_text("machine", machine, "left");
    process = "paper";
    machine = NULL;
    test_status("given", ww_control_choose(&log, &process, &machine, NULL), WW_OK, NULL);
    test_text("as given", process, "paper");
    test_text("a new one has none", machine, "");
    control_case_strip(&log, "film", "right", "2026-11-01", CONTROL_WORKED);
    process = machine = NULL;
    test_status("machines", ww_control_choose(&log, &process, &machine, &err), WW_EUSAGE, &err);
    test_holds("lists them", err.msg, "'left', 'right'");
    control_case_strip(&log, "paper", "", "2026-11-01", CONTROL_WORKED);
    process = machine = NULL;
    test_status("processes", ww_control_choose(&log, &process, &machine, &err), WW_EUSAGE, &err);
    test_holds("lists them", err.msg, "'film', 'paper'");
    ww_control_log_release(&log);
}

/* By number: what was entered last, not what is dated last. */
static void the_reference_in_use(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    size_t reference = 99;
    (void)state;
    test_status("first", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_strip(&log, "main", "", "2026-11-09", CONTROL_WORKED);
    test_status("second", control_case_reference(&log, "# lot: B\n" CONTROL_WORKED, NULL), WW_OK,
                NULL);
    control_case_strip(&log, "main", "", "2026-11-02", CONTROL_WORKED);
    test_true("there", ww_control_reference_last(&log, "main", "", &reference));
    assert_int_equal(reference, 1);
    control_case_delete(&log, 2, "dropped");
    test_true("there", ww_control_reference_last(&log, "main", "", &reference));
    assert_int_equal(reference, 0);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chooses_what_is_plain),
        cmocka_unit_test(the_reference_in_use),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
