/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <stdlib.h>
#include <wedgework/match_aim.h>

/* Source: the header: the first byte tells a curve file from readings. */
static void told_apart(void **state) {
    (void)state;
    static const struct {
        const char *row, *text;
        ww_status status;
        bool is_curve;
    } rows[] = {
        {"readings", "gray,visual\n0,0.07\n100,1.61\n", WW_OK, false},
        {"not a curve", "\n {\"kind\": \"scanner\"}", WW_EINPUT, true},
        {"damaged", "{", WW_EINPUT, true},
        {"not readings", "gray;visual,x\n", WW_EINPUT, false},
    };
    char *folder = test_folder_new(), *path = test_path(folder, "aim");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        bool is_curve = !rows[i].is_curve;
        test_file_write(path, rows[i].text);
        test_status(rows[i].row, ww_match_aim_read(path, &readings, &curve, &is_curve, &err),
                    rows[i].status, &err);
        test_true(rows[i].row, is_curve == rows[i].is_curve);
        ww_readings_release(&readings);
        ww_curve_release(&curve);
    }
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(told_apart)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
