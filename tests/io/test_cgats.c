/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats.h"
#include "parsed.h"

/* ---- outside data ---- */

static ww_readings read_data(const char *name) {
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    char *path = test_data(name);
    if (!path)
        skip();
    test_status(name, ww_readings_file_read(path, &readings, &err), WW_OK, &err);
    free(path);
    return readings;
}

/* Source of the values: the data file itself, lines of the samples named. */
static void density_ramps(void **state) {
    ww_readings got = read_data("cgats/density_ramps_DRGBV_LAB.txt");
    (void)state;
    assert_int_equal(got.n, 84);
    assert_int_equal(got.exposure, WW_EXPOSURE_NONE);
    assert_string_equal(got.row[0].step, "0");
    test_cell("sample 0", &got, 0, WW_COLUMN_RED, 0.062);
    test_cell("sample 0", &got, 0, WW_COLUMN_BLUE, -0.012);
    test_cell("sample 0", &got, 0, WW_COLUMN_LAB_B, -10.88);
    assert_string_equal(got.row[31].step, "31");
    test_cell("sample 31", &got, 31, WW_COLUMN_GREEN, 1.0);
    test_cell("sample 31", &got, 31, WW_COLUMN_LAB_A, 64.52);
    assert_string_equal(got.row[83].step, "83");
    test_cell("sample 83", &got, 83, WW_COLUMN_VISUAL, 1.56);
    test_cell("sample 83", &got, 83, WW_COLUMN_LAB_L, 18.62);
    assert_int_equal(got.row[83].line, 90);
    assert_int_equal(got.notes.n, 0);
    ww_readings_release(&got);
}

static void decimal_commas_and_spectra(void **state) {
    ww_readings got = read_data("cgats/cyan_ramp_decimal_comma_spectral_pairs.txt");
    (void)state;
    assert_int_equal(got.n, 15);
    assert_string_equal(got.row[0].step, "0");
    test_cell("sample 0", &got, 0, WW_COLUMN_LAB_L, 85.46);
    assert_string_equal(got.row[2].step, "10");
    test_cell("sample 10", &got, 2, WW_COLUMN_LAB_A, -1.89);
    assert_string_equal(got.row[14].step, "100");
    test_cell("sample 100", &got, 14, WW_COLUMN_LAB_B, -18.86);
    assert_string_equal(got.meta.date, "2013-11-21 17:56:43");
    assert_int_equal(got.meta.density, WW_DENSITY_REFLECTION); /* 45/0 */
    assert_int_equal(got.meta.status, WW_STATUS_VISUAL);       /* none is given */
    assert_true(noted(&got, "36 values from 380 to 730 nm"));
    assert_true(got.has[WW_COLUMN_VISUAL] && !got.has[WW_COLUMN_RED]);
    ww_readings_release(&got);
}

static void colourants(void **state) {
    ww_readings got = read_data("cgats/small_cmyk_1.tsv");
    (void)state;
    assert_int_equal(got.n, 11);
    assert_string_equal(got.row[10].step, "11");
    assert_string_equal(got.row[9].tone, "3cGray");
    test_cell("3cGray", &got, 9, WW_COLUMN_CYAN, 50.0);
    test_cell("3cGray", &got, 9, WW_COLUMN_YELLOW, 40.0);
    test_cell("1cGray", &got, 10, WW_COLUMN_GRAY, 50.0);
    assert_true(noted(&got, "no row has a reading"));
    ww_readings_release(&got);
}

/* Every cut and every changed byte of real sheets is read or refused; sanitizers watch. */
static void real_sheets_spoiled(void **state) {
    static const char *const names[] = {"cgats/density_ramps_DRGBV_LAB.txt",
                                        "cgats/cyan_ramp_decimal_comma_spectral_pairs.txt",
                                        "cgats/small_cmyk_1.tsv"};
    static const char spoilers[] = "\t \n\r\"#,.-0x\xff";
    size_t refused = 0, tried = 0;
    (void)state;
    for (size_t f = 0; f < 3; f++) {
        size_t n;
        char *path = test_data(names[f]);
        char *bytes = path ? test_file_read(path, &n) : NULL;
        if (!bytes)
            skip();
        for (size_t i = 0; i < n; i += test_quick() ? 397 : 41) {
            ww_readings cut = WW_READINGS_INIT, changed = WW_READINGS_INIT;
            char kept = bytes[i];
            ww_error err = WW_ERROR_INIT;
            ww_status status = parse_bytes(bytes, i, &cut, &err);
            test_true("refused with a message", (status == WW_OK) == (err.msg[0] == '\0'));
            bytes[i] = spoilers[tried++ % (sizeof spoilers - 1)];
            refused += parse_bytes(bytes, n, &changed, NULL) != WW_OK;
            bytes[i] = kept;
            ww_readings_release(&cut);
            ww_readings_release(&changed);
        }
        free(bytes);
        free(path);
    }
    test_true("some are refused, not all", refused > 0 && refused < tried);
}

