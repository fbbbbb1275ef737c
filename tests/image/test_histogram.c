/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/histogram.h"
#include "support/emulsion.h"
#include "support/support.h"
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Source of all: the samples themselves, sorted by qsort, and the definitions of the header. */

enum { N = 2731 };

typedef struct codes {
    ww_sample kind;
    uint8_t as_8[N];
    uint16_t as_16[N];
    float as_float[N];
    double value[N]; /* sorted later */
} codes;

static void draw(codes *c, ww_sample kind, uint64_t seed) {
    dice d = {seed};
    c->kind = kind;
    for (size_t i = 0; i < N; i++) {
        /* Many at the low end, some negative in floating point. */
        const double even = dice_even(&d, kind == WW_SAMPLE_FLOAT ? -0.1 : 0.0, 1.0);
        const double drawn = even * even * even;
        c->as_8[i] = (uint8_t)(fabs(drawn) * 255.0);
        c->as_16[i] = (uint16_t)(fabs(drawn) * 65535.0);
        c->as_float[i] = (float)drawn;
        c->value[i] = kind == WW_SAMPLE_8    ? (double)c->as_8[i]
                      : kind == WW_SAMPLE_16 ? (double)c->as_16[i]
                                             : (double)c->as_float[i];
    }
}

static const void *samples(const codes *c) {
    return c->kind == WW_SAMPLE_8    ? (const void *)c->as_8
           : c->kind == WW_SAMPLE_16 ? (const void *)c->as_16
                                     : (const void *)c->as_float;
}

static int by_size(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static const struct {
    const char *name;
    ww_sample kind;
    double relative; /* tolerance, of the code */
} kinds[] = {
    {"8 bit", WW_SAMPLE_8, 0.0},
    {"16 bit", WW_SAMPLE_16, 0.0},
    {"floating point", WW_SAMPLE_FLOAT, 1.0 / 8192.0},
};

static ww__histogram counted(const codes *c) {
    ww__histogram h = WW__HISTOGRAM_INIT;
    assert_int_equal(ww__histogram_new(c->kind, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, samples(c), 1, N, NULL), WW_OK);
    return h;
}

static void gives_least_greatest_and_quantiles(void **state) {
    static const unsigned shares[] = {1, 10, 250, 500, 501, 731, 990, 999, 1000};
    codes *c = malloc(sizeof *c);
    (void)state;
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
        draw(c, kinds[k].kind, 11 + k);
        ww__histogram h = counted(c);
        qsort(c->value, N, sizeof c->value[0], by_size);
        test_true(kinds[k].name, h.n == N);
        test_close(kinds[k].name, ww__histogram_least(&h), c->value[0], 0.0);
        test_close(kinds[k].name, ww__histogram_greatest(&h), c->value[N - 1], 0.0);
        for (size_t s = 0; s < sizeof shares / sizeof shares[0]; s++) {
            /* The least of the sorted samples that `share` thousandths do not exceed. */
            size_t i = 0;
            while (1000 * (i + 1) < shares[s] * (size_t)N)
                i++;
            test_close(kinds[k].name, ww__histogram_quantile(&h, shares[s]), c->value[i],
                       kinds[k].relative * fabs(c->value[i]));
        }
        ww__histogram_release(&h);
    }
    free(c);
}

