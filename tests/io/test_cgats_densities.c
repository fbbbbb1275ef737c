/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_densities.h"
#include "parsed.h"
#include <math.h>
#include <stdio.h>

/* ---- outside data ---- */

/*
 * Source: LAB_L of the file itself, by its instrument; D = -log10 Y, Y from L* by CIE's formula.
 * Visual density weighs by illuminant A, Y by D50, and 10 nm sums differ: 0.005 D on the nearly
 * neutral samples, for which alone the two are comparable. Red runs with the amount of cyan.
 */
static void a_measured_ramp(void **state) {
    char *path = test_data("cgats/cyan_ramp_decimal_comma_spectral_pairs.txt");
    ww_error err = WW_ERROR_INIT;
    ww_readings got = WW_READINGS_INIT;
    size_t n;
    (void)state;
    if (!path)
        skip();
    char *bytes = test_file_read(path, &n);
    free(path);
    assert_non_null(bytes);
    char *text = malloc(n + 64);
    assert_non_null(text);
    const size_t head = strcspn(bytes, "\n") + 1;
    const int used = snprintf(text, n + 64, "%.*s# status: A\n%s", (int)head, bytes, bytes + head);
    test_status("ramp", parse_bytes(text, (size_t)used, &got, &err), WW_OK, &err);
    assert_int_equal(got.n, 15);
    for (size_t i = 0; i < got.n; i++) {
        const ww_cell *cell = got.row[i].cell;
        const double l = cell[WW_COLUMN_LAB_L].value, y = pow((l + 16.0) / 116.0, 3.0);
        if (hypot(cell[WW_COLUMN_LAB_A].value, cell[WW_COLUMN_LAB_B].value) < 5.1)
            test_close(got.row[i].step, cell[WW_VISUAL].value, -log10(y), 0.005);
        if (i > 0)
            test_true("red rises", cell[WW_RED].value > got.row[i - 1].cell[WW_RED].value);
        test_true("no doubt to speak of", !cell[WW_RED].sd.set && cell[WW_RED].n == 1);
    }
    assert_int_equal(got.meta.status, WW_STATUS_A);
    assert_true(noted(&got, "status A are made of spectra, 36 values from 380 to 730 nm"));
    assert_int_equal(got.notes.n, 1);
    ww_readings_release(&got);
    free(text);
    free(bytes);
}

/* ---- invented sheets ---- */

enum { TEXT = 1 << 16 };

/* Field names from 380 to `to` nm and rows of one formula a sample. */
static const char *sheet(const char *keys, int to, int step, size_t rows,
                         double (*value)(int nm, size_t row), int decimals) {
    static char text[TEXT];
    size_t used = (size_t)snprintf(text, TEXT, "CGATS.17\n%sBEGIN_DATA_FORMAT\nSAMPLE_ID", keys);
    for (int nm = 380; nm <= to; nm += step)
        used += (size_t)snprintf(text + used, TEXT - used, " NM%d", nm);
    used += (size_t)snprintf(text + used, TEXT - used, "\nEND_DATA_FORMAT\nBEGIN_DATA\n");
    for (size_t i = 0; i < rows; i++) {
        used += (size_t)snprintf(text + used, TEXT - used, "%zu", i + 1);
        for (int nm = 380; nm <= to; nm += step)
            used += (size_t)snprintf(text + used, TEXT - used, " %.*f", decimals, value(nm, i));
        used += (size_t)snprintf(text + used, TEXT - used, "\n");
    }
    snprintf(text + used, TEXT - used, "END_DATA\n");
    return text;
}

/* Percent of a wedge of greys, 0.05 to 3.05 in steps of 0.15. */
static double grey_percent(int nm, size_t row) {
    (void)nm;
    return 100.0 * pow(10.0, -(0.05 + 0.15 * (double)row));
}

