/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"
#include "support/scan_case.h"

static rows found;

static char *make(const ww_whole *whole) {
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    test_status("data", ww__plot_whole_data(whole, &script, &size, NULL), WW_OK, NULL);
    return script.bytes;
}

/* Source of the places: quantiles of the normal distribution, handbook tables (0.1 %: -3.0902,
 * 1 %: -2.3263). Densities rise along them, from the greatest code to the least. */
static void shares_by_density(void **state) {
    const ww_whole whole = scan_case_whole(true);
    char *script = make(&whole);
    (void)state;
    rows_of(script, "shares", WW_RED, &found);
    assert_int_equal(found.n, WW_WHOLE_COUNT - 1); /* the densest lies beyond */
    test_close("thinnest", found.cell[0][1], 0.24, 1e-9);
    test_close("0.1 %", found.cell[1][1], 0.31, 1e-9);
    test_close("trust", found.cell[1][3], 0.0196, 1e-6); /* 1.96 times 0.01 */
    test_close("0.1 %", found.cell[1][2], -3.0902, 1e-9);
    test_close("1 %", found.cell[2][2], -2.3263, 1e-9);
    test_close("median", found.cell[3][1], 0.87, 1e-9);
    test_close("median", found.cell[3][2], 0.0, 0.0);
    test_close("99.9 %", found.cell[5][1], 1.72, 1e-9);
    test_close("99.9 %", found.cell[5][2], 3.0902, 1e-9);
    test_holds("words", script, "first_name = 'thinnest'\nlast_name = 'densest'\n");
    free(script);
}

static void shares_by_code(void **state) {
    ww_whole whole = scan_case_whole(false);
    char *script = make(&whole);
    (void)state;
    rows_of(script, "shares", WW_RED, &found);
    assert_int_equal(found.n, WW_WHOLE_COUNT);
    test_close("no trust", found.cell[0][3], 0.0, 0.0);
    test_close("darkest", found.cell[0][1], log10(scan_case_code(3.2) / SCAN_CASE_WHITE), 1e-8);
    test_holds("words", script, "first_name = 'darkest'\nlast_name = 'lightest'\n");
    free(script);
    whole.code[WW_RED][WW_WHOLE_MIN] = 0.0; /* has no logarithm */
    script = make(&whole);
    rows_of(script, "shares", WW_RED, &found);
    assert_int_equal(found.n, WW_WHOLE_COUNT - 1);
    test_lacks("no infinity", script, "inf");
    free(script);
}

/* Source: definition: 250 of 1000 pixels are 25 %; a line begins and ends on the axis. */
static void bins_as_shares(void **state) {
    ww_whole whole = scan_case_whole(true);
    char *script;
    (void)state;
    whole.bins = (ww_whole_bins){.from = 0.1, .width = 0.02, .n = 3};
    whole.bins.count[WW_RED][0] = 250;
    whole.bins.count[WW_RED][2] = 700;
    whole.bins.darker[WW_RED] = 40;
    whole.bins.lighter[WW_RED] = 10;
    script = make(&whole);
    rows_of(script, "bins", WW_RED, &found);
    assert_int_equal(found.n, 5);
    rows_of(script, "bins", WW_GREEN, &found);
    assert_int_equal(found.n, 1); /* nothing counted: the axis alone */
    rows_of(script, "bins", WW_RED, &found);
    test_close("begins", found.cell[0][1], 0.1, 1e-9);
    test_close("begins", found.cell[0][2], 0.0, 0.0);
    test_close("share", found.cell[1][2], 25.0, 1e-9);
    test_close("edge", found.cell[3][1], 0.14, 1e-9);
    test_close("share", found.cell[3][2], 70.0, 1e-9);
    test_close("ends", found.cell[4][1], 0.16, 1e-9);
    test_close("ends", found.cell[4][2], 0.0, 0.0);
    rows_of(script, "sums", WW_RED, &found);
    assert_int_equal(found.n, 4 + 5); /* 10, 260, 260 and 960 of 1000 are no denser; percentiles */
    test_close("edge", found.cell[1][1], 0.12, 1e-9);
    test_close("no denser", found.cell[1][2], 0.26, 1e-9);
    test_close("no denser", found.cell[3][2], 0.96, 1e-9);
    free(script);
    whole.calibrated = false;
    script = make(&whole);
    rows_of(script, "sums", WW_RED, &found);
    test_close("no lighter", found.cell[1][2], 0.74, 1e-9);
    rows_of(script, "bins", WW_RED, &found);
    test_close("codes run the other way", found.cell[3][1], -0.14, 1e-9);
    free(script);
}

/* Source: by hand. Of 1000 pixels, 10 are no denser than 0.10, 260 than 0.12 and 0.14, 960 than
 * 0.16; percentiles lie on the same line. */
static void percentiles_lie_among_the_bins(void **state) {
    static const double want[][2] = {{0.09, 0.001}, {0.1, 0.01},  {0.1, 0.01}, {0.12, 0.26},
                                     {0.14, 0.26},  {0.147, 0.5}, {0.16, 0.96}};
    ww_whole whole = scan_case_whole(true);
    char *script;
    (void)state;
    whole.bins = (ww_whole_bins){.from = 0.1, .width = 0.02, .n = 3};
    whole.bins.count[WW_RED][0] = 250;
    whole.bins.count[WW_RED][2] = 700;
    whole.bins.darker[WW_RED] = 40;
    whole.bins.lighter[WW_RED] = 10;
    /* The thinnest have the greatest codes; a hundredth is too dense to have a density. */
    whole.density[WW_RED][WW_WHOLE_P99_9].value = 0.09;
    whole.density[WW_RED][WW_WHOLE_P99].value = 0.1;
    whole.density[WW_RED][WW_WHOLE_MEDIAN].value = 0.147;
    whole.density[WW_RED][WW_WHOLE_P1].state = WW_CELL_OVER;
    whole.density[WW_RED][WW_WHOLE_P0_1].state = WW_CELL_OVER;
    script = make(&whole);
    rows_of(script, "sums", WW_RED, &found);
    assert_int_equal(found.n, sizeof want / sizeof *want);
    for (size_t i = 0; i < found.n; i++)
        for (size_t k = 0; k < 2; k++)
            test_close("among", found.cell[i][k + 1], want[i][k], 1e-9);
    free(script);
}

static void nothing_and_hostile_names(void **state) {
    static char hostile[] = HOSTILE;
    const ww_whole none = WW_WHOLE_INIT;
    ww_whole whole = scan_case_whole(true);
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    char *made;
    (void)state;
    test_status("nothing", ww__plot_whole_data(&none, &script, &size, &err), WW_ENODATA, &err);
    ww__text_release(&script);
    whole.file = hostile;
    made = make(&whole);
    test_lacks("no line of its own", made, "\n!touch");
    free(made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_by_density),
        cmocka_unit_test(shares_by_code),
        cmocka_unit_test(bins_as_shares),
        cmocka_unit_test(percentiles_lie_among_the_bins),
        cmocka_unit_test(nothing_and_hostile_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