static void gives_mean_and_sd_between_limits(void **state) {
    static const double limits[][2] = {{-HUGE_VAL, HUGE_VAL}, {0.0, 0.11}, {0.11, 57.0}, {2, 3e4}};
    codes *c = malloc(sizeof *c);
    (void)state;
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
        draw(c, kinds[k].kind, 31 + k);
        ww__histogram h = counted(c);
        for (size_t l = 0; l < sizeof limits / sizeof limits[0]; l++) {
            const double low = limits[l][0], high = limits[l][1];
            double n = 0.0, sum = 0.0, squares = 0.0;
            for (size_t i = 0; i < N; i++)
                if (c->value[i] >= low && c->value[i] <= high)
                    n += 1.0, sum += c->value[i];
            for (size_t i = 0; i < N; i++)
                if (c->value[i] >= low && c->value[i] <= high)
                    squares += (c->value[i] - sum / n) * (c->value[i] - sum / n);
            const ww__histogram_moments m = ww__histogram_moments_of(&h, low, high);
            /* A limit inside a bin of floating point may take in a sample more or less. */
            const double loose = kinds[k].relative > 0.0 ? 2.0 : 0.0;
            test_close(kinds[k].name, (double)m.n, n, loose);
            test_close(kinds[k].name, ww__histogram_share(&h, low, high), n / N, loose / N);
            if (n > 1.0) {
                const double near = 1e-12 + (kinds[k].relative > 0.0 ? 1e-3 : 0.0);
                test_close(kinds[k].name, m.mean, sum / n, near * fabs(sum / n));
                test_close(kinds[k].name, m.sd, sqrt(squares / (n - 1.0)), near * m.sd);
            }
        }
        ww__histogram_release(&h);
    }
    free(c);
}

/* Source: closed forms. The codes 0 to n - 1, once each: mean (n - 1) / 2, variance n (n + 1) / 12,
 * mean of the squares (n - 1) (2 n - 1) / 6. */
static double square(const void *context, double code) {
    return *(const double *)context * code * code;
}

static void agrees_with_closed_forms(void **state) {
    static uint16_t all[65536];
    ww__histogram h = WW__HISTOGRAM_INIT;
    const double n = 65536.0, scale = 0.5;
    (void)state;
    for (size_t i = 0; i < 65536; i++)
        all[i] = (uint16_t)(i * 40503u); /* odd factor: each code once, out of order */
    assert_int_equal(ww__histogram_new(WW_SAMPLE_16, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, all, 1, 65536, NULL), WW_OK);
    const ww__histogram_moments m = ww__histogram_moments_of(&h, -HUGE_VAL, HUGE_VAL);
    test_close("mean", m.mean, (n - 1.0) / 2.0, 0.0);
    test_close("sd", m.sd, sqrt(n * (n + 1.0) / 12.0), 1e-8);
    test_close("mean of squares", ww__histogram_mean_of(&h, -1.0, n, square, &scale),
               scale * (n - 1.0) * (2.0 * n - 1.0) / 6.0, 1e-4);
    test_close("none there", ww__histogram_mean_of(&h, 0.2, 0.8, square, &scale), 0.0, 0.0);
    test_true("none there", ww__histogram_moments_of(&h, 0.2, 0.8).n == 0);
    test_close("one there", ww__histogram_moments_of(&h, 3.0, 3.0).sd, 0.0, 0.0);
    ww__histogram_release(&h);
}

static void spread_is_the_median_absolute_deviation(void **state) {
    codes *c = malloc(sizeof *c);
    double *away = malloc(N * sizeof *away);
    (void)state;
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
        draw(c, kinds[k].kind, 51 + k);
        ww__histogram h = counted(c);
        const double median = ww__histogram_quantile(&h, 500);
        double spread = -1.0;
        for (size_t i = 0; i < N; i++)
            away[i] = fabs(c->value[i] - median);
        qsort(away, N, sizeof *away, by_size);
        assert_int_equal(ww__histogram_spread(&h, median, &spread, NULL), WW_OK);
        test_close(kinds[k].name, spread, away[(N - 1) / 2], 4.0 * kinds[k].relative * 0.125);
        ww__histogram_release(&h);
    }
    free(away);
    free(c);
}

