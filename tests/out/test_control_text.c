/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/control_text.h>

/* Source: the interface's order of a text: the act, why, tables, causes, notes; 80 columns. */
static void comes_in_the_readers_order(void **state) {
    static const char *const order[] = {"Out of control: strip 1",
                                        "\nLD visual is 0.81 D",
                                        "\nThe strip",
                                        "\nStrips",
                                        "\nPossible causes, none of them found",
                                        "\nNotes",
                                        "LD is step LD (speed)",
                                        "\nCautions"};
    static const double value[] = {0.81};
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    char *text = NULL;
    const char *at;
    (void)state;
    control_case_series(&log, 0.7, value, 1);
    control_case_limits(&log, "main", "measure,control\nLD,0.08\n");
    control = control_case_judge(&log, &(ww_control_request){.view = WW_CONTROL_VIEW_CHART});
    test_status("text", ww_control_text(&control, &style, &text, NULL), WW_OK, NULL);
    at = text;
    for (size_t i = 0; at && i < sizeof order / sizeof *order; i++) {
        at = strstr(at, order[i]);
        if (!at)
            fail_msg("'%s' is not in its place in:\n%s", order[i], text);
    }
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        test_true("80 columns", strcspn(line, "\n") <= 80);
    free(text);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

/* What a log says is text alone, whatever is in it. */
static void survives_hostile_names(void **state) {
    static const double value[] = {0.71};
    static char hostile[] = "\x1b[31m<b>'\"\x80";
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    char *text = NULL, *was;
    (void)state;
    control_case_series(&log, 0.7, value, 1);
    was = log.strip[0].process;
    log.strip[0].process = hostile;
    control = control_case_judge(&log, &(ww_control_request){.view = WW_CONTROL_VIEW_LIST});
    test_status("hostile", ww_control_text(&control, &style, &text, NULL), WW_OK, NULL);
    test_lacks("escape sequence", text, "\x1b");
    free(text);
    log.strip[0].process = was;
    ww_control_release(&control);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comes_in_the_readers_order),
        cmocka_unit_test(survives_hostile_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
