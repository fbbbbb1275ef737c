/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/bands_map.h"
#include "image/merge_made.h"

/* Source: definition; sums by hand. */

static void add(const void *const pixel[], size_t row, size_t n, void *made, size_t worker,
                void *context) {
    (void)row;
    size_t *count = context;
    for (size_t i = 0; i < n; i++)
        ((uint16_t *)made)[i] = (uint16_t)(((const uint8_t *)pixel[0])[i] +
                                           (pixel[1] ? ((const uint8_t *)pixel[1])[i] : 0));
    count[worker] += n;
}

static void keep_progress(void *context, double done) {
    *(double *)context = done;
}

static ww_picture made(size_t width, size_t height, unsigned times) {
    ww_picture p = array_picture_new(width, height, 1, WW_SAMPLE_8, ARRAY_ROWS);
    for (size_t y = 0; y < height; y++)
        for (size_t x = 0; x < width; x++)
            array_set(&p, x, y, 0, (double)((x + y * 3) * times % 256));
    return p;
}

static void one_or_two_are_mapped(void **state) {
    static const size_t height[] = {1, 16, 17, 333};
    (void)state;
    for (size_t k = 0; k < 4; k++)
        for (size_t n = 1; n <= 2; n++) {
            ww_picture a = made(61, height[k], 1), b = made(61, height[k], 7);
            const ww_picture *both[] = {&a, &b};
            size_t count[WW__THREADS_MOST] = {0}, all = 0;
            double done = 0.0;
            made_rows rows = {.bytes = malloc(61 * height[k] * 2), .row_bytes = 122};
            b.progress = keep_progress;
            b.progress_context = &done;
            assert_int_equal(
                ww__bands_map(both, n, 2, add, count, (ww_row_sink){made_take, &rows}, NULL),
                WW_OK);
            test_close("rows", (double)rows.n, (double)height[k], 0);
            for (size_t i = 0; i < 61 * height[k]; i++)
                test_close("sum", ((uint16_t *)(void *)rows.bytes)[i],
                           (double)((i % 61 + i / 61 * 3) % 256 +
                                    (n == 2 ? (i % 61 + i / 61 * 3) * 7 % 256 : 0)),
                           0);
            for (size_t i = 0; i < WW__THREADS_MOST; i++)
                all += count[i];
            test_close("counted", (double)all, (double)(61 * height[k]), 0);
            test_close("progress", done, n == 2 ? 1.0 : 0.0, 1e-12);
            free(rows.bytes);
            ww_picture_release(&a);
            ww_picture_release(&b);
        }
}

static void refusals_are_handed_on(void **state) {
    ww_picture a = made(5, 5, 1);
    const ww_picture *one[] = {&a};
    size_t count[WW__THREADS_MOST] = {0};
    made_rows rows = {.refuse = WW_ESYSTEM};
    ww_error err = WW_ERROR_INIT;
    const ww_row_sink sink = {made_take, &rows};
    (void)state;
    test_status("sink", ww__bands_map(one, 1, 2, add, count, sink, &err), WW_ESYSTEM, &err);
    ((array_pixels *)a.handle)->refuse = WW_EINPUT;
    test_status("picture", ww__bands_map(one, 1, 2, add, count, sink, &err), WW_EINPUT, &err);
    ww_picture_release(&a);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(one_or_two_are_mapped),
                                       cmocka_unit_test(refusals_are_handed_on)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
