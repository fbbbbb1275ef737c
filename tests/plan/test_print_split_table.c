/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include "support/split_case.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

/* Each pair's curve is the paper's own through that share, in seconds of both exposures. */
static void test_curves(void **state) {
    split_case c;
    ww__split_table table = {.pair = NULL};
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    split_case_start(&c, &split_papers[0], 120.0);
    assert_int_equal(ww__split_table_read(&c.table, &table, &notes, NULL), WW_OK);
    assert_int_equal(table.n, 5);
    assert_int_equal(notes.n, 0);
    for (size_t i = 0; i < table.n; i++) {
        const ww_curve *curve = table.pair[i].curve;
        test_close("softest first", table.pair[i].soft, 1.0 - 0.25 * (double)i, 1e-12);
        test_true("seconds",
                  curve->meta.exposure_unit == WW_UNIT_SECOND && ww_curve_origin_given(curve));
        test_close("of the print", curve->meta.exposure_time_s.value, 120.0, 1e-9);
        test_text("name", curve->meta.name, "invented");
        for (double net = 0.05; net < 1.95; net += 0.1) {
            double density = 0.0;
            const double log_h = split_log_h(c.paper, table.pair[i].soft, net);
            assert_int_equal(
                ww_curve_density(&curve->channel[WW_VISUAL], log_h, &density, NULL, NULL), WW_OK);
            test_close("density", density, 0.06 + net, net < 0.3 ? 0.008 : 0.02);
        }
    }
    test_text("soft", table.pair[0].curve->meta.contrast, "soft alone");
    test_text("mixed", table.pair[1].curve->meta.contrast, "soft 75 %");
    test_text("hard", table.pair[4].curve->meta.contrast, "hard alone");
    ww__split_table_release(&table);
    ww_notes_release(&notes);
}

/* What counts is the share: prints of other seconds in all go into one curve with their like. */
static void test_one_share(void **state) {
    split_case c;
    ww__split_table table = {.pair = NULL};
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    split_case_start(&c, &split_papers[0], 0.0);
    split_case_add(&c, 0.5, 20.0, NULL, 0.0);
    split_case_add(&c, 1.0, 80.0, NULL, 0.0);
    split_case_add(&c, 0.5, 80.0, NULL, 0.0);
    assert_int_equal(ww__split_table_read(&c.table, &table, &notes, NULL), WW_OK);
    assert_int_equal(table.n, 2);
    test_close("from the least", table.pair[1].curve->channel[WW_VISUAL].domain_low,
               log10(20.0) - 2.05, 0.2);
    test_close("to the most", table.pair[1].curve->channel[WW_VISUAL].domain_high,
               log10(80.0) - 0.05, 1e-9);
    ww__split_table_release(&table);
    ww_notes_release(&notes);
}

/* A reading that is off is named with its pair and step, and moves nothing. */
static void test_suspect(void **state) {
    split_case c;
    ww__split_table table = {.pair = NULL};
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    split_case_start(&c, &split_papers[0], 120.0);
    c.row[1 + SPLIT_STEPS + 11].cell[WW_COLUMN_VISUAL].value += 0.3;
    assert_int_equal(ww__split_table_read(&c.table, &table, &notes, NULL), WW_OK);
    assert_int_equal(notes.n, 1);
    test_holds("named", notes.text[0], "Split table, soft 75 %: step '12' reads ");
    ww__split_table_release(&table);
    ww_notes_release(&notes);
}

static void test_exposure_not_used(void **state) {
    split_case c;
    ww__split_table table = {.pair = NULL};
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    split_case_start(&c, &split_papers[0], 120.0);
    c.table.meta.exposure_time_s = (ww_optional){true, 10.0};
    assert_int_equal(ww__split_table_read(&c.table, &table, &notes, NULL), WW_OK);
    test_holds("said", notes.text[0], "The split table's exposure time is not used");
    test_close("seconds are those of the columns", table.pair[0].curve->meta.exposure_time_s.value,
               120.0, 1e-9);
    ww__split_table_release(&table);
    ww_notes_release(&notes);
}

static void film(split_case *c) {
    c->table.meta.material = WW_MATERIAL_FILM;
}
static void through_light(split_case *c) {
    c->table.meta.density = WW_DENSITY_TRANSMISSION;
}
static void by_time(split_case *c) {
    c->table.exposure = WW_EXPOSURE_TIME;
}
static void no_column(split_case *c) {
    c->table.has[WW_COLUMN_HARD] = false;
}
static void no_seconds(split_case *c) {
    c->row[5].cell[WW_COLUMN_HARD].state = WW_CELL_MISSING;
}
static void no_light(split_case *c) {
    c->row[5].cell[WW_COLUMN_SOFT].value = 0.0;
    c->row[5].cell[WW_COLUMN_HARD].value = 0.0;
}
static void less_than_no_light(split_case *c) {
    c->row[5].cell[WW_COLUMN_HARD].value = -2.0;
}
static void one_pair(split_case *c) {
    c->table.n = 1 + SPLIT_STEPS;
}
static void white_only(split_case *c) {
    c->table.n = 1;
}
static void few_steps(split_case *c) {
    c->table.n = 1 + SPLIT_STEPS + 4;
}
/* Density falls with light: the wedge's densities stand upside down. */
static void upside_down(split_case *c) {
    for (size_t i = 1; i <= SPLIT_STEPS; i++)
        c->row[i].exposure.value = 2.10 - c->row[i].exposure.value;
}
/* It falls again over the last steps. */
static void falls_again(split_case *c) {
    for (size_t i = 1; i <= 5; i++)
        c->row[i].cell[WW_COLUMN_VISUAL].value -= 0.2 * (double)(6 - i);
}

static void test_refused(void **state) {
    static const struct {
        const char *name;
        void (*spoil)(split_case *c);
        ww_status status;
        const char *message;
    } rows[] = {
        {"film", film, WW_EMISMATCH, "a split table is paper, read by reflection"},
        {"transmission", through_light, WW_EMISMATCH, "a split table is paper"},
        {"no wedge", by_time, WW_EMISMATCH, "in a column 'wedge'"},
        {"no column", no_column, WW_EMISMATCH, "'hard' is not here"},
        {"no seconds", no_seconds, WW_ENODATA, "has no seconds in 'hard'; write 0"},
        {"no light", no_light, WW_EDOMAIN, "can't have had those seconds"},
        {"less than none", less_than_no_light, WW_EDOMAIN, "can't have had those seconds"},
        {"one pair", one_pair, WW_ENODATA, "the steps of one share of soft only"},
        {"no pair", white_only, WW_ENODATA, "has no step"},
        {"few steps", few_steps, WW_ENODATA, "'soft 75 %' of the split table has no curve"},
        {"upside down", upside_down, WW_EMISMATCH, "'soft alone' of the split table"},
        {"falls again", falls_again, WW_EMISMATCH, "density falls again at step"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        split_case c;
        ww__split_table table = {.pair = NULL};
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        split_case_start(&c, &split_papers[0], 120.0);
        rows[i].spoil(&c);
        test_status(rows[i].name, ww__split_table_read(&c.table, &table, &notes, &err),
                    rows[i].status, &err);
        test_holds(rows[i].name, err.msg, rows[i].message);
        test_true(rows[i].name, table.pair == NULL && table.n == 0);
        ww_notes_release(&notes);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_curves),  cmocka_unit_test(test_one_share),
        cmocka_unit_test(test_suspect), cmocka_unit_test(test_exposure_not_used),
        cmocka_unit_test(test_refused),
    };
    return cmocka_run_group_tests_name("print_split_table", tests, NULL, NULL);
}
