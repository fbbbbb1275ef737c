/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"
#include <wedgework/control_table.h>

static ww_status parse(const char *text, ww_control_log *log, ww_error *err) {
    return ww_control_table_parse("log.csv", text, strlen(text), log, err);
}

/* What a log is written as comes back the same, to the bit. */
static void comes_back(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT, back = WW_CONTROL_LOG_INIT;
    char *text = NULL, *again = NULL;
    size_t n = 0, m = 0;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("reference",
                control_case_reference(&log,
                                       "# lot: 4127\n# process: reversal\n"
                                       "step,red,green,correction_red\nLD,0.7,0.1234567,0.01\n"
                                       "HD,1.7,1.8,\n",
                                       NULL),
                WW_OK, NULL);
    control_case_strip(&log, "film, left", "", "2026-11-05T08:15",
                       "step,red,green\nLD,0.731,0.8\nHD,1.7,over\n");
    control_case_strip(&log, "slides", "two", "2026-11-06", "step,red,green\nLD,0.7,-\nHD,1,1\n");
    control_case_delete(&log, 2, "dropped; \"twice\"");
    control_case_limits(&log, "slides",
                        "measure,channel,action,control\nLD,green,0.06,0.08\nD-min,,,+0.05\n");
    test_status("text", ww_control_table_text(&log, &text, &n, &err), WW_OK, &err);
    test_status("read", parse(text, &back, &err), WW_OK, &err);
    test_status("again", ww_control_table_text(&back, &again, &m, &err), WW_OK, &err);
    test_text("the same", again, text);
    test_true("reversal", back.reference[0].reversal);
    test_true("to the bit", back.reference[0].patches.patch[0].density[WW_GREEN] == 0.1234567);
    test_true("over", back.strip[0].patches.patch[1].state[WW_GREEN] == WW_CELL_OVER);
    test_text("why", back.strip[1].why, "dropped; \"twice\"");
    test_true("all channels", back.limits[0].limit[1].channel == WW_CHANNEL_COUNT);
    test_close("action", back.limits[0].limit[0].action_below.value, -0.06, 0.0);
    free(text);
    free(again);
    ww_control_log_release(&back);
    ww_control_log_release(&log);
}

#define HEAD "record,number,of,process,machine,lot,date,entered,step,tone,visual,text\n"
#define REF "reference,1,,,,,,x,LD,LD,0.7,\n"
#define STRIP "strip,1,1,main,,,2026-11-05,x,LD,,0.7,\n"

static void refusals(void **state) {
    static const struct {
        const char *text;
        size_t line;
        const char *says;
    } rows[] = {
        {"", 0, "no table"},
        {"step,visual\nLD,0.7\n", 1, "no column record"},
        {"record,colour\n", 1, "column is not known"},
        {"record,record\n", 1, "there twice"},
        {HEAD "page,1\n", 2, "no kind known"},
        {HEAD "reference,0,,,,,,x,LD,LD,0.7,\n", 2, "'0'"},
        {HEAD "reference,1.5,,,,,,x,LD,LD,0.7,\n", 2, "not whole"},
        {HEAD "reference,1,,,,,,x,LD,LD,9,\n", 2, "'9'"},
        {HEAD REF "reference,1,,,,,,x,LD,LD,0.7,\n", 3, "second time"},
        {HEAD REF "correction,1,,,,,,,HD,,0.1,\n", 3, "does not stand above"},
        {HEAD STRIP, 2, "reference does not stand above"},
        {HEAD REF "strip,1,1,main,,,yesterday,x,LD,,0.7,\n", 3, "date"},
        {HEAD REF "strip,2,1,main,,,2026-11-05,x,LD,,0.7,\n" STRIP, 4, "by their number"},
        {HEAD REF STRIP "deleted,,2,,,,,x,,,,why\n", 4, "does not stand above"},
        {HEAD REF STRIP "note,1,2,main,,,2026-11-05,x,,,,why\n", 4, "does not stand above"},
        {HEAD REF STRIP "baseline,9,1,main,,,,x,0,,,\n", 4, "'9'"},
        {HEAD REF STRIP "baseline,10,1,main,,,,x,5,,,\n", 4, "first strip"},
        {HEAD "limits,1,,main,,,,x,LD,beside,0.1,all\n", 2, "neither below nor above"},
        {HEAD "limits,1,,main,,,,x,LD,above,x,all\n", 2, "not a number"},
        {HEAD REF "strip,1,1,\"main\n", 3, "quote"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_control_log log = WW_CONTROL_LOG_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].text, parse(rows[i].text, &log, &err), WW_EINPUT, &err);
        test_holds(rows[i].text, err.msg, rows[i].says);
        test_close(rows[i].text, (double)err.line, (double)rows[i].line, 0.0);
    }
}

static void tables_of_spreadsheets(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("semicolons",
                parse("\xEF\xBB\xBF# saved\r\nrecord;number;of;process;date;entered;step;visual\r\n"
                      "reference;1;;;;x;LD;0,7\r\nstrip;1;1;main;2026-11-05;x;LD;0,731\r\n",
                      &log, &err),
                WW_OK, &err);
    test_close("decimal comma", log.strip[0].patches.patch[0].density[WW_VISUAL], 0.731, 0.0);
    ww_control_log_release(&log);
    test_status("missing", ww_control_table_read("/no/such/file.csv", &log, &err), WW_EINPUT, &err);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comes_back),
        cmocka_unit_test(refusals),
        cmocka_unit_test(tables_of_spreadsheets),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
