/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"
#include <wedgework/control_table.h>

/* Source: the header's own words: a row a step, cells that hold separators in quotes. */
static void one_row_a_step(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    char *text = NULL;
    size_t n = 0;
    (void)state;
    test_status("reference",
                control_case_reference(&log,
                                       "# lot: 4127\n# status: M\nstep,visual,correction_visual\n"
                                       "LD,0.71,-0.02\nHD,1.7,\n",
                                       NULL),
                WW_OK, NULL);
    control_case_strip(&log, "film, left", "", "2026-11-05", "step,visual\nLD,0.731\nHD,over\n");
    control_case_delete(&log, 1, "dropped \"twice\"");
    control_case_limits(&log, "film, left", "measure,control\nLD,+0.08\n");
    test_status("text", ww_control_table_text(&log, &text, &n, NULL), WW_OK, NULL);
    test_holds("reference", text,
               "reference,1,,,,4127,,2026-11-01T08:00:00Z,M,unknown,LD,LD,,,,0.71,\n");
    test_holds("correction", text, "correction,1,,,,,,,,,LD,,,,,-0.02,\n");
    test_lacks("none", text, "HD,,,,,0");
    test_holds("strip", text,
               "strip,1,1,\"film, left\",,4127,2026-11-05,2026-11-30T08:00:00Z,,,LD,,,,,0.731,\n");
    test_holds("over", text, ",HD,,,,,over,\n");
    test_holds("deleted", text,
               "deleted,,1,,,,,2026-11-30T09:00:00Z,,,,,,,,,\"dropped "
               "\"\"twice\"\"\"\n");
    test_holds("limits", text, ",LD,above,,,,0.08,all\n");
    assert_int_equal(strlen(text), n);
    free(text);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_row_a_step),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
