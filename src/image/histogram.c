/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/histogram.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PAGE_BITS = 8, PAGE = 1 << PAGE_BITS, DROPPED_BITS = 11 };

static const uint32_t sign_bit = 0x80000000u;

static size_t pages_of(ww_sample kind) {
    switch (kind) {
    case WW_SAMPLE_8:
        return 1;
    case WW_SAMPLE_16:
        return 1 << (16 - PAGE_BITS);
    default:
        return 1 << (32 - DROPPED_BITS - PAGE_BITS);
    }
}

ww_status ww__histogram_new(ww_sample kind, ww__histogram *histogram, ww_error *err) {
    assert(histogram);
    ww__histogram h = {.kind = kind, .pages = pages_of(kind)};
    h.page = calloc(h.pages, sizeof *h.page);
    if (!h.page)
        return ww_error_set(err, WW_EMEMORY, "no memory to count the codes of pixels");
    *histogram = h;
    return WW_OK;
}

void ww__histogram_release(ww__histogram *histogram) {
    if (!histogram)
        return;
    for (size_t i = 0; i < histogram->pages; i++)
        free(histogram->page[i]);
    free(histogram->page);
    *histogram = (ww__histogram)WW__HISTOGRAM_INIT;
}

/* The page, made where it was not there; NULL: no memory. */
static uint64_t *page_at(ww__histogram *h, size_t i) {
    if (!h->page[i])
        h->page[i] = calloc(PAGE, sizeof **h->page);
    return h->page[i];
}

static ww_status no_page(ww_error *err) {
    return ww_error_set(err, WW_EMEMORY, "no memory to count the codes of pixels");
}

/* ------------------------------------------------------------------------------- counting */

static ww_status count_8(ww__histogram *h, const uint8_t *sample, ptrdiff_t next, size_t n,
                         ww_error *err) {
    uint64_t *const page = page_at(h, 0);
    if (!page)
        return no_page(err);
    for (size_t i = 0; i < n; i++, sample += next)
        page[*sample]++;
    h->n += n;
    return WW_OK;
}

static ww_status count_16(ww__histogram *h, const uint16_t *sample, ptrdiff_t next, size_t n,
                          ww_error *err) {
    for (size_t i = 0; i < n; i++, sample += next) {
        uint64_t *const page = page_at(h, *sample >> PAGE_BITS);
        if (!page)
            return no_page(err);
        page[*sample & (PAGE - 1)]++;
        h->n++;
    }
    return WW_OK;
}

/* Bits in an order that rises with the number: the negative ones turned round, below the others. */
static uint32_t ordered(float number) {
    uint32_t bits;
    memcpy(&bits, &number, sizeof bits);
    return bits & sign_bit ? ~bits : bits | sign_bit;
}

static float number_of(uint32_t order) {
    const uint32_t bits = order & sign_bit ? order & ~sign_bit : ~order;
    float number;
    memcpy(&number, &bits, sizeof number);
    return number;
}

static void widen(ww__histogram *h, float low, float high) {
    if (h->n == 0 || low < h->least)
        h->least = low;
    if (h->n == 0 || high > h->greatest)
        h->greatest = high;
}

static ww_status count_float(ww__histogram *h, const float *sample, ptrdiff_t next, size_t n,
                             ww_error *err) {
    for (size_t i = 0; i < n; i++, sample += next) {
        if (!isfinite(*sample)) {
            h->strange++;
            continue;
        }
        const uint32_t key = ordered(*sample) >> DROPPED_BITS;
        uint64_t *const page = page_at(h, key >> PAGE_BITS);
        if (!page)
            return no_page(err);
        page[key & (PAGE - 1)]++;
        widen(h, *sample, *sample);
        h->n++;
    }
    return WW_OK;
}

