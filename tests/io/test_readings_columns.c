/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_columns.h"
#include "support/support.h"
#include <string.h>

/* Source: the project's own definition of the readings file. */
static const struct {
    const char *name;
    ww__role role;
    unsigned which;
} name_rows[] = {
    {"step", WW__ROLE_STEP, 0},
    {"TONE", WW__ROLE_TONE, 0},
    {"Part", WW__ROLE_PART, 0},
    {"pack", WW__ROLE_PACK, 0},
    {"Width", WW__ROLE_WIDTH, 0},
    {"Wedge", WW__ROLE_EXPOSURE, WW_EXPOSURE_WEDGE},
    {"logH", WW__ROLE_EXPOSURE, WW_EXPOSURE_LOG_H},
    {"stop", WW__ROLE_EXPOSURE, WW_EXPOSURE_STOP},
    {"TIME", WW__ROLE_EXPOSURE, WW_EXPOSURE_TIME},
    {"Red", WW__ROLE_CELL, WW_COLUMN_RED},
    {"visual", WW__ROLE_CELL, WW_COLUMN_VISUAL},
    {"value", WW__ROLE_CELL, WW_COLUMN_VALUE},
    {"Value_Green", WW__ROLE_CELL, WW_COLUMN_VALUE_GREEN},
    {"yellow", WW__ROLE_CELL, WW_COLUMN_YELLOW},
    {"Yellow", WW__ROLE_CELL, WW_COLUMN_YELLOW},
    {"Soft", WW__ROLE_CELL, WW_COLUMN_SOFT},
    {"hard", WW__ROLE_CELL, WW_COLUMN_HARD},
    {"L", WW__ROLE_CELL, WW_COLUMN_LAB_L},
    {"l", WW__ROLE_CELL, WW_COLUMN_LAB_L},
    {"a", WW__ROLE_CELL, WW_COLUMN_LAB_A},
    {"b", WW__ROLE_CELL, WW_COLUMN_LAB_B},
    {"Y", WW__ROLE_CELL, WW_COLUMN_LUMINANCE},
    {"x", WW__ROLE_CELL, WW_COLUMN_CHROMATICITY_X},
    {"y", WW__ROLE_CELL, WW_COLUMN_CHROMATICITY_Y},
    {"N", WW__ROLE_N_ALL, 0},
    {"sd", WW__ROLE_SD_ALL, 0},
    {"sd_red", WW__ROLE_SD, WW_COLUMN_RED},
    {"SD_Visual", WW__ROLE_SD, WW_COLUMN_VISUAL},
    {"sd_Y", WW__ROLE_SD, WW_COLUMN_LUMINANCE},
    {"sd_y", WW__ROLE_SD, WW_COLUMN_CHROMATICITY_Y},
    {"n_blue", WW__ROLE_N, WW_COLUMN_BLUE},
};

static void names(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof name_rows / sizeof *name_rows; i++) {
        ww__field field = {WW__ROLE_SKIP, 0, NULL};
        test_true(name_rows[i].name, ww__columns_find(name_rows[i].name, &field));
        test_true(name_rows[i].name,
                  field.role == name_rows[i].role && field.which == name_rows[i].which);
    }
}

static void names_that_are_none_and_what_was_meant(void **state) {
    static const char *const rows[][2] = {
        {"gren", "green"},     {"Visaul", "visual"}, {"stpe", "step"},   {"wegde", "wedge"},
        {"density", "visual"}, {"R", "red"},         {"X", "x"},         {"grey", "gray"},
        {"log h", "logh"},     {"seconds", "time"},  {"D_RED", "red"},   {"magneta", "magenta"},
        {"Z", NULL},           {"weather", NULL},    {"sd_", NULL},      {"n_", NULL},
        {"sd_cloud", NULL},    {"", NULL},           {"widht", "width"}, {"sotf", "soft"},
        {"hrad", "hard"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__field field;
        const char *meant = ww__columns_suggest(rows[i][0]);
        test_true(rows[i][0], !ww__columns_find(rows[i][0], &field));
        if (rows[i][1])
            test_text(rows[i][0], meant, rows[i][1]);
        else
            test_true(rows[i][0], meant == NULL);
    }
}

/* Source: the limits that the issue of this reader names; wide ones for the rest. */
static void ranges(void **state) {
    ww__range density = ww__columns_range(&(ww__field){WW__ROLE_CELL, WW_COLUMN_BLUE, ""});
    ww__range value = ww__columns_range(&(ww__field){WW__ROLE_CELL, WW_COLUMN_VALUE, ""});
    ww__range gray = ww__columns_range(&(ww__field){WW__ROLE_CELL, WW_COLUMN_GRAY, ""});
    ww__range time = ww__columns_range(&(ww__field){WW__ROLE_EXPOSURE, WW_EXPOSURE_TIME, ""});
    ww__range wedge = ww__columns_range(&(ww__field){WW__ROLE_EXPOSURE, WW_EXPOSURE_WEDGE, ""});
    ww__range sd = ww__columns_range(&(ww__field){WW__ROLE_SD, WW_COLUMN_BLUE, ""});
    ww__range n = ww__columns_range(&(ww__field){WW__ROLE_N_ALL, 0, ""});
    (void)state;
    test_close("density low", density.low, -0.1, 0.0);
    test_close("density high", density.high, 6.0, 0.0);
    test_close("wedge high", wedge.high, 6.0, 0.0);
    test_close("value high", value.high, 1.0, 0.0);
    test_close("gray high", gray.high, 100.0, 0.0);
    test_true("time above 0", time.above && time.low <= 0.0 && time.low >= 0.0);
    test_close("sd low", sd.low, 0.0, 0.0);
    test_close("n low", n.low, 1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(names),
                                       cmocka_unit_test(names_that_are_none_and_what_was_meant),
                                       cmocka_unit_test(ranges)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
