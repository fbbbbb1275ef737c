/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "refs/nist_univariate.h"
#include <float.h>
#include <math.h>
#include <wedgework/readings.h>

/* Pools and checks the number of rows. */
static ww_readings pool(const char *row, const ww_readings *readings, size_t n) {
    ww_readings pooled = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_readings_pool(readings, &pooled, &err), WW_OK, &err);
    if (pooled.n != n)
        fail_msg("%s: %zu rows, want %zu", row, pooled.n, n);
    return pooled;
}

/* ---- NIST StRD univariate summary statistics ---- */

static double nist_value(const nist_sample *sample, size_t i) {
    if (sample->data)
        return sample->data[i];
    return i == 0 ? sample->first : sample->pair[(i - 1) % 2];
}

/*
 * Source: NIST StRD certified values. Means agree to the last digit. An sd cannot be better than
 * the rounding of the decimal data to binary leaves it, eps/2 mean/sd: 9.4 digits of NumAcc3, 8.2
 * of NumAcc4; the summing of n squares may cost n/10 eps.
 */
static void certified_means_and_sds(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof nist_samples / sizeof *nist_samples; i++) {
        const nist_sample *sample = &nist_samples[i];
        const double mean = sample->certified_mean, sd = sample->certified_sd;
        const bool whole = sample->n == 3; /* NumAcc1: whole numbers, all of it exact */
        const double doubt = 0.5 * fabs(mean) / sd + 0.1 * (double)sample->n + 8.0;
        ww_readings readings = WW_READINGS_INIT, pooled;
        for (size_t k = 0; k < sample->n; k++)
            made_step(&readings, "x", WW_COLUMN_VISUAL, nist_value(sample, k));
        pooled = pool(sample->name, &readings, 1);
        const ww_cell *cell = &pooled.row[0].cell[WW_COLUMN_VISUAL];
        test_close(sample->name, cell->value, mean, whole ? 0.0 : 2.0 * DBL_EPSILON * fabs(mean));
        test_true(sample->name, cell->sd.set && cell->n == sample->n);
        test_close(sample->name, cell->sd.value, sd, whole ? 0.0 : DBL_EPSILON * doubt * sd);
        ww_readings_release(&pooled);
        ww_readings_release(&readings);
    }
}

/* ---- combining what was pooled before ---- */

static void set_repeats(ww_row *row, ww_column column, size_t n, double sd) {
    row->cell[column].n = n;
    row->cell[column].sd = (ww_optional){true, sd};
}

/* Closed form: {1, 2, 3} has mean 2 and sd 1, {5, 7} mean 6 and sd sqrt 2; together {1, 2, 3, 5, 7}
 * has mean 18/5 and sum of squares 23.2, so sd = sqrt 5.8. */
static void groups_combine_as_their_single_readings(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    (void)state;
    set_repeats(made_step(&readings, "9", WW_COLUMN_RED, 2.0), WW_COLUMN_RED, 3, 1.0);
    set_repeats(made_step(&readings, "9", WW_COLUMN_RED, 6.0), WW_COLUMN_RED, 2,
                1.4142135623730951);
    pooled = pool("closed form", &readings, 1);
    test_close("mean 18/5", pooled.row[0].cell[WW_COLUMN_RED].value, 3.6, 1e-15);
    test_close("sd sqrt 5.8", pooled.row[0].cell[WW_COLUMN_RED].sd.value, 2.4083189157584592,
               1e-14);
    test_true("5 readings", pooled.row[0].cell[WW_COLUMN_RED].n == 5);
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

/* One-way analysis of variance: rows of unknown spread count between rows only. Means 1.0 (n = 4)
 * and 1.6 (n = 2): mean 1.2, sum of squares 4*0.04 + 2*0.16 = 0.48, one degree of freedom. */
static void unknown_spreads_count_between_rows_only(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    (void)state;
    made_step(&readings, "9", WW_COLUMN_RED, 1.0)->cell[WW_COLUMN_RED].n = 4;
    made_step(&readings, "9", WW_COLUMN_RED, 1.6)->cell[WW_COLUMN_RED].n = 2;
    pooled = pool("between rows", &readings, 1);
    test_close("mean", pooled.row[0].cell[WW_COLUMN_RED].value, 1.2, 1e-15);
    test_close("sd sqrt 0.48", pooled.row[0].cell[WW_COLUMN_RED].sd.value, 0.69282032302755092,
               1e-14);
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

/* ---- what is a replicate ---- */

static void single_rows_stay_as_they_are(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    (void)state;
    set_repeats(made_step(&readings, "1", WW_COLUMN_BLUE, 0.731), WW_COLUMN_BLUE, 6, 0.0123);
    made_step(&readings, "2", WW_COLUMN_BLUE, 0.9);
    pooled = pool("single", &readings, 2);
    test_close("value", pooled.row[0].cell[WW_COLUMN_BLUE].value, 0.731, 0.0);
    test_close("sd", pooled.row[0].cell[WW_COLUMN_BLUE].sd.value, 0.0123, 0.0);
    test_true("n", pooled.row[0].cell[WW_COLUMN_BLUE].n == 6);
    test_true("no sd from one reading", !pooled.row[1].cell[WW_COLUMN_BLUE].sd.set);
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

static void order_is_that_of_the_first_rows(void **state) {
    static const char *const steps[] = {"9", "2", "base", "9", "10", "2", "Base", "1"};
    static const char *const want[] = {"9", "2", "base", "10", "1"};
    ww_readings readings = WW_READINGS_INIT, pooled;
    (void)state;
    for (size_t i = 0; i < 8; i++)
        made_step(&readings, steps[i], WW_COLUMN_VISUAL, 0.1 * (double)i);
    readings.row[6].is_base = true;
    pooled = pool("order", &readings, 5);
    for (size_t i = 0; i < 5; i++)
        test_text("order kept, base is one label", pooled.row[i].step, want[i]);
    test_true("line of the first", pooled.row[0].line == 2 && pooled.row[3].line == 6);
    test_close("mean of rows 0 and 3", pooled.row[0].cell[WW_COLUMN_VISUAL].value, 0.15, 1e-16);
    test_close("mean of rows 2 and 6", pooled.row[2].cell[WW_COLUMN_VISUAL].value, 0.4, 1e-15);
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

static void every_key_keeps_rows_apart(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    ww_row *row;
    (void)state;
    made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5);
    row = made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5);
    free(row->tone);
    row->tone = made_text("cloud");
    made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5)->part = WW_PART_THIN;
    row = made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5);
    free(row->pack);
    row->pack = made_text("60Y");
    made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5)->exposure = (ww_optional){true, 1.5};
    made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5)->exposure = (ww_optional){true, 1.51};
    made_value(&readings, made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5), WW_COLUMN_GRAY, 40.0);
    made_value(&readings, made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5), WW_COLUMN_GRAY, 50.0);
    made_value(&readings, made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5), WW_COLUMN_SOFT, 4.0);
    made_value(&readings, made_step(&readings, "1", WW_COLUMN_VISUAL, 0.5), WW_COLUMN_HARD, 4.0);
    pooled = pool("keys", &readings, 10);
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