static void counts_every_next_sample(void **state) {
    static const uint16_t rgb[] = {1, 700, 9, 2, 701, 9, 3, 702, 9, 4, 703, 9};
    ww__histogram h = WW__HISTOGRAM_INIT;
    (void)state;
    assert_int_equal(ww__histogram_new(WW_SAMPLE_16, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, rgb + 1, 3, 4, NULL), WW_OK);
    test_close("forward", ww__histogram_moments_of(&h, 0.0, 1e9).mean, 701.5, 0.0);
    assert_int_equal(ww__histogram_count(&h, rgb + 9, -3, 4, NULL), WW_OK);
    test_close("backward", ww__histogram_least(&h), 1.0, 0.0);
    test_true("both", h.n == 8);
    ww__histogram_release(&h);
}

/* Two halves merged are the whole, bin by bin, whichever comes first. */
static void merges_in_any_order(void **state) {
    codes *c = malloc(sizeof *c);
    (void)state;
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
        draw(c, kinds[k].kind, 71 + k);
        ww__histogram all = counted(c), part[2], sum[2];
        const size_t size = kinds[k].kind == WW_SAMPLE_8    ? 1
                            : kinds[k].kind == WW_SAMPLE_16 ? 2
                                                            : 4;
        for (size_t i = 0; i < 2; i++) {
            const size_t from = i == 0 ? 0 : 1000, n = i == 0 ? 1000 : N - 1000;
            assert_int_equal(ww__histogram_new(c->kind, &part[i], NULL), WW_OK);
            assert_int_equal(ww__histogram_new(c->kind, &sum[i], NULL), WW_OK);
            assert_int_equal(
                ww__histogram_count(&part[i], (const char *)samples(c) + from * size, 1, n, NULL),
                WW_OK);
        }
        for (size_t i = 0; i < 2; i++) {
            ww__histogram_bin a = {0}, b = {0};
            assert_int_equal(ww__histogram_merge(&part[i], &sum[i], NULL), WW_OK);
            assert_int_equal(ww__histogram_merge(&part[1 - i], &sum[i], NULL), WW_OK);
            while (ww__histogram_next(&all, &a)) {
                assert_true(ww__histogram_next(&sum[i], &b));
                assert_true(a.code == b.code && a.count == b.count);
            }
            assert_false(ww__histogram_next(&sum[i], &b));
            test_true(kinds[k].name, sum[i].n == all.n && sum[i].least == all.least &&
                                         sum[i].greatest == all.greatest);
        }
        for (size_t i = 0; i < 2; i++) {
            ww__histogram_release(&part[i]);
            ww__histogram_release(&sum[i]);
        }
        ww__histogram_release(&all);
    }
    free(c);
}

