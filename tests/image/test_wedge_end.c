/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "image/wedge_end.h"
#include "support/scan_case.h"

/*
 * Source: definition. Steps of the made case are 0.1485 D apart, and its scanner ends at 0.05 + 20
 * * 0.1485 = 3.02; a constant that is added to all is no fault of one end.
 */
static const struct {
    const char *name;
    double first, last, all; /* by which ends, and all, read denser than they are */
    bool assumed, over;      /* over: the last step lies beyond the scanner */
    double file;             /* by which the file has the last step thinner */
    ww_status status;
    const char *says;
} rows[] = {
    {"itself", 0.0, 0.0, 0.0, true, false, 0.0, WW_OK, NULL},
    {"dirt", 0.14, 0.14, 0.0, true, false, 0.0, WW_OK, NULL},
    {"glass", 0.0, 0.16, 0.0, true, false, 0.0, WW_EMISMATCH, "step '21' reads at least 0.16 D d"},
    {"open light", -0.2, 0.0, 0.0, true, false, 0.0, WW_EMISMATCH, "step '1' reads at least 0.20"},
    {"a picture that shows it", 0.0, 0.3, 0.0, false, false, 0.0, WW_OK, NULL},
    {"another exposure", 0.0, 0.0, 0.3, true, false, 0.0, WW_OK, NULL},
    {"beyond", 0.0, 0.0, 0.0, true, true, 0.0, WW_OK, NULL},
    {"beyond, and thin by its file", 0.0, 0.0, 0.0, true, true, 0.1, WW_EMISMATCH,
     "20 steps are seen where"},
};

static void ends_that_are_none_are_refused(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct scan_case made;
        struct scanner_case scanner;
        ww_readings wedge = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        scan_case_strip(&made, false);
        scan_case_scanner(&scanner, false);
        made.measured.end_assumed = rows[i].assumed;
        for (size_t k = 0; k < SCAN_CASE_STEPS; k++) {
            const bool last = k == SCAN_CASE_STEPS - 1;
            const double off = rows[i].all + (k == 0 ? rows[i].first : last ? rows[i].last : 0.0);
            made_step(&wedge, made.patch[k].step, WW_COLUMN_VISUAL,
                      scan_case_density(k) - (last ? rows[i].file : 0.0));
            made.patch[k].channel[WW_VISUAL].density =
                (ww_cell){.state = last && rows[i].over ? WW_CELL_OVER : WW_CELL_VALUE,
                          .value = scan_case_density(k) + off};
        }
        test_status(rows[i].name,
                    ww__wedge_end_check(&made.measured, &wedge, &scanner.scanner, &err),
                    rows[i].status, &err);
        test_true(rows[i].name, !rows[i].says || strstr(err.msg, rows[i].says));
        ww_readings_release(&wedge);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ends_that_are_none_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