static void a_wedge_of_greys(void **state) {
    static const char *const keys[] = {"# status: A\n", "# status: M\n", "DENSITY_STATUS \"T\"\n",
                                       "WEIGHTING_FUNCTION \"Status E\"\n"};
    (void)state;
    for (size_t k = 0; k < ROWS(keys); k++) {
        ww_readings got = parsed(keys[k], sheet(keys[k], 730, 10, 21, grey_percent, 6));
        assert_true(noted(&got, "the greatest is 89.12"));
        assert_true(noted(&got, "taken for percent: were they of 255, densities would be 0.41 "
                                "higher")); /* log10(255 / 100) */
        for (size_t i = 0; i < 21; i++) {
            for (int c = WW_RED; c < WW_CHANNEL_COUNT; c++) {
                const ww_cell *cell = &got.row[i].cell[c];
                assert_int_equal(cell->state, WW_CELL_VALUE);
                test_close(keys[k], cell->value, 0.05 + 0.15 * (double)i, 1e-5);
            }
        }
        ww_readings_release(&got);
    }
}

static double part(int nm, size_t row) {
    (void)row;
    return 0.1 + 0.001 * (nm - 380);
}

/* Source: common practice, as the header says it; and that nothing is chosen in silence. */
static void which_status(void **state) {
    static const struct {
        const char *keys;
        ww_density_status status;
        const char *says;
    } rows[] = {
        {"# status: M\n", WW_STATUS_M, "densities of status M are made"},
        {"# status: visual\n", WW_STATUS_VISUAL, "densities of status visual are made"},
        {"# emulsion: colour negative\n", WW_STATUS_M, "M is taken, the usual one for 'colour neg"},
        {"# emulsion: colour negative\n# material: paper\n", WW_STATUS_A, "one for 'paper'"},
        {"# emulsion: colour reversal\n# material: film\n", WW_STATUS_A, "for 'colour reversal'"},
        {"# material: print\n", WW_STATUS_A, "A is taken, the usual one for 'print'"},
        {"# material: strip\n", WW_STATUS_A, "for 'strip'"},
        {"# material: print\n# emulsion: black-and-white\n", WW_STATUS_VISUAL,
         "visual is taken, the usual one for 'black-and-white'"},
        {"# material: film\n", WW_STATUS_VISUAL, "visual densities alone"},
        {"MEASUREMENT_GEOMETRY \"45/0\"\n", WW_STATUS_VISUAL, "add a line '# status: M'"},
    };
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++) {
        ww_readings got = parsed(rows[i].keys, sheet(rows[i].keys, 730, 10, 2, part, 4));
        test_true(rows[i].keys, got.meta.status == rows[i].status);
        test_true(rows[i].says, noted(&got, rows[i].says));
        test_true("taken for parts of 1",
                  noted(&got, "the greatest is 0.45, and they are taken for parts of 1: were they "
                              "percent, densities would be 2.00 higher")); /* log10 100 */
        test_true(rows[i].keys, got.has[WW_RED] == (rows[i].status != WW_STATUS_VISUAL));
        test_true(rows[i].keys, got.has[WW_VISUAL]);
        ww_readings_release(&got);
    }
}

/* Where the file's last line says it. */
static void status_at_the_end(void **state) {
    char text[TEXT];
    (void)state;
    snprintf(text, sizeof text, "%s# status: M\n", sheet("", 730, 10, 2, part, 4));
    ww_readings got = parsed("at the end", text);
    assert_int_equal(got.meta.status, WW_STATUS_M);
    assert_true(got.has[WW_BLUE]);
    ww_readings_release(&got);
}

static void given_densities_come_first(void **state) {
    ww_readings got = parsed("given", "CGATS.17\n# status: scanner\nBEGIN_DATA_FORMAT\n"
                                      "SAMPLE_ID NM400 D_RED NM410\nEND_DATA_FORMAT\nBEGIN_DATA\n"
                                      "1 0.5 0.31 0.5\nEND_DATA\n");
    (void)state;
    test_cell("as given", &got, 0, WW_COLUMN_RED, 0.31);
    assert_true(noted(&got, "2 spectral fields are not read"));
    assert_true(!got.has[WW_VISUAL]);
    ww_readings_release(&got);
}

/* A range that lacks a product leaves its channel out and says so; by hand: 3.10 + 1.26 + 0.79 of
 * the 277.86 of status M red lie beyond 680 nm. */
