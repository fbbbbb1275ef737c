/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/patch.h"
#include "support/support.h"
#include <math.h>

/* The steps of the codes that patches are read in. */

enum { WIDTH = 120, HEIGHT = 90 };

/* Source: by hand. Levels left out code 21: a fifth of the pixels is two codes from the median,
 * where codes are 1.5 apart in the mean, and is no dust. */
static void neighbours_across_a_gap_are_no_dust(void **state) {
    const ww__area area = array_box(0.0, 0.0, 40.0, 50.0);
    ww_picture p = array_picture_new(40, 50, 1, WW_SAMPLE_8, ARRAY_ROWS);
    ww_patch got;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t k = 0; k < 2000; k++)
        array_set(&p, k % 40, k / 40, 0, k % 5 == 0 ? 20.0 : k % 5 == 1 ? 23.0 : 22.0);
    test_status("read", ww__patch_read(&p, &area, 1, NULL, 1, &got, &err), WW_OK, &err);
    test_close("left out", got.rejected, 0.0, 0.0);
    ww_picture_release(&p);
}

/* Source: by hand. An 8 bit scan whose codes were made 16 bit by a curve, v + v^2 / 510 times 257:
 * from 100 to 101 are 257 (1 + 201 / 510) = 358.3 codes, from 30 to 31 are 287.7. The third area
 * has one code alone, and the greatest step of the others; two areas that differ are no comb. */
static void a_curve_leaves_each_area_its_step(void **state) {
    const ww__area area[] = {array_box(0.0, 0.0, 40.0, 50.0), array_box(50.0, 0.0, 40.0, 50.0),
                             array_box(100.0, 0.0, 40.0, 50.0), array_box(150.0, 0.0, 40.0, 50.0)};
    static const double tone[] = {100.0, 30.0, 60.0, 30.0};
    (void)state;
    for (size_t n = 2; n <= 4; n += 2) {
        ww_picture p = array_picture_new(200, 50, 1, WW_SAMPLE_16, ARRAY_ROWS);
        ww_patch got[4];
        ww_error err = WW_ERROR_INIT;
        for (size_t i = 0; i < 4; i++)
            for (size_t k = 0; k < 2000; k++) {
                const double v = tone[i] + (i == 2 ? 0.0 : (double)(k % 2));
                array_set(&p, 50 * i + k % 40, k / 40, 0, round(257.0 * (v + v * v / 510.0)));
            }
        test_status("read", ww__patch_read(&p, area, n, NULL, 1, got, &err), WW_OK, &err);
        test_close("100", got[0].channel[WW_VISUAL].step, n == 4 ? 358.3 : 1.0, 1.0);
        test_close("30", got[1].channel[WW_VISUAL].step, n == 4 ? 287.7 : 1.0, 1.0);
        if (n == 4)
            test_close("one code", got[2].channel[WW_VISUAL].step, 358.3, 1.0);
        ww_picture_release(&p);
    }
}

/* Source: by hand. One area shows 257 as the step, in three codes; the other holds two of which one
 * is rare, which alone would be dust. A picture without noise and with a speck shows no step. */
static void the_step_is_that_of_all_areas(void **state) {
    const ww__area area[] = {array_box(0.0, 0.0, 50.0, 50.0), array_box(60.0, 0.0, 50.0, 50.0)};
    (void)state;
    for (int noisy = 0; noisy < 2; noisy++) {
        ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_16, ARRAY_ROWS);
        ww_patch got[2];
        ww_error err = WW_ERROR_INIT;
        for (size_t y = 0; y < 50; y++)
            for (size_t x = 0; x < 50; x++) {
                array_set(&p, x, y, 0, 257.0 * (noisy ? 20.0 + (double)((x + y) % 3) : 20.0));
                array_set(&p, 60 + x, y, 0, 257.0 * (x % 25 == 7 ? 5.0 : 4.0));
            }
        test_status("read", ww__patch_read(&p, area, 2, NULL, 1, got, &err), WW_OK, &err);
        test_close("step", got[1].channel[WW_VISUAL].step, noisy ? 257.0 : 1.0, 0.0);
        test_close("left out", got[1].rejected, noisy ? 0.0 : 0.04, 1e-12);
        test_close("mean", got[1].channel[WW_VISUAL].code, 257.0 * (noisy ? 4.04 : 4.0), 1e-9);
        ww_picture_release(&p);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(neighbours_across_a_gap_are_no_dust),
        cmocka_unit_test(a_curve_leaves_each_area_its_step),
        cmocka_unit_test(the_step_is_that_of_all_areas),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
