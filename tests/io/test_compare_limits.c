/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"

#include <stdlib.h>
#include <string.h>
#include <wedgework/compare_file.h>

/* Source: definition (the header's text). */

static void good(void **state) {
    (void)state;
    static const char *const rows[] = {
        "limit,most\nwhite,0.02\nneutral_ab,1\n",
        "\xEF\xBB\xBF# agreed\r\n\r\nLimit;Most\r\nWHITE ; 0,02\r\nneutral_ab;1\r\n",
        "limit\tmost\nwhite\t0,02\nneutral_ab\t1.0",
        "limit;most\rneutral_ab;1e0\rwhite;.02\r",
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status("limits",
                    ww_compare_limits_parse("l.csv", rows[i], strlen(rows[i]), &limits, &err),
                    WW_OK, &err);
        test_close("white", limits.most[WW_LIMIT_WHITE].value, 0.02, 1e-15);
        test_close("hue", limits.most[WW_LIMIT_NEUTRAL_AB].value, 1.0, 1e-15);
        test_true("no other", !limits.most[WW_LIMIT_BLACK].set);
    }
}

static void refused(void **state) {
    (void)state;
    static const struct {
        const char *text, *words;
        size_t line;
    } rows[] = {
        {"", "no limit stands here", 0},
        {"# nothing\nlimit,most\n", "no limit stands here", 0},
        {"white,0.02\n", "no table of limits", 1},
        {"limit,most\nwhite\n", "not a limit and its size", 2},
        {"limit,most\nwite,0.02\n", "'wite' is no limit", 2},
        {"limit,most\nwhite,0.02\n\nwhite,0.03\n", "a second time", 4},
        {"limit,most\nwhite,O.02\n", "limit white: ", 2},
        {"limit,most\nwhite,0\n", "above 0", 2},
        {"limit,most\nwhite,-0.02\n", "above 0", 2},
        {"limit,most\nwhite,101\n", "up to 100", 2},
        {"limit,most\nwhite,0,02\n", "limit white: ", 2},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
        ww_error err = WW_ERROR_INIT;
        limits.most[WW_LIMIT_DARK] = (ww_optional){true, 7.0};
        test_status(
            rows[i].text,
            ww_compare_limits_parse("l.csv", rows[i].text, strlen(rows[i].text), &limits, &err),
            WW_EINPUT, &err);
        test_holds(rows[i].text, err.msg, rows[i].words);
        test_close(rows[i].text, (double)err.line, (double)rows[i].line, 0);
        test_true("untouched", limits.most[WW_LIMIT_DARK].set && !limits.most[WW_LIMIT_WHITE].set);
    }
}

static void files(void **state) {
    (void)state;
    char *folder = test_folder_new(), *path = test_path(folder, "l.csv");
    ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("missing", ww_compare_limits_read(path, &limits, &err), WW_EINPUT, &err);
    test_file_write(path, "limit,most\ndark,0.05\n");
    test_status("there", ww_compare_limits_read(path, &limits, &err), WW_OK, &err);
    test_close("dark", limits.most[WW_LIMIT_DARK].value, 0.05, 1e-15);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(good), cmocka_unit_test(refused),
                                       cmocka_unit_test(files)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
