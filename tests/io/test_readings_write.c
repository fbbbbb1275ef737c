/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "io/readings_write.h"
#include "round_trip.h"
#include <math.h>

static void csv_reads_back_to_the_bit(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "film.csv");
    (void)state;
    check_round_trips(ww_readings_file_write, path);
    free(path);
    test_folder_remove(folder);
}

/* Pooled readings carry counts and spreads that differ from channel to channel. */
static void pooled_reads_back_to_the_bit(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "film.csv");
    ww_readings raw = parsed("raw", "step,wedge,red,blue\n1,0.3,0.5,0.1\n1,0.3,0.51,-\n"
                                    "1,0.3,0.53,0.2\n2,0.6,0.1,over\n");
    ww_readings pooled = WW_READINGS_INIT, again = WW_READINGS_INIT;
    (void)state;
    assert_int_equal(ww_readings_pool(&raw, &pooled, NULL), WW_OK);
    assert_int_equal(ww_readings_file_write(&pooled, path, NULL), WW_OK);
    assert_int_equal(ww_readings_file_read(path, &again, NULL), WW_OK);
    assert_null(difference(&pooled, &again));
    assert_int_equal(again.row[0].cell[WW_COLUMN_RED].n, 3);
    assert_int_equal(again.row[0].cell[WW_COLUMN_BLUE].n, 2);
    ww_readings_release(&raw);
    ww_readings_release(&pooled);
    ww_readings_release(&again);
    free(path);
    test_folder_remove(folder);
}

/* Source: definition of the readings file; the text is what a person would type. */
static void writes_what_a_person_would(void **state) {
    static const char want[] = "# material: film\n# log h0: -0.5\nstep,wedge,red,visual,n,sd_red\n"
                               "base,-,0.21,0.3,2,0.01\n1,3.05,over,-,2,-\n";
    ww_readings readings = parsed("plain", want);
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__write_csv(&text, &readings);
    assert_string_equal(ww__text_string(&text), want);
    ww__text_release(&text);
    char *whole = NULL;
    size_t n = 0;
    assert_int_equal(ww_readings_file_text(&readings, &whole, &n, NULL), WW_OK);
    assert_string_equal(whole, want);
    assert_int_equal(n, sizeof want - 1);
    free(whole);
    ww_readings_release(&readings);
}

/* Notes are comments that a reader passes over; what is in them cannot end their line. */
static void notes_are_comments(void **state) {
    static const char plain[] = "# material: strip\nstep,visual\n1,0.3\n2,-\n";
    ww_readings readings = parsed("plain", plain);
    ww__text text = WW__TEXT_INIT;
    (void)state;
    assert_int_equal(ww_notes_add(&readings.notes, NULL, "step '1\n2,3': less than 0.03"), WW_OK);
    ww__write_csv(&text, &readings);
    test_true("a note", strstr(ww__text_string(&text), "\n# note: step '1 2,3': less than"));
    ww_readings again = parsed("with a note", ww__text_string(&text));
    test_true("a comment", again.n == 2 && again.notes.n == readings.notes.n - 1);
    ww__text_release(&text);
    ww_readings_release(&again);
    ww_readings_release(&readings);
}

static void comma_locale_changes_nothing(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "film.csv");
    (void)state;
    if (test_comma_locale())
        check_round_trips(ww_readings_file_write, path);
    free(path);
    test_folder_remove(folder);
}

/* ---- what is not written ---- */

enum spoil {
    NO_ROWS,
    NO_COLUMNS,
    NOT_FINITE,
    SD_NOT_FINITE,
    NEWLINE,
    NEWLINE_IN_NAME,
    NO_EXPOSURE,
    EXPOSED_BASE,
    MARKED_BASE,
    NEGATIVE_WIDTH,
    SOME_WIDTHS,
    NO_SECONDS,
    NO_FOLDER
};

