/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "strip_made.h"

static rows found;

static char *make(const ww_strip *strip) {
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    test_status("data", ww__plot_strip_data(strip, &script, &size, NULL), WW_OK, NULL);
    return script.bytes;
}

/* Source: definition: log10 of the times, 1.96 standard errors. */
static void density_against_log_time(void **state) {
    const ww_strip strip = strip_made();
    char *script = make(&strip);
    (void)state;
    rows_of(script, "steps", -1, &found);
    assert_int_equal(found.n, 3);
    test_close("time", found.cell[1][0], log10(16.0), 1e-8);
    test_close("density", found.cell[1][1], 0.13, 1e-9);
    test_close("half-width", found.cell[1][2], 0.0196, 1e-6);
    test_close("used", found.cell[1][3], 0.0, 0.0);
    test_close("out of order", found.cell[2][3], 1.0, 0.0);
    test_close("aim", number_of(script, "level"), 0.10, 1e-9);
    test_close("time found", number_of(script, "best"), log10(14.3), 1e-8);
    test_close("from", number_of(script, "best_low"), log10(12.9), 1e-8);
    test_close("to", number_of(script, "best_high"), log10(15.8), 1e-8);
    rows_of(script, "line", -1, &found);
    assert_int_equal(found.n, 3);
    rows_of(script, "pieces", -1, &found);
    assert_int_equal(found.n, 3);
    test_true("darker to the right", found.cell[0][1] > found.cell[2][1]);
    test_holds("in all", script, "piece_all[3] = '16.5 s'");
    test_holds("added", script, "piece_added[3] = '+2.2 s'");
    test_true("all steps in sight",
              number_of(script, "x_from") < log10(12.0) && number_of(script, "x_to") > log10(20.0));
    free(script);
}

static void safelight(void **state) {
    const ww_strip strip = strip_made_safelight();
    char *script = make(&strip);
    (void)state;
    rows_of(script, "steps", -1, &found);
    assert_int_equal(found.n, 2); /* the covered piece has no log time: it is the level */
    test_close("changed", found.cell[1][3], 2.0, 0.0);
    test_close("level", number_of(script, "level"), 0.25, 1e-9);
    test_close("limit", number_of(script, "level_change"), 0.02, 1e-9);
    test_close("no strip", number_of(script, "n_pieces"), 0.0, 0.0);
    free(script);
}

static void nothing_and_a_plan(void **state) {
    const ww_strip none = WW_STRIP_INIT;
    ww_strip plan = strip_made();
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    char *made;
    (void)state;
    test_status("nothing", ww__plot_strip_data(&none, &script, &size, &err), WW_ENODATA, &err);
    ww__text_release(&script);
    plan.kind = WW_STRIP_PLAN;
    plan.n_steps = plan.n_line = 0;
    plan.best.how = WW_ABSENT;
    made = make(&plan);
    test_close("no density", number_of(made, "has_main"), 0.0, 0.0);
    test_lacks("no infinity", made, "inf");
    free(made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(density_against_log_time),
        cmocka_unit_test(safelight),
        cmocka_unit_test(nothing_and_a_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