/* ---- invented sheets ---- */

#define FORMAT "BEGIN_DATA_FORMAT\nSAMPLE_ID D_RED D_VIS\nEND_DATA_FORMAT\n"
#define SHEET(keywords, data) "CGATS.17\n" keywords FORMAT "BEGIN_DATA\n" data "\nEND_DATA\n"

static void recognises_sheets(void **state) {
    static const struct {
        const char *text;
        bool is;
    } rows[] = {{"CGATS.17\n", true},
                {"CGATS.5\r\n", true},
                {"IT8.7/2\n", true},
                {"ISO28178\n", true},
                {"MADEUP\n\nBEGIN_DATA_FORMAT\n", true},
                {"step,CGATS\n", false},
                {"", false}};
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++)
        test_true(rows[i].text, ww__cgats_is(rows[i].text, strlen(rows[i].text)) == rows[i].is);
}

/* Source: keywords of CGATS.17 as its readers restate them. */
static void reads_keywords(void **state) {
    ww_readings got = parsed(
        "keywords", SHEET("ORIGINATOR \"made up\"\nFILE_DESCRIPTOR \"wedge on film\"\n"
                          "CREATED \"2026-11-25\"\nMEASUREMENT_GEOMETRY \"transmission, opal\"\n"
                          "WEIGHTING_FUNCTION \"name,density;value,Status M\"\n"
                          "# log h0: 1.25\nNUMBER_OF_FIELDS 3\nNUMBER_OF_SETS 2\n",
                          "base 0.21 \"-\" # a comment\n\"step 1\" 1.5E-1 \"over\""));
    (void)state;
    assert_string_equal(got.meta.name, "wedge on film");
    assert_string_equal(got.meta.date, "2026-11-25");
    assert_int_equal(got.meta.density, WW_DENSITY_TRANSMISSION);
    assert_int_equal(got.meta.status, WW_STATUS_M);
    test_close("log h0", got.meta.log_h0.value, 1.25, 0.0);
    assert_int_equal(got.n, 2);
    assert_true(got.row[0].is_base);
    assert_int_equal(got.row[0].cell[WW_COLUMN_VISUAL].state, WW_CELL_MISSING);
    assert_string_equal(got.row[1].step, "step 1");
    test_cell("exponent", &got, 1, WW_COLUMN_RED, 0.15);
    assert_int_equal(got.row[1].cell[WW_COLUMN_VISUAL].state, WW_CELL_OVER);
    assert_int_equal(got.notes.n, 0);
    ww_readings_release(&got);
}

static void own_columns_need_declaring(void **state) {
    static const char declared[] = "CGATS.17\nKEYWORD \"WEDGE\"\nKEYWORD \"sd_red\"\n"
                                   "BEGIN_DATA_FORMAT\nSAMPLE_ID WEDGE D_RED SD_RED\n"
                                   "END_DATA_FORMAT\nBEGIN_DATA\n1 2.05 0.3 0.01\nEND_DATA\n";
    static const char bare[] = "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID TIME D_RED RGB_R\n"
                               "END_DATA_FORMAT\nBEGIN_DATA\n1 noon 0.3 255\nEND_DATA\n";
    ww_readings got = parsed("declared", declared);
    (void)state;
    assert_int_equal(got.exposure, WW_EXPOSURE_WEDGE);
    test_close("wedge", got.row[0].exposure.value, 2.05, 0.0);
    test_close("sd", got.row[0].cell[WW_COLUMN_RED].sd.value, 0.01, 0.0);
    ww_readings_release(&got);
    got = parsed("bare", bare);
    assert_int_equal(got.exposure, WW_EXPOSURE_NONE);
    assert_true(noted(&got, "2 fields are not read, 'TIME' the first"));
    ww_readings_release(&got);
}

