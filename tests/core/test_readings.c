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

/* ---- through a wedge ---- */

/* A film of three steps with a repeat and base, its labels in no order; a wedge in another. */
static void make_film(ww_readings *film) {
    made_step(film, "base", WW_COLUMN_VISUAL, 0.21);
    made_step(film, "2", WW_COLUMN_VISUAL, 0.61);
    made_step(film, "1", WW_COLUMN_VISUAL, 0.23);
    made_step(film, "3", WW_COLUMN_VISUAL, 1.02);
    made_step(film, "2", WW_COLUMN_VISUAL, 0.63);
}

static void make_wedge(ww_readings *wedge, ww_column column) {
    made_step(wedge, "1", column, 2.97);
    made_step(wedge, "2", column, 1.54);
    made_step(wedge, "3", column, 0.06);
    wedge->meta.wedge = WW_WEDGE_CERTIFIED;
    wedge->meta.wedge_sd = (ww_optional){true, 0.011};
}

static void adds_the_wedge_by_label(void **state) {
    static const double want[] = {0.0, 1.54, 2.97, 0.06, 1.54};
    ww_readings film = WW_READINGS_INIT, wedge = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    make_film(&film);
    make_wedge(&wedge, WW_COLUMN_VISUAL);
    made_row(&wedge, "base", "");                          /* clear film, no step */
    made_value(&wedge, &wedge.row[0], WW_COLUMN_RED, 5.5); /* visual goes before it */
    test_status("through", ww_readings_through(&film, &wedge, &err), WW_OK, &err);
    assert_int_equal(film.exposure, WW_EXPOSURE_WEDGE);
    assert_int_equal(film.meta.wedge, WW_WEDGE_CERTIFIED);
    test_close("wedge sd", film.meta.wedge_sd.value, 0.011, 0.0);
    for (size_t i = 0; i < film.n; i++) {
        test_true("base alone has none", film.row[i].exposure.set == !film.row[i].is_base);
        if (i > 0)
            test_close(film.row[i].step, film.row[i].exposure.value, want[i], 0.0);
    }
    ww_readings_release(&film);
    ww_readings_release(&wedge);
}

static void keeps_what_the_wedge_does_not_say(void **state) {
    ww_readings film = WW_READINGS_INIT, wedge = WW_READINGS_INIT;
    (void)state;
    make_film(&film);
    make_wedge(&wedge, WW_COLUMN_BLUE);
    film.meta.wedge = WW_WEDGE_NOMINAL;
    wedge.meta.wedge = WW_WEDGE_UNKNOWN;
    wedge.meta.wedge_sd.set = false;
    assert_int_equal(ww_readings_through(&film, &wedge, NULL), WW_OK);
    assert_int_equal(film.meta.wedge, WW_WEDGE_NOMINAL);
    assert_false(film.meta.wedge_sd.set);
    ww_readings_release(&film);
    ww_readings_release(&wedge);
}

enum spoil { EXPOSED, UNKNOWN_STEP, MISSING_STEP, TWICE, NO_DENSITY, SEVERAL, OVER, EMPTY };

static const struct {
    const char *name;
    enum spoil spoil;
    ww_status status;
    const char *says;
} through_rows[] = {
    {"readings have an exposure", EXPOSED, WW_EMISMATCH, "time"},
    {"a step that the wedge lacks", UNKNOWN_STEP, WW_EMISMATCH, "'3a'"},
    {"a step that was not read", MISSING_STEP, WW_EMISMATCH, "'4'"},
    {"a label twice in the wedge", TWICE, WW_EMISMATCH, "'2'"},
    {"a wedge without density", NO_DENSITY, WW_ENODATA, "no density column"},
    {"a wedge with two channels, no visual", SEVERAL, WW_ENODATA, "several"},
    {"a wedge step beyond the instrument", OVER, WW_ENODATA, "'3'"},
    {"a wedge without rows", EMPTY, WW_ENODATA, "no steps"},
};

static void spoil(enum spoil how, ww_readings *film, ww_readings *wedge) {
    switch (how) {
    case EXPOSED:
        film->exposure = WW_EXPOSURE_TIME;
        break;
    case UNKNOWN_STEP:
        made_step(film, "3a", WW_COLUMN_VISUAL, 1.2);
        break;
    case MISSING_STEP:
        made_step(wedge, "4", WW_COLUMN_GREEN, 0.02);
        break;
    case TWICE:
        made_step(wedge, "2", WW_COLUMN_GREEN, 1.55);
        break;
    case NO_DENSITY:
        wedge->has[WW_COLUMN_GREEN] = false;
        break;
    case SEVERAL:
        wedge->has[WW_COLUMN_BLUE] = true;
        break;
    case OVER:
        wedge->row[2].cell[WW_COLUMN_GREEN].state = WW_CELL_OVER;
        break;
    case EMPTY:
        ww_readings_release(wedge);
        wedge->has[WW_COLUMN_VISUAL] = true;
        break;
    }
}

static void refuses_wedges_that_do_not_fit(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof through_rows / sizeof *through_rows; i++) {
        ww_readings film = WW_READINGS_INIT, wedge = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        make_film(&film);
        make_wedge(&wedge, WW_COLUMN_GREEN);
        spoil(through_rows[i].spoil, &film, &wedge);
        test_status(through_rows[i].name, ww_readings_through(&film, &wedge, &err),
                    through_rows[i].status, &err);
        test_true(through_rows[i].name, strstr(err.msg, through_rows[i].says) != NULL);
        test_true("untouched", !film.row[1].exposure.set && film.exposure != WW_EXPOSURE_WEDGE &&
                                   film.meta.wedge == WW_WEDGE_UNKNOWN);
        ww_readings_release(&film);
        ww_readings_release(&wedge);
    }
}

static void releases_twice(void **state) {
    ww_readings readings = WW_READINGS_INIT;
    (void)state;
    make_film(&readings);
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
    const struct CMUnitTest tests[] = {cmocka_unit_test(log_exposures),
                                       cmocka_unit_test(errors_of_readings),
                                       cmocka_unit_test(channels),
                                       cmocka_unit_test(adds_the_wedge_by_label),
                                       cmocka_unit_test(keeps_what_the_wedge_does_not_say),
                                       cmocka_unit_test(refuses_wedges_that_do_not_fit),
                                       cmocka_unit_test(releases_twice)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
