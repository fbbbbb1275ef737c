/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/points.h"
#include "core/points_made.h"

/* Source: definition (the header), except where a row names another. */

/* ------------------------------------------------------------------------------- taking */

static void in_the_order_of_the_readings(void **state) {
    (void)state;
    ww_readings r = WW_READINGS_INIT;
    r.exposure = WW_EXPOSURE_STOP;
    made_step(&r, "base", WW_COLUMN_GREEN, 0.231)->cell[WW_GREEN].n = 3;
    r.row[0].cell[WW_GREEN].sd = (ww_optional){true, 0.004};
    made_step(&r, "9b", WW_COLUMN_GREEN, 1.31)->exposure = (ww_optional){true, 2.5};
    made_step(&r, "2", WW_COLUMN_RED, 0.71)->exposure = (ww_optional){true, 1.0};
    ww_row *over = made_row(&r, "11", "");
    over->exposure = (ww_optional){true, 9.0};
    over->cell[WW_GREEN].state = WW_CELL_OVER;
    ww_row *row = made_step(&r, "4", WW_COLUMN_GREEN, 0.87);
    row->exposure = (ww_optional){true, -1.5};
    row->cell[WW_GREEN].n = 5;
    row->cell[WW_GREEN].sd = (ww_optional){true, 0.011};
    r.meta.log_h0 = (ww_optional){true, -1.7};

    ww__points p = WW__POINTS_INIT;
    test_status("take", ww__points_take(&r, WW_GREEN, &p, NULL), WW_OK, NULL);
    assert_int_equal(p.n, 3); /* the red reading is not one of green's */
    test_true("base", p.has_base && p.base_n == 3 && p.base_sd.set);
    test_close("base", p.base, 0.231, 0.0);
    test_close("base", p.base_sd.value, 0.004, 0.0);
    test_text("first", p.point[0].step, "9b");
    test_close("2.5 stops over log h0", p.point[0].log_h, -1.7 + 2.5 * 0.301029995663981, 1e-12);
    test_close("density", p.point[0].density, 1.31, 0.0);
    test_text("beyond the instrument", p.point[1].step, "11");
    test_true("beyond the instrument", p.point[1].state == WW_CELL_OVER);
    test_text("last", p.point[2].step, "4");
    test_true("repeats", p.point[2].n == 5 && p.point[2].sd.set && !p.point[2].cut);
    assert_int_equal(ww__points_index(&p, 0), 0); /* of the series: what is over is not in it */
    assert_int_equal(ww__points_index(&p, 1), 2);

    p.point[2].log_h += 0.137; /* as after a step skipped */
    test_status("moved", ww__points_mark_moved(&r, WW_GREEN, p.point, NULL), WW_OK, NULL);
    test_close("moved", p.point[2].moved, 0.137, 1e-12);
    test_close("not moved", p.point[0].moved, 0.0, 0.0);
    test_close("not moved", p.point[1].moved, 0.0, 0.0);
    r.row[1].exposure.set = false;
    test_status("no exposure", ww__points_mark_moved(&r, WW_GREEN, p.point, NULL), WW_ENODATA,
                NULL);
    ww__points_release(&p);
    ww__points_release(&p);
    ww__points_release(NULL);

    test_status("none", ww__points_take(&r, WW_BLUE, &p, NULL), WW_OK, NULL);
    test_true("none", p.n == 0 && !p.has_base);
    ww__points_release(&p);
    ww_readings_release(&r);
}

static void impossible_exposures(void **state) {
    (void)state;
    ww_readings r = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    ww__points p = {.n = 77};
    r.exposure = WW_EXPOSURE_TIME;
    made_step(&r, "1", WW_COLUMN_VISUAL, 0.3)->exposure = (ww_optional){true, 2.0};
    made_step(&r, "2", WW_COLUMN_VISUAL, 0.4)->exposure = (ww_optional){true, 0.0};
    test_status("no time", ww__points_take(&r, WW_VISUAL, &p, &err), WW_EDOMAIN, &err);
    r.row[1].exposure.set = false;
    test_status("no exposure", ww__points_take(&r, WW_VISUAL, &p, &err), WW_ENODATA, &err);
    test_true("untouched", p.n == 77);
    ww_readings_release(&r);
}

