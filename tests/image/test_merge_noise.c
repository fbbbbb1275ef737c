/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/blocks_made.h"

/* Source: the noise that the places were drawn with. */

static const struct {
    const char *name;
    ww__merge_noise noise;
    double ratio, read, shot, flicker; /* tolerances, shares */
} rows[] = {{"both", {1e-6, 1e-5, 0.0}, 4.0, 0.2, 0.05, 0.0},
            {"read alone", {2e-6, 0.0, 0.0}, 2.7, 0.05, 0.0, 0.0},
            {"shot alone", {0.0, 3e-5, 0.0}, 8.0, 0.0, 0.05, 0.0},
            {"with light that flickers", {1e-6, 1e-5, 1e-4}, 4.0, 0.2, 0.1, 0.1},
            {"flicker alone", {0.0, 0.0, 4e-4}, 2.7, 0.0, 0.0, 0.05}};

static void noise_of_two_scans(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__merge_blocks blocks = made_blocks(rows[i].ratio, 0.0, &rows[i].noise, i);
        const ww__merge_noise got = ww__merge_noise_fit(&blocks, rows[i].ratio, 0.0, 1e-12, false);
        test_close(rows[i].name, got.read, rows[i].noise.read,
                   rows[i].read * rows[i].noise.read + 5e-8);
        test_close(rows[i].name, got.shot, rows[i].noise.shot,
                   rows[i].shot * rows[i].noise.shot + 2e-7);
        test_close(rows[i].name, got.flicker, rows[i].noise.flicker,
                   rows[i].flicker * rows[i].noise.flicker);
        free(blocks.block);
    }
}

static void without_noise_there_is_that_of_rounding(void **state) {
    const ww__merge_noise none = {0.0, 0.0, 0.0};
    ww__merge_blocks blocks = made_blocks(3.0, 0.0, &none, 9);
    const ww__merge_noise got = ww__merge_noise_fit(&blocks, 3.0, 0.0, 1e-10, false);
    (void)state;
    test_close("least", got.read, 1e-10, 1e-12);
    test_close("light", ww__merge_noise_of(&(ww__merge_noise){2.0, 3.0, 4.0}, 0.5), 4.5, 1e-12);
    test_close("dark", ww__merge_noise_of(&(ww__merge_noise){2.0, 3.0, 4.0}, -0.5), 2.0, 1e-12);
    free(blocks.block);
}

/* Source: light times 3 has 9 times the variance: 9 read + 9 shot x + 9 flicker x^2 is 9 read +
 * 3 shot y + flicker y^2. */
static void an_amplified_scan_has_more(void **state) {
    const ww__merge_noise shorter = {2e-6, 5e-5, 3e-4};
    const ww__merge_noise longer = ww__merge_noise_longer(&shorter, 3.0, true);
    const ww__merge_noise same = ww__merge_noise_longer(&shorter, 3.0, false);
    (void)state;
    test_close("read", longer.read, 18e-6, 1e-18);
    test_close("shot", longer.shot, 15e-5, 1e-18);
    test_close("flicker", longer.flicker, 3e-4, 1e-18);
    test_close("light alone: read", same.read, 2e-6, 0);
    test_close("light alone: shot", same.shot, 5e-5, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(noise_of_two_scans),
                                       cmocka_unit_test(without_noise_there_is_that_of_rounding),
                                       cmocka_unit_test(an_amplified_scan_has_more)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
