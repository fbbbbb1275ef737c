/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/control_case.h"
#include <math.h>
#include <stdlib.h>

static rows found;

static char *make(const ww_control *control, ww_status status) {
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    test_status("data", ww__plot_control_data(control, &script, &size, NULL), status, NULL);
    if (status != WW_OK)
        ww__text_release(&script);
    return script.bytes;
}

/* Source: definition; 2026-11-01 is 20758 days after 1970-01-01 (date -d 2026-11-01 +%s). */
static void deviations_by_date(void **state) {
    const double day = 86400.0, first = 1793491200.0;
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    char *script;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "main", "measure,action,control\nLD,0.06,0.08\n");
    control_case_strip(&log, "main", "", "2026-11-01T06:00", CONTROL_WORKED);
    control_case_strip(&log, "main", "", "2026-11-02",
                       "step,red,green,blue\nD-min,0.32,0.63,0.72\nLD,0.53,0.86,0.98\n"
                       "HD,1.30,1.77,2.03\n");
    control_case_strip(&log, "main", "", "2026-11-02", CONTROL_WORKED);
    control = control_case_judge(&log, NULL);
    script = make(&control, WW_OK);
    test_close("panels", number_of(script, "n_panels"), 6.0, 0.0);
    test_holds("name", script, "panel_name[2] = 'LD'");
    rows_of(script, "points", 1, &found); /* of the panel LD: three channels of three strips */
    test_close("step", number_of(script, "x_step"), day, 0.0);
    rows_of(script, "points", -1, &found);
    test_close("D-min at six", found.cell[0][2], first + 0.25 * day, 1.0);
    for (size_t i = 0; i < found.n; i++) {
        const bool second = found.cell[i][4] == 2.0;
        if (found.cell[i][0] != 1.0)
            continue;
        test_close("deviation", found.cell[i][3],
                   !second                   ? 0.0
                   : found.cell[i][1] == 0.0 ? 0.09
                   : found.cell[i][1] == 1.0 ? 0.10
                                             : 0.0,
                   1e-9);
        test_close("ringed, and named once", found.cell[i][5],
                   !second                   ? 0.0
                   : found.cell[i][1] == 0.0 ? 1.0
                   : found.cell[i][1] == 1.0 ? 2.0
                                             : 0.0,
                   0.0);
        if (second)
            test_close("date", found.cell[i][2], first + day, 1.0);
        else if (found.cell[i][4] == 3.0)
            test_true("beside it",
                      found.cell[i][2] > first + day && found.cell[i][2] < first + 2.0 * day);
    }
    free(script);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void limits_and_lots(void **state) {
    static const double value[] = {0.70, 0.71, 0.70, 0.72, 0.70, 0.69, 0.71, 0.70, 0.72, 0.70};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    char *script;
    (void)state;
    control_case_series(&log, 0.7, value, 10);
    test_status("new lot", control_case_reference(&log, "# lot: B'\nstep,visual\nLD,0.8\n", NULL),
                WW_OK, NULL);
    control_case_strip(&log, "main", "", "2026-11-11", "step,visual\nLD,0.8\n");
    control = control_case_judge(&log, NULL);
    script = make(&control, WW_OK);
    test_close("lots", number_of(script, "n_lots"), 2.0, 0.0);
    test_holds("a name is text", script, "lot_name[2] = 'lot B\xE2\x80\x99'");
    test_holds("baseline", script, "has_base[1] = 1");
    test_holds("none", script, "has_base[2] = 0");
    rows_of(script, "limits", -1, &found);
    assert_int_equal(found.n, 3); /* lower, upper, centre of the first lot */
    test_close("centre", found.cell[2][4], 0.005, 1e-9);
    test_true("even", fabs(found.cell[0][4] + found.cell[1][4] - 0.01) < 1e-9);
    free(script);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void nothing(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = control_case_judge(&log, NULL);
    (void)state;
    make(&control, WW_ENODATA);
    ww_control_release(&control);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(deviations_by_date),
        cmocka_unit_test(limits_and_lots),
        cmocka_unit_test(nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
