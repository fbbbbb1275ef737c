/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/lesson.h>

/* Source: the lesson itself; the interface's metadata. */
static void table(void **state) {
    ww_lesson lesson = {.n = 4};
    ww_readings made = WW_READINGS_INIT;
    (void)state;
    test_status("strip", ww_lesson_draw(3, 1, WW_LESSON_PAPER, &lesson.strip, NULL), WW_OK, NULL);
    for (size_t i = 0; i < lesson.n; i++)
        lesson.given[i] = (ww_lesson_given){i == 0, 0.1 * (double)i, 2.0 - 0.3 * (double)i};
    test_status("table", ww_lesson_table(&lesson, &made, NULL), WW_OK, NULL);
    assert_int_equal(made.n, 4);
    assert_int_equal(made.exposure, WW_EXPOSURE_WEDGE);
    assert_int_equal(made.meta.material, WW_MATERIAL_PAPER);
    assert_int_equal(made.meta.exposure_unit, WW_UNIT_SECOND);
    assert_null(made.meta.name);
    test_text("base", made.row[0].step, "base");
    test_true("base", made.row[0].is_base && !made.row[0].exposure.set);
    test_text("step", made.row[3].step, "3");
    test_close("wedge", made.row[3].exposure.value, 0.3, 1e-12);
    test_close("density", made.row[3].cell[WW_VISUAL].value, 1.1, 1e-12);
    ww_readings_release(&made);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(table)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
