/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/merge_blocks.h"
#include <math.h>

/* Source: means and variances of 0, 1, ... n - 1: (n - 1) / 2 and n (n + 1) / 12. */

static void places_are_summed_up(void **state) {
    ww_picture a = array_picture_new(24, 17, 3, WW_SAMPLE_16, ARRAY_ROWS);
    ww_picture b = array_picture_new(24, 17, 3, WW_SAMPLE_16, ARRAY_PLANES);
    ww__merge_light light;
    ww__merge_blocks blocks[WW__MERGE_CHANNELS];
    const double w = 65535.0;
    (void)state;
    for (size_t y = 0; y < 17; y++)
        for (size_t x = 0; x < 24; x++)
            for (size_t c = 0; c < 3; c++) {
                const double step = (double)(y % 8 * 8 + x % 8);
                array_set(&a, x, y, c, 1000.0 + step + 100.0 * (double)c);
                array_set(&b, x, y, c, 3000.0 + 2.0 * step);
            }
    array_set(&b, 8, 3, 1, 65535.0); /* clips the middle place of the first band, in green */
    assert_int_equal(ww__merge_light_new(&a, NULL, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_blocks_read(&a, &b, &light, blocks, NULL), WW_OK);
    for (size_t c = 0; c < 3; c++) {
        const ww__merge_block *block = &blocks[c].block[0];
        test_close("seen", (double)blocks[c].seen, 6, 0);
        test_close("held", (double)blocks[c].n, c == 1 ? 5 : 6, 0);
        test_close("x", block->x * w, 1031.5 + 100.0 * (double)c, 0.01);
        test_close("y", block->y * w, 3063.0, 0.01);
        test_close("variance", block->var_x * w * w, 64.0 * 65.0 / 12.0, 0.1);
        test_close("variance", block->var_y * w * w, 4.0 * 64.0 * 65.0 / 12.0, 0.4);
        test_close("covariance", block->cov * w * w, 2.0 * 64.0 * 65.0 / 12.0, 0.2);
    }
    ww__merge_blocks_swap(&blocks[0]);
    test_close("swapped", blocks[0].block[5].x * w, 3063.0, 0.01);
    test_close("swapped", blocks[0].block[5].var_x * w * w, 4.0 * 64.0 * 65.0 / 12.0, 0.4);
    ww__merge_blocks_release(blocks);
    ww__merge_light_release(&light);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

static void small_and_refusing_pictures(void **state) {
    ww_picture a = array_picture_new(7, 9, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    ww__merge_light light;
    ww__merge_blocks blocks[WW__MERGE_CHANNELS];
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(ww__merge_light_new(&a, NULL, &light, NULL), WW_OK);
    assert_int_equal(ww__merge_blocks_read(&a, &a, &light, blocks, NULL), WW_OK);
    test_close("too narrow", (double)blocks[0].n, 0, 0);
    ww__merge_blocks_release(blocks);
    ((array_pixels *)a.handle)->refuse = WW_ESYSTEM;
    test_status("refused", ww__merge_blocks_read(&a, &a, &light, blocks, &err), WW_ESYSTEM, &err);
    ww__merge_light_release(&light);
    ww_picture_release(&a);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(places_are_summed_up),
                                       cmocka_unit_test(small_and_refusing_pictures)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