static const struct {
    const char *name;
    enum spoil spoil;
    ww_status status;
} rows[] = {
    {"no rows", NO_ROWS, WW_EDOMAIN},
    {"no columns", NO_COLUMNS, WW_EDOMAIN},
    {"a density that is not finite", NOT_FINITE, WW_EDOMAIN},
    {"an sd that is not finite", SD_NOT_FINITE, WW_EDOMAIN},
    {"a line end in a label", NEWLINE, WW_EDOMAIN},
    {"a line end in a name", NEWLINE_IN_NAME, WW_EDOMAIN},
    {"a row without exposure", NO_EXPOSURE, WW_EDOMAIN},
    {"a base row with exposure", EXPOSED_BASE, WW_EDOMAIN},
    {"base by its mark alone", MARKED_BASE, WW_EDOMAIN},
    {"a negative width", NEGATIVE_WIDTH, WW_EDOMAIN},
    {"widths of some steps", SOME_WIDTHS, WW_EDOMAIN},
    {"0 s through both filters", NO_SECONDS, WW_EDOMAIN},
    {"no such folder", NO_FOLDER, WW_ESYSTEM},
};

static void spoil(enum spoil how, ww_readings *readings) {
    static char name[] = "two\nlines";
    ww_row *row = &readings->row[1];
    switch (how) {
    case NO_ROWS:
        ww_readings_release(readings);
        readings->has[WW_COLUMN_RED] = true;
        break;
    case NO_COLUMNS:
        readings->has[WW_COLUMN_RED] = false;
        break;
    case NOT_FINITE:
        row->cell[WW_COLUMN_RED].value = NAN;
        break;
    case SD_NOT_FINITE:
        row->cell[WW_COLUMN_RED].sd = (ww_optional){true, INFINITY};
        break;
    case NEWLINE:
        row->step[0] = '\n';
        break;
    case NEWLINE_IN_NAME:
        readings->meta.name = made_text(name);
        break;
    case NO_EXPOSURE:
        row->exposure.set = false;
        break;
    case EXPOSED_BASE:
        readings->row[0].exposure = (ww_optional){true, 1.0};
        break;
    case MARKED_BASE:
        row->is_base = true;
        break;
    case NEGATIVE_WIDTH:
        row->width = (ww_optional){true, -2.5};
        break;
    case NO_SECONDS:
        row->cell[WW_COLUMN_SOFT] = row->cell[WW_COLUMN_HARD] =
            (ww_cell){.state = WW_CELL_VALUE, .n = 1};
        break;
    case SOME_WIDTHS:
        row->width = (ww_optional){true, 2.5};
        made_step(readings, "2", WW_COLUMN_RED, 0.7)->exposure = (ww_optional){true, 0.5};
        break;
    case NO_FOLDER:
        break;
    }
}

static void refuses_what_could_not_be_read_back(void **state) {
    char *folder = test_folder_new();
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        char *path = test_path(folder, rows[i].spoil == NO_FOLDER ? "none/film.csv" : "film.csv");
        made_step(&readings, "base", WW_COLUMN_RED, 0.2);
        made_step(&readings, "1", WW_COLUMN_RED, 0.9)->exposure = (ww_optional){true, 0.4};
        readings.exposure = WW_EXPOSURE_WEDGE;
        spoil(rows[i].spoil, &readings);
        test_status(rows[i].name, ww_readings_file_write(&readings, path, &err), rows[i].status,
                    &err);
        test_status(rows[i].name, ww_readings_file_write_cgats(&readings, path, &err),
                    rows[i].status, &err);
        char *text = NULL;
        size_t n = 0;
        if (rows[i].spoil != NO_FOLDER)
            test_status(rows[i].name, ww_readings_file_text(&readings, &text, &n, &err),
                        rows[i].status, &err);
        test_true("no text either", text == NULL && n == 0);
        ww_readings_release(&readings);
        free(path);
    }
    assert_int_equal(test_folder_count(folder), 0);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(csv_reads_back_to_the_bit),
                                       cmocka_unit_test(pooled_reads_back_to_the_bit),
                                       cmocka_unit_test(writes_what_a_person_would),
                                       cmocka_unit_test(notes_are_comments),
                                       cmocka_unit_test(refuses_what_could_not_be_read_back),
                                       cmocka_unit_test(comma_locale_changes_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
