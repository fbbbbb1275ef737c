/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/strip_case.h"
#include "support/support.h"
#include <string.h>

/*
 * White 0.06, a covered piece, then pieces that lay 60, 120, 240 and 420 s under the safelight,
 *           read
 * five times each (0.01 D of one reading: a change is over 0.02 where its error allows). Source:
 * the
 * header's definition of a change.
 */
static const struct {
    const char *name;
    double covered, piece[4];
    bool holds, insensitive;
    double safe, changed; /* 0: none */
    const char *says;
} rows[] = {
    {"no change", 0.30, {0.30, 0.30, 0.31, 0.31}, true, false, 420, 0, "Nothing is known beyond"},
    {"0.02 is none", 0.30, {0.30, 0.31, 0.32, 0.32}, true, false, 420, 0, NULL},
    {"from 240 s on", 0.30, {0.30, 0.31, 0.34, 0.40}, true, false, 120, 240, NULL},
    {"at the longest", 0.30, {0.30, 0.30, 0.31, 0.33}, true, false, 240, 420, NULL},
    {"at the shortest", 0.30, {0.33, 0.35, 0.40, 0.45}, false, false, 0, 60, NULL},
    {"bare paper", 0.07, {0.07, 0.07, 0.07, 0.07}, false, true, 0, 0, "Bare paper stays white"},
    {"bare paper, fogged", 0.07, {0.07, 0.07, 0.07, 0.15}, false, true, 0, 420, "Bare paper"},
    {"too dark a grey", 0.60, {0.60, 0.60, 0.60, 0.60}, false, true, 0, 0, "0.15 to 0.40"},
    {"0.15 above paper will do", 0.21, {0.21, 0.21, 0.21, 0.21}, true, false, 420, 0, NULL},
    {"0.40 too", 0.46, {0.46, 0.46, 0.46, 0.46}, true, false, 420, 0, NULL},
    {"one lighter", 0.30, {0.30, 0.26, 0.30, 0.30}, false, false, 0, 0, "is 0.04 lighter"},
    {"covered got light", 0.30, {0.25, 0.25, 0.26, 0.25}, false, false, 0, 0, "got light itself"},
    {"it too, and a change",
     0.30,
     {0.20, 0.20, 0.23, 0.26},
     false,
     false,
     0,
     0,
     "got light itself"},
    {"other end", 0.29, {0.29, 0.29, 0.25, 0.20}, false, false, 0, 0, "from the other end"},
    {"changed over", 0.30, {0.26, 0.30, 0.30, 0.35}, false, false, 0, 420, "is 0.04 lighter"},
    {"no change after one",
     0.30,
     {0.30, 0.35, 0.30, 0.40},
     true,
     false,
     60,
     120,
     "no change after a shorter one"},
};

static void start(strip_case *c, double covered, const double piece[], size_t readings) {
    static const double time_s[] = {60.0, 120.0, 240.0, 420.0};
    ww_row *row;
    strip_case_start(c, true);
    row = strip_case_step(c, 0.0, covered);
    strip_case_label(c, row, "Covered");
    row->exposure.set = false;
    for (size_t i = 0; i < 4; i++)
        strip_case_step(c, time_s[i], piece[i]);
    for (size_t i = 0; i < c->readings.n; i++)
        c->row[i].cell[WW_VISUAL].n = readings;
}

static void verdicts(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        strip_case c;
        ww_strip strip = WW_STRIP_INIT;
        start(&c, rows[i].covered, rows[i].piece, 5);
        test_status(rows[i].name, ww_strip_safelight(&c.readings, &strip, NULL), WW_OK, NULL);
        if (strip.holds != rows[i].holds || strip.insensitive != rows[i].insensitive)
            fail_msg("%s: holds %d, insensitive %d", rows[i].name, strip.holds, strip.insensitive);
        test_true(rows[i].name, ww_quantity_present(strip.best) == (rows[i].safe > 0.0));
        if (rows[i].safe > 0.0) {
            test_close(rows[i].name, strip.best.value, rows[i].safe, 0.0);
            test_close(rows[i].name, strip.best.high,
                       rows[i].changed > 0.0 ? rows[i].changed : rows[i].safe, 0.0);
            test_true(rows[i].name, strip.high_open == (rows[i].changed == 0.0));
        }
        test_true(rows[i].name, strip.changed_s.set == (rows[i].changed > 0.0));
        if (rows[i].changed > 0.0)
            test_close(rows[i].name, strip.changed_s.value, rows[i].changed, 0.0);
        if (rows[i].says)
            test_true(rows[i].says, strip_case_noted(&strip, rows[i].says));
        test_true("no strip to expose", strip.series.n == 0);
        ww_strip_release(&strip);
    }
}

/* One reading each: twice the error of a difference is 0.028, and 0.025 does not show. */
static void error_of_a_change(void **state) {
    static const double piece[] = {0.30, 0.30, 0.325, 0.33};
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    start(&c, 0.30, piece, 1);
    test_status("read", ww_strip_safelight(&c.readings, &strip, NULL), WW_OK, NULL);
    test_close("change", strip.least_change, 0.0282843, 1e-6);
    test_close("0.025 is none", strip.best.value, 240.0, 0.0);
    test_close("0.03 is one", strip.changed_s.value, 420.0, 0.0);
    test_true("told", strip_case_noted(&strip, "less than 0.03 D would not have shown"));
    ww_strip_release(&strip);
}

static void without_white(void **state) {
    static const double piece[] = {0.30, 0.30, 0.30, 0.30};
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    start(&c, 0.30, piece, 5);
    c.row[0].cell[WW_VISUAL].state = WW_CELL_MISSING;
    test_status("read", ww_strip_safelight(&c.readings, &strip, NULL), WW_OK, NULL);
    test_true("stands on the grey", strip.holds && !strip.grey.set);
    test_true("told", strip_case_noted(&strip, "Add a row base"));
    ww_strip_release(&strip);
}

static void beyond_the_instrument(void **state) {
    static const double piece[] = {0.30, 0.30, 0.30, 0.30};
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    start(&c, 0.30, piece, 5);
    c.row[5].cell[WW_VISUAL].state = WW_CELL_OVER;
    test_status("read", ww_strip_safelight(&c.readings, &strip, NULL), WW_OK, NULL);
    test_close("is a change", strip.changed_s.value, 420.0, 0.0);
    ww_strip_release(&strip);
}

static void refusals(void **state) {
    static const double piece[] = {0.30, 0.30, 0.30, 0.30};
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    start(&c, 0.30, piece, 5);
    strip_case_label(&c, &c.row[1], "1");
    c.row[1].exposure = (ww_optional){true, 30.0};
    test_status("nothing covered", ww_strip_safelight(&c.readings, &strip, &err), WW_ENODATA, &err);
    test_true("remedy", strstr(err.msg, "name its row covered") != NULL);
    start(&c, 0.30, piece, 5);
    c.row[1].exposure = (ww_optional){true, 30.0};
    test_status("covered for 30 s", ww_strip_safelight(&c.readings, &strip, &err), WW_EDOMAIN,
                &err);
    start(&c, 0.30, piece, 5);
    c.readings.n = 2;
    test_status("nothing tested", ww_strip_safelight(&c.readings, &strip, &err), WW_ENODATA, &err);
    c.readings.meta.material = WW_MATERIAL_FILM;
    test_status("film", ww_strip_safelight(&c.readings, &strip, &err), WW_EMISMATCH, &err);
    test_true("untouched", strip.step == NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts),      cmocka_unit_test(error_of_a_change),
        cmocka_unit_test(without_white), cmocka_unit_test(beyond_the_instrument),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