static void takes_the_table_with_densities(void **state) {
    static const char text[] =
        "CGATS.17\nFILE_DESCRIPTOR \"first\"\nNUMBER_OF_SETS 1\n"
        "BEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50\nEND_DATA\n"
        "DENSITY_STATUS \"T\"\n" FORMAT "BEGIN_DATA\n7 0.3 0.4\n8 0.5 0.6\nEND_DATA\n"
        "DENSITY_STATUS \"A\"\nBEGIN_DATA\n9 0.3 0.4\nEND_DATA\n";
    ww_readings got = parsed("three tables", text);
    (void)state;
    assert_int_equal(got.n, 2);
    assert_string_equal(got.row[0].step, "7");
    assert_int_equal(got.meta.status, WW_STATUS_T);
    assert_true(noted(&got, "only table 2 is read; 2 others"));
    ww_readings_release(&got);
}

static void tells_cells_from_padding(void **state) {
    ww_readings got = parsed("names with spaces, empty cells",
                             SHEET("", "grey patch\t0,5\t0,75\nnext\t\t0,5\n\"last\" \t0,25\t1"));
    (void)state;
    assert_string_equal(got.row[0].step, "grey patch");
    assert_int_equal(got.row[1].cell[WW_COLUMN_RED].state, WW_CELL_MISSING);
    test_cell("decimal comma", &got, 2, WW_COLUMN_RED, 0.25);
    ww_readings_release(&got);
    got = parsed("tabs for show", SHEET("", "1\t\t0.5\t0.75\n2\t\t\t0.5 0.25"));
    test_cell("two tabs", &got, 0, WW_COLUMN_VISUAL, 0.75);
    test_cell("three tabs", &got, 1, WW_COLUMN_RED, 0.5);
    ww_readings_release(&got);
}

/* The table with spectra is worth that with densities, before one with colours alone. */
static void takes_the_table_with_spectra(void **state) {
    static const char text[] =
        "CGATS.17\n"
        "BEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50\nEND_DATA\n"
        "BEGIN_DATA_FORMAT\nSAMPLE_ID NM540 NM560 NM580 NM600\nEND_DATA_FORMAT\n"
        "BEGIN_DATA\n7 10 10 10 10\nEND_DATA\n";
    struct refusal row = {"four wavelengths", text, 0, "% of the visual product"};
    (void)state;
    check_refusal(&row, strlen(text)); /* which no density can be made of */
}

static void foreign_matter_is_noted(void **state) {
    ww_readings got =
        parsed("foreign", SHEET("# material: glossy card\nFILTER \"Status I\"\n", "1 0.5 0.75"));
    (void)state;
    assert_true(noted(&got, "glossy card"));
    assert_true(noted(&got, "Status I"));
    assert_int_equal(got.meta.status, WW_STATUS_UNKNOWN);
    ww_readings_release(&got);
}

