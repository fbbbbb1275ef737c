/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/status_products.h"
#include "support/support.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

/* Columns of the outside table, in its order. */
static const struct {
    ww_density_status status;
    ww_channel channel;
} columns[] = {
    {WW_STATUS_A, WW_RED},        {WW_STATUS_A, WW_GREEN},     {WW_STATUS_A, WW_BLUE},
    {WW_STATUS_E, WW_RED},        {WW_STATUS_E, WW_GREEN},     {WW_STATUS_E, WW_BLUE},
    {WW_STATUS_M, WW_RED},        {WW_STATUS_M, WW_GREEN},     {WW_STATUS_M, WW_BLUE},
    {WW_STATUS_T, WW_RED},        {WW_STATUS_T, WW_GREEN},     {WW_STATUS_T, WW_BLUE},
    {WW_STATUS_SCANNER, WW_RED},  {WW_STATUS_SCANNER, WW_RED}, /* types 1 and 2: not held */
    {WW_STATUS_VISUAL, WW_VISUAL}};
enum { COLUMNS = sizeof columns / sizeof columns[0] };

/* Source: the outside table itself, figure by figure, down to what lies beyond our rows. */
static void is_the_public_table(void **state) {
    char *path =
        test_data("spectral/density_weightings/density_standards_340_830_10nm_CORRECTED.csv");
    size_t n, row = 0;
    (void)state;
    if (!path)
        skip();
    char *bytes = test_file_read(path, &n);
    free(path);
    assert_non_null(bytes);
    assert_true(strncmp(bytes, "wavelength_nm,ANSI_STATUS_A_RED,", 32) == 0);
    for (char *line = strchr(bytes, '\n'); line && line[1]; line = strchr(line + 1, '\n'), row++) {
        char *cell = line + 1;
        double value = 0.0;
        const size_t digits = strcspn(cell, ",");
        test_close("wavelength", strtod(cell, NULL), WW__PRODUCT_FIRST + 10.0 * (double)row, 0.0);
        cell += digits + 1;
        for (size_t c = 0; c < COLUMNS; c++) {
            char *end = cell + strcspn(cell, ",\r\n");
            const char kept = *end;
            *end = '\0';
            test_status(cell, ww_number_parse(cell, '.', &value, NULL), WW_OK, NULL);
            const double held = row < WW__PRODUCT_ROWS
                                    ? ww__status_product(columns[c].status, columns[c].channel, row)
                                    : 0.0;
            if (columns[c].status != WW_STATUS_SCANNER)
                test_close(cell, held, value, 0.0);
            *end = kept;
            cell = end + 1;
        }
    }
    assert_int_equal(row, 50);
    free(bytes);
}

/* Source: sums over the columns of the public table as others took them; that of status A blue is
 * theirs, 305.06, with the corrected digit's 0.18 more. */
static void sums_of_the_columns(void **state) {
    static const struct {
        ww_density_status status;
        double red, green, blue;
    } rows[] = {{WW_STATUS_A, 291.57, 313.12, 305.24},
                {WW_STATUS_M, 277.86, 446.65, 404.30},
                {WW_STATUS_T, 312.88, 524.33, 711.09}};
    double visual = 0.0, blue_e = 0.0;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double sum[3] = {0.0, 0.0, 0.0};
        for (size_t row = 0; row < WW__PRODUCT_ROWS; row++)
            for (unsigned c = 0; c < 3; c++)
                sum[c] += ww__status_product(rows[i].status, (ww_channel)c, row);
        test_close("red", sum[0], rows[i].red, 1e-9);
        test_close("green", sum[1], rows[i].green, 1e-9);
        test_close("blue", sum[2], rows[i].blue, 1e-9);
    }
    for (size_t row = 0; row < WW__PRODUCT_ROWS; row++) {
        visual += ww__status_product(WW_STATUS_VISUAL, WW_VISUAL, row);
        blue_e += ww__status_product(WW_STATUS_E, WW_BLUE, row);
    }
    test_close("visual", visual, 1057.33, 1e-9);
    test_close("status E blue", blue_e, 526.85, 1e-9);
}

/* Source: logarithms of ISO 5-3, peak 5.000, from memory: the percentages are antilogarithms. */
static void agrees_with_the_standards_logarithms(void **state) {
    static const struct {
        ww_density_status status;
        ww_channel channel;
        double nm, logarithm;
    } rows[] = {{WW_STATUS_A, WW_RED, 610, 4.638},   {WW_STATUS_A, WW_RED, 620, 5.000},
                {WW_STATUS_A, WW_RED, 650, 4.286},   {WW_STATUS_A, WW_BLUE, 420, 3.602},
                {WW_STATUS_A, WW_BLUE, 480, 2.989},  {WW_STATUS_M, WW_BLUE, 440, 4.871},
                {WW_STATUS_M, WW_GREEN, 540, 5.000}, {WW_STATUS_VISUAL, WW_VISUAL, 570, 5.000}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double percent = ww__status_product(rows[i].status, rows[i].channel,
                                                  (size_t)((rows[i].nm - 340.0) / 10.0));
        test_close("percent", percent, pow(10.0, rows[i].logarithm - 3.0), 0.0051);
    }
}

static void which_there_are(void **state) {
    (void)state;
    for (int s = WW_STATUS_UNKNOWN; s <= WW_STATUS_SCANNER; s++) {
        const bool colours = s >= WW_STATUS_A && s <= WW_STATUS_E;
        const bool visual = s <= WW_STATUS_VISUAL;
        const char *name = ww_density_status_name((ww_density_status)s);
        for (int c = WW_RED; c <= WW_BLUE; c++)
            test_true(name, (ww__status_product((ww_density_status)s, (ww_channel)c, 0) >= 0.0) ==
                                colours);
        test_true(name, (ww__status_product((ww_density_status)s, WW_VISUAL, 0) >= 0.0) == visual);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(is_the_public_table), cmocka_unit_test(sums_of_the_columns),
        cmocka_unit_test(agrees_with_the_standards_logarithms), cmocka_unit_test(which_there_are)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
