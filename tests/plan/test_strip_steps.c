/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/strip_case.h"
#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

static ww_status take(const strip_case *c, ww_strip_kind kind, bool white, ww_strip *strip,
                      ww_error *err) {
    *strip = (ww_strip){.kind = kind};
    return ww__strip_steps_read(&c->readings, white, strip, err);
}

/* Replicates: mean, and sd / root n (definition); 0.01 for one reading: common practice. */
static void errors_of_readings(void **state) {
    strip_case c;
    ww_strip strip;
    ww_row *row;
    (void)state;
    strip_case_start(&c, true);
    strip_case_step(&c, 12.0, 0.30);
    row = strip_case_step(&c, 12.0, 0.36);
    strip_case_label(&c, row, "1");
    strip_case_step(&c, 17.3, 0.52);
    row = strip_case_step(&c, 24.0, 0.91);
    row->cell[WW_VISUAL].sd = (ww_optional){true, 0.06};
    row->cell[WW_VISUAL].n = 9;
    row = strip_case_step(&c, 33.0, 1.40);
    row->cell[WW_VISUAL].sd = (ww_optional){true, 0.0};
    row->cell[WW_VISUAL].n = 4;
    row = strip_case_step(&c, 48.0, 0.0);
    row->cell[WW_VISUAL].state = WW_CELL_OVER;
    row = strip_case_step(&c, 70.0, 0.0);
    row->cell[WW_VISUAL].state = WW_CELL_MISSING;
    test_status("steps", take(&c, WW_STRIP_READ, true, &strip, NULL), WW_OK, NULL);
    assert_int_equal(strip.n_steps, 5);
    test_close("mean", strip.step[0].density, 0.33 - STRIP_CASE_WHITE, 1e-12);
    test_close("two readings", strip.step[0].error, 0.03 * sqrt(2.0) / sqrt(2.0), 1e-12);
    test_close("one reading", strip.step[1].error, 0.01, 1e-12);
    test_close("nine", strip.step[2].error, 0.02, 1e-12);
    test_close("no better than they are written", strip.step[3].error, 0.0029, 1e-12);
    test_true("over", strip.step[4].state == WW_CELL_OVER);
    test_true("over is told", strip_case_noted(&strip, "1 step lies beyond the instrument"));
    test_close("white", strip.white.value, STRIP_CASE_WHITE, 1e-12);
    ww_strip_release(&strip);
}

/* Source: interface (zero of densities; D-min of the steps where there is no base row). */
static void paper_white(void **state) {
    strip_case c;
    ww_strip strip;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    strip_case_start(&c, false);
    strip_case_paper(&c, 3.0, 20.0, 2.0, 0.5, 14);
    test_status("fitted", take(&c, WW_STRIP_READ, true, &strip, NULL), WW_OK, NULL);
    test_true("fitted", strip.white_fitted && strip_case_noted(&strip, "A row base settles it"));
    test_close("fitted", strip.white.value, STRIP_CASE_WHITE, 0.005);
    ww_strip_release(&strip);
    c.readings.meta.relative = WW_RELATIVE_WHITE;
    test_status("relative", take(&c, WW_STRIP_READ, true, &strip, NULL), WW_OK, NULL);
    test_close("as it was read", strip.step[3].density, c.row[3].cell[WW_VISUAL].value, 1e-12);
    ww_strip_release(&strip);
    strip_case_start(&c, true);
    strip_case_paper(&c, 3.0, 20.0, 2.0, 0.5, 14);
    c.readings.meta.relative = WW_RELATIVE_WHITE;
    test_status("white twice", take(&c, WW_STRIP_READ, true, &strip, &err), WW_EMISMATCH, &err);
    test_holds("which row", err.msg, "relative to white this base row is 0, and it reads 0.0");
    ww_strip_release(&strip);
    c.row[0].cell[WW_VISUAL].value = 0.01;
    test_status("0 as read", take(&c, WW_STRIP_READ, true, &strip, NULL), WW_OK, NULL);
    test_close("is 0", strip.step[3].density, c.row[4].cell[WW_VISUAL].value, 1e-12);
    ww_strip_release(&strip);
    strip_case_start(&c, false);
    strip_case_paper(&c, 3.0, 20.0, 16.0, 0.5, 4);
    test_status("not known", take(&c, WW_STRIP_READ, true, &strip, &err), WW_ENODATA, &err);
    test_true("remedy", strstr(err.msg, "base") != NULL);
    ww_strip_release(&strip);
    test_status("not needed", take(&c, WW_STRIP_PROOF, false, &strip, NULL), WW_OK, NULL);
    test_true("not there", !strip.white.set);
    ww_strip_release(&strip);
}

static void a_slip_is_named(void **state) {
    strip_case c;
    ww_strip strip;
    (void)state;
    strip_case_start(&c, true);
    strip_case_paper(&c, 3.0, 20.0, 4.0, 1.0 / 3.0, 15);
    c.row[9].cell[WW_VISUAL].value += 0.20; /* it stays in order */
    test_status("steps", take(&c, WW_STRIP_READ, true, &strip, NULL), WW_OK, NULL);
    test_true("suspect", strip.step[8].suspect);
    test_true("told", strip_case_noted(&strip, "Step '9' lies 0.2"));
    ww_strip_release(&strip);
}

