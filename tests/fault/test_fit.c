/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/accused.h"
#include "core/choice.h"
#include "core/departure.h"
#include "core/points_made.h"
#include "core/rows.h"
#include "core/series_made.h"
#include "fault/inject.h"
#include <wedgework/fit.h>
#include <wedgework/start.h>

/* Source: definition (the Status lines of the headers). */

/* Seen with GSL 2.7: the most that one failing constructor leaves behind. */
enum { GSL_LOSES = 60 };

static const ww_shape line = {WW_MODEL_TOE_LINE, false, 4, {0.25, 0.7, -2.0, 0.2}, 0, 0};

static ww_status make_series(void *context, ww_error *err) {
    ww__series s = WW__SERIES_INIT;
    (void)context;
    ww_status status = ww__series_new(13, &s, err);
    test_true("all or nothing", (status == WW_OK) == (s.u != NULL));
    if (status == WW_OK)
        status = ww__series_sort(&s, err);
    ww__series_release(&s);
    return status;
}

static ww_status solve(void *context, ww_error *err) {
    ww__shape_fit fit = {.rows = 77};
    const ww_status status =
        ww__shape_fit_solve(context, WW_MODEL_TOE_LINE, false, NULL, &fit, err);
    if (status == WW_OK)
        test_close("gamma", fit.shape.parameter[1], 0.7, 1e-6);
    else
        test_true("untouched", fit.rows == 77);
    return status;
}

static ww_status choose(void *context, ww_error *err) {
    const ww_model_kind only = WW_MODEL_TOE_LINE;
    ww__choice choice = {.n = 77};
    const ww_status status = ww__choice_make(context, false, &only, &choice, err);
    test_true("all or nothing", choice.n == (status == WW_OK ? 1 : 77));
    return status;
}

struct fitted {
    ww__series series;
    ww__shape_fit fit;
};

/* Hat matrix and the weights of departures, of one fit. */
static ww_status learn(void *context, ww_error *err) {
    const struct fitted *f = context;
    ww__rows rows = WW__ROWS_INIT;
    ww__departure d = {.n_bumps = 0};
    ww_status status = ww__rows_new(&f->series, &f->fit, &rows, err);
    test_true("all or nothing", (status == WW_OK) == (rows.hat != NULL));
    if (status != WW_OK)
        return status;
    double bump[32 * WW__DEPARTURE_BUMPS_MAX];
    ww__departure_layout(&rows, -3.05, -0.05, &d);
    assert_true(rows.n <= 32);
    for (size_t i = 0; i < rows.n; i++)
        for (size_t k = 0; k < d.n_bumps; k++)
            bump[i * d.n_bumps + k] = ww__departure_at(&d, k, rows.u[i]);
    status = ww__departure_learn(&d, rows.n, rows.residual, rows.hat, bump, 0.004, err);
    ww__rows_release(&rows);
    return status;
}

/* Points of a table, their series, and the naming of all three kinds of suspects. */
static ww_status name(void *context, ww_error *err) {
    ww__points points = WW__POINTS_INIT;
    ww__series series = WW__SERIES_INIT;
    ww_channel_curve curve = {.present = false};
    ww_notes notes = WW_NOTES_INIT;
    const ww__findings findings = {.n = 3,
                                   .item = {{WW_CAUSE_UNKNOWN, 0, 1, 1},
                                            {WW_CAUSE_SWAPPED, 0, 2, 3},
                                            {WW_CAUSE_SKIPPED, 1, 5, 5}}};
    ww_status status = ww__points_take(context, WW_VISUAL, &points, err);
    test_true("all or nothing", (status == WW_OK) == (points.n > 0));
    if (status == WW_OK)
        status = ww__points_series(&points, false, &series, err);
    if (status == WW_OK) {
        const ww__accused accused = {.findings = &findings,
                                     .series = &series,
                                     .shape = &line,
                                     .residual_sd = 0.005,
                                     .of = "",
                                     .points = &points,
                                     .curve = &curve,
                                     .notes = &notes};
        status = ww__accused_name(&accused, err);
        test_true("all are named", status != WW_OK || (curve.n_suspects == 4 && notes.n == 3));
    }
    free(curve.suspect);
    ww_notes_release(&notes);
    ww__points_release(&points);
    ww__series_release(&series);
    return status;
}

