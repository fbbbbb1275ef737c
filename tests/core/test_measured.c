/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_case.h"
#include "support/support.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/measure.h>

/* Source of all: definition (the lines of the header). */

static void strips_become_steps(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_strip(made, true);
    assert_int_equal(ww_notes_add(&made->measured.notes, NULL, "a note"), WW_OK);
    test_status("strip", ww_measured_readings(&made->measured, NULL, &readings, &err), WW_OK, &err);
    test_text("file", readings.file, "wedge.tif");
    test_text("note", readings.notes.text[0], "a note");
    test_true("head", readings.n == SCAN_CASE_STEPS && readings.meta.status == WW_STATUS_SCANNER &&
                          readings.meta.relative == WW_RELATIVE_ABSOLUTE &&
                          readings.exposure == WW_EXPOSURE_NONE);
    for (int c = 0; c < WW_COLUMN_COUNT; c++)
        test_true("columns", readings.has[c] == (c <= WW_COLUMN_BLUE));
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        const ww_row *row = &readings.row[i];
        test_text("step", row->step, made->label[i]);
        test_true("step", row->tone[0] == '\0' && row->pack[0] == '\0' && !row->is_base);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_cell *want = &made->patch[i].channel[c].density;
            /* Source: interface, densities to 0.001 in files; a step of rounding is 1 / sqrt(12)
             * of a standard deviation. */
            test_true("state", row->cell[c].state == want->state);
            if (want->state != WW_CELL_VALUE)
                continue;
            test_close("rounded", row->cell[c].value, want->value, 0.0005 + 1e-12);
            test_close("to 0.001", remainder(row->cell[c].value, 0.001), 0.0, 1e-12);
            test_close("error", row->cell[c].sd.value, hypot(want->sd.value, 0.00028867513), 6e-6);
        }
    }
    test_true("beyond", readings.row[20].cell[WW_RED].state == WW_CELL_OVER);
    ww_readings_release(&readings);
    /* A table has no word for what is only known to be less: `over` is dense. */
    made->patch[0].channel[WW_RED].density = (ww_cell){.state = WW_CELL_LESS, .value = 0.03};
    test_status("light", ww_measured_readings(&made->measured, NULL, &readings, &err), WW_OK, &err);
    test_true("light", readings.row[0].cell[WW_RED].state == WW_CELL_MISSING);
    ww_readings_release(&readings);
    ww_notes_release(&made->measured.notes);
    free(made);
}

static void spots_become_tones(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_spots(made);
    test_status("codes", ww_measured_readings(&made->measured, NULL, &readings, &err), WW_ENODATA,
                &err);
    test_true("untouched", readings.row == NULL && strstr(err.msg, "--scanner"));
    made->measured.calibrated = true;
    test_status("spots", ww_measured_readings(&made->measured, NULL, &readings, &err), WW_OK, &err);
    test_text("tone", readings.row[0].tone, "cloud");
    test_text("no step", readings.row[0].step, "");
    test_true("base", !readings.row[0].is_base && readings.row[2].is_base);
    test_true("column", readings.has[WW_VISUAL] && !readings.has[WW_GREEN]);
    ww_readings_release(&readings);
    snprintf(made->label[0], sizeof made->label[0], "a/thin");
    snprintf(made->label[1], sizeof made->label[1], "/dense");
    test_status("parts", ww_measured_readings(&made->measured, NULL, &readings, &err), WW_OK, &err);
    test_text("tone of a part", readings.row[0].tone, "a");
    test_true("part", readings.row[0].part == WW_PART_THIN);
    test_text("a part needs a tone", readings.row[1].tone, "/dense");
    test_true("and has none", readings.row[1].part == WW_PART_WHOLE);
    ww_readings_release(&readings);
    snprintf(made->label[0], sizeof made->label[0], "glass");
    test_status("open light", ww_measured_readings(&made->measured, NULL, &readings, &err), WW_OK,
                &err);
    test_true("is no tone", readings.n == 2 && readings.row[1].is_base);
    ww_readings_release(&readings);
    made->measured.n = made->measured.n_spots = 1;
    test_status("alone", ww_measured_readings(&made->measured, NULL, &readings, &err), WW_ENODATA,
                &err);
    free(made);
}

