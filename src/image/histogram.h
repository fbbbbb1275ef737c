/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_HISTOGRAM_H
#define WW_IMAGE_HISTOGRAM_H

#include <stdbool.h>
#include <stdint.h>
#include <wedgework/picture.h>

/*
 * How many samples have each code. One bin a code for integers; for floating point a bin is what
 * agrees in sign, exponent and the first 12 bits of the mantissa, so that its middle is within 1
 * part in 8192 of what fell into it. Bins stand on pages that are made when something is counted
 * there: the histogram of a patch costs little. Counts add up to the same in any order.
 */
typedef struct ww__histogram {
    ww_sample kind;
    uint64_t **page; /* NULL where nothing was counted */
    size_t pages;
    uint64_t n;            /* samples counted */
    uint64_t strange;      /* samples that are no finite numbers: not counted */
    float least, greatest; /* of floating point, exact; where n > 0 */
} ww__histogram;

#define WW__HISTOGRAM_INIT                                                                         \
    { .page = NULL }

/* Status WW_OK; WW_EMEMORY */
ww_status ww__histogram_new(ww_sample kind, ww__histogram *histogram, ww_error *err);
void ww__histogram_release(ww__histogram *histogram);

/* ww__histogram_count - n samples, each `next` further than the one before. Status WW_OK;
 * WW_EMEMORY: some of them were counted. */
ww_status ww__histogram_count(ww__histogram *histogram, const void *sample, ptrdiff_t next,
                              size_t n, ww_error *err);

/* ww__histogram_take - counts of the codes 0 to n - 1 (of 8 or 16 bits), added and set to 0. Status
 * WW_OK; WW_EMEMORY: what was added is 0 by then. */
ww_status ww__histogram_take(ww__histogram *histogram, uint32_t count[], size_t n, ww_error *err);

/* ww__histogram_merge - add the counts of another of the same kind. Status WW_OK; WW_EMEMORY */
ww_status ww__histogram_merge(const ww__histogram *from, ww__histogram *to, ww_error *err);

/*
 * One bin that is not empty. Begin with { 0 }; ww__histogram_next gives them with rising codes and
 * is false after the last.
 */
typedef struct ww__histogram_bin {
    double code; /* the middle, for floating point; never beyond the least and the greatest */
    uint64_t count;
    size_t next; /* bin to look at next */
} ww__histogram_bin;

bool ww__histogram_next(const ww__histogram *histogram, ww__histogram_bin *bin);

/* The rest needs n > 0. */

double ww__histogram_least(const ww__histogram *histogram);
double ww__histogram_greatest(const ww__histogram *histogram);

/* ww__histogram_quantile - the least code that at least `share` thousandths of the samples do not
 * exceed. share 1 to 1000 */
double ww__histogram_quantile(const ww__histogram *histogram, unsigned share);

/* ww__histogram_spread - the least distance from a code within which at least half of the samples
 * lie: the median absolute deviation where the code is the median. Status WW_OK; WW_EMEMORY */
ww_status ww__histogram_spread(const ww__histogram *histogram, double from, double *spread,
                               ww_error *err);

/*
 * ww__histogram_gap_between - mean distance of codes that occur next to each other, of pairs of
 *                             which the lower is at least `low`, and below `high`.
 *
 *   Pairs count where both codes have 20 samples or more: noise that fills both so well would have
 *   filled each code between them, so that it is one which does not occur.
 *
 * Source    Poisson: of 20 expected none is seen with a probability of 2e-9
 * Given     low  0 or more
 * Returned  0 where there is no such pair, and in floating point; *gaps, how many there are
 */
double ww__histogram_gap_between(const ww__histogram *histogram, double low, double high,
                                 size_t *gaps);

/* ww__histogram_gap - the same in the middle four fifths of the samples, where dust is none. */
double ww__histogram_gap(const ww__histogram *histogram);

/* ww__histogram_share - share of samples with codes from low to high, both counted in. */
double ww__histogram_share(const ww__histogram *histogram, double low, double high);

typedef struct ww__histogram_moments {
    uint64_t n;
    double mean, sd; /* sd of one sample, n - 1; 0 where n < 2 */
} ww__histogram_moments;

/* ww__histogram_moments_of - of the samples with codes from low to high, both counted in. All 0
 * where there are none. */
ww__histogram_moments ww__histogram_moments_of(const ww__histogram *histogram, double low,
                                               double high);

/* ww__histogram_mean_of - mean of a function of the code over the same samples; 0 where there are
 * none. */
double ww__histogram_mean_of(const ww__histogram *histogram, double low, double high,
                             double (*function)(const void *context, double code),
                             const void *context);

#endif