static void takes_counts_and_leaves_none(void **state) {
    uint32_t count[65536] = {0};
    ww__histogram h = WW__HISTOGRAM_INIT;
    (void)state;
    count[0] = 3, count[65535] = UINT32_MAX, count[4711] = 5;
    assert_int_equal(ww__histogram_new(WW_SAMPLE_16, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_take(&h, count, 65536, NULL), WW_OK);
    test_true("taken", count[0] == 0 && count[65535] == 0 && count[4711] == 0);
    count[65535] = UINT32_MAX;
    assert_int_equal(ww__histogram_take(&h, count, 65536, NULL), WW_OK);
    test_true("more than 32 bits", h.n == 2 * (uint64_t)UINT32_MAX + 8);
    test_close("greatest", ww__histogram_greatest(&h), 65535.0, 0.0);
    test_close("median", ww__histogram_quantile(&h, 500), 65535.0, 0.0);
    ww__histogram_release(&h);
}

/* Source: by hand. Codes 10, 13, 15 and 20 are filled; from 15 to 20 lies one that is not, and 90
 * is of the last tenth. (3 + 2) / 2. */
static void a_gap_is_between_filled_codes(void **state) {
    uint32_t count[256] = {0};
    ww__histogram h = WW__HISTOGRAM_INIT;
    (void)state;
    assert_int_equal(ww__histogram_new(WW_SAMPLE_8, &h, NULL), WW_OK);
    count[10] = 1000, count[13] = 1000, count[15] = 1000, count[17] = 19, count[20] = 1000;
    count[90] = 21;
    assert_int_equal(ww__histogram_take(&h, count, 256, NULL), WW_OK);
    size_t gaps;
    test_close("gap", ww__histogram_gap(&h), 2.5, 1e-12);
    test_close("of 13 alone", ww__histogram_gap_between(&h, 13.0, 14.0, &gaps), 2.0, 0.0);
    test_true("one", gaps == 1);
    test_close("at the end", ww__histogram_gap_between(&h, 15.0, 90.0, &gaps), 70.0, 0.0);
    test_close("beyond", ww__histogram_gap_between(&h, 90.0, 300.0, &gaps), 0.0, 0.0);
    test_true("none", gaps == 0);
    ww__histogram_release(&h);
    assert_int_equal(ww__histogram_new(WW_SAMPLE_8, &h, NULL), WW_OK);
    count[11] = 5000;
    assert_int_equal(ww__histogram_take(&h, count, 256, NULL), WW_OK);
    test_close("one code", ww__histogram_gap(&h), 0.0, 0.0);
    ww__histogram_release(&h);
}

/* Source: IEEE 754. All finite numbers are in order, whatever their sign and size. */
static void floating_point_is_in_order(void **state) {
    static const float rising[] = {-FLT_MAX,  -1.5f, -1e-3f,       -FLT_MIN, 0.0f,     FLT_MIN,
                                   2.731e-4f, 0.25f, 0.250061035f, 1.0f,     65535.0f, FLT_MAX};
    static const float strange[] = {NAN, INFINITY, -INFINITY};
    const size_t n = sizeof rising / sizeof rising[0];
    ww__histogram h = WW__HISTOGRAM_INIT;
    ww__histogram_bin bin = {0};
    (void)state;
    assert_int_equal(ww__histogram_new(WW_SAMPLE_FLOAT, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, strange, 1, 3, NULL), WW_OK);
    test_true("no numbers", h.n == 0 && h.strange == 3 && !ww__histogram_next(&h, &bin));
    bin = (ww__histogram_bin){0};
    assert_int_equal(ww__histogram_count(&h, &rising[n - 1], -1, n, NULL), WW_OK);
    for (size_t i = 0; i < n; i++) {
        assert_true(ww__histogram_next(&h, &bin));
        test_close("in order", bin.code, (double)rising[i],
                   fabs((double)rising[i]) / 8192.0 + 1e-41);
    }
    test_true("no more", !ww__histogram_next(&h, &bin));
    test_close("least", ww__histogram_least(&h), (double)-FLT_MAX, 0.0);
    test_close("greatest", ww__histogram_greatest(&h), (double)FLT_MAX, 0.0);
    ww__histogram_release(&h);
}

/* A picture of one code has that very code, not the middle of its bin. */
static void one_code_is_exact(void **state) {
    static const float one[] = {0.7331f, 0.7331f, 0.7331f};
    ww__histogram h = WW__HISTOGRAM_INIT;
    (void)state;
    assert_int_equal(ww__histogram_new(WW_SAMPLE_FLOAT, &h, NULL), WW_OK);
    assert_int_equal(ww__histogram_count(&h, one, 1, 3, NULL), WW_OK);
    test_close("median", ww__histogram_quantile(&h, 500), (double)0.7331f, 0.0);
    ww__histogram_release(&h);
    ww__histogram_release(&h);
    ww__histogram_release(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_least_greatest_and_quantiles),
        cmocka_unit_test(gives_mean_and_sd_between_limits),
        cmocka_unit_test(agrees_with_closed_forms),
        cmocka_unit_test(spread_is_the_median_absolute_deviation),
        cmocka_unit_test(counts_every_next_sample),
        cmocka_unit_test(merges_in_any_order),
        cmocka_unit_test(takes_counts_and_leaves_none),
        cmocka_unit_test(a_gap_is_between_filled_codes),
        cmocka_unit_test(floating_point_is_in_order),
        cmocka_unit_test(one_code_is_exact),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
