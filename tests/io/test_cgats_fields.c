/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_fields.h"
#include "support/support.h"

/* Source: field names of CGATS.17 as its readers restate them (XYY_* and the spelling of spectral
 * fields with a wavelength in the name: from memory). */
static const struct {
    const char *name;
    ww__role role;
    unsigned which;
    int rank;
} rows[] = {
    {"SAMPLE_ID", WW__ROLE_STEP, 0, 0},
    {"SampleID", WW__ROLE_STEP, 0, 0},
    {"SAMPLE_NAME", WW__ROLE_TONE, 0, 0},
    {"D_RED", WW__ROLE_CELL, WW_COLUMN_RED, 3},
    {"D_GREEN", WW__ROLE_CELL, WW_COLUMN_GREEN, 3},
    {"D_BLUE", WW__ROLE_CELL, WW_COLUMN_BLUE, 3},
    {"D_VIS", WW__ROLE_CELL, WW_COLUMN_VISUAL, 3},
    {"LAB_L", WW__ROLE_CELL, WW_COLUMN_LAB_L, 2},
    {"LAB_A", WW__ROLE_CELL, WW_COLUMN_LAB_A, 2},
    {"lab_b", WW__ROLE_CELL, WW_COLUMN_LAB_B, 2},
    {"XYY_CAPY", WW__ROLE_CELL, WW_COLUMN_LUMINANCE, 2},
    {"XYY_Y", WW__ROLE_CELL, WW_COLUMN_CHROMATICITY_Y, 2},
    {"CMYK_C", WW__ROLE_CELL, WW_COLUMN_CYAN, 1},
    {"CMYK_Y", WW__ROLE_CELL, WW_COLUMN_YELLOW, 1},
    {"CMYK_K", WW__ROLE_CELL, WW_COLUMN_GRAY, 1},
    {"SPECTRAL_NM", WW__ROLE_WAVELENGTH, 0, 0},
    {"SPECTRAL_DEC", WW__ROLE_SPECTRAL_PART, 0, 3},
    {"Spectral_Pct", WW__ROLE_SPECTRAL_PERCENT, 0, 3},
    {"SPECTRAL_PCT_550", WW__ROLE_SPECTRAL_PERCENT, 550, 3},
    {"SPECTRAL_NM380", WW__ROLE_SPECTRAL, 380, 3},
    {"SPECTRAL_NM_1050", WW__ROLE_SPECTRAL, 1050, 3},
    {"nm380", WW__ROLE_SPECTRAL, 380, 3},
    {"NM_730", WW__ROLE_SPECTRAL, 730, 3},
    {"R_400", WW__ROLE_SPECTRAL, 400, 3},
    {"SPEC_550", WW__ROLE_SPECTRAL, 550, 3},
};

static void fields(void **state) {
    static const char *const none[] = {"RGB_R",
                                       "XYZ_X",
                                       "STRING",
                                       "D_MAJOR_FILTER",
                                       "RED",
                                       "",
                                       "D",
                                       "NM",
                                       "R",
                                       "SPECTRAL",
                                       "R_1",
                                       "R_12345",
                                       "R_38x",
                                       "D_380",
                                       "SPECTRAL_NM_MADE_UP_380",
                                       "R_380_2"};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__field field = {WW__ROLE_SKIP, 0, NULL};
        test_true(rows[i].name, ww__cgats_field_find(rows[i].name, &field));
        test_true(rows[i].name, field.role == rows[i].role && field.which == rows[i].which);
        test_true(rows[i].name, ww__cgats_field_rank(&field) == rows[i].rank);
    }
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        ww__field field;
        test_true(none[i], !ww__cgats_field_find(none[i], &field));
    }
}

static void names_of_columns(void **state) {
    (void)state;
    assert_string_equal(ww__cgats_field_name(WW_COLUMN_VISUAL), "D_VIS");
    assert_string_equal(ww__cgats_field_name(WW_COLUMN_LAB_A), "LAB_A");
    assert_null(ww__cgats_field_name(WW_COLUMN_VALUE_RED));
}

/* Source: WEIGHTING_FUNCTION carries "name,value" pairs for density status; how they are quoted
 * differs between writers (common practice). */
static void density_status(void **state) {
    static const struct {
        const char *key, *value;
        ww_density_status status;
        bool known;
    } cases[] = {
        {"WEIGHTING_FUNCTION", "name,density;value,Status A", WW_STATUS_A, true},
        {"WEIGHTING_FUNCTION", "DENSITY,T", WW_STATUS_T, true},
        {"WEIGHTING_FUNCTION", "STATUS, M", WW_STATUS_M, true},
        {"FILTER", "Status_E", WW_STATUS_E, true},
        {"FILTER", "StatusT", WW_STATUS_T, true},
        {"DENSITY_STATUS", "a", WW_STATUS_A, true},
        {"STATUS", "visual", WW_STATUS_VISUAL, true},
        {"WEIGHTING_FUNCTION", "Status I", WW_STATUS_UNKNOWN, false},
        {"WEIGHTING_FUNCTION", "OBSERVER,2 degree", WW_STATUS_UNKNOWN, true},
        {"WEIGHTING_FUNCTION", "ILLUMINANT,D50", WW_STATUS_UNKNOWN, true},
        {"FILTER", "M", WW_STATUS_UNKNOWN, true},
        {"WEIGHTING_FUNCTION", "", WW_STATUS_UNKNOWN, true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bool known = !cases[i].known;
        test_true(cases[i].value,
                  ww__cgats_field_status(cases[i].key, cases[i].value, &known) == cases[i].status);
        test_true(cases[i].value, known == cases[i].known);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(fields), cmocka_unit_test(names_of_columns),
                                       cmocka_unit_test(density_status)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