ww_status ww__histogram_count(ww__histogram *histogram, const void *sample, ptrdiff_t next,
                              size_t n, ww_error *err) {
    assert(histogram && histogram->page && sample);
    switch (histogram->kind) {
    case WW_SAMPLE_8:
        return count_8(histogram, sample, next, n, err);
    case WW_SAMPLE_16:
        return count_16(histogram, sample, next, n, err);
    default:
        return count_float(histogram, sample, next, n, err);
    }
}

ww_status ww__histogram_take(ww__histogram *histogram, uint32_t count[], size_t n, ww_error *err) {
    assert(histogram && histogram->kind != WW_SAMPLE_FLOAT && n <= histogram->pages * PAGE);
    for (size_t i = 0; i < n; i++) {
        if (count[i] == 0)
            continue;
        uint64_t *const page = page_at(histogram, i >> PAGE_BITS);
        if (!page)
            return no_page(err);
        page[i & (PAGE - 1)] += count[i];
        histogram->n += count[i];
        count[i] = 0;
    }
    return WW_OK;
}

ww_status ww__histogram_merge(const ww__histogram *from, ww__histogram *to, ww_error *err) {
    assert(from && to && from->kind == to->kind);
    for (size_t i = 0; i < from->pages; i++) {
        uint64_t *const page = from->page[i] ? page_at(to, i) : NULL;
        if (!from->page[i])
            continue;
        if (!page)
            return no_page(err);
        for (size_t k = 0; k < PAGE; k++)
            page[k] += from->page[i][k];
    }
    if (from->n > 0)
        widen(to, from->least, from->greatest);
    to->n += from->n;
    to->strange += from->strange;
    return WW_OK;
}

/* -------------------------------------------------------------------------------- reading */

/* The two bins about 0 hold 0 itself, and what is too small to be light. */
static double code_of(const ww__histogram *h, size_t bin) {
    const uint32_t half = 1u << (DROPPED_BITS - 1);
    if (h->kind != WW_SAMPLE_FLOAT)
        return (double)bin;
    const uint32_t middle = ((uint32_t)bin << DROPPED_BITS) | half;
    if (middle == (sign_bit | half) || middle == (sign_bit | half) - 2 * half)
        return 0.0;
    const float code = number_of(middle);
    return (double)(code < h->least ? h->least : code > h->greatest ? h->greatest : code);
}

bool ww__histogram_next(const ww__histogram *histogram, ww__histogram_bin *bin) {
    assert(histogram && bin);
    for (size_t i = bin->next; i < histogram->pages * PAGE; i++) {
        const uint64_t *const page = histogram->page[i >> PAGE_BITS];
        if (!page) {
            i |= PAGE - 1;
        } else if (page[i & (PAGE - 1)] > 0) {
            *bin = (ww__histogram_bin){code_of(histogram, i), page[i & (PAGE - 1)], i + 1};
            return true;
        }
    }
    bin->next = histogram->pages * PAGE;
    return false;
}

double ww__histogram_least(const ww__histogram *histogram) {
    ww__histogram_bin bin = {0};
    assert(histogram && histogram->n > 0);
    if (histogram->kind == WW_SAMPLE_FLOAT)
        return (double)histogram->least;
    ww__histogram_next(histogram, &bin);
    return bin.code;
}

double ww__histogram_greatest(const ww__histogram *histogram) {
    ww__histogram_bin bin = {0};
    assert(histogram && histogram->n > 0);
    if (histogram->kind == WW_SAMPLE_FLOAT)
        return (double)histogram->greatest;
    while (ww__histogram_next(histogram, &bin))
        ;
    return bin.code;
}

/* Whole numbers, so that no share falls between two samples: the least rank r with
 * 1000 r >= share n. */
static uint64_t rank_of(uint64_t n, unsigned share) {
    return n / 1000 * share + (n % 1000 * share + 999) / 1000;
}

double ww__histogram_quantile(const ww__histogram *histogram, unsigned share) {
    assert(histogram && histogram->n > 0 && share >= 1 && share <= 1000);
    const uint64_t rank = rank_of(histogram->n, share);
    ww__histogram_bin bin = {0};
    uint64_t below = 0;
    while (below < rank && ww__histogram_next(histogram, &bin))
        below += bin.count;
    return bin.code;
}

