/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/merge_rows.h"
#include <math.h>

/* Source: the formulas of scan_merge.h, by hand. */

static void weights_by_hand(void **state) {
    const ww__merge_rule read = {4.0, 0.0, 0.0, {1e-6, 0.0, 0.0}, {1e-6, 0.0, 0.0}};
    const ww__merge_rule shot = {4.0, 0.0, 0.0, {0.0, 1e-5, 0.0}, {0.0, 1e-5, 0.0}};
    const ww__merge_rule amplified = {4.0, 0.0, 0.0, {1e-6, 1e-5, 0.0}, {16e-6, 4e-5, 0.0}};
    (void)state;
    /* variances 1 and 1 / 16 of it; s and 4 s / 16 */
    test_close("read noise", ww__merge_rule_weight(&read, 0.1), 16.0 / 17.0, 1e-12);
    test_close("shot noise", ww__merge_rule_weight(&shot, 0.1), 4.0 / 5.0, 1e-12);
    test_close("as noisy as the shorter", ww__merge_rule_weight(&amplified, 0.1), 0.5, 1e-12);
}

/* 16 bits: shorter 1000, longer 4000 + 4 k, weight 16/17. */
static void codes_by_hand(void **state) {
    const ww_picture picture = {.sample = WW_SAMPLE_16, .white = 65535.0};
    const ww__merge_rule rule = {4.0, 0.0, 0.0, {1e-6, 0.0, 0.0}, {1e-6, 0.0, 0.0}};
    const uint16_t shorter[] = {1000, 1000, 20000, 65535, 0},
                   longer[] = {4000, 4068, 65535, 65535, 0};
    static const uint16_t want[] = {1000, 1016, 20000, 65535, 0};
    uint16_t got[5];
    ww__merge_light light;
    ww__merge_rows rows;
    ww__merge_count count = {.from = 0};
    (void)state;
    assert_int_equal(ww__merge_light_new(&picture, NULL, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_rows_new(&light, &rule, 1, &rows, NULL), WW_OK);
    ww__merge_rows_mix(&rows, shorter, longer, 5, got, &count);
    for (size_t i = 0; i < 5; i++)
        test_close("code", got[i], want[i], 0);
    test_close("from the shorter", (double)count.shorter[0], 2, 0);
    test_close("blended", (double)count.blended[0], 0, 0);
    ww__merge_rows_release(&rows);
    ww__merge_light_release(&light);
}

/* Equal scans stay what they are, in every encoding, to half a code. */
static void encoding_is_kept(void **state) {
    const ww_picture picture = {.sample = WW_SAMPLE_16, .white = 65535.0};
    const ww__merge_rule rule = {1.0, 0.0, 0.0, {1e-6, 1e-5, 0.0}, {1e-6, 1e-5, 0.0}};
    const ww_scanner scanner[] = {
        {.white = 65535.0, .gamma = {2.2, 2.2, 2.2, WW_GIVEN}},
        {.white = 65535.0, .gamma = {1.8, 1.8, 1.8, WW_GIVEN}},
        {.white = 65535.0, .encoding = WW_ENCODING_SRGB, .gamma = {2.2, 2.2, 2.2, WW_GIVEN}}};
    uint16_t *code = malloc(65536 * sizeof *code), *got = malloc(65536 * sizeof *got);
    (void)state;
    for (size_t i = 0; i < 65536; i++)
        code[i] = (uint16_t)i;
    for (size_t k = 0; k < 3; k++) {
        ww__merge_light light;
        ww__merge_rows rows;
        ww__merge_count count = {.from = 0};
        assert_int_equal(ww__merge_light_new(&picture, &scanner[k], &light, NULL), WW_OK);
        assert_int_equal(ww__merge_rows_new(&light, &rule, 1, &rows, NULL), WW_OK);
        ww__merge_rows_mix(&rows, code, code, 65536, got, &count);
        for (size_t i = 0; i < 65536; i++)
            test_close("code", got[i], (double)i, 0);
        ww__merge_rows_release(&rows);
        ww__merge_light_release(&light);
    }
    free(code);
    free(got);
}

static void eight_bits_become_sixteen(void **state) {
    const ww_picture picture = {.sample = WW_SAMPLE_8, .white = 255.0};
    const ww__merge_rule rule[] = {{2.0, 0.0, 0.0, {1e-6, 0.0, 0.0}, {1e-6, 0.0, 0.0}},
                                   {2.0, 0.0, 0.0, {1e-6, 0.0, 0.0}, {1e-6, 0.0, 0.0}}};
    const uint8_t shorter[] = {10, 200}, longer[] = {20, 255};
    uint16_t got[2];
    ww__merge_light light;
    ww__merge_rows rows;
    ww__merge_count count = {.from = 0};
    (void)state;
    assert_int_equal(ww__merge_light_new(&picture, NULL, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_rows_new(&light, rule, 2, &rows, NULL), WW_OK);
    ww__merge_rows_mix(&rows, shorter, longer, 1, got, &count);
    test_close("10 of 255", got[0], 10 * 257, 0);
    test_close("200 of 255", got[1], 200 * 257, 0);
    test_close("second channel", (double)count.shorter[1], 1, 0);
    ww__merge_rows_release(&rows);
    ww__merge_light_release(&light);
}

static void floats_that_are_no_number(void **state) {
    const ww_picture picture = {.sample = WW_SAMPLE_FLOAT, .white = 1.0};
    const ww__merge_rule rule = {4.0, 0.0, 0.0, {1e-6, 0.0, 0.0}, {1e-6, 0.0, 0.0}};
    enum { N = 10 };
    /* In both; of one; of none; noise below dark; without an end; far below dark; clipped. */
    const float shorter[N] = {0.1f, NAN, 0.1f, NAN, -0.001f, 0.1f, 0.1f, -0.8f, NAN, INFINITY},
                longer[N] = {0.4f, 0.4f, NAN, NAN, -0.004f, -INFINITY, -0.8f, 0.4f, 1.0f, 0.4f};
    static const double want[N] = {0.1, 0.1, 0.1, (double)NAN, -0.001,
                                   0.1, 0.1, 0.1, (double)NAN, 0.1};
    float got[N];
    ww__merge_light light;
    ww__merge_rows rows;
    ww__merge_count count = {.from = 300};
    (void)state;
    assert_int_equal(ww__merge_light_new(&picture, NULL, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_rows_new(&light, &rule, 1, &rows, NULL), WW_OK);
    ww__merge_rows_mix(&rows, shorter, longer, N, got, &count);
    for (size_t i = 0; i < N; i++)
        if (isnan(want[i]))
            test_true("neither", isnan(got[i]));
        else
            test_close("light", (double)got[i], want[i], 1e-7);
    /* All but the first and what is noise; what is clipped is no fault. */
    test_true("counted", count.none.n == 8 && count.none.nans == 2);
    test_true("the first", count.none.first == 301 && isnan(count.none.code));
    ww__merge_rows_release(&rows);
    ww__merge_light_release(&light);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weights_by_hand), cmocka_unit_test(codes_by_hand),
        cmocka_unit_test(encoding_is_kept), cmocka_unit_test(eight_bits_become_sixteen),
        cmocka_unit_test(floats_that_are_no_number)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
