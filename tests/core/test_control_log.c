/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/control_log.h"
#include "support/control_case.h"
#include <string.h>

/* Source: the Gregorian calendar. */
static void dates(void **state) {
    static const struct {
        const char *text, *date; /* NULL: refused */
    } rows[] = {
        {"2026-11-30", "2026-11-30"},
        {"2026-11-30T08:15", "2026-11-30T08:15"},
        {"2026-11-30 23:59", "2026-11-30T23:59"},
        {"2024-02-29", "2024-02-29"},
        {"2000-02-29", "2000-02-29"},
        {"2100-02-29", NULL},
        {"2026-02-29", NULL},
        {"2026-11-31", NULL},
        {"2026-13-01", NULL},
        {"2026-00-10", NULL},
        {"2026-11-00", NULL},
        {"1899-12-31", NULL},
        {"2026-11-30T24:00", NULL},
        {"2026-11-30T08:60", NULL},
        {"2026-11-30T8:15", NULL},
        {"2026-11-30T08:15:00", NULL},
        {"2026-11-3", NULL},
        {"30.11.2026", NULL},
        {"2026/11/30", NULL},
        {"yesterday", NULL},
        {"", NULL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char date[WW_CONTROL_DATE_SIZE] = "before";
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].text, ww_control_date_check(rows[i].text, date, &err),
                    rows[i].date ? WW_OK : WW_EINPUT, &err);
        test_text(rows[i].text, date, rows[i].date ? rows[i].date : "before");
    }
}

static void patches(void **state) {
    ww_control_patches one = {NULL, 0}, two = {NULL, 0};
    ww_control_patch *patch;
    (void)state;
    for (int i = 0; i < 5; i++) {
        char name[2] = {(char)('a' + i), '\0'};
        test_status("add", ww__control_patch_add(&one, name, i == 2 ? "LD" : "", &patch, NULL),
                    WW_OK, NULL);
        patch->state[WW_GREEN] = WW_CELL_VALUE;
        patch->density[WW_GREEN] = 0.1 * i;
        patch->correction[WW_GREEN] = 0.01;
    }
    test_status("copy", ww__control_patches_copy(&one, &two, NULL), WW_OK, NULL);
    ww_control_patches_release(&one);
    assert_int_equal(two.n, 5);
    test_text("tone", two.patch[2].tone, "LD");
    test_close("density", ww__control_patch_find(&two, "d")->density[WW_GREEN], 0.3, 1e-12);
    test_true("none", ww__control_patch_find(&two, "f") == NULL);
    ww_control_patches_release(&two);
    ww_control_patches_release(NULL);
}

static void releases_all(void **state) {
    static const double value[] = {0.7, 0.71};
    ww_control_log log = WW_CONTROL_LOG_INIT;
    (void)state;
    control_case_series(&log, 0.7, value, 2);
    control_case_delete(&log, 2, "dropped");
    control_case_limits(&log, "main", "measure,control\nLD,0.05\n");
    ww_control_log_release(&log); /* the sanitizer sees what stays */
    test_true("empty", log.n_strips == 0 && !log.strip && !log.limits);
    ww_control_log_release(&log);
    ww_control_log_release(NULL);
    ww_control_reference_release(NULL);
    ww_control_strip_release(NULL);
    ww_control_limits_release(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dates),
        cmocka_unit_test(patches),
        cmocka_unit_test(releases_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
