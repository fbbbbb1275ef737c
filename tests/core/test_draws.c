/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/draws.h"
#include "support/support.h"
#include <math.h>

/* Source: ISO/IEC 14882 (C++), [rand.predef]: the 10000th number of mt19937 with its default seed,
 * 5489, is 4123659995. */
static void words_of_the_standard(void **state) {
    ww__draws *draws = NULL;
    uint32_t word = 0;
    (void)state;
    test_status("new", ww__draws_new(5489, &draws, NULL), WW_OK, NULL);
    for (int i = 0; i < 10000; i++)
        word = ww__draws_word(draws);
    assert_true(word == 4123659995U);
    ww__draws_free(draws);
    ww__draws_free(NULL);
}

/* Source: definition of both; moments of the sum of 12 uniform numbers: mean 6, variance 1. */
static void ranges_and_moments(void **state) {
    ww__draws *draws = NULL;
    enum { N = 20000 };
    double sum = 0.0, squares = 0.0;
    int count[7] = {0};
    (void)state;
    test_status("new", ww__draws_new(31, &draws, NULL), WW_OK, NULL);
    for (int i = 0; i < N; i++) {
        const double z = ww__draws_normal(draws);
        const long k = ww__draws_between(draws, -3, 3);
        assert_in_range(k + 3, 0, 6);
        count[k + 3]++;
        sum += z;
        squares += z * z;
    }
    test_close("mean", sum / N, 0.0, 4.0 / sqrt(N));
    test_close("variance", squares / N, 1.0, 4.0 * sqrt(2.0 / N));
    for (int k = 0; k < 7; k++)
        test_close("each as often", count[k], N / 7.0, 4.0 * sqrt(N / 7.0));
    assert_int_equal(ww__draws_between(draws, 5, 5), 5);
    ww__draws_free(draws);
}

/* Streams of one seed, and one stream of neighbouring seeds, have nothing in common. */
static void streams_apart(void **state) {
    (void)state;
    for (uint32_t a = 0; a < 50; a++)
        for (uint32_t b = 0; b < 50; b++)
            for (uint32_t c = 0; c < a; c++)
                assert_true(ww__draws_stream(a, b) != ww__draws_stream(c, b) &&
                            ww__draws_stream(b, a) != ww__draws_stream(b, c));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(words_of_the_standard),
                                       cmocka_unit_test(ranges_and_moments),
                                       cmocka_unit_test(streams_apart)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
