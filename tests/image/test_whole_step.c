/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/whole_step.h"
#include "support/support.h"
#include <stdlib.h>

enum { SHARES = 5, CODES = 1 << 16 };
static const unsigned share[SHARES] = {0, 10, 500, 990, 1000};

/* Every code of an 8 bit scan at `step` (or, for step 0, at its square) of 16 bits, so often. */
static void make(ww__histogram *h, size_t codes, size_t step, uint32_t often) {
    uint32_t *count = calloc(CODES, sizeof *count);
    assert_int_equal(ww__histogram_new(WW_SAMPLE_16, h, NULL), WW_OK);
    for (size_t i = 0; i < codes; i++)
        count[step > 0 ? i * step : i * i] = often;
    assert_int_equal(ww__histogram_take(h, count, CODES, NULL), WW_OK);
    free(count);
}

/*
 * Source: by hand. Of 256 squares, each 100 times, the thousandths 500 +- 100 are the squares of
 * 102 to 153: (153^2 - 102^2) / 51 = 255; 990 +- 10 those of 250 to 255: (255^2 - 250^2) / 5 = 505;
 * 10 +- 10 those of 0 to 5: 5^2 / 5 = 5. The middle four fifths are those of 25 to 230:
 * (230^2 - 25^2) / 205 = 255.
 */
static void a_comb_is_seen_about_each_percentile(void **state) {
    static const struct {
        const char *name;
        size_t codes, step;
        uint32_t often;
        double common, want[SHARES];
    } rows[] = {
        {"8 bits, stretched", 256, 257, 100, 257.0, {257.0, 257.0, 257.0, 257.0, 257.0}},
        {"with odd pixels", 256, 257, 100, 1.0, {257.0, 257.0, 257.0, 257.0, 257.0}},
        {"all codes", 65536, 1, 30, 1.0, {1.0, 1.0, 1.0, 1.0, 1.0}},
        {"through a square", 256, 0, 100, 1.0, {1.0, 5.0, 255.0, 505.0, 255.0}},
        {"too few of each", 256, 257, 19, 1.0, {1.0, 1.0, 1.0, 1.0, 1.0}},
        {"sixteen tones", 16, 4000, 100, 1.0, {1.0, 1.0, 1.0, 1.0, 1.0}},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww__histogram h = WW__HISTOGRAM_INIT;
        double step[SHARES];
        make(&h, rows[i].codes, rows[i].step, rows[i].often);
        ww__whole_steps(&h, rows[i].common, share, SHARES, step);
        for (size_t k = 0; k < SHARES; k++)
            test_close(rows[i].name, step[k], rows[i].want[k], 1e-9);
        ww__histogram_release(&h);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_comb_is_seen_about_each_percentile)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