/* Steps, the base beside them, and another spot, which is no row of a strip's table. */
static void of_spots_beside_a_strip_the_base_is_a_row(void **state) {
    static char base[] = "Base", glass[] = "glass";
    struct scan_case *made = malloc(sizeof *made);
    ww_readings readings = WW_READINGS_INIT;
    (void)state;
    scan_case_strip(made, false);
    made->measured.n_spots = 2;
    made->patch[19].step = glass;
    made->patch[20].step = base;
    made->patch[19].radius = made->patch[20].radius = 9.0;
    assert_int_equal(ww_measured_readings(&made->measured, NULL, &readings, NULL), WW_OK);
    assert_int_equal(readings.n, 20);
    test_text("a step", readings.row[18].step, "19");
    test_text("the base", readings.row[19].step, "Base");
    test_true("is the base, and no tone", readings.row[19].is_base && !readings.row[19].tone[0]);
    ww_readings_release(&readings);
    free(made);
}

static ww_readings wedge_of(const struct scan_case *made, ww_row row[SCAN_CASE_STEPS], size_t n) {
    ww_readings wedge = {.row = row, .n = n, .meta = {.wedge = WW_WEDGE_NOMINAL}};
    wedge.has[WW_VISUAL] = true;
    for (size_t i = 0; i < n; i++) {
        row[i] = (ww_row){.step = (char *)made->label[i]};
        row[i].cell[WW_VISUAL] =
            (ww_cell){.state = WW_CELL_VALUE, .value = scan_case_density(i), .n = 1};
    }
    return wedge;
}

static void the_wedge_gives_exposures(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    ww_row row[SCAN_CASE_STEPS];
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_strip(made, false);
    const ww_readings wedge = wedge_of(made, row, SCAN_CASE_STEPS);
    test_status("through", ww_measured_readings(&made->measured, &wedge, &readings, &err), WW_OK,
                &err);
    test_true("column",
              readings.exposure == WW_EXPOSURE_WEDGE && readings.meta.wedge == WW_WEDGE_NOMINAL);
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
        test_close("wedge", readings.row[i].exposure.value, scan_case_density(i), 0.0);
    ww_readings_release(&readings);
    const ww_readings shorter = wedge_of(made, row, SCAN_CASE_STEPS - 1);
    test_status("shorter", ww_measured_readings(&made->measured, &shorter, &readings, &err),
                WW_EMISMATCH, &err);
    test_true("untouched", readings.row == NULL);
    free(made);
}

static void releases_everything_twice(void **state) {
    ww_measured measured = {.file = calloc(2, 1), .profile = calloc(2, 1), .n = 2};
    ww_whole whole = {.file = calloc(2, 1)};
    (void)state;
    measured.patch = calloc(2, sizeof *measured.patch);
    measured.patch[0].step = calloc(2, 1);
    assert_int_equal(ww_notes_add(&measured.notes, NULL, "a note"), WW_OK);
    assert_int_equal(ww_notes_add(&whole.notes, NULL, "a note"), WW_OK);
    ww_measured_release(&measured);
    ww_whole_release(&whole);
    test_true("empty", !measured.patch && measured.n == 0 && !whole.file && whole.notes.n == 0);
    ww_measured_release(&measured);
    ww_whole_release(&whole);
    ww_measured_release(NULL);
    ww_whole_release(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strips_become_steps),
        cmocka_unit_test(spots_become_tones),
        cmocka_unit_test(of_spots_beside_a_strip_the_base_is_a_row),
        cmocka_unit_test(the_wedge_gives_exposures),
        cmocka_unit_test(releases_everything_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
