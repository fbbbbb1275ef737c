/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_keywords.h"
#include "support/support.h"
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static ww_status tell(ww_readings *made, const char *key, const char *value, ww_error *err) {
    return ww__cgats_keyword("film.txt", 7, key, value, made, err);
}

/* Source: keywords of CGATS.17 as its readers restate them. */
static void metadata(void **state) {
    ww_readings made = WW_READINGS_INIT;
    static const char *const rows[][2] = {
        {"CREATED", "2026-11-25"},
        {"DESCRIPTOR", "wedge"},
        {"FILE_DESCRIPTOR", "another"},
        {"ORIGINATOR", "made up"},
        {"MEASUREMENT_GEOMETRY", "45/0"},
        {"created", "2020-01-01"},
        {"MEASUREMENT_GEOMETRY", "transmission, opal"},
        {"FILTER", "none"},
        {"DENSITY_STATUS", "T"},
        {"WEIGHTING_FUNCTION", "name,density;value,Status T"},
        {"DESCRIPTOR", ""},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i][1], tell(&made, rows[i][0], rows[i][1], &err), WW_OK, &err);
    }
    test_text("the first name stays", made.meta.name, "wedge");
    test_text("the first date stays", made.meta.date, "2026-11-25");
    assert_int_equal(made.meta.density, WW_DENSITY_REFLECTION);
    assert_int_equal(made.meta.status, WW_STATUS_T);
    /* "none" in FILTER names no status. */
    assert_int_equal(made.notes.n, 0);
    ww_readings_release(&made);
}

static void geometry(void **state) {
    static const struct {
        const char *value;
        ww_density_kind kind;
    } rows[] = {{"transmission, opal", WW_DENSITY_TRANSMISSION}, {"opal", WW_DENSITY_TRANSMISSION},
                {"TRANSMISSION", WW_DENSITY_TRANSMISSION},       {"0/45", WW_DENSITY_REFLECTION},
                {"Reflection", WW_DENSITY_REFLECTION},           {"sphere", WW_DENSITY_UNKNOWN}};
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww_readings made = WW_READINGS_INIT;
        test_status("geometry", tell(&made, "MEASUREMENT_GEOMETRY", rows[i].value, NULL), WW_OK,
                    NULL);
        test_true(rows[i].value, made.meta.density == rows[i].kind);
        ww_readings_release(&made);
    }
}

static void statuses(void **state) {
    ww_readings made = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("unheard of", tell(&made, "FILTER", "Status I", &err), WW_OK, &err);
    test_true("noted", test_noted(&made.notes, "'Status I' in line 7 is not one of"));
    assert_int_equal(made.meta.status, WW_STATUS_UNKNOWN);
    test_status("A", tell(&made, "FILTER", "Status A", &err), WW_OK, &err);
    test_status("and T", tell(&made, "DENSITY_STATUS", "T", &err), WW_EINPUT, &err);
    test_holds("and T", err.msg, "contradicts status A");
    assert_int_equal(err.line, 7);
    assert_int_equal(made.meta.status, WW_STATUS_A);
    ww_readings_release(&made);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(metadata), cmocka_unit_test(geometry),
                                       cmocka_unit_test(statuses)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