static void a_channel_that_is_not_measured(void **state) {
    ww_readings got = parsed("short", sheet("# status: M\n", 680, 10, 3, part, 4));
    (void)state;
    assert_true(!got.has[WW_RED] && got.has[WW_GREEN] && got.has[WW_BLUE] && got.has[WW_VISUAL]);
    assert_true(noted(&got, "there are no red densities: 1.9 % of the red product"));
    assert_int_equal(got.row[2].cell[WW_RED].state, WW_CELL_MISSING);
    ww_readings_release(&got);
}

/* A cyan layer that grows denser; what passes beyond 700 nm was not measured. */
static double dense_red(int nm, size_t row) {
    return nm < 600 ? 0.5 : pow(10.0, -0.6 * (double)(row + 1));
}

/* By hand: 0.79 of 277.86 of status M red lies beyond 700 nm; if light passes there, D 3.0 is
 * -log10(0.001 x 0.99716 + 0.00284) = 2.416 and D 1.8 is -log10(0.01585 x 0.99716 + 0.00284) =
 * 1.729. */
static void doubts_become_sd(void **state) {
    ww_readings got = parsed("doubt", sheet("# status: M\n", 700, 10, 5, dense_red, 7));
    (void)state;
    test_close("value", got.row[4].cell[WW_RED].value, 3.0, 1e-6);
    test_close("sd", got.row[4].cell[WW_RED].sd.value, hypot(0.01, (3.0 - 2.416) / 1.96), 0.002);
    test_close("sd", got.row[2].cell[WW_RED].sd.value, hypot(0.01, (1.8 - 1.729) / 1.96), 0.002);
    test_true("every red has one", got.row[0].cell[WW_RED].sd.set);
    test_true("no green has", !got.row[0].cell[WW_GREEN].sd.set);
    assert_true(noted(&got, "in doubt by up to 0.58 D (red of '5')"));
    assert_true(noted(&got, "at most 0.28 % (red) lies outside"));
    ww_readings_release(&got);
}

/* Dense, denser than 4, black: the last is over. */
static double denser(int nm, size_t row) {
    (void)nm;
    return row == 2 ? 0.0 : pow(10.0, -2.9 - 1.3 * (double)row);
}

static void beyond_the_instrument(void **state) {
    ww_readings got = parsed("dense", sheet("# status: T\n", 730, 10, 3, denser, 8));
    (void)state;
    test_close("value", got.row[1].cell[WW_GREEN].value, 4.2, 1e-3);
    assert_true(noted(&got, "4 densities made of spectra are above 4, the first of '2'"));
    assert_int_equal(got.row[2].cell[WW_BLUE].state, WW_CELL_OVER);
    assert_true(noted(&got, "4 densities made of spectra are over, the first of '3'"));
    ww_readings_release(&got);
    /* Digits of 0.001: D 2.9 is written as 0.001, and so is all from 2.82 to 3.30. */
    got = parsed("coarse", sheet("# status: T\n", 730, 10, 2, denser, 3));
    test_close("value", got.row[0].cell[WW_RED].value, 3.0, 1e-9);
    test_true("in doubt", got.row[0].cell[WW_RED].sd.value > 0.05);
    assert_int_equal(got.row[1].cell[WW_RED].state, WW_CELL_OVER);
    ww_readings_release(&got);
}

static double bright(int nm, size_t row) {
    return nm < 470 && row == 1 ? 1.6 : 0.9;
}

/* Slips of one band at 560 nm in an even sample. */
static double below(int nm, size_t row) {
    return nm == 560 && row == 1 ? -0.01 : 0.3;
}

static double noise(int nm, size_t row) {
    return nm == 560 && row == 1 ? -0.0004 : 0.0004;
}

static double tenth(int nm, size_t row) {
    return nm == 560 && row == 1 ? 3.0 : 30.0;
}

static double codes(int nm, size_t row) {
    return 0.92 * 255.0 - 0.1 * (nm - 380) * (double)row;
}

