/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings_made.h"
#include <math.h>
#include <wedgework/ramp.h>

/* A row by columns and values, up to WW_COLUMN_COUNT. */
typedef struct pair {
    ww_column column;
    double value;
} pair;

static void add(ww_readings *readings, const char *step, const pair pairs[], size_t n) {
    ww_row *row = made_row(readings, step, "");
    for (size_t i = 0; i < n; i++)
        made_value(readings, row, pairs[i].column, pairs[i].value);
}

static const struct {
    const char *row;
    ww_ramp ramp;
    pair pair[4];
    size_t n;
    ww_optional drive;
} drives_rows[] = {
    {"value", WW_RAMP_VALUE, {{WW_COLUMN_VALUE, 0.27}}, 1, {true, 0.73}},
    {"gray", WW_RAMP_GRAY, {{WW_COLUMN_GRAY, 27}}, 1, {true, 0.27}},
    {"gray of four inks",
     WW_RAMP_GRAY,
     {{WW_COLUMN_GRAY, 27}, {WW_COLUMN_CYAN, 0}, {WW_COLUMN_MAGENTA, 0}, {WW_COLUMN_YELLOW, 0}},
     4,
     {true, 0.27}},
    {"gray with another ink",
     WW_RAMP_GRAY,
     {{WW_COLUMN_GRAY, 27}, {WW_COLUMN_MAGENTA, 5}},
     2,
     {false, 0}},
    {"values alike",
     WW_RAMP_VALUES,
     {{WW_COLUMN_VALUE_RED, 0.4}, {WW_COLUMN_VALUE_GREEN, 0.4}, {WW_COLUMN_VALUE_BLUE, 0.4}},
     3,
     {true, 0.6}},
    {"values of a colour",
     WW_RAMP_VALUES,
     {{WW_COLUMN_VALUE_RED, 0.4}, {WW_COLUMN_VALUE_GREEN, 0.5}, {WW_COLUMN_VALUE_BLUE, 0.4}},
     3,
     {false, 0}},
    {"a value missing",
     WW_RAMP_VALUES,
     {{WW_COLUMN_VALUE_RED, 0.4}, {WW_COLUMN_VALUE_GREEN, 0.4}},
     2,
     {false, 0}},
    {"three inks",
     WW_RAMP_COLOURANTS,
     {{WW_COLUMN_CYAN, 31}, {WW_COLUMN_MAGENTA, 31}, {WW_COLUMN_YELLOW, 31}},
     3,
     {true, 0.31}},
    {"three inks over black",
     WW_RAMP_COLOURANTS,
     {{WW_COLUMN_CYAN, 31}, {WW_COLUMN_MAGENTA, 31}, {WW_COLUMN_YELLOW, 31}, {WW_COLUMN_GRAY, 7}},
     4,
     {false, 0}},
    {"nothing sent", WW_RAMP_GRAY, {{WW_COLUMN_VISUAL, 0.31}}, 1, {false, 0}},
    {"no ramp", WW_RAMP_NONE, {{WW_COLUMN_GRAY, 31}}, 1, {false, 0}},
};

/* Interface: value 1 is white; 0 % is bare paper, 100 % full colourant. */
static void drives(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof drives_rows / sizeof drives_rows[0]; i++) {
        ww_readings readings = WW_READINGS_INIT;
        add(&readings, "1", drives_rows[i].pair, drives_rows[i].n);
        add(&readings, "base", NULL, 0);
        const ww_optional drive = ww_ramp_drive(&readings, drives_rows[i].ramp, 0);
        test_true(drives_rows[i].row, drive.set == drives_rows[i].drive.set);
        test_close(drives_rows[i].row, drive.value, drives_rows[i].drive.value, 1e-12);
        const ww_optional paper = ww_ramp_drive(&readings, drives_rows[i].ramp, 1);
        test_true("bare paper",
                  paper.set == (drives_rows[i].ramp != WW_RAMP_NONE) && paper.value == 0.0);
        if (drive.set)
            test_true("found", ww_ramp_find(&readings) == drives_rows[i].ramp);
        ww_readings_release(&readings);
    }
}

/* A chart of four inks: the scale with most steps is taken. */
static void find(void **state) {
    (void)state;
    ww_readings readings = WW_READINGS_INIT;
    for (int i = 0; i < 5; i++)
        add(&readings, "", (pair[]){{WW_COLUMN_CYAN, 20.0 * i}}, 1);
    test_true("one ink is no gray", ww_ramp_find(&readings) == WW_RAMP_NONE);
    for (int i = 0; i < 5; i++)
        add(&readings, "", (pair[]){{WW_COLUMN_GRAY, 20.0 * i}}, 1);
    test_true("gray", ww_ramp_find(&readings) == WW_RAMP_GRAY);
    for (int i = 0; i < 7; i++)
        add(&readings, "",
            (pair[]){{WW_COLUMN_CYAN, 11.0 * i},
                     {WW_COLUMN_MAGENTA, 11.0 * i},
                     {WW_COLUMN_YELLOW, 11.0 * i}},
            3);
    test_true("three inks", ww_ramp_find(&readings) == WW_RAMP_COLOURANTS);
    ww_readings_release(&readings);
}

/* Interface: colourants are in per cent. */
static void shares(void **state) {
    static const struct {
        const char *row;
        ww_column column;
        double greys[3];
        ww_status status;
    } rows[] = {{"shares of 1", WW_COLUMN_GRAY, {0.2, 1.0, 0.5}, WW_EDOMAIN},
                {"per cent", WW_COLUMN_GRAY, {0.2, 1.01, 0.5}, WW_OK},
                {"one grey", WW_COLUMN_GRAY, {0.0, 1.0, 0.0}, WW_OK},
                {"values are shares", WW_COLUMN_VALUE, {0.2, 1.0, 0.5}, WW_OK}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        for (size_t k = 0; k < 3; k++)
            add(&readings, "", (pair[]){{rows[i].column, rows[i].greys[k]}}, 1);
        readings.row[1].line = 7;
        test_status(rows[i].row, ww_ramp_check(&readings, ww_ramp_find(&readings), &err),
                    rows[i].status, &err);
        if (rows[i].status != WW_OK)
            test_true("the line of the most", err.line == 7);
        ww_readings_release(&readings);
    }
}

static void names(void **state) {
    (void)state;
    test_text("value", ww_ramp_name(WW_RAMP_VALUE), "value");
    test_text("values", ww_ramp_name(WW_RAMP_VALUES), "value_red, value_green, value_blue");
    test_text("gray", ww_ramp_unit(WW_RAMP_GRAY), "%");
    test_text("value", ww_ramp_unit(WW_RAMP_VALUES), "");
    test_close("gray", ww_ramp_control(WW_RAMP_GRAY, 0.731), 73.1, 1e-12);
    test_close("value", ww_ramp_control(WW_RAMP_VALUE, 0.731), 0.269, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(drives), cmocka_unit_test(find),
                                       cmocka_unit_test(shares), cmocka_unit_test(names)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
