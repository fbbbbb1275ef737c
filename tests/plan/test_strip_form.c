/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/strip.h>

/* Handbook series in thirds of a stop around 16 s, on a timer of 0.1 s; densities are for the user
 * to read. */
static void waits_for_densities(void **state) {
    static const double times[] = {8.0, 10.1, 12.7, 16.0, 20.2, 25.4, 32.0};
    static const char *const labels[] = {"1", "2", "3", "4", "5", "6", "7"};
    ww_strip strip = WW_STRIP_INIT;
    ww_readings form = WW_READINGS_INIT;
    (void)state;
    test_status("plan", ww_strip_plan(16.0, 1.0 / 3.0, 7, 0.1, &strip, NULL), WW_OK, NULL);
    test_status("form", ww_strip_form(&strip.series, &form, NULL), WW_OK, NULL);
    assert_int_equal(form.n, 8);
    assert_int_equal(form.exposure, WW_EXPOSURE_TIME);
    assert_int_equal(form.meta.material, WW_MATERIAL_STRIP);
    test_true("bare paper", form.row[0].is_base && !form.row[0].exposure.set);
    for (size_t i = 0; i < 7; i++) {
        const ww_row *row = &form.row[i + 1];
        test_text("label", row->step, labels[i]);
        test_close(labels[i], row->exposure.value, times[i], 1e-9);
        assert_int_equal(row->cell[WW_VISUAL].state, WW_CELL_MISSING);
    }
    ww_readings_release(&form);
    ww_strip_release(&strip);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(waits_for_densities)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