static const struct refusal refusals[] = {
    {"the name alone", "CGATS.17\n", 0, "BEGIN_DATA"},
    {"no field names", "CGATS.17\nBEGIN_DATA\n1 0.5\nEND_DATA\n", 2, "BEGIN_DATA_FORMAT"},
    {"no fields of ours",
     "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID RGB_R\nEND_DATA_FORMAT\nBEGIN_DATA\n1 5\nEND_DATA\n",
     0, "D_RED"},
    {"no data", "CGATS.17\n" FORMAT "BEGIN_DATA\nEND_DATA\n", 0, "no rows"},
    {"cut in the data", "CGATS.17\n" FORMAT "BEGIN_DATA\n1 0.5 0.6\n", 6, "END_DATA"},
    {"cut in the format", "CGATS.17\nBEGIN_DATA_FORMAT\nD_RED\n", 3, "END_DATA_FORMAT"},
    {"fields miscounted", SHEET("NUMBER_OF_FIELDS 4\n", "1 0.5 0.6"), 2, "NUMBER_OF_FIELDS"},
    {"sets miscounted", SHEET("NUMBER_OF_SETS 2\n", "1 0.5 0.6"), 8, "NUMBER_OF_SETS"},
    {"a count in words", SHEET("NUMBER_OF_SETS two\n", "1 0.5 0.6"), 2, "'two'"},
    {"a field twice",
     "CGATS.17\nBEGIN_DATA_FORMAT\nD_RED D_RED\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\nEND_DATA\n", 5,
     "twice"},
    {"too few values", SHEET("", "1 0.5"), 6, "2 values"},
    {"too many values", SHEET("", "1 0.5 0.6 0.7"), 6, "4 values"},
    {"a density above 6", SHEET("", "1 0.5 0.6\n2 65 0.6"), 7, "'65'"},
    {"decimal commas between spaces", SHEET("", "1 0,5 0,6"), 6, "comma"},
    {"letter O", SHEET("", "1 0.5 O.6"), 6, "letter O"},
    {"two statuses", SHEET("FILTER \"Status A\"\nDENSITY_STATUS \"T\"\n", "1 0.5 0.6"), 3,
     "contradicts"},
    {"a status in a comment", SHEET("FILTER \"Status A\"\n# status: T\n", "1 0.5 0.6"), 3,
     "'T' contradicts status A"},
    {"a status unheard of", SHEET("DENSITY_STATUS \"Q\"\n", "1 0.5 0.6"), 2,
     "density status 'Q' is not known; write A, M, T, E, visual"},
    {"quote left open", SHEET("", "\"1 0.5 0.6"), 6, "quote"},
    {"data behind BEGIN_DATA", "CGATS.17\n" FORMAT "BEGIN_DATA 1 0.5 0.6\nEND_DATA\n", 5,
     "BEGIN_DATA"},
};

static void refuses_with_line_and_remedy(void **state) {
    (void)state;
    check_refusals(refusals, ROWS(refusals));
}

static void keeps_its_cap_of_a_line(void **state) {
    enum { LINE = (1 << 20) + 64 };
    char *text = malloc(LINE + 1);
    struct refusal row = {"line too long", text, 2, "longer"};
    (void)state;
    assert_non_null(text);
    memset(text, 'x', LINE);
    memcpy(text, "CGATS.17\n", 9);
    text[LINE] = '\0';
    check_refusal(&row, LINE);
    free(text);
}

static void keeps_its_caps(void **state) {
    static const char table[] = "BEGIN_DATA\n1 0.5 0.6\nEND_DATA\n", word[] = "KEYWORD \"A\"\n";
    const size_t tables = 1001, n = strlen("CGATS.17\n" FORMAT), each = sizeof table - 1;
    char *text = malloc(n + tables * each + 1);
    struct refusal row = {"too many tables", text, 0, "tables"};
    (void)state;
    assert_non_null(text);
    memcpy(text, "CGATS.17\n" FORMAT, n);
    for (size_t i = 0; i < tables; i++)
        memcpy(text + n + i * each, table, each + 1);
    row.line = 5 + 1000 * 3;
    check_refusal(&row, strlen(text));
    memcpy(text, "CGATS.17\n", 10);
    for (size_t i = 0; i < 257; i++)
        memcpy(text + 9 + i * (sizeof word - 1), word, sizeof word);
    row = (struct refusal){"too many keywords", text, 258, "KEYWORD"};
    check_refusal(&row, strlen(text));
    memcpy(text, "CGATS.17\nBEGIN_DATA_FORMAT\n", 28);
    memset(text + 27, ' ', 2 * 4097);
    for (size_t i = 0; i < 4097; i++)
        text[27 + 2 * i] = 'F';
    text[27 + 2 * 4097] = '\0';
    row = (struct refusal){"too many fields", text, 3, "fields"};
    check_refusal(&row, strlen(text));
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(density_ramps),
                                       cmocka_unit_test(decimal_commas_and_spectra),
                                       cmocka_unit_test(colourants),
                                       cmocka_unit_test(real_sheets_spoiled),
                                       cmocka_unit_test(recognises_sheets),
                                       cmocka_unit_test(reads_keywords),
                                       cmocka_unit_test(own_columns_need_declaring),
                                       cmocka_unit_test(takes_the_table_with_densities),
                                       cmocka_unit_test(takes_the_table_with_spectra),
                                       cmocka_unit_test(tells_cells_from_padding),
                                       cmocka_unit_test(foreign_matter_is_noted),
                                       cmocka_unit_test(refuses_with_line_and_remedy),
                                       cmocka_unit_test(keeps_its_cap_of_a_line),
                                       cmocka_unit_test(keeps_its_caps)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
