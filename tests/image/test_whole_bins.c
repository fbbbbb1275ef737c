/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/whole_bins.h"
#include "support/scan_case.h"
#include "support/support.h"

#include <math.h>

/* Source: definition; every sample counted by itself. */

static void by_the_codes_where_nothing_else_is_known(void **state) {
    static const uint16_t code[] = {0, 0, 1, 6553, 6554, 65535, 65535, 65535};
    ww__histogram h = WW__HISTOGRAM_INIT;
    ww_whole whole = {.white = 65535.0, .bits = 16};
    size_t sum = 0;
    (void)state;
    assert_int_equal(ww__histogram_new(WW_SAMPLE_16, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, code, 1, 8, NULL), WW_OK);
    ww__whole_bins_lay(&whole);
    ww__whole_bins_count(&h, NULL, WW_GREEN, &whole);
    test_close("from", whole.bins.from, 0.0, 0.0);
    test_close("width", whole.bins.width, 0.02, 0.0);
    /* log10 65535 = 4.8165 lies in bin 240, log10 (65535/6553) = 1.00003 in bin 50, (65535/6554)
     * a little under 1 in bin 49. */
    assert_int_equal(whole.bins.count[WW_GREEN][0], 3);
    assert_int_equal(whole.bins.count[WW_GREEN][49], 1);
    assert_int_equal(whole.bins.count[WW_GREEN][50], 1);
    assert_int_equal(whole.bins.count[WW_GREEN][240], 1);
    assert_int_equal(whole.bins.n, 241);
    assert_int_equal(whole.bins.darker[WW_GREEN], 2);
    for (size_t i = 0; i < WW_WHOLE_BINS; i++)
        sum += whole.bins.count[WW_GREEN][i];
    assert_int_equal(sum + whole.bins.lighter[WW_GREEN] + whole.bins.darker[WW_GREEN], 8);
    ww__histogram_release(&h);
}

/* Light beyond the greatest code of floating point is lighter than all bins. */
static void floating_point(void **state) {
    static const float code[] = {1.5f, 1.0f, 0.09f, 0.0f, -0.25f, 1e-7f};
    ww__histogram h = WW__HISTOGRAM_INIT;
    ww_whole whole = {.white = 1.0, .bits = 32};
    (void)state;
    assert_int_equal(ww__histogram_new(WW_SAMPLE_FLOAT, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, code, 1, 6, NULL), WW_OK);
    ww__whole_bins_lay(&whole);
    ww__whole_bins_count(&h, NULL, WW_VISUAL, &whole);
    assert_int_equal(whole.bins.lighter[WW_VISUAL], 1);
    assert_int_equal(whole.bins.count[WW_VISUAL][0], 1);
    assert_int_equal(whole.bins.count[WW_VISUAL][52], 1); /* 1.0458 */
    assert_int_equal(whole.bins.darker[WW_VISUAL], 3);
    ww__histogram_release(&h);
}

/* Source: the model that made the calibration (closed form). */
static void by_density_where_it_is_known(void **state) {
    struct scanner_case scanner;
    ww__histogram h = WW__HISTOGRAM_INIT;
    ww_whole whole = {.white = SCAN_CASE_WHITE, .bits = 16, .calibrated = true};
    uint16_t code[100];
    size_t near = 0;
    (void)state;
    scan_case_scanner(&scanner, false);
    /* Farther beyond the wedge's end than that end may be off by. */
    const double beyond = scanner.scanner.channel[WW_VISUAL].point[0].density + 0.5;
    for (size_t i = 0; i < 100; i++)
        code[i] = i < 3   ? 65535
                  : i < 5 ? (uint16_t)scan_case_code(beyond)
                          : (uint16_t)(scan_case_code(1.11) + 0.5);
    assert_int_equal(ww__histogram_new(WW_SAMPLE_16, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, code, 1, 100, NULL), WW_OK);
    ww__whole_bins_lay(&whole);
    ww__whole_bins_count(&h, &scanner.scanner, WW_VISUAL, &whole);
    assert_int_equal(whole.bins.lighter[WW_VISUAL], 3);
    assert_int_equal(whole.bins.darker[WW_VISUAL], 2);
    for (size_t i = 54; i <= 56; i++) /* 1.11, and 0.006 that the correction may add */
        near += whole.bins.count[WW_VISUAL][i];
    assert_int_equal(near, 95);
    ww__histogram_release(&h);
}

/* A scan may be lighter than the glass that its scanner's wedge lay on. */
static void bins_begin_below_zero_where_densities_do(void **state) {
    ww_whole whole = {.calibrated = true};
    (void)state;
    whole.has[WW_BLUE] = true;
    whole.density[WW_BLUE][WW_WHOLE_P99] = (ww_cell){.state = WW_CELL_VALUE, .value = -0.031};
    whole.density[WW_RED][WW_WHOLE_P99] = (ww_cell){.state = WW_CELL_VALUE, .value = -0.9};
    ww__whole_bins_lay(&whole);
    test_close("from", whole.bins.from, -0.04, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(by_the_codes_where_nothing_else_is_known),
        cmocka_unit_test(floating_point),
        cmocka_unit_test(by_density_where_it_is_known),
        cmocka_unit_test(bins_begin_below_zero_where_densities_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