/* The whole way from readings to a curve; one thread, few resamples, the fastest model. */
static ww_status fit(void *context, ww_error *err) {
    const ww_fit_options options = {
        .model_given = true, .model = WW_MODEL_TOE_LINE, .resamples = 30, .seed = 1, .threads = 1};
    ww_curve curve = WW_CURVE_INIT;
    const ww_status status = ww_fit_readings(context, &options, &curve, err);
    const ww_channel_curve *c = &curve.channel[WW_VISUAL];
    test_true("all or nothing", (status == WW_OK) == c->fitted);
    if (status == WW_OK) {
        static ww_quantity first; /* of the run in which nothing failed */
        const ww_quantity gamma = c->figure[WW_FIGURE_GAMMA];
        if (!ww_quantity_present(first))
            first = gamma;
        test_close("gamma", gamma.value, 0.7, 0.02);
        test_close("the same gamma", gamma.value, first.value, 0.0);
        test_close("the same interval", gamma.low, first.low, 0.0);
        test_close("the same interval", gamma.high, first.high, 0.0);
        test_true("interval", gamma.low < gamma.high);
        test_true("the slip", c->n_suspects == 1 && c->suspect[0].point == 8);
    }
    ww_curve_release(&curve);
    return status;
}

/* A straight film of n steps, with a slip in the ninth. */
static ww_readings table(size_t n) {
    ww_readings r = WW_READINGS_INIT;
    dice d = {5};
    r.exposure = WW_EXPOSURE_LOG_H;
    r.meta.material = WW_MATERIAL_FILM;
    r.meta.process = WW_PROCESS_NEGATIVE;
    r.meta.exposure_unit = WW_UNIT_LUX_SECOND;
    r.meta.emulsion = WW_EMULSION_BLACK_AND_WHITE;
    made_step(&r, "base", WW_COLUMN_VISUAL, 0.25);
    for (size_t i = 0; i < n; i++) {
        char step[24];
        const double log_h = -3.05 + 3.0 * (double)i / (double)(n - 1);
        snprintf(step, sizeof step, "%zu", i + 1);
        made_step(&r, step, WW_COLUMN_VISUAL,
                  ww_model_density(&line, log_h, NULL) + dice_normal(&d, 0.004) +
                      (i == 8 ? 0.15 : 0.0))
            ->exposure = (ww_optional){true, log_h};
    }
    return r;
}

static void parts(void **state) {
    (void)state;
    struct fitted f = {.series = made_series(13, -3.05, 0.25)};
    made_of_shape(&line, &f.series);
    test_status("fit", ww__shape_fit_solve(&f.series, WW_MODEL_TOE_LINE, false, NULL, &f.fit, NULL),
                WW_OK, NULL);
    inject_each("ww__series_new", make_series, NULL);
    inject_each_but("ww__shape_fit_solve", solve, &f.series, GSL_LOSES);
    inject_each_but("ww__choice_make", choose, &f.series, GSL_LOSES);
    inject_each_but("ww__departure_learn", learn, &f, GSL_LOSES);
    ww_readings r = table(13);
    inject_each("ww__accused_name", name, &r);
    ww_readings_release(&r);
    ww__series_release(&f.series);
}

static void whole(void **state) {
    (void)state;
    ww_readings r = table(15);
    inject_each_but("ww_fit_readings", fit, &r, GSL_LOSES);
    ww_readings_release(&r);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(parts), cmocka_unit_test(whole)};
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
