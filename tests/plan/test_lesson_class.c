/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <stdio.h>
#include <wedgework/lesson_class.h>
#include <wedgework/readings_file.h>

/* Straight lines of slopes 0.60, 0.62, 0.61 and 0.90 from base 0.20 at log H -2 on: by hand the
 * median gamma is 0.615, the median of departures 0.01, and the fourth departs. */
static const double slope[] = {0.60, 0.62, 0.61, 0.90};

static void read_table(size_t i, const char *more, ww_readings *readings) {
    char text[2000];
    size_t n = (size_t)snprintf(text, sizeof text,
                                "# material: film\n# process: negative\n# density: transmission\n"
                                "step,logh,visual\nbase,,0.20\n");
    for (int k = 0; k <= 20; k++) {
        const double x = -2.6 + 0.15 * k, d = 0.20 + slope[i] * (x > -2.0 ? x + 2.0 : 0.0);
        n += (size_t)snprintf(text + n, sizeof text - n, "%d,%.2f,%.4f\n", k, x, d);
    }
    n += (size_t)snprintf(text + n, sizeof text - n, "%s", more);
    test_status("table", ww_readings_file_parse("s.csv", text, n, readings, NULL), WW_OK, NULL);
}

static void spread(void **state) {
    ww_readings readings[4] = {WW_READINGS_INIT};
    ww_lesson_class c = WW_LESSON_CLASS_INIT;
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        readings[i] = (ww_readings)WW_READINGS_INIT;
        read_table(i, i == 3 ? "20,0.40,2.46\n" : "", &readings[i]);
    }
    test_status("class", ww_lesson_class_make(readings, 4, &c, NULL), WW_OK, NULL);
    const ww_lesson_spread *gamma = &c.spread[WW_LESSON_GAMMA];
    assert_int_equal(gamma->n, 4);
    test_close("median", gamma->median, 0.615, 1e-3);
    test_close("sd", gamma->sd, 1.4826 * 0.01, 1e-3);
    test_close("greatest", gamma->greatest, 0.90, 0.05);
    test_true("the fourth departs", c.member[3].departs[WW_LESSON_GAMMA]);
    test_true("the first does not", !c.member[0].departs[WW_LESSON_GAMMA]);
    test_true("two typings", test_noted(&c.notes, "was typed as 2.36 and as 2.46"));
    ww_lesson_class_release(&c);
    readings[2].meta.material = WW_MATERIAL_PAPER;
    ww_error err = WW_ERROR_INIT;
    test_status("paper beside film", ww_lesson_class_make(readings, 4, &c, &err), WW_EMISMATCH,
                &err);
    readings[2].meta.material = WW_MATERIAL_FILM;
    for (size_t k = 2; k < readings[2].n; k++)
        readings[2].row[k].cell[WW_VISUAL].state = WW_CELL_MISSING;
    test_status("one step", ww_lesson_class_make(readings, 4, &c, &err), WW_ENODATA, &err);
    assert_int_equal(c.n, 0);
    for (size_t i = 0; i < 4; i++)
        ww_readings_release(&readings[i]);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(spread)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
