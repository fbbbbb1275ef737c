/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/control_case.h"
#include <stdlib.h>
#include <string.h>

/* A strip that is out in one channel; notes; one strip taken out. */
static ww_control_log made(void) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    test_status("reference", control_case_reference(&log, "# lot: 4127\n" CONTROL_WORKED, NULL),
                WW_OK, NULL);
    control_case_limits(&log, "main", "measure,action,control\nLD,0.06,0.08\n");
    control_case_strip(&log, "main", "", "2026-11-01", CONTROL_WORKED);
    control_case_strip(&log, "main", "", "2026-11-02",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.53,0.76,0.98\n"
                       "HD,1.30,1.77,over\n");
    control_case_strip(&log, "main", "", "2026-11-03", CONTROL_WORKED);
    control_case_delete(&log, 3, "dropped\x1b[31m");
    return log;
}

/* Source: the interface (tables with the units in the heading, rows in order). */
static void one_strip(void **state) {
    ww_control_log log = made();
    ww_control control = control_case_judge(&log, NULL);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__control_report(&control, &report);
    expect_row("headings", &report, "The strip", 0,
               "measure|channel|aim|strip|off|from|to|limits|");
    expect_row("units", &report, "The strip", 1, "||D|D|D|D|D||");
    expect_row("D-min", &report, "The strip", 2, "D-min|red|0.32|0.32|0.00|-|-|none yet|");
    expect_row("out", &report, "The strip", 5, "LD|red|0.44|0.53|+0.09|-0.08|+0.08|yours|beyond");
    expect_row("over", &report, "The strip", 10, "HD|blue|2.03|-|-|-|-|none yet|");
    expect_row("spread", &report, "The strip", 14, "LD spread||-|0.09|+0.09|-|-|none yet|");
    ww__report_release(&report);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void the_list(void **state) {
    static char process[] = "main", empty[] = "", date[] = "2026-11-02";
    static char text[] = "tank\tcleaned";
    ww_control_note note = {.number = 1,
                            .strip = 2,
                            .process = process,
                            .machine = empty,
                            .date = date,
                            .text = text,
                            .entered = date};
    ww_control_log log = made();
    ww_control control;
    ww__report report = WW__REPORT_INIT;
    (void)state;
    log.note = &note;
    log.n_notes = 1;
    control = control_case_judge(
        &log, &(ww_control_request){.view = WW_CONTROL_VIEW_LIST, .deleted = true});
    ww__control_report(&control, &report);
    expect_row("headings", &report, "Strips", 0, "strip|date|lot|state|off|in|");
    expect_row("in", &report, "Strips", 2, "1|2026-11-01|4127|in control|0.00|D-min red|");
    expect_row("out", &report, "Strips", 3, "2|2026-11-02|4127|out of control|+0.09|LD red|beyond");
    expect_row("taken out", &report, "Strips", 4,
               "3|2026-11-03|4127|taken out|||2026-11-30: dropped [31m");
    expect_row("note", &report, "What was noted", 2, "2026-11-02|2|tank cleaned");
    ww__report_release(&report);
    ww_control_release(&control);
    log.note = NULL;
    log.n_notes = 0;
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_strip),
        cmocka_unit_test(the_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
