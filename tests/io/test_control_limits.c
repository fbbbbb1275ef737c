/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"

static ww_status parse(const char *text, ww_control_limits *limits, ww_error *err) {
    return ww_control_limits_parse("limits.csv", text, strlen(text), "2026-11-06T09:00:00Z", limits,
                                   err);
}

/* Source: the header's own words on signs, marks and empty cells. */
static void reads_tables(void **state) {
    static const char *const tables[] = {
        "# ours\n\nmeasure,channel,action,control\nLD,green,0.06,0.08\nD-min,,+0.03,+0.05\n"
        "D-max,,,-0.1\n",
        "\xEF\xBB\xBFmeasure;control;channel;action\r\nLD;0,08;Green;0,06\r\n"
        "D-min;+0,05;;+0,03\r\nD-max;-0,1;;\r\n",
        "measure\tchannel\taction\tcontrol\nLD\tgreen\t0.06\t0.08\nD-min\t-\t+0.03\t+0.05\n"
        "D-max\t\t\t-0.1\n",
    };
    (void)state;
    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++) {
        ww_control_limits limits = WW_CONTROL_LIMITS_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(tables[i], parse(tables[i], &limits, &err), WW_OK, &err);
        assert_int_equal(limits.n, 3);
        test_text("measure", limits.limit[0].measure, "LD");
        test_true("channel", limits.limit[0].channel == WW_GREEN);
        test_close("both", limits.limit[0].below.value, -0.08, 0.0);
        test_close("both", limits.limit[0].above.value, 0.08, 0.0);
        test_close("action", limits.limit[0].action_below.value, -0.06, 0.0);
        test_true("all", limits.limit[1].channel == WW_CHANNEL_COUNT);
        test_true("above alone", limits.limit[1].above.set && !limits.limit[1].below.set);
        test_close("action", limits.limit[1].action_above.value, 0.03, 0.0);
        test_true("below alone", limits.limit[2].below.set && !limits.limit[2].above.set);
        test_text("entered", limits.entered, "2026-11-06T09:00:00Z");
        ww_control_limits_release(&limits);
    }
}

static void refusals(void **state) {
    static const struct {
        const char *text;
        size_t line;
        const char *says;
    } rows[] = {
        {"", 0, "no table of limits"},
        {"measure,control\n", 0, "no table of limits"},
        {"limit,most\nwhite,0.02\n", 1, "no table of limits"},
        {"measure,measure,control\nLD,LD,0.1\n", 1, "no table of limits"},
        {"measure,channel\nLD,red\n", 1, "no table of limits"},
        {"measure,control\nLD,0.0x\n", 2, "'0.0x' is not a number"},
        {"measure,control\nLD,0\n", 2, "limit '0'"},
        {"measure,control\nLD,8\n", 2, "limit '8'"},
        {"measure,control\nLD,\n", 2, "no control limit"},
        {"measure,action,control\nLD,0.09,0.08\n", 2, "beyond its control limit"},
        {"measure,control\nLD,0.08\n\nld,0.07\n", 4, "second time"},
        {"measure,channel,control\nLD,cyan,0.08\n", 2, "'cyan' is no channel"},
        {"measure,control\n,0.08\n", 2, "measure is missing"},
        {"measure,control\nLD,0.08,0.1,0.2,0.3\n", 2, "no table of limits"},
        {"measure,control\n\x01,0.08\n", 2, "control character"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_control_limits limits = WW_CONTROL_LIMITS_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].text, parse(rows[i].text, &limits, &err), WW_EINPUT, &err);
        test_holds(rows[i].text, err.msg, rows[i].says);
        test_close(rows[i].text, (double)err.line, (double)rows[i].line, 0.0);
    }
}

/* Opposite sides in two rows are no repeat. */
static void two_sides_in_two_rows(void **state) {
    ww_control_limits limits = WW_CONTROL_LIMITS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("sides", parse("measure,control\nLD,+0.08\nLD,-0.05\n", &limits, &err), WW_OK,
                &err);
    assert_int_equal(limits.n, 2);
    ww_control_limits_release(&limits);
}

static void files(void **state) {
    log_place place = log_place_new();
    ww_control_limits limits = WW_CONTROL_LIMITS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("missing", ww_control_limits_read(place.path, "", &limits, &err), WW_EINPUT, &err);
    test_file_write(place.path, "measure,control\nLD,0.08\n");
    test_status("file", ww_control_limits_read(place.path, "", &limits, &err), WW_OK, &err);
    ww_control_limits_release(&limits);
    log_place_remove(&place);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_tables),
        cmocka_unit_test(refusals),
        cmocka_unit_test(two_sides_in_two_rows),
        cmocka_unit_test(files),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
