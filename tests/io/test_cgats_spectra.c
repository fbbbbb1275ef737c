/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_fields.h"
#include "io/cgats_spectra.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* Spectra of a table whose fields have these names. */
static ww_status name_fields(ww__cgats_spectra *spectra, const char *const names[], size_t n,
                             ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        ww__field field = {WW__ROLE_SKIP, 0, names[i]};
        (void)ww__cgats_field_find(names[i], &field);
        status = ww__cgats_spectra_field(spectra, &field, i, "f.txt", 3, err);
    }
    return status;
}

static ww_status add_row(ww__cgats_spectra *spectra, const char *const texts[], size_t n,
                         size_t row, ww_error *err) {
    ww__number_rules rules = {.file = "f.txt", .decimal_comma = true};
    ww__cells cells = WW__CELLS_INIT;
    for (size_t i = 0; i < n; i++)
        assert_int_equal(ww__cells_add(&cells, texts[i], strlen(texts[i]), err), WW_OK);
    ww_status status = ww__cgats_spectra_row(spectra, &rules, &cells, row, 9, err);
    ww__cells_release(&cells);
    return status;
}

static void wavelengths_in_names(void **state) {
    static const char *const names[] = {"SAMPLE_ID", "NM700", "LAB_L", "R_600", "nm_500"};
    static const char *const first[] = {"1", "0.25", "50", "1.5E-3", "0,125"};
    static const char *const none[] = {"2", "-", "50", "", "-"};
    static const char *const third[] = {"3", "12", "50", "13.5", "14"};
    ww__cgats_spectra s = {.n = 0};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("fields", name_fields(&s, names, COUNT(names), &err), WW_OK, &err);
    assert_int_equal(s.n_bands, 3);
    test_status("row", add_row(&s, first, COUNT(first), 0, &err), WW_EINPUT, &err);
    test_holds("mixed marks", err.msg, "one kind");
    assert_int_equal(s.n, 0);
    static const char *const good[] = {"1", "0.25", "50", "1.5E-3", "0.125"};
    test_status("row", add_row(&s, good, COUNT(good), 4, &err), WW_OK, &err);
    test_status("no spectrum", add_row(&s, none, COUNT(none), 5, &err), WW_OK, &err);
    test_status("row", add_row(&s, third, COUNT(third), 6, &err), WW_OK, &err);
    assert_int_equal(s.n, 2);
    assert_int_equal(s.row[0], 4);
    assert_int_equal(s.row[1], 6);
    /* By rising wavelength, however the fields stand. */
    test_close("nm", s.point[0].nm, 500.0, 0.0);
    test_close("value", s.point[0].value, 0.125, 0.0);
    test_close("nm", s.point[1].nm, 600.0, 0.0);
    test_close("value", s.point[1].value, 0.0015, 0.0);
    test_close("nm", s.point[5].nm, 700.0, 0.0);
    test_close("value", s.point[5].value, 12.0, 0.0);
    test_close("greatest", s.greatest, 14.0, 0.0);
    assert_int_equal(s.decimals, 4); /* of 1.5E-3 */
    ww__cgats_spectra_release(&s);
}

static void wavelengths_in_rows(void **state) {
    static const char *const names[] = {"SPECTRAL_NM", "SPECTRAL_PCT", "SPECTRAL_NM",
                                        "SPECTRAL_PCT"};
    static const char *const row[] = {"730", "85.12", "380", "18,5"};
    static const char *const good[] = {"730", "85.12", "380", "18.5"};
    ww__cgats_spectra s = {.n = 0};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("fields", name_fields(&s, names, COUNT(names), &err), WW_OK, &err);
    test_status("marks", add_row(&s, row, COUNT(row), 0, &err), WW_EINPUT, &err);
    for (size_t i = 0; i < 100; i++)
        test_status("row", add_row(&s, good, COUNT(good), i, &err), WW_OK, &err);
    assert_int_equal(s.n, 100);
    test_close("nm", s.point[198].nm, 380.0, 0.0);
    test_close("value", s.point[198].value, 18.5, 0.0);
    test_close("value", s.point[199].value, 85.12, 0.0);
    assert_int_equal(s.decimals, 2);
    ww__cgats_spectra_release(&s);
}

static void refusals(void **state) {
    static const char *const alone[] = {"SAMPLE_ID", "SPECTRAL_DEC"};
    static const char *const used_up[] = {"SPECTRAL_NM", "SPECTRAL_DEC", "SPECTRAL_DEC"};
    static const char *const units[] = {"SPECTRAL_NM", "SPECTRAL_DEC", "SPECTRAL_NM",
                                        "SPECTRAL_PCT"};
    static const char *const parts[] = {"SPECTRAL_NM", "SPECTRAL_DEC", "NM400"};
    static const struct {
        const char *name;
        const char *const *field;
        size_t n;
        const char *says;
    } headers[] = {{"no wavelength", alone, 2, "field 2, 'SPECTRAL_DEC'"},
                   {"a wavelength for two", used_up, 3, "SPECTRAL_NM before it"},
                   {"percent and parts", units, 4, "two units"},
                   {"parts and unknown", parts, 3, "two units"}};
    static const char *const pair[] = {"SPECTRAL_NM", "SPECTRAL_DEC"};
    static const struct {
        const char *text[2];
        const char *says;
    } rows[] = {{{"380", "85"}, "part of 1 '85'"},
                {{"380", "-0.11"}, "below -0.1"},
                {{"38", "0.5"}, "wavelength in nm '38'"},
                {{"3800", "0.5"}, "above 2500"},
                {{"380", "O.5"}, "letter O"},
                {{"-", "0.5"}, "'-'"}};
    (void)state;
    for (size_t i = 0; i < COUNT(headers); i++) {
        ww__cgats_spectra s = {.n = 0};
        ww_error err = WW_ERROR_INIT;
        test_status(headers[i].name, name_fields(&s, headers[i].field, headers[i].n, &err),
                    WW_EINPUT, &err);
        test_holds(headers[i].name, err.msg, headers[i].says);
        assert_int_equal(err.line, 3);
        ww__cgats_spectra_release(&s);
    }
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww__cgats_spectra s = {.n = 0};
        ww_error err = WW_ERROR_INIT;
        assert_int_equal(name_fields(&s, pair, 2, &err), WW_OK);
        test_status(rows[i].says, add_row(&s, rows[i].text, 2, 0, &err), WW_EINPUT, &err);
        test_holds(rows[i].says, err.msg, rows[i].says);
        assert_int_equal(err.line, 9);
        assert_int_equal(s.n, 0);
        test_close("untouched", s.greatest, 0.0, 0.0);
        ww__cgats_spectra_release(&s);
    }
}

static void a_gap_is_refused(void **state) {
    static const char *const names[] = {"NM400", "NM410", "NM420"};
    static const char *const row[] = {"0.5", "-", "0.6"};
    ww__cgats_spectra s = {.n = 0};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(name_fields(&s, names, 3, &err), WW_OK);
    test_status("gap", add_row(&s, row, 3, 0, &err), WW_EINPUT, &err);
    test_holds("gap", err.msg, "'NM410' leaves a gap");
    ww__cgats_spectra_release(&s);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wavelengths_in_names), cmocka_unit_test(wavelengths_in_rows),
        cmocka_unit_test(refusals), cmocka_unit_test(a_gap_is_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