typedef struct distance {
    double away;
    uint64_t count;
} distance;

static int by_distance(const void *left, const void *right) {
    const distance *a = left, *b = right;
    return (a->away > b->away) - (a->away < b->away);
}

ww_status ww__histogram_spread(const ww__histogram *histogram, double from, double *spread,
                               ww_error *err) {
    assert(histogram && histogram->n > 0 && spread);
    size_t bins = 0;
    for (ww__histogram_bin bin = {0}; ww__histogram_next(histogram, &bin);)
        bins++;
    distance *away = malloc(bins * sizeof *away);
    if (!away)
        return ww_error_set(err, WW_EMEMORY, "no memory for the spread of %zu codes", bins);
    size_t i = 0;
    for (ww__histogram_bin bin = {0}; ww__histogram_next(histogram, &bin); i++)
        away[i] = (distance){fabs(bin.code - from), bin.count};
    qsort(away, bins, sizeof *away, by_distance);
    const uint64_t rank = rank_of(histogram->n, 500);
    uint64_t within = away[0].count;
    for (i = 0; within < rank; within += away[i].count)
        i++;
    *spread = away[i].away;
    free(away);
    return WW_OK;
}

double ww__histogram_gap_between(const ww__histogram *histogram, double low, double high,
                                 size_t *gaps) {
    static const uint64_t filled = 20;
    double sum = 0.0;
    assert(histogram && histogram->n > 0 && gaps);
    *gaps = 0;
    if (histogram->kind == WW_SAMPLE_FLOAT)
        return 0.0;
    ww__histogram_bin before = {0}, bin = {.next = (size_t)low};
    while (ww__histogram_next(histogram, &bin) && before.code < high) {
        if (before.count >= filled && bin.count >= filled) {
            sum += bin.code - before.code;
            (*gaps)++;
        }
        before = bin;
    }
    return *gaps > 0 ? sum / (double)*gaps : 0.0;
}

double ww__histogram_gap(const ww__histogram *histogram) {
    size_t gaps;
    return ww__histogram_gap_between(histogram, ww__histogram_quantile(histogram, 100),
                                     ww__histogram_quantile(histogram, 900), &gaps);
}

double ww__histogram_share(const ww__histogram *histogram, double low, double high) {
    assert(histogram && histogram->n > 0);
    uint64_t n = 0;
    for (ww__histogram_bin bin = {0}; ww__histogram_next(histogram, &bin);)
        if (bin.code >= low && bin.code <= high)
            n += bin.count;
    return (double)n / (double)histogram->n;
}

/* ------------------------------------------------------------------------------- averages */

static double itself(const void *context, double code) {
    (void)context;
    return code;
}

double ww__histogram_mean_of(const ww__histogram *histogram, double low, double high,
                             double (*function)(const void *context, double code),
                             const void *context) {
    assert(histogram && function);
    uint64_t n = 0;
    double sum = 0.0;
    for (ww__histogram_bin bin = {0}; ww__histogram_next(histogram, &bin);) {
        if (bin.code < low || bin.code > high)
            continue;
        n += bin.count;
        sum += (double)bin.count * function(context, bin.code); /* exact for whole codes */
    }
    return n > 0 ? sum / (double)n : 0.0;
}

ww__histogram_moments ww__histogram_moments_of(const ww__histogram *histogram, double low,
                                               double high) {
    ww__histogram_moments m = {.mean = ww__histogram_mean_of(histogram, low, high, itself, NULL)};
    double squares = 0.0;
    for (ww__histogram_bin bin = {0}; ww__histogram_next(histogram, &bin);) {
        if (bin.code < low || bin.code > high)
            continue;
        const double away = bin.code - m.mean;
        m.n += bin.count;
        squares += (double)bin.count * away * away;
    }
    if (m.n > 1)
        m.sd = sqrt(squares / (double)(m.n - 1));
    return m;
}
