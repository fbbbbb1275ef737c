/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include <wedgework/readings.h>

/* A film of three steps with a repeat and base, its labels in no order; a wedge in another. */
static void make_film(ww_readings *film) {
    made_step(film, "base", WW_COLUMN_VISUAL, 0.21);
    made_step(film, "2", WW_COLUMN_VISUAL, 0.61);
    made_step(film, "1", WW_COLUMN_VISUAL, 0.23);
    made_step(film, "3", WW_COLUMN_VISUAL, 1.02);
    made_step(film, "2", WW_COLUMN_VISUAL, 0.63);
}

static void make_wedge(ww_readings *wedge, ww_column column) {
    made_step(wedge, "1", column, 2.97);
    made_step(wedge, "2", column, 1.54);
    made_step(wedge, "3", column, 0.06);
    wedge->meta.wedge = WW_WEDGE_CERTIFIED;
    wedge->meta.wedge_sd = (ww_optional){true, 0.011};
}

static void adds_the_wedge_by_label(void **state) {
    static const double want[] = {0.0, 1.54, 2.97, 0.06, 1.54};
    ww_readings film = WW_READINGS_INIT, wedge = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    make_film(&film);
    make_wedge(&wedge, WW_COLUMN_VISUAL);
    assert_int_equal(ww_notes_add(&wedge.notes, &err, "taken for percent"), WW_OK);
    made_row(&wedge, "base", "");                          /* clear film, no step */
    made_value(&wedge, &wedge.row[0], WW_COLUMN_RED, 5.5); /* visual goes before it */
    test_status("through", ww_readings_through(&film, &wedge, &err), WW_OK, &err);
    assert_int_equal(film.exposure, WW_EXPOSURE_WEDGE);
    assert_int_equal(film.meta.wedge, WW_WEDGE_CERTIFIED);
    test_close("wedge sd", film.meta.wedge_sd.value, 0.011, 0.0);
    test_true("told", test_noted(&film.notes, "of the exposures: taken for percent"));
    for (size_t i = 0; i < film.n; i++) {
        test_true("base alone has none", film.row[i].exposure.set == !film.row[i].is_base);
        if (i > 0)
            test_close(film.row[i].step, film.row[i].exposure.value, want[i], 0.0);
    }
    ww_readings_release(&film);
    ww_readings_release(&wedge);
}

/* What a plan, or an earlier strip, says that each piece got; its densities are no wedge's. */
static void takes_over_what_each_step_got(void **state) {
    static const double want[] = {0.0, 10.1, 8.0, 12.7, 10.1};
    ww_readings strip = WW_READINGS_INIT, plan = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    make_film(&strip);
    make_wedge(&plan, WW_COLUMN_VISUAL);
    plan.exposure = WW_EXPOSURE_TIME;
    strip.meta.material = WW_MATERIAL_UNKNOWN, strip.meta.density = WW_DENSITY_UNKNOWN;
    plan.meta.material = WW_MATERIAL_STRIP, plan.meta.density = WW_DENSITY_REFLECTION;
    for (size_t i = 0; i < 3; i++)
        plan.row[i].exposure = (ww_optional){true, i == 0 ? 8.0 : i == 1 ? 10.1 : 12.7};
    test_status("times", ww_readings_through(&strip, &plan, &err), WW_OK, &err);
    assert_int_equal(strip.exposure, WW_EXPOSURE_TIME);
    assert_int_equal(strip.meta.material, WW_MATERIAL_STRIP);
    assert_int_equal(strip.meta.density, WW_DENSITY_REFLECTION);
    for (size_t i = 1; i < strip.n; i++)
        test_close(strip.row[i].step, strip.row[i].exposure.value, want[i], 0.0);
    test_true("base has none", !strip.row[0].exposure.set);
    ww_readings_release(&strip);
    ww_readings_release(&plan);
}

