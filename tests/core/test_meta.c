/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/meta.h"
#include "support/support.h"
#include <string.h>

/* Source of every word and key: the project's own definition of the readings file, typed anew. */

static void words_of_enumerators(void **state) {
    const struct {
        const char *got;
        const char *want;
    } rows[] = {
        {ww_channel_name(WW_RED), "red"},
        {ww_channel_name(WW_VISUAL), "visual"},
        {ww_column_name(WW_COLUMN_GREEN), "green"},
        {ww_column_name(WW_COLUMN_VALUE_BLUE), "value_blue"},
        {ww_column_name(WW_COLUMN_GRAY), "gray"},
        {ww_column_name(WW_COLUMN_YELLOW), "yellow"},
        {ww_column_name(WW_COLUMN_SOFT), "soft"},
        {ww_column_name(WW_COLUMN_HARD), "hard"},
        {ww_column_name(WW_COLUMN_LAB_L), "L"},
        {ww_column_name(WW_COLUMN_LAB_B), "b"},
        {ww_column_name(WW_COLUMN_LUMINANCE), "Y"},
        {ww_column_name(WW_COLUMN_CHROMATICITY_X), "x"},
        {ww_column_name(WW_COLUMN_CHROMATICITY_Y), "y"},
        {ww_exposure_column_name(WW_EXPOSURE_NONE), "none"},
        {ww_exposure_column_name(WW_EXPOSURE_WEDGE), "wedge"},
        {ww_exposure_column_name(WW_EXPOSURE_LOG_H), "logh"},
        {ww_exposure_column_name(WW_EXPOSURE_STOP), "stop"},
        {ww_exposure_column_name(WW_EXPOSURE_TIME), "time"},
        {ww_material_name(WW_MATERIAL_UNKNOWN), "unknown"},
        {ww_material_name(WW_MATERIAL_STRIP), "strip"},
        {ww_material_name(WW_MATERIAL_SCREEN), "screen"},
        {ww_process_name(WW_PROCESS_REVERSAL), "reversal"},
        {ww_density_kind_name(WW_DENSITY_REFLECTION), "reflection"},
        {ww_density_status_name(WW_STATUS_A), "A"},
        {ww_density_status_name(WW_STATUS_T), "T"},
        {ww_density_status_name(WW_STATUS_SCANNER), "scanner"},
        {ww_relative_name(WW_RELATIVE_WHITE), "white"},
        {ww_exposure_unit_name(WW_UNIT_LUX_SECOND), "lux second"},
        {ww_exposure_unit_name(WW_UNIT_RELATIVE), "relative"},
        {ww_emulsion_name(WW_EMULSION_BLACK_AND_WHITE), "black-and-white"},
        {ww_emulsion_name(WW_EMULSION_COLOUR_REVERSAL), "colour reversal"},
        {ww_grain_name(WW_GRAIN_STAINED), "stained"},
        {ww_wedge_kind_name(WW_WEDGE_NOMINAL), "nominal"},
        {ww_exposed_by_name(WW_EXPOSED_PROJECTION), "projection"},
        {ww_read_state_name(WW_READ_DRY), "dry"},
        {ww_part_name(WW_PART_THIN), "thin"},
        {ww_part_name(WW_PART_DENSE), "dense"},
        {ww_part_name(WW_PART_WHOLE), "whole"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        test_text(rows[i].want, rows[i].got, rows[i].want);
}

static void words_of_no_enumerator(void **state) {
    (void)state;
    test_text("beyond the last", ww_material_name((ww_material)99), "unknown");
    test_text("beyond the last", ww_read_state_name((ww_read_state)3), "unknown");
}

static void every_key_once(void **state) {
    static const char *const keys[] = {
        "name",          "material",      "process",  "density",
        "status",        "relative to",   "log h0",   "log h0 sd",
        "exposure unit", "exposure time", "emulsion", "development time",
        "temperature",   "contrast",      "grain",    "wedge",
        "wedge sd",      "exposed by",    "aperture", "scale",
        "pack",          "read",          "lot",      "date"};
    size_t n;
    const ww__meta_field *fields = ww__meta_fields(&n);
    (void)state;
    assert_int_equal(n, sizeof keys / sizeof *keys);
    for (size_t k = 0; k < n; k++) {
        size_t found = 0;
        for (size_t i = 0; i < n; i++)
            found += strcmp(fields[i].key, keys[k]) == 0;
        test_true(keys[k], found == 1);
    }
}

/* What one key sets must be no other key's place. */
static void keys_do_not_share_a_place(void **state) {
    size_t n;
    const ww__meta_field *fields = ww__meta_fields(&n);
    (void)state;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < i; j++)
            test_true(fields[i].key, fields[i].offset != fields[j].offset);
}

static void words_reach_their_members(void **state) {
    ww_meta meta = {.emulsion = WW_EMULSION_COLOUR_NEGATIVE};
    size_t n;
    const ww__meta_field *fields = ww__meta_fields(&n);
    (void)state;
    for (size_t i = 0; i < n; i++) {
        if (strcmp(fields[i].key, "emulsion") == 0)
            test_true("emulsion", ww__meta_word(&meta, &fields[i]) == 2);
        if (strcmp(fields[i].key, "read") == 0)
            ww__meta_set_word(&meta, &fields[i], WW_READ_WET);
        if (strcmp(fields[i].key, "log h0") == 0)
            *ww__meta_number(&meta, &fields[i]) = (ww_optional){true, -1.5};
    }
    assert_int_equal(meta.read, WW_READ_WET);
    assert_true(meta.log_h0.set);
    assert_false(meta.log_h0_sd.set);
}

static void copies_are_deep(void **state) {
    char name[] = "ortho, second box", lot[] = "7";
    ww_meta meta = {.name = name, .lot = lot, .material = WW_MATERIAL_PAPER, .scale = {true, 2.5}};
    ww_meta copy = {.name = NULL};
    (void)state;
    assert_int_equal(ww_meta_copy(&meta, &copy, NULL), WW_OK);
    name[0] = 'X';
    assert_string_equal(copy.name, "ortho, second box");
    assert_string_equal(copy.lot, "7");
    assert_null(copy.date);
    assert_int_equal(copy.material, WW_MATERIAL_PAPER);
    assert_true(copy.scale.set);
    ww_meta_release(&copy);
    assert_null(copy.name);
    assert_int_equal(copy.material, WW_MATERIAL_UNKNOWN);
    ww_meta_release(&copy);
    ww_meta_release(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(words_of_enumerators),
                                       cmocka_unit_test(words_of_no_enumerator),
                                       cmocka_unit_test(every_key_once),
                                       cmocka_unit_test(keys_do_not_share_a_place),
                                       cmocka_unit_test(words_reach_their_members),
                                       cmocka_unit_test(copies_are_deep)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