/* -------------------------------------------------------------------- a fall of density */

enum { STEPS = 12 };
typedef struct fall_row {
    const char *name;
    double last[5]; /* after seven readings that rise from 0.3 by 0.2, to 1.5 */
    size_t cut;
} fall_row;

static const fall_row falls[] = {
    {"rises to the end", {1.7, 1.8, 1.85, 1.88, 1.89}, 0},
    {"flat, with scatter", {1.70, 1.705, 1.699, 1.703, 1.698}, 0},
    {"a real fall over two", {1.7, 1.8, 1.85, 1.81, 1.74}, 2},
    {"over three", {1.7, 1.83, 1.79, 1.7, 1.58}, 3},
    {"over four", {1.7, 1.66, 1.6, 1.52, 1.41}, 4},
    {"a single low last reading", {1.7, 1.8, 1.85, 1.88, 1.6}, 0},
    {"the same after scatter on a plateau", {1.7, 1.8, 1.852, 1.846, 1.6}, 0},
    {"a high reading, then scatter", {1.7, 1.75, 1.9, 1.762, 1.757}, 0},
    {"too little to be real", {1.7, 1.8, 1.83, 1.81, 1.79}, 0},
    {"0.044 in all, too little by itself", {1.7, 1.85, 1.845, 1.818, 1.806}, 0},
    {"0.056 in all, just enough", {1.7, 1.85, 1.845, 1.818, 1.794}, 3},
    {"it does not go on falling", {1.7, 1.8, 1.7, 1.75, 1.6}, 0},
};

static ww__points falling_off(const fall_row *row) {
    double density[STEPS];
    for (size_t i = 0; i < STEPS; i++)
        density[i] = i < 7 ? 0.3 + 0.2 * (double)i : row->last[i - 7];
    return made_points(STEPS, -2.1, 0.15, density);
}

static void count_cut(const fall_row *row, ww__points *p, bool falling) {
    assert_int_equal(ww__points_cut_fall(p, falling), row->cut);
    for (size_t i = 0; i < STEPS; i++)
        test_true(row->name, p->point[i].cut == (i + row->cut >= STEPS));
    ww__points_release(p);
}

static void real_falls(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof falls / sizeof *falls; i++) {
        const fall_row *row = &falls[i];
        ww__points p = falling_off(row);
        count_cut(row, &p, false);
        /* Reversal material is densest where it was exposed least. */
        p = falling_off(row);
        for (size_t k = 0; k < STEPS; k++)
            p.point[k].log_h = -p.point[k].log_h;
        count_cut(row, &p, true);
        /* What is beyond the instrument has no density; the others are judged as ever. */
        p = falling_off(row);
        p.point[2].state = WW_CELL_OVER;
        p.point[2].density = 0.0;
        count_cut(row, &p, false);
    }
    /* A last step off the scale says that density rose again; so do repeats that disagree. */
    static const fall_row over = {"over after a fall", {1.7, 1.85, 1.81, 1.74, 0.0}, 0};
    ww__points q = falling_off(&over);
    q.point[STEPS - 1].state = WW_CELL_OVER;
    count_cut(&over, &q, false);
    static const fall_row repeat = {"a repeat did not fall", {1.7, 1.85, 1.81, 1.74, 1.84}, 0};
    q = falling_off(&repeat);
    q.point[STEPS - 1].log_h = q.point[STEPS - 2].log_h;
    count_cut(&repeat, &q, false);
    const double most[STEPS] = {0.3, 0.5, 0.7, 0.9, 1.1, 1.3, 1.5, 1.45, 1.4, 1.3, 1.2, 1.1};
    ww__points five = made_points(STEPS, -2.1, 0.15, most);
    assert_int_equal(ww__points_cut_fall(&five, false), 0); /* more than a third of all */
    ww__points_release(&five);
    double down[STEPS];
    for (size_t i = 0; i < STEPS; i++)
        down[i] = 2.0 - 0.1 * (double)i;
    ww__points wrong = made_points(STEPS, -2.1, 0.15, down), none = WW__POINTS_INIT;
    assert_int_equal(ww__points_cut_fall(&wrong, false), 0); /* the wrong process, not a fall */
    assert_int_equal(ww__points_cut_fall(&none, false), 0);
    ww__points_release(&wrong);
}