static void keeps_what_the_wedge_does_not_say(void **state) {
    ww_readings film = WW_READINGS_INIT, wedge = WW_READINGS_INIT;
    (void)state;
    make_film(&film);
    make_wedge(&wedge, WW_COLUMN_BLUE);
    film.meta.wedge = WW_WEDGE_NOMINAL;
    wedge.meta.wedge = WW_WEDGE_UNKNOWN;
    wedge.meta.wedge_sd.set = false;
    assert_int_equal(ww_readings_through(&film, &wedge, NULL), WW_OK);
    assert_int_equal(film.meta.wedge, WW_WEDGE_NOMINAL);
    assert_false(film.meta.wedge_sd.set);
    ww_readings_release(&film);
    ww_readings_release(&wedge);
}

enum spoil {
    EXPOSED,
    UNKNOWN_STEP,
    MISSING_STEP,
    TWICE,
    NO_DENSITY,
    SEVERAL,
    OVER,
    EMPTY,
    NO_TIME
};

static const struct {
    const char *name;
    enum spoil spoil;
    ww_status status;
    const char *says;
} through_rows[] = {
    {"readings have an exposure", EXPOSED, WW_EMISMATCH, "time"},
    {"a step that the wedge lacks", UNKNOWN_STEP, WW_EMISMATCH, "'3a'"},
    {"a step that was not read", MISSING_STEP, WW_EMISMATCH, "'4'"},
    {"a label twice in the wedge", TWICE, WW_EMISMATCH, "'2'"},
    {"a wedge without density", NO_DENSITY, WW_ENODATA, "no density column"},
    {"a wedge with two channels, no visual", SEVERAL, WW_ENODATA, "several"},
    {"a wedge step beyond the instrument", OVER, WW_ENODATA, "'3'"},
    {"a wedge without rows", EMPTY, WW_ENODATA, "no steps"},
    {"a plan that lacks a time", NO_TIME, WW_ENODATA, "'1' has no time"},
};

static void spoil(enum spoil how, ww_readings *film, ww_readings *wedge) {
    switch (how) {
    case EXPOSED:
        film->exposure = WW_EXPOSURE_TIME;
        break;
    case UNKNOWN_STEP:
        made_step(film, "3a", WW_COLUMN_VISUAL, 1.2);
        break;
    case MISSING_STEP:
        made_step(wedge, "4", WW_COLUMN_GREEN, 0.02);
        break;
    case TWICE:
        made_step(wedge, "2", WW_COLUMN_GREEN, 1.55);
        break;
    case NO_DENSITY:
        wedge->has[WW_COLUMN_GREEN] = false;
        break;
    case SEVERAL:
        wedge->has[WW_COLUMN_BLUE] = true;
        break;
    case OVER:
        wedge->row[2].cell[WW_COLUMN_GREEN].state = WW_CELL_OVER;
        break;
    case EMPTY:
        ww_readings_release(wedge);
        wedge->has[WW_COLUMN_VISUAL] = true;
        break;
    case NO_TIME:
        wedge->exposure = WW_EXPOSURE_TIME;
        break;
    }
}

static void refuses_wedges_that_do_not_fit(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof through_rows / sizeof *through_rows; i++) {
        ww_readings film = WW_READINGS_INIT, wedge = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        make_film(&film);
        make_wedge(&wedge, WW_COLUMN_GREEN);
        spoil(through_rows[i].spoil, &film, &wedge);
        test_status(through_rows[i].name, ww_readings_through(&film, &wedge, &err),
                    through_rows[i].status, &err);
        test_true(through_rows[i].name, strstr(err.msg, through_rows[i].says) != NULL);
        test_true("untouched", !film.row[1].exposure.set && film.exposure != WW_EXPOSURE_WEDGE &&
                                   film.meta.wedge == WW_WEDGE_UNKNOWN);
        ww_readings_release(&film);
        ww_readings_release(&wedge);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(adds_the_wedge_by_label),
        cmocka_unit_test(takes_over_what_each_step_got),
        cmocka_unit_test(keeps_what_the_wedge_does_not_say),
        cmocka_unit_test(refuses_wedges_that_do_not_fit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
