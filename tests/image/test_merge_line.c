/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/blocks_made.h"
#include "image/merge_line.h"

/* Source: the line that the places were drawn on. York's own example (his data and weights of 1966;
 * slope -0.4805, intercept 5.4799) has a falling line, which no two exposures make. */

static const ww__merge_noise noise = {1e-6, 1e-5, 0.0};

static const ww__merge_light real = {.kind = WW_SAMPLE_FLOAT, .white = 1.0};

static ww__merge_line fit_by(const ww__merge_blocks *blocks, ww_quantity dark) {
    ww__merge_line line = {.ratio = 1.0};
    assert_int_equal(ww__merge_line_start(blocks, &line.ratio, NULL), WW_OK);
    assert_int_equal(ww__merge_line_fit(blocks, &real, &noise, dark, &line, NULL), WW_OK);
    return line;
}

static ww__merge_line fit(const ww__merge_blocks *blocks, double dark) {
    return fit_by(blocks, (ww_quantity){dark, dark, dark, WW_MEASURED});
}

static void the_line_is_found(void **state) {
    static const double ratio[] = {1.0, 2.731, 4.0, 15.3}, offset[] = {0.0, 0.002, -0.004, 0.01};
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        ww__merge_blocks blocks = made_blocks(ratio[i], offset[i], &noise, i);
        const ww__merge_line line = fit(&blocks, 0.0);
        test_close("ratio", line.ratio, ratio[i], 4.0 * line.sd);
        test_true("known", line.sd < 0.002 * ratio[i] && !line.through_dark);
        test_close("offset", line.offset, offset[i], 1e-4 * ratio[i]);
        test_close("straight", line.bent, 0.0, 0.01);
        free(blocks.block);
    }
}

/* Reflections, dust that moved: one place in five is anywhere. */
static void places_that_do_not_fit_are_left_out(void **state) {
    ww__merge_blocks blocks = made_blocks(3.3, 0.0, &noise, 5);
    uint64_t seed = 88;
    (void)state;
    for (size_t i = 0; i < blocks.n; i += 5)
        blocks.block[i].y *= 1.0 + made_random(&seed);
    const ww__merge_line line = fit(&blocks, 0.0);
    test_close("ratio", line.ratio, 3.3, 0.005 * 3.3);
    free(blocks.block);
}

static void one_level_goes_through_the_dark(void **state) {
    ww__merge_blocks blocks = made_blocks(4.0, -0.03, &noise, 6); /* dark 0.01 */
    (void)state;
    blocks.n = 30; /* lights from 0.200 to 0.193 */
    const ww__merge_line line = fit(&blocks, 0.01);
    test_true("told", line.through_dark);
    test_close("ratio", line.ratio, 4.0, 0.08); /* level 0.2 in place of 0.2 less the dark: 5 % */
    test_close("offset", line.offset, 0.01 * (1.0 - line.ratio), 1e-12);
    /* (0.75 - b) / (0.1965 - b) of 0.011 for b against that of 0.01 */
    test_close("by black", line.by_black, log2(0.739 / 0.1855 * 0.1865 / 0.740), 2e-4);
    free(blocks.block);
}

/* Source: closed form. Places near 0.02 beyond a black of 0.01 in both: through no black their
 * ratio is (4 x 0.02 + 0.01) / 0.03 = 3, a quarter less. */
static void an_unknown_black_is_in_the_doubt(void **state) {
    const ww_quantity open = {0.0, 0.0, 0.015, WW_GIVEN};
    ww__merge_blocks blocks = made_blocks(4.0, -0.03, &noise, 9);
    (void)state;
    for (size_t i = 0; i < 40; i++) { /* lights from 0.0300 to 0.0291 */
        blocks.block[i] = blocks.block[2000 + i];
        blocks.block[i].x += 0.01;
        blocks.block[i].y += 0.04;
    }
    blocks.n = 40;
    const ww__merge_line line = fit_by(&blocks, open);
    test_true("told", line.through_dark && line.guessed && line.above > 0.1 && line.below > 0.1);
    test_true("held", line.ratio - line.below < 4.0 && 4.0 < line.ratio + line.above);
    test_close("none", fit(&blocks, 0.0).ratio, 3.0, 0.3);
    free(blocks.block);
}

/* Tones that tell the ratio to a few per cent leave less open than the black would: about a light
 * of 0.04 and one of 0.13 its whole range makes 3.2 to 5.5. */
static void tones_narrow_what_a_black_leaves(void **state) {
    const ww_quantity open = {0.0, 0.0, 0.02, WW_GIVEN};
    ww__merge_blocks blocks = made_blocks(4.0, -0.03, &noise, 10);
    (void)state;
    for (size_t i = 0; i < 600; i++) { /* lights from 0.050 to 0.030 */
        blocks.block[i] = blocks.block[1400 + i];
        blocks.block[i].x += 0.01;
        blocks.block[i].y += 0.04;
    }
    blocks.n = 600;
    const ww__merge_line line = fit_by(&blocks, open);
    test_true("held", line.ratio - line.below - 3.0 * line.sd < 4.0 &&
                          4.0 < line.ratio + line.above + 3.0 * line.sd);
    test_true("narrower", line.below + line.above < 0.6);
    free(blocks.block);
}

static void a_bend_is_told(void **state) {
    ww__merge_blocks blocks = made_blocks(4.0, 0.0, &noise, 7);
    (void)state;
    for (size_t i = 0; i < blocks.n; i++) /* the longer scan saturates softly */
        blocks.block[i].y *= 1.0 - 0.3 * blocks.block[i].y;
    test_true("bent", fabs(fit(&blocks, 0.0).bent) > 0.02);
    free(blocks.block);
}

/* A quarter are dark tones of 1.2 to 1.45 codes of 255, nearly without noise: 1, and 5 or 6. */
static void what_rounding_does_is_no_bend(void **state) {
    static const ww__merge_light bytes = {.kind = WW_SAMPLE_8, .white = 255.0};
    enum { N = 1200 };
    ww__merge_blocks blocks = {malloc(N * sizeof *blocks.block), N, N};
    ww__merge_line line = {.ratio = 4.0};
    const ww_quantity none = {0.0, 0.0, 0.0, WW_MEASURED};
    (void)state;
    for (size_t i = 0; i < N; i++) {
        const double part = (double)i / N;
        const double level = part < 0.25 ? 1.2 + part : 3.0 * pow(20.0, (part - 0.25) / 0.75);
        blocks.block[i] = (ww__merge_block){.x = floor(level + 0.5) / 255.0,
                                            .y = floor(4.0 * level + 0.5) / 255.0};
    }
    assert_int_equal(ww__merge_line_fit(&blocks, &bytes, &noise, none, &line, NULL), WW_OK);
    test_close("ratio", line.ratio, 4.0, 0.08);
    test_close("straight", line.bent, 0.0, 0.0);
    assert_int_equal(ww__merge_line_fit(&blocks, &real, &noise, none, &line, NULL), WW_OK);
    test_true("which it would be", fabs(line.bent) > 0.02);
    free(blocks.block);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_line_is_found),
                                       cmocka_unit_test(places_that_do_not_fit_are_left_out),
                                       cmocka_unit_test(one_level_goes_through_the_dark),
                                       cmocka_unit_test(an_unknown_black_is_in_the_doubt),
                                       cmocka_unit_test(tones_narrow_what_a_black_leaves),
                                       cmocka_unit_test(a_bend_is_told),
                                       cmocka_unit_test(what_rounding_does_is_no_bend)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