/* ------------------------------------------------------------------------------ weights */

static void weights_are_repeats(void **state) {
    (void)state;
    static const double density[] = {0.3, 0.5, 0.8, 1.1};
    ww__points p = made_points(4, -1.0, 0.3, density);
    ww__series s = WW__SERIES_INIT;
    p.point[1].n = 4;
    p.point[2].cut = true;
    p.has_base = true;
    p.base = 0.22;
    p.base_n = 2;
    p.point[0].sd = (ww_optional){true, 0.01}; /* two say little: not used */
    p.point[3].sd = (ww_optional){true, 0.04};
    test_status("series", ww__points_series(&p, false, &s, NULL), WW_OK, NULL);
    assert_int_equal(s.n, 3);
    test_close("one", s.weight[0], 1.0, 0.0);
    test_close("four", s.weight[1], 4.0, 0.0);
    test_close("what is cut is left out", s.density[2], 1.1, 0.0);
    test_close("a spread of two points", s.weight[2], 1.0, 0.0);
    test_true("base", s.has_base);
    test_close("base", s.base, 0.22, 0.0);
    test_close("base", s.base_weight, 2.0, 0.0);
    assert_int_equal(ww__points_index(&p, 2), 3);
    ww__series_release(&s);
    test_status("falling", ww__points_series(&p, true, &s, NULL), WW_OK, NULL);
    test_close("mirrored", s.u[1], 0.7, 1e-12);
    assert_int_equal(s.order[0], 2);
    ww__series_release(&s);
    ww__points_release(&p);
}

/*
 * Source: Smyth 2004, by hand. Spreads 0.01 (n = 3), 0.02 (n = 5), 0.04 (n = 2): the common
 * variance is (2 x 1 + 4 x 4 + 1 x 16) / 7 = 34/7 in 1e-4 D^2; each own one (v s^2 + 4 x 34/7) /
 * (v + 4): 25/7, 31/7 and 248/35; weights n x common / own.
 */
static void moderated_variances(void **state) {
    (void)state;
    static const double density[] = {0.3, 0.5, 0.8, 1.1};
    ww__points p = made_points(4, -1.0, 0.3, density);
    ww__series s = WW__SERIES_INIT;
    static const size_t n[] = {3, 5, 2};
    static const double sd[] = {0.01, 0.02, 0.04};
    for (size_t i = 0; i < 3; i++) {
        p.point[i].n = n[i];
        p.point[i].sd = (ww_optional){true, sd[i]};
    }
    p.point[3].n = 6; /* states none: common */
    p.has_base = true;
    p.base_n = 2;
    p.base_sd = (ww_optional){true, 0.01}; /* (1 + 4 x 34/7) / 5 = 143/35 */
    test_status("series", ww__points_series(&p, false, &s, NULL), WW_OK, NULL);
    test_close("0.01 of 3", s.weight[0], 3.0 * (34.0 / 7.0) / ((2.0 + 136.0 / 7.0) / 6.0), 1e-12);
    test_close("0.01 of 3", s.weight[0], 3.0 * 34.0 / 25.0, 1e-12);
    test_close("0.02 of 5", s.weight[1], 5.0 * 34.0 / 31.0, 1e-12);
    test_close("0.04 of 2", s.weight[2], 2.0 * 170.0 / 248.0, 1e-12);
    test_close("none stated", s.weight[3], 6.0, 0.0);
    test_close("base", s.base_weight, 2.0 * 170.0 / 143.0, 1e-12);
    ww__series_release(&s);
    for (size_t i = 0; i < 3; i++)
        p.point[i].sd.value = 0.0; /* all repeats alike, as rounded readings often are */
    test_status("no spread", ww__points_series(&p, false, &s, NULL), WW_OK, NULL);
    for (size_t i = 0; i < 3; i++)
        test_close("no spread", s.weight[i], (double)n[i], 0.0);
    ww__series_release(&s);
    ww__points_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_the_order_of_the_readings),
        cmocka_unit_test(impossible_exposures),
        cmocka_unit_test(real_falls),
        cmocka_unit_test(weights_are_repeats),
        cmocka_unit_test(moderated_variances),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