/* Source: definition: no light is less than none; a value a tenth of those around it. */
static void spoilt_bands_are_told(void **state) {
    ww_readings got = parsed("noise", sheet("# status: A\n", 730, 10, 2, noise, 4));
    (void)state;
    assert_true(noted(&got, "1 spectral values are a little below 0"));
    ww_readings_release(&got);
    got = parsed("tenth", sheet("# status: A\n", 730, 10, 2, tenth, 4));
    assert_true(noted(&got, "of 1 spectra one or two values do not go with their neighbours, "
                            "the first in line 8 ('2') at 560 nm: 3, where they give 30;"));
    ww_readings_release(&got);
    got = parsed("even", sheet("# status: A\n", 730, 10, 2, part, 4));
    assert_true(!noted(&got, "neighbours") && !noted(&got, "below 0"));
    ww_readings_release(&got);
}

static void refuses(void **state) {
    struct refusal rows[] = {
        {"printing", NULL, 0, "densities of status printing cannot be made of spectra"},
        {"brighter than white", NULL, 8, "the spectral value 1.6 at 380 nm is more than a surface"},
        {"wide gaps", NULL, 6, "more than 20 nm apart"},
        {"nothing measured", NULL, 0, "no density can be made of the spectra: there are no visual"},
        {"below 0", NULL, 8, "the spectral value -0.01 at 560 nm is below 0"},
        {"codes", NULL, 7, "234.6 at 380 nm is more than a surface or a film gives, 120 at most"},
        {"codes", NULL, 7, "divide values that run to 255 by 2.55"},
    };
    (void)state;
    rows[0].text = sheet("# status: printing\n", 730, 10, 1, part, 4);
    check_refusal(&rows[0], strlen(rows[0].text));
    rows[1].text = sheet("# status: A\n", 730, 10, 2, bright, 4);
    check_refusal(&rows[1], strlen(rows[1].text));
    rows[2].text = sheet("", 730, 25, 1, part, 4);
    check_refusal(&rows[2], strlen(rows[2].text));
    rows[3].text = sheet("", 480, 10, 1, part, 4);
    check_refusal(&rows[3], strlen(rows[3].text));
    rows[4].text = sheet("# status: A\n", 730, 10, 2, below, 4);
    check_refusal(&rows[4], strlen(rows[4].text));
    rows[5].text = rows[6].text = sheet("# status: A\n", 730, 10, 2, codes, 4);
    check_refusal(&rows[5], strlen(rows[5].text));
    check_refusal(&rows[6], strlen(rows[6].text));
}

/* A row without a spectrum has no densities; a colour beside it stays. */
static void rows_without_a_spectrum(void **state) {
    ww_readings got =
        parsed("without", "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L NM540 NM560 NM580 NM600\n"
                          "END_DATA_FORMAT\nBEGIN_DATA\n1 50 - - - -\nEND_DATA\n");
    (void)state;
    test_cell("colour", &got, 0, WW_COLUMN_LAB_L, 50.0);
    assert_true(!got.has[WW_VISUAL]);
    assert_int_equal(got.meta.status, WW_STATUS_UNKNOWN);
    ww_readings_release(&got);
    /* Colours without a density that could be made: they stay, and a note says what is missing. */
    got = parsed("colours", "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L NM540 NM560 NM580 NM600\n"
                            "END_DATA_FORMAT\nBEGIN_DATA\n1 50 0.1 0.1 0.1 0.1\nEND_DATA\n");
    assert_true(noted(&got, "there are no visual densities"));
    ww_readings_release(&got);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_measured_ramp),
                                       cmocka_unit_test(a_wedge_of_greys),
                                       cmocka_unit_test(which_status),
                                       cmocka_unit_test(status_at_the_end),
                                       cmocka_unit_test(given_densities_come_first),
                                       cmocka_unit_test(a_channel_that_is_not_measured),
                                       cmocka_unit_test(doubts_become_sd),
                                       cmocka_unit_test(beyond_the_instrument),
                                       cmocka_unit_test(spoilt_bands_are_told),
                                       cmocka_unit_test(refuses),
                                       cmocka_unit_test(rows_without_a_spectrum)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
