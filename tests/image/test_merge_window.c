/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include "image/merge_window.h"

static ww__merge_window window_of(size_t width, size_t height, float (*value)(size_t x, size_t y)) {
    ww__merge_window w;
    assert_true(ww__merge_window_new(width, height, &w));
    for (size_t i = 0; i < width * height; i++)
        w.value[i] = value(i % width, i / width);
    return w;
}

static float ramp(size_t x, size_t y) {
    return 0.125f * (float)x + 0.25f * (float)y;
}

/* Source: definition; code 3 of 4 is clipped at 2. */
static void codes_beyond_the_end_are_held_or_tell_nothing(void **state) {
    static const struct {
        bool held;
        float value[4];
    } rows[] = {{false, {NAN, 0.25f, NAN, NAN}}, {true, {NAN, 0.25f, 0.5f, 0.5f}}};
    ww_picture p = array_picture_new(4, 1, 1, WW_SAMPLE_8, ARRAY_ROWS);
    const uint8_t code[4] = {0, 1, 2, 3};
    (void)state;
    p.white = 4.0;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__merge_window w;
        assert_true(ww__merge_window_fill(&p, (ww_region){0, 0, 4, 1}, 0,
                                          (ww__merge_end){2.0, rows[i].held}, code, &w));
        for (size_t x = 0; x < 4; x++)
            assert_true(isnan(rows[i].value[x]) ? isnan(w.value[x])
                                                : fabsf(w.value[x] - rows[i].value[x]) < 1e-7f);
        free(w.value);
    }
    ww_picture_release(&p);
}

/* Source: closed form: a ramp's mean is its middle, and weights that are even leave it a ramp. */
static void ramps_are_smooth_and_flat(void **state) {
    ww__merge_window w = window_of(48, 40, ramp), coarse, cut;
    (void)state;
    assert_true(ww__merge_window_coarse(&w, 2, 1, &coarse));
    assert_int_equal(coarse.width, 11);
    test_close("mean", (double)coarse.value[12], 0.125 * (2 + 4 + 1.5) + 0.25 * (1 + 4 + 1.5),
               1e-6);
    assert_true(ww__merge_window_smooth(&w));
    test_close("smooth", (double)ww__merge_window_at(&w, 20, 20), 0.125 * 20 + 0.25 * 20, 1e-5);
    assert_true(isnan(ww__merge_window_at(&w, 1, 20)));
    assert_true(ww__merge_window_cut(&w, 5, 6, 7, 8, &cut));
    test_close("cut", (double)ww__merge_window_at(&cut, 0, 1), 0.125 * 5 + 0.25 * 7, 1e-5);
    assert_true(ww__merge_window_flatten(&w));
    test_close("flat", (double)ww__merge_window_at(&w, 20, 20), 0.0, 1e-5);
    free(w.value);
    free(coarse.value);
    free(cut.value);
}

static float checks(size_t x, size_t y) {
    return (x + y) % 2 == 0 ? 1.0f : -1.0f;
}

/* Source: of values that are 1 or -1 the median absolute deviation is 1, and 3 sd are 4.4478; the
 * mean of 289 of them is within 1/289. */
static void what_stands_out_is_held(void **state) {
    ww__merge_window w = window_of(60, 60, checks);
    (void)state;
    w.value[30 * 60 + 30] = 100.0f;
    assert_true(ww__merge_window_flatten(&w) && ww__merge_window_hold(&w));
    test_close("speck", (double)w.value[30 * 60 + 30], 3.0 * 1.4826, 0.05);
    test_close("far from it", fabs((double)w.value[12 * 60 + 12]), 1.0, 0.01);
    free(w.value);
}

static float waves(size_t x, size_t y) {
    return (float)(sin((double)x / 2.0) * cos((double)y / 3.0));
}

/* Source: b is a at twice the light, and its window begins 7 px further left and 12 up. */
static void what_is_displaced_is_alike_there(void **state) {
    ww__merge_pair p = {window_of(40, 40, waves), window_of(60, 60, waves), 7, 12};
    double n;
    (void)state;
    for (size_t i = 0; i < 3600; i++)
        p.b.value[i] = 2.0f * p.b.value[i] + 1.0f;
    test_close("there", ww__merge_window_alike(&p, -7, -12, &n), 1.0, 1e-6);
    test_close("all", n, 1600.0, 0.0);
    test_true("not here", ww__merge_window_alike(&p, 0, 0, &n) < 0.9);
    test_close("a part", ww__merge_window_alike_in(&p, (ww_region){9, 8, 20, 15}, -7, -12, &n), 1.0,
               1e-6);
    test_close("of so many", n, 300.0, 0.0);
    test_close("too little in common", ww__merge_window_alike(&p, 44, 0, &n), -1.0, 0.0);
    free(p.a.value);
    free(p.b.value);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_beyond_the_end_are_held_or_tell_nothing),
        cmocka_unit_test(ramps_are_smooth_and_flat), cmocka_unit_test(what_stands_out_is_held),
        cmocka_unit_test(what_is_displaced_is_alike_there)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
