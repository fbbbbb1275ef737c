/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_lab.h"
#include "parsed.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Source: what the instrument itself made of the same spectra, to 0.01; the fields are renamed, so
 * that they are not read. */
static void a_measured_ramp(void **state) {
    char *path = test_data("cgats/cyan_ramp_decimal_comma_spectral_pairs.txt");
    ww_error err = WW_ERROR_INIT;
    ww_readings own = WW_READINGS_INIT, made = WW_READINGS_INIT;
    size_t n;
    (void)state;
    if (!path)
        skip();
    char *bytes = test_file_read(path, &n);
    free(path);
    assert_non_null(bytes);
    test_status("own", parse_bytes(bytes, n, &own, &err), WW_OK, &err);
    for (char *at = bytes; (at = strstr(at, "LAB_")); at++)
        memcpy(at, "ODD_", 4);
    test_status("made", parse_bytes(bytes, n, &made, &err), WW_OK, &err);
    assert_int_equal(made.n, own.n);
    for (size_t i = 0; i < made.n; i++)
        for (int c = WW_COLUMN_LAB_L; c <= WW_COLUMN_LAB_B; c++)
            test_close(made.row[i].step, made.row[i].cell[c].value, own.row[i].cell[c].value,
                       0.015);
    assert_true(made.has[WW_COLUMN_LAB_A] &&
                noted(&made, "are made of spectra, by CIE's observer"));
    assert_true(!noted(&own, "CIE's observer"));
    ww_readings_release(&own);
    ww_readings_release(&made);
    free(bytes);
}

/* A grey of 10 %, every `step` nm from 380 to `to`, under some lines. */
static ww_readings grey(const char *keys, int to, int step) {
    static char text[1 << 13];
    size_t used =
        (size_t)snprintf(text, sizeof text, "CGATS.17\n%sBEGIN_DATA_FORMAT\nSAMPLE_ID", keys);
    for (int nm = 380; nm <= to; nm += step)
        used += (size_t)snprintf(text + used, sizeof text - used, " NM%d", nm);
    used += (size_t)snprintf(text + used, sizeof text - used, "\nEND_DATA_FORMAT\nBEGIN_DATA\n1");
    for (int nm = 380; nm <= to; nm += step)
        used += (size_t)snprintf(text + used, sizeof text - used, " 0.1000");
    snprintf(text + used, sizeof text - used, "\nEND_DATA\n");
    return parsed(keys, text);
}

/* Source: definition; L* of Y 0.1 by CIE 15. */
static void where_it_is_made(void **state) {
    static const struct {
        const char *keys;
        int to, step;
        bool made;
        const char *note;
    } rows[] = {
        {"", 730, 10, true, "are made of spectra, by CIE's observer"},
        {"# material: print\n", 730, 10, true, "are made of spectra, by CIE's observer"},
        {"# density: transmission\n", 730, 10, false, NULL},
        {"# material: film\n", 730, 10, false, NULL},
        {"# status: A\n", 740, 20, false,
         "there is no CIELAB of these spectra: spectral values at"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings got = grey(rows[i].keys, rows[i].to, rows[i].step);
        const ww_cell *l = &got.row[0].cell[WW_COLUMN_LAB_L];
        assert_true(got.has[WW_COLUMN_LAB_L] == rows[i].made);
        assert_true((l->state == WW_CELL_VALUE) == rows[i].made && (l->n == 1) == rows[i].made);
        if (rows[i].made)
            test_close("L*", l->value, 116.0 * cbrt(0.1) - 16.0, 1e-9);
        assert_true(rows[i].note ? noted(&got, rows[i].note) : !noted(&got, "CIELAB"));
        ww_readings_release(&got);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_measured_ramp),
                                       cmocka_unit_test(where_it_is_made)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
