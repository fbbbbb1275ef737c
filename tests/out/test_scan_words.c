/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/scan_words.h"
#include "results.h"
#include "support/scan_case.h"

/* Sources: the interface's rules for numbers (densities to 0.01, a doubt never made to look smaller
 * than it is), arithmetic by hand, and the formulas of the headers. */

static void chooses_the_channel_that_one_speaks_of(void **state) {
    static const struct {
        const char *name;
        bool has[WW_CHANNEL_COUNT];
        ww_channel want;
    } rows[] = {
        {"grey", {false, false, false, true}, WW_VISUAL},
        {"colour", {true, true, true, false}, WW_GREEN},
        {"colour and grey", {true, true, true, true}, WW_VISUAL},
        {"red alone", {true, false, false, false}, WW_RED},
        {"blue alone", {false, false, true, false}, WW_BLUE},
        {"nothing", {false, false, false, false}, WW_CHANNEL_COUNT},
    };
    struct scanner_case made;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        test_true(rows[i].name, ww__scan_main_channel(rows[i].has) == rows[i].want);
    scan_case_scanner(&made, true);
    test_true("scanner", ww__scan_scanner_channel(&made.scanner) == WW_GREEN);
}

static void expect(const char *row, ww__text *text, const char *want) {
    test_text(row, ww__text_string(text), want);
    ww__text_release(text);
}

static void writes_codes_and_shares(void **state) {
    static const struct {
        const char *want;
        double code, white;
    } codes[] = {{"50232", 50231.7, 65535},
                 {"2211", 2211.4, 4095},
                 {"131.3", 131.27, 255},
                 {"0.34127", 0.341271, 1.0}};
    static const struct {
        const char *want;
        double share;
    } shares[] = {{"0.0", 0.0},    {"0.04", 0.0004}, {"0.99", 0.00994},
                  {"1.2", 0.0123}, {"100.0", 1.0},   {"-1.2", -0.0123}};
    ww__text text = WW__TEXT_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        ww__words_code(&text, codes[i].code, codes[i].white);
        expect("code", &text, codes[i].want);
    }
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        ww__words_share(&text, shares[i].share);
        expect("share", &text, shares[i].want);
    }
    ww__words_share_cell(&text, 0.0123);
    expect("in a column", &text, "1.23");
}

/* Source: an inch is 25.4 mm. */
static void says_what_the_file_says_of_itself(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    ww__words_scan(&text, 16, (ww_optional){true, 1200.0 / 25.4}, "Heron\x1b grey");
    expect("all", &text, " The file has 16 bits, 1200 px an inch and the profile 'Heron? grey'.");
    ww__words_scan(&text, 8, (ww_optional){false, 0.0}, NULL);
    expect("nothing", &text, " The file has 8 bits, no resolution and no colour profile.");
}

static void writes_how_a_strip_is_turned(void **state) {
    static const struct {
        const char *want;
        double angle_deg;
    } turns[] = {{"lying straight", 0.0},
                 {"lying straight", -0.049},
                 {"turned 0.1 degrees anticlockwise", -0.051},
                 {"turned 7.8 degrees clockwise", 7.83}};
    ww__text text = WW__TEXT_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof turns / sizeof *turns; i++) {
        ww__words_turn(&text, turns[i].angle_deg);
        expect("turned", &text, turns[i].want);
    }
}

static void names_files_without_folders(void **state) {
    static const struct {
        const char *file, *want;
    } rows[] = {{"wedge.tif", "wedge.tif"},
                {"scans/june/wedge.tif", "wedge.tif"},
                {"/a\x1b.tif", "a?.tif"},
                {"folder/", "folder/"},
                {"", "Scan"},
                {NULL, "Scan"}};
    ww__text text = WW__TEXT_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__words_file(&text, rows[i].file, "Scan");
        expect("file", &text, rows[i].want);
    }
    ww__words_file_quoted(&text, "scans/june/wedge.tif", "the scan");
    expect("quoted", &text, "'wedge.tif'");
    ww__words_file_quoted(&text, NULL, "the scan");
    expect("nameless", &text, "the scan");
}

static void writes_trust(void **state) {
    static const struct {
        const char *want;
        double half;
    } rows[] = {
        {"0.01", 0.0}, {"0.01", 0.0031}, {"0.02", 0.0131}, {"0.02", 0.0210}, {"0.03", 0.0212}};
    static const ww_cell over = {.state = WW_CELL_OVER}, none = {.state = WW_CELL_MISSING};
    const ww_cell less = {.state = WW_CELL_LESS, .value = 0.0314};
    const ww_cell value = {WW_CELL_VALUE, 0.4731, {true, 0.01}, 1};
    const ww_cell bare = {WW_CELL_VALUE, 0.4731, {false, 0.0}, 1};
    ww__text text = WW__TEXT_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__words_trust(&text, rows[i].half);
        expect("trust", &text, rows[i].want);
    }
    ww__words_trust_ends(&text, 0.013, 0.018);
    expect("alike", &text, "0.02");
    ww__words_trust_ends(&text, 0.013, 0.048);
    expect("ends", &text, "0.02 at the thin end, +-0.05 at the dense end");
    ww__words_cell(&text, &value);
    expect("value", &text, "0.47 D");
    ww__words_cell(&text, &over);
    expect("over", &text, "beyond the scanner's wedge");
    ww__words_cell(&text, &none);
    expect("none", &text, "not read");
    ww__words_cell(&text, &less);
    expect("less", &text, "less than 0.03 D");
    ww__words_density(&text, &value);
    expect("value in a table", &text, "0.47");
    ww__words_density(&text, &over);
    expect("over in a table", &text, "over");
    ww__words_density(&text, &none);
    expect("none in a table", &text, "-");
    ww__words_density(&text, &less);
    expect("less in a table", &text, "<0.03");
    /* The normal distribution's 97.5 % quantile, handbook tables: 1.96. */
    test_close("95 %", ww__scan_trust(&value), 0.0196, 1e-5);
    test_close("no error known", ww__scan_trust(&bare), 0.0, 0.0);
    test_close("over", ww__scan_trust(&over), 0.0, 0.0);
    test_close("less", ww__scan_trust(&less), 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chooses_the_channel_that_one_speaks_of),
        cmocka_unit_test(writes_codes_and_shares),
        cmocka_unit_test(says_what_the_file_says_of_itself),
        cmocka_unit_test(writes_how_a_strip_is_turned),
        cmocka_unit_test(names_files_without_folders),
        cmocka_unit_test(writes_trust),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
