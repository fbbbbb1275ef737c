/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/origin.h"
#include "support/support.h"
#include <string.h>

/* Source of every row: interface conventions on the zero of log H; log10 10 s = 1. */
static const struct {
    const char *name;
    ww_exposure_column column;
    ww_exposure_unit unit;
    ww_optional log_h0, time;
    const char *note; /* "": nothing is said */
} rows[] = {
    {"wedge, seconds",
     WW_EXPOSURE_WEDGE,
     WW_UNIT_SECOND,
     {0},
     {0},
     "no log h0 and no exposure time is given: log H counts from 1 second at wedge density 0"},
    {"stops, seconds",
     WW_EXPOSURE_STOP,
     WW_UNIT_SECOND,
     {0},
     {true, 10.0},
     "no log h0 is given: log H counts from 1 second at stop 0"},
    {"wedge, timed", WW_EXPOSURE_WEDGE, WW_UNIT_SECOND, {0}, {true, 10.0}, ""},
    {"both agree", WW_EXPOSURE_WEDGE, WW_UNIT_SECOND, {true, 1.004}, {true, 10.0}, ""},
    {"both differ",
     WW_EXPOSURE_WEDGE,
     WW_UNIT_SECOND,
     {true, 0.7},
     {true, 10.0},
     "log h0 0.700 is used, not the exposure time of 10 s, which would be 1.000"},
    {"times, seconds", WW_EXPOSURE_TIME, WW_UNIT_SECOND, {0}, {0}, ""},
    {"wedge, lux seconds",
     WW_EXPOSURE_WEDGE,
     WW_UNIT_LUX_SECOND,
     {0},
     {0},
     "log H is taken as 0.000 at wedge density 0, that is one lux second, and"},
    {"wedge, lux seconds, timed",
     WW_EXPOSURE_WEDGE,
     WW_UNIT_LUX_SECOND,
     {0},
     {true, 10.0},
     "log H is taken as 1.000 at wedge density 0, that is one lux for the exposure time, and"},
    {"times, lux seconds",
     WW_EXPOSURE_TIME,
     WW_UNIT_LUX_SECOND,
     {0},
     {0},
     "log H is taken as 0.000 at one second, that is one lux second, and"},
    {"lux seconds given", WW_EXPOSURE_WEDGE, WW_UNIT_LUX_SECOND, {true, 0.7}, {true, 10.0}, ""},
    {"log H in lux seconds", WW_EXPOSURE_LOG_H, WW_UNIT_LUX_SECOND, {0}, {0}, ""},
    {"relative", WW_EXPOSURE_WEDGE, WW_UNIT_RELATIVE, {0}, {0}, ""},
    {"unit not said", WW_EXPOSURE_STOP, WW_UNIT_UNKNOWN, {0}, {0}, ""},
};

static void says_what_was_taken(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        curve.exposure = rows[i].column;
        curve.meta.exposure_unit = rows[i].unit;
        curve.meta.log_h0 = rows[i].log_h0;
        curve.meta.exposure_time_s = rows[i].time;
        test_status(rows[i].name, ww__origin_note(&curve, &err), WW_OK, &err);
        test_true(rows[i].name, curve.notes.n == (rows[i].note[0] ? 1 : 0));
        if (curve.notes.n)
            test_true(rows[i].name, strstr(curve.notes.text[0], rows[i].note) != NULL);
        ww_curve_release(&curve);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(says_what_was_taken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
