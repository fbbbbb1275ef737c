/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "support/support.h"
#include <math.h>

/* Source: definition of the metadata keys (interface conventions). */
static void test_check(void **state) {
    static const struct {
        const char *name;
        ww_material material;
        ww_density_kind density;
        ww_relative relative;
        bool taken;
    } rows[] = {
        {"not said", WW_MATERIAL_UNKNOWN, WW_DENSITY_UNKNOWN, WW_RELATIVE_UNKNOWN, true},
        {"paper", WW_MATERIAL_PAPER, WW_DENSITY_REFLECTION, WW_RELATIVE_WHITE, true},
        {"print", WW_MATERIAL_PRINT, WW_DENSITY_REFLECTION, WW_RELATIVE_ABSOLUTE, true},
        {"strip", WW_MATERIAL_STRIP, WW_DENSITY_UNKNOWN, WW_RELATIVE_UNKNOWN, true},
        {"film", WW_MATERIAL_FILM, WW_DENSITY_UNKNOWN, WW_RELATIVE_UNKNOWN, false},
        {"negative", WW_MATERIAL_NEGATIVE, WW_DENSITY_UNKNOWN, WW_RELATIVE_UNKNOWN, false},
        {"through it", WW_MATERIAL_PAPER, WW_DENSITY_TRANSMISSION, WW_RELATIVE_UNKNOWN, false},
        {"film base", WW_MATERIAL_PAPER, WW_DENSITY_UNKNOWN, WW_RELATIVE_BASE, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        readings.meta.material = rows[i].material;
        readings.meta.density = rows[i].density;
        readings.meta.relative = rows[i].relative;
        test_status(rows[i].name, ww__print_readings_check(&readings, "a table", &err),
                    rows[i].taken ? WW_OK : WW_EMISMATCH, &err);
        if (!rows[i].taken)
            test_holds(rows[i].name, err.msg, "a table is paper, read by reflection");
    }
}

/* White counted from itself is 0: definition. 0.03 is the least that is not a reading of 0. */
static void test_zero(void **state) {
    static const struct {
        const char *name;
        ww_relative relative;
        double base;
        bool taken;
    } rows[] = {
        {"absolute", WW_RELATIVE_ABSOLUTE, 0.06, true},
        {"not said", WW_RELATIVE_UNKNOWN, 0.06, true},
        {"of white", WW_RELATIVE_WHITE, 0.06, false},
        {"of base", WW_RELATIVE_BASE, 0.06, false},
        {"0.01", WW_RELATIVE_WHITE, 0.01, true},
        {"-0.04", WW_RELATIVE_WHITE, -0.04, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_row row = {.is_base = true, .line = 3};
        ww_readings readings = {.row = &row, .n = 1};
        ww_error err = WW_ERROR_INIT;
        row.cell[WW_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = rows[i].base, .n = 1};
        readings.meta.relative = rows[i].relative;
        test_status(rows[i].name, ww__print_readings_check_zero(&readings, &err),
                    rows[i].taken ? WW_OK : WW_EMISMATCH, &err);
        assert_int_equal(err.line, rows[i].taken ? 0 : 3);
    }
}

/* The mean of the base rows; its error by those of the rows, 0.01 D a reading: by hand. */
static void test_white(void **state) {
    static char none[] = "";
    ww_row row[4] = {{.step = none}};
    ww_readings readings = {.row = row, .n = 4};
    double white = 0.0, error = 0.0;
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        row[i] = (ww_row){.step = none, .tone = none, .pack = none, .is_base = i < 3};
        row[i].cell[WW_VISUAL] =
            (ww_cell){.state = WW_CELL_VALUE, .value = 0.05 + 0.02 * (double)i, .n = 1};
    }
    row[2].cell[WW_VISUAL].state = WW_CELL_OVER;
    test_true("read", ww__print_readings_white(&readings, WW_VISUAL, &white, &error));
    test_close("mean", white, 0.06, 1e-12);
    test_close("error", error, 0.01 / sqrt(2.0), 1e-12);
    readings.meta.relative = WW_RELATIVE_WHITE;
    test_true("relative", ww__print_readings_white(&readings, WW_VISUAL, &white, &error));
    test_close("zero", white, 0.0, 0.0);
    readings.meta.relative = WW_RELATIVE_UNKNOWN;
    row[0].is_base = row[1].is_base = false;
    test_true("not read", !ww__print_readings_white(&readings, WW_VISUAL, &white, &error));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_check), cmocka_unit_test(test_zero),
                                       cmocka_unit_test(test_white)};
    return cmocka_run_group_tests_name("print_readings", tests, NULL, NULL);
}
