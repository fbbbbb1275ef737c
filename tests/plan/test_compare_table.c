/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/compare_parts.h"
#include "support/compare_case.h"
#include <math.h>
#include <stdlib.h>

/* Source: definitions of the header; density of L* 50 by another program. */

typedef struct taken {
    ww_compare_print print;
    ww_notes notes;
} taken;

static taken take(const ww_readings *table) {
    taken t = {.notes = WW_NOTES_INIT};
    ww_error err = WW_ERROR_INIT;
    const ww_compare_input input = {.readings = table, .file = "x.csv"};
    test_status("table", ww__compare_table(&input, &t.print, &t.notes, &err), WW_OK, &err);
    return t;
}

static void drop(taken *t) {
    for (size_t i = 0; i < t->print.n; i++)
        free(t->print.tone[i].label);
    free(t->print.tone);
    free(t->print.name);
    ww_notes_release(&t->notes);
}

static ww_row *patch(ww_readings *table, const char *step, double density) {
    return made_step(table, step, WW_COLUMN_VISUAL, density);
}

static void what_was_sent(void **state) {
    (void)state;
    static const struct {
        const char *name;
        ww_column column[3];
        double sent[3];
        ww_ramp ramp;
        bool neutral;
        double as; /* sent, 0 to 1 */
    } rows[] = {
        {"value", {WW_COLUMN_VALUE}, {0.3}, WW_RAMP_VALUE, true, 0.7},
        {"gray", {WW_COLUMN_GRAY}, {30}, WW_RAMP_GRAY, true, 0.3},
        {"gray and cyan", {WW_COLUMN_GRAY, WW_COLUMN_CYAN}, {30, 5}, WW_RAMP_GRAY, false, -1},
        {"alike",
         {WW_COLUMN_VALUE_RED, WW_COLUMN_VALUE_GREEN, WW_COLUMN_VALUE_BLUE},
         {0.4, 0.4, 0.4},
         WW_RAMP_VALUES,
         true,
         0.6},
        {"a colour",
         {WW_COLUMN_VALUE_RED, WW_COLUMN_VALUE_GREEN, WW_COLUMN_VALUE_BLUE},
         {0.4, 0.4, 0.5},
         WW_RAMP_VALUES,
         false,
         -1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings table = WW_READINGS_INIT;
        patch(&table, "base", 0.06);
        ww_row *row = patch(&table, "1", 0.7);
        for (size_t k = 0; k < 3; k++)
            if (rows[i].column[k] != WW_COLUMN_RED)
                made_value(&table, row, rows[i].column[k], rows[i].sent[k]);
        row = patch(&table, "2", 0.9); /* a grey, whatever the other is */
        for (size_t k = 0; k < 3; k++)
            if (rows[i].column[k] != WW_COLUMN_RED && rows[i].column[k] != WW_COLUMN_CYAN)
                made_value(&table, row, rows[i].column[k], 0.25);
        taken t = take(&table);
        test_true(rows[i].name, t.print.control == WW_COMPARE_RAMP && t.print.ramp == rows[i].ramp);
        test_true(rows[i].name, t.print.tone[1].neutral == rows[i].neutral);
        test_true(rows[i].name, t.print.tone[1].sent.set == rows[i].neutral);
        if (rows[i].neutral)
            test_close(rows[i].name, t.print.tone[1].sent.value, rows[i].as, 1e-12);
        test_true("nothing is sent for the base", t.print.tone[0].neutral);
        test_close("base", t.print.tone[0].sent.value, 0.0, 1e-12);
        drop(&t);
        ww_readings_release(&table);
    }
}

static void density_of_light(void **state) {
    (void)state;
    ww_readings print = WW_READINGS_INIT, screen = WW_READINGS_INIT;
    compare_case_lab(&print, (made_row(&print, "1", ""), 0), 50.0, 0.3, 1.1);
    made_step(&screen, "1", WW_COLUMN_LUMINANCE, 120.0);
    made_step(&screen, "2", WW_COLUMN_LUMINANCE, 60.0);
    made_step(&screen, "3", WW_COLUMN_LUMINANCE, 0.12);
    for (size_t i = 0; i < screen.n; i++) {
        made_value(&screen, &screen.row[i], WW_COLUMN_CHROMATICITY_X, 0.31272);
        made_value(&screen, &screen.row[i], WW_COLUMN_CHROMATICITY_Y, 0.32903);
    }
    taken t = take(&print), s = take(&screen);
    test_close("L* 50", t.print.tone[0].density[WW_VISUAL].value, 0.734742, 1e-6);
    /* dD/dL* = 3 / (ln 10 (L* + 16)), of 0.2: 0.00395 */
    test_close("doubt", t.print.tone[0].error[WW_VISUAL], 0.00395, 3e-5);
    test_true("told", t.print.from_light && test_noted(&t.notes, "made of lightness"));
    test_close("half", s.print.tone[1].density[WW_VISUAL].value, 0.30103, 1e-6);
    test_close("a thousandth", s.print.tone[2].density[WW_VISUAL].value, 3.0, 1e-6);
    test_close("1 %", s.print.tone[1].error[WW_VISUAL], 0.004343, 3e-5); /* 0.01 / ln 10 */
    test_close("D65", s.print.temperature.value, 6504, 65);
    test_close("blue", s.print.tone[0].lab.b, -19.36, 0.05);
    test_true("a screen", s.print.screen && s.print.above_white);
    drop(&t);
    drop(&s);
    ww_readings_release(&print);
    ww_readings_release(&screen);
}

static void what_looks_a_colour_is_no_grey(void **state) {
    (void)state;
    ww_readings table = WW_READINGS_INIT;
    patch(&table, "1", 0.05);
    patch(&table, "2", 0.60);
    patch(&table, "3", 0.60);
    compare_case_lab(&table, 0, 95.0, 1.0, -8.0);
    compare_case_lab(&table, 1, 57.0, 1.0, 1.5);
    compare_case_lab(&table, 2, 57.0, 1.0, 3.0);
    table.row[2].cell[WW_VISUAL].state = WW_CELL_OVER;
    ww_notes_add(&table.notes, NULL, "an invented remark of the reader");
    taken t = take(&table);
    test_true("white", t.print.tone[0].neutral);
    test_true("9.5 from its hue", t.print.tone[1].neutral);
    test_true("11 from it", !t.print.tone[2].neutral);
    test_true("told", test_noted(&t.notes, "does not say what was sent"));
    test_true("as read", test_noted(&t.notes, "'x.csv': an invented remark of the reader"));
    test_true("over is told", test_noted(&t.notes, "1 reading beyond the instrument"));
    drop(&t);
    ww_readings_release(&table);
}

static void relative(void **state) {
    (void)state;
    for (int r = WW_RELATIVE_UNKNOWN; r <= WW_RELATIVE_WHITE; r++) {
        ww_readings table = WW_READINGS_INIT;
        table.meta.relative = (ww_relative)r;
        patch(&table, "1", 0.3);
        taken t = take(&table);
        test_true("above white", t.print.above_white == (r >= WW_RELATIVE_BASE));
        drop(&t);
        ww_readings_release(&table);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_sent),
        cmocka_unit_test(density_of_light),
        cmocka_unit_test(what_looks_a_colour_is_no_grey),
        cmocka_unit_test(relative),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
