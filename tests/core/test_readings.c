/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include <math.h>
#include <wedgework/readings.h>

/* ---- log exposure ---- */

static const char DEFINITION[] = "definition: interface of the readings file";

/* Wanted values by closed form: log10 2 = 0.30102999566398119521..., log10 7.3 = 0.86332286...
 * (Abramowitz and Stegun, Handbook of Mathematical Functions, table 4.1 and its addition rule). */
static const struct {
    const char *name;
    const char *source;
    ww_exposure_column column;
    ww_optional exposure, log_h0, time_s;
    ww_status status;
    double log_h;
} log_h_rows[] = {
    {"wedge, log h0 given",
     DEFINITION,
     WW_EXPOSURE_WEDGE,
     {true, 2.731},
     {true, -0.45},
     {false, 0},
     WW_OK,
     -3.181},
    {"thicker wedge, less exposure",
     DEFINITION,
     WW_EXPOSURE_WEDGE,
     {true, 3.05},
     {true, 1.0},
     {false, 0},
     WW_OK,
     -2.05},
    {"wedge, exposure time alone: log10 of it",
     DEFINITION,
     WW_EXPOSURE_WEDGE,
     {true, 0.3},
     {false, 0},
     {true, 7.3},
     WW_OK,
     0.56332286012045588},
    {"log h0 goes before exposure time",
     DEFINITION,
     WW_EXPOSURE_WEDGE,
     {true, 0.3},
     {true, 2.0},
     {true, 7.3},
     WW_OK,
     1.7},
    {"wedge, nothing given: 0",
     DEFINITION,
     WW_EXPOSURE_WEDGE,
     {true, 1.37},
     {false, 0},
     {false, 0},
     WW_OK,
     -1.37},
    {"stop, more is plus",
     "log10 2, Abramowitz and Stegun",
     WW_EXPOSURE_STOP,
     {true, 3.5},
     {true, 0.25},
     {false, 0},
     WW_OK,
     1.30360498482393418},
    {"exposure time plays no part in stops",
     DEFINITION,
     WW_EXPOSURE_STOP,
     {true, -1.0},
     {false, 0},
     {true, 7.3},
     WW_OK,
     -0.30102999566398120},
    {"time",
     "log10 7.3, Abramowitz and Stegun",
     WW_EXPOSURE_TIME,
     {true, 7.3},
     {true, -1.0},
     {false, 0},
     WW_OK,
     -0.13667713987954412},
    {"exposure time plays no part in times",
     DEFINITION,
     WW_EXPOSURE_TIME,
     {true, 7.3},
     {false, 0},
     {true, 100.0},
     WW_OK,
     0.86332286012045588},
    {"logh is itself",
     DEFINITION,
     WW_EXPOSURE_LOG_H,
     {true, -2.1875},
     {true, 3.0},
     {true, 7.3},
     WW_OK,
     -2.1875},
    {"no exposure in the row",
     DEFINITION,
     WW_EXPOSURE_WEDGE,
     {false, 0},
     {false, 0},
     {false, 0},
     WW_ENODATA,
     0},
    {"no exposure in the table",
     DEFINITION,
     WW_EXPOSURE_NONE,
     {true, 1.0},
     {false, 0},
     {false, 0},
     WW_ENODATA,
     0},
    {"time 0", DEFINITION, WW_EXPOSURE_TIME, {true, 0.0}, {false, 0}, {false, 0}, WW_EDOMAIN, 0},
    {"time below 0",
     DEFINITION,
     WW_EXPOSURE_TIME,
     {true, -2.0},
     {false, 0},
     {false, 0},
     WW_EDOMAIN,
     0},
    {"exposure time 0",
     DEFINITION,
     WW_EXPOSURE_WEDGE,
     {true, 1.0},
     {false, 0},
     {true, 0.0},
     WW_EDOMAIN,
     0},
};

static void log_exposures(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof log_h_rows / sizeof *log_h_rows; i++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        double log_h = 77.0;
        made_row(&readings, "4", "")->exposure = log_h_rows[i].exposure;
        readings.exposure = log_h_rows[i].column;
        readings.meta.log_h0 = log_h_rows[i].log_h0;
        readings.meta.exposure_time_s = log_h_rows[i].time_s;
        test_status(log_h_rows[i].name, ww_readings_log_h(&readings, 0, &log_h, &err),
                    log_h_rows[i].status, &err);
        test_close(log_h_rows[i].name, log_h,
                   log_h_rows[i].status == WW_OK ? log_h_rows[i].log_h : 77.0, 1e-14);
        ww_readings_release(&readings);
    }
}

/* ---- the channel of a black-and-white material ---- */

static const struct {
    const char *name;
    bool has[WW_CHANNEL_COUNT]; /* red, green, blue, visual */
    ww_grain grain;
    ww_status status;
    ww_channel channel;
} channel_rows[] = {
    {"visual before all", {true, true, true, true}, WW_GRAIN_SILVER, WW_OK, WW_VISUAL},
    {"green of three", {true, true, true, false}, WW_GRAIN_UNKNOWN, WW_OK, WW_GREEN},
    {"blue where stained", {true, true, true, false}, WW_GRAIN_STAINED, WW_OK, WW_BLUE},
    {"the only one", {true, false, false, false}, WW_GRAIN_UNKNOWN, WW_OK, WW_RED},
    {"the only one, stained", {false, true, false, false}, WW_GRAIN_STAINED, WW_OK, WW_GREEN},
    {"red and blue: neither will do", {true, false, true, false}, WW_GRAIN_SILVER, WW_ENODATA, 0},
    {"none", {false, false, false, false}, WW_GRAIN_SILVER, WW_ENODATA, 0},
};

static void channels(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof channel_rows / sizeof *channel_rows; i++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        ww_channel channel = WW_CHANNEL_COUNT;
        memcpy(readings.has, channel_rows[i].has, sizeof channel_rows[i].has);
        readings.meta.grain = channel_rows[i].grain;
        test_status(channel_rows[i].name,
                    ww_readings_black_and_white_channel(&readings, &channel, &err),
                    channel_rows[i].status, &err);
        test_true(channel_rows[i].name,
                  channel == (channel_rows[i].status == WW_OK ? channel_rows[i].channel
                                                              : WW_CHANNEL_COUNT));
    }
}

static void releases_twice(void **state) {
    ww_readings readings = WW_READINGS_INIT;
    (void)state;
    made_step(&readings, "2", WW_COLUMN_VISUAL, 0.61);
    ww_readings_release(&readings);
    assert_int_equal(readings.n, 0);
    assert_null(readings.row);
    ww_readings_release(&readings);
    ww_readings_release(NULL);
}

/* Source: definition; the standard error of a mean of n. */
static void errors_of_readings(void **state) {
    const ww_cell one = {WW_CELL_VALUE, 1.2, {false, 0.0}, 1};
    const ww_cell four = {WW_CELL_VALUE, 1.2, {true, 0.02}, 4};
    const ww_cell many = {WW_CELL_VALUE, 1.2, {true, 0.0}, 100};
    (void)state;
    test_close("one", ww_readings_error(&one), 0.01, 1e-15);
    test_close("0.02 / 2", ww_readings_error(&four), 0.01, 1e-15);
    test_close("0.01 / sqrt 12", ww_readings_error(&many), 0.01 / sqrt(12.0), 2e-5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(log_exposures), cmocka_unit_test(errors_of_readings),
        cmocka_unit_test(channels), cmocka_unit_test(releases_twice)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