static void rows_without_any_key_stay_apart(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    (void)state;
    made_step(&readings, "", WW_COLUMN_VISUAL, 0.5);
    made_step(&readings, "", WW_COLUMN_VISUAL, 1.5);
    pooled = pool("no key", &readings, 2);
    test_close("second", pooled.row[1].cell[WW_COLUMN_VISUAL].value, 1.5, 0.0);
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

static void controls_are_not_averaged(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    (void)state;
    for (int i = 0; i < 2; i++)
        made_value(&readings, made_step(&readings, "", WW_COLUMN_VISUAL, 0.5 + i), WW_COLUMN_VALUE,
                   0.3);
    pooled = pool("same code value", &readings, 1);
    test_close("sent", pooled.row[0].cell[WW_COLUMN_VALUE].value, 0.3, 0.0);
    test_true("sent once", pooled.row[0].cell[WW_COLUMN_VALUE].n == 1);
    test_close("read", pooled.row[0].cell[WW_COLUMN_VISUAL].value, 1.0, 0.0);
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

/* ---- missing and over ---- */

static void missing_does_not_count_and_over_is_said(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    ww_row *row;
    (void)state;
    made_step(&readings, "1", WW_COLUMN_RED, 2.5);
    made_row(&readings, "1", "");
    row = made_row(&readings, "1", "");
    row->cell[WW_COLUMN_RED] = (ww_cell){.state = WW_CELL_OVER, .n = 1};
    row->cell[WW_COLUMN_GREEN] = (ww_cell){.state = WW_CELL_OVER, .n = 2};
    readings.has[WW_COLUMN_GREEN] = readings.has[WW_COLUMN_BLUE] = true;
    pooled = pool("missing and over", &readings, 1);
    test_close("value", pooled.row[0].cell[WW_COLUMN_RED].value, 2.5, 0.0);
    test_true("one reading", pooled.row[0].cell[WW_COLUMN_RED].n == 1);
    test_true("over alone", pooled.row[0].cell[WW_COLUMN_GREEN].state == WW_CELL_OVER &&
                                pooled.row[0].cell[WW_COLUMN_GREEN].n == 2);
    test_true("missing", pooled.row[0].cell[WW_COLUMN_BLUE].state == WW_CELL_MISSING);
    assert_int_equal(pooled.notes.n, 1);
    assert_non_null(strstr(pooled.notes.text[0], "red"));
    assert_non_null(strstr(pooled.notes.text[0], "'1'"));
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
}

static void head_is_carried_over(void **state) {
    ww_readings readings = WW_READINGS_INIT, pooled;
    (void)state;
    readings.file = made_text("film.csv");
    readings.meta.name = made_text("made up");
    readings.exposure = WW_EXPOSURE_STOP;
    assert_int_equal(ww_notes_add(&readings.notes, NULL, "seen before"), WW_OK);
    made_step(&readings, "1", WW_COLUMN_RED, 2.5);
    pooled = pool("head", &readings, 1);
    assert_string_equal(pooled.file, "film.csv");
    assert_string_equal(pooled.meta.name, "made up");
    assert_int_equal(pooled.exposure, WW_EXPOSURE_STOP);
    assert_true(pooled.has[WW_COLUMN_RED]);
    assert_string_equal(pooled.notes.text[0], "seen before");
    ww_readings_release(&pooled);
    ww_readings_release(&readings);
    pooled = pool("empty", &readings, 0);
    ww_readings_release(&pooled);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(certified_means_and_sds),
                                       cmocka_unit_test(groups_combine_as_their_single_readings),
                                       cmocka_unit_test(unknown_spreads_count_between_rows_only),
                                       cmocka_unit_test(single_rows_stay_as_they_are),
                                       cmocka_unit_test(order_is_that_of_the_first_rows),
                                       cmocka_unit_test(every_key_keeps_rows_apart),
                                       cmocka_unit_test(rows_without_any_key_stay_apart),
                                       cmocka_unit_test(controls_are_not_averaged),
                                       cmocka_unit_test(missing_does_not_count_and_over_is_said),
                                       cmocka_unit_test(head_is_carried_over)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