static void wet(void **state) {
    strip_case c;
    ww_strip strip;
    (void)state;
    strip_case_start(&c, true);
    strip_case_step(&c, 12.0, 0.30);
    c.readings.meta.read = WW_READ_WET;
    test_status("steps", take(&c, WW_STRIP_READ, true, &strip, NULL), WW_OK, NULL);
    test_true("told", strip_case_noted(&strip, "read wet"));
    ww_strip_release(&strip);
}

/* White reads 0.06: nothing on paper is lighter than that by more than 0.05 (common practice), or
 * by four errors. */
static void lighter_than_white(void **state) {
    static const struct {
        double density;
        ww_status status;
    } rows[] = {{0.06, WW_OK}, {0.011, WW_OK}, {0.009, WW_EMISMATCH}, {-0.40, WW_EMISMATCH}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        strip_case c;
        ww_strip strip;
        ww_error err = WW_ERROR_INIT;
        strip_case_start(&c, true);
        strip_case_step(&c, 12.0, rows[i].density);
        test_status("lighter than white", take(&c, WW_STRIP_READ, true, &strip, &err),
                    rows[i].status, &err);
        if (rows[i].status != WW_OK)
            test_holds("says so", err.msg, "lighter than the paper's white, 0.06");
        ww_strip_release(&strip);
    }
}

static void statuses(void **state) {
    static const struct {
        const char *name;
        ww_status status;
        ww_material material;
        ww_density_kind density;
        ww_process process;
        ww_exposure_column exposure;
        double time_s;
        bool read, has;
    } rows[] = {
        {"film", WW_EMISMATCH, WW_MATERIAL_FILM, 0, 0, WW_EXPOSURE_TIME, 12.0, true, true},
        {"negative", WW_EMISMATCH, WW_MATERIAL_NEGATIVE, 0, 0, WW_EXPOSURE_TIME, 12, true, true},
        {"wedge", WW_EMISMATCH, WW_MATERIAL_WEDGE, 0, 0, WW_EXPOSURE_TIME, 12.0, true, true},
        {"screen", WW_EMISMATCH, WW_MATERIAL_SCREEN, 0, 0, WW_EXPOSURE_TIME, 12.0, true, true},
        {"transmission", WW_EMISMATCH, 0, WW_DENSITY_TRANSMISSION, 0, WW_EXPOSURE_TIME, 12.0, true,
         true},
        {"reversal", WW_EMISMATCH, 0, 0, WW_PROCESS_REVERSAL, WW_EXPOSURE_TIME, 12.0, true, true},
        {"no times", WW_ENODATA, 0, 0, 0, WW_EXPOSURE_NONE, 12.0, true, true},
        {"a wedge instead", WW_ENODATA, 0, 0, 0, WW_EXPOSURE_WEDGE, 12.0, true, true},
        {"no time", WW_EDOMAIN, 0, 0, 0, WW_EXPOSURE_TIME, 0.0, true, true},
        {"less than none", WW_EDOMAIN, 0, 0, 0, WW_EXPOSURE_TIME, -3.0, true, true},
        {"not read", WW_ENODATA, 0, 0, 0, WW_EXPOSURE_TIME, 12.0, false, true},
        {"no density", WW_ENODATA, 0, 0, 0, WW_EXPOSURE_TIME, 12.0, true, false},
        {"print", WW_OK, WW_MATERIAL_PRINT, 0, 0, WW_EXPOSURE_TIME, 12.0, true, true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        strip_case c;
        ww_strip strip;
        ww_error err = WW_ERROR_INIT;
        ww_row *row;
        strip_case_start(&c, true);
        row = strip_case_step(&c, rows[i].time_s, 0.30);
        if (!rows[i].read)
            row->cell[WW_VISUAL].state = WW_CELL_OVER;
        c.readings.meta.material = rows[i].material;
        c.readings.meta.density = rows[i].density;
        c.readings.meta.process = rows[i].process;
        c.readings.exposure = rows[i].exposure;
        c.readings.has[WW_COLUMN_VISUAL] = rows[i].has;
        test_status(rows[i].name, take(&c, WW_STRIP_READ, true, &strip, &err), rows[i].status,
                    &err);
        ww_strip_release(&strip);
    }
}

static void too_many(void **state) {
    static ww_row row[WW_STRIP_STEPS_MOST + 1];
    static char label[] = "", labels[WW_STRIP_STEPS_MOST + 1][24];
    ww_readings readings = {.row = row, .n = WW_STRIP_STEPS_MOST + 1};
    ww_strip strip = {.kind = WW_STRIP_READ};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    readings.exposure = WW_EXPOSURE_TIME;
    readings.has[WW_COLUMN_VISUAL] = true;
    for (size_t i = 0; i < readings.n; i++) {
        snprintf(labels[i], sizeof labels[i], "%zu", i);
        row[i] = (ww_row){
            .step = labels[i], .tone = label, .pack = label, .exposure = {true, 1.0 + (double)i}};
        row[i].cell[WW_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = 0.3, .n = 1};
    }
    test_status("1001 steps", ww__strip_steps_read(&readings, true, &strip, &err), WW_EDOMAIN,
                &err);
    ww_strip_release(&strip);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(errors_of_readings), cmocka_unit_test(paper_white),
        cmocka_unit_test(a_slip_is_named),    cmocka_unit_test(wet),
        cmocka_unit_test(lighter_than_white), cmocka_unit_test(statuses),
        cmocka_unit_test(too_many),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
