/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include <wedgework/readings_light.h>

/* Source: definitions of the header; density of L* 50 by another program; slopes by hand: dD/dL* =
 * 3 / (ln 10 (L* + 16)) above L* 8, dD = 0.01 / ln 10 for 1 % of a luminance. */

static void of_lightness(void **state) {
    (void)state;
    ww_readings table = WW_READINGS_INIT;
    made_step(&table, "1", WW_COLUMN_LAB_L, 50.0);
    made_step(&table, "2", WW_COLUMN_LAB_L, 0.0);
    made_row(&table, "3", "");
    test_true("lightness", ww_readings_light(&table) == WW_LIGHT_LIGHTNESS);
    test_true("a column", table.has[WW_COLUMN_VISUAL]);
    test_close("L* 50", table.row[0].cell[WW_VISUAL].value, 0.734742, 1e-6);
    test_close("its sd", table.row[0].cell[WW_VISUAL].sd.value, 0.2 * 0.019741, 3e-5);
    test_true("no light", table.row[1].cell[WW_VISUAL].state == WW_CELL_OVER);
    test_true("not read", table.row[2].cell[WW_VISUAL].state == WW_CELL_MISSING);
    test_true("its zero stays", table.meta.relative == WW_RELATIVE_UNKNOWN);
    ww_readings_release(&table);
}

static void of_luminance(void **state) {
    (void)state;
    ww_readings table = WW_READINGS_INIT;
    made_step(&table, "1", WW_COLUMN_LUMINANCE, 60.0);
    made_step(&table, "2", WW_COLUMN_LUMINANCE, 120.0);
    ww_row *row = made_step(&table, "3", WW_COLUMN_LUMINANCE, 0.12);
    row->cell[WW_COLUMN_LUMINANCE].sd = (ww_optional){true, 0.006};
    row->cell[WW_COLUMN_LUMINANCE].n = 4;
    made_step(&table, "4", WW_COLUMN_LUMINANCE, 0.0);
    made_value(&table, &table.row[0], WW_COLUMN_LAB_L, 71.0); /* luminance goes first */
    test_true("luminance", ww_readings_light(&table) == WW_LIGHT_LUMINANCE);
    test_close("half", table.row[0].cell[WW_VISUAL].value, 0.301030, 1e-6);
    test_close("white", table.row[1].cell[WW_VISUAL].value, 0.0, 0.0);
    test_close("a thousandth", table.row[2].cell[WW_VISUAL].value, 3.0, 1e-12);
    test_close("1 %", table.row[0].cell[WW_VISUAL].sd.value, 0.004343, 3e-5);
    test_close("5 %", table.row[2].cell[WW_VISUAL].sd.value, 0.021715, 6e-4);
    test_true("of 4", table.row[2].cell[WW_VISUAL].n == 4);
    test_true("no light", table.row[3].cell[WW_VISUAL].state == WW_CELL_OVER);
    test_true("above white", table.meta.relative == WW_RELATIVE_WHITE);
    ww_readings_release(&table);
}

static void what_is_there_stays(void **state) {
    (void)state;
    ww_readings table = WW_READINGS_INIT, colour = WW_READINGS_INIT, screen = WW_READINGS_INIT;
    ww_row *row = made_step(&table, "1", WW_COLUMN_VISUAL, 0.31);
    made_value(&table, row, WW_COLUMN_LAB_L, 50.0);
    test_true("it has densities", ww_readings_light(&table) == WW_LIGHT_NONE);
    test_close("as read", table.row[0].cell[WW_VISUAL].value, 0.31, 0.0);
    made_step(&colour, "1", WW_COLUMN_GREEN, 0.31);
    test_true("no light", ww_readings_light(&colour) == WW_LIGHT_NONE);
    test_true("no column", !colour.has[WW_COLUMN_VISUAL]);
    made_step(&screen, "1", WW_COLUMN_LAB_L, 100.0);
    screen.meta.material = WW_MATERIAL_SCREEN;
    test_true("a display by L*", ww_readings_light(&screen) == WW_LIGHT_LIGHTNESS);
    test_true("from its white", screen.meta.relative == WW_RELATIVE_WHITE);
    ww_readings_release(&table);
    ww_readings_release(&colour);
    ww_readings_release(&screen);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(of_lightness),
                                       cmocka_unit_test(of_luminance),
                                       cmocka_unit_test(what_is_there_stays)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
