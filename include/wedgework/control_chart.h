/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CONTROL_CHART_H
#define WEDGEWORK_CONTROL_CHART_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

/*
 * Charts of single values in the order in which they came: a centre with limits, the runs that
 * warn, and two sums that see slow drift. Values may be of any kind; of a control strip they are
 * densities.
 */

/* Mean range of two values of a normal distribution, in its standard deviations: 2 / sqrt pi, as
 * tables round it. */
#define WW_CONTROL_D2 1.128
#define WW_CONTROL_RANGE_UPPER 3.267 /* upper limit of the moving range, in mean ranges */
#define WW_CONTROL_LIMIT 3.0         /* limits are so many sigma from the centre */

typedef struct ww_control_individuals {
    double centre;     /* mean of the values */
    double mean_range; /* of neighbours' differences */
    double sigma;
    double lower, upper; /* centre -+ 3 sigma */
    bool least;          /* the values scatter less than sigma was allowed to be */
} ww_control_individuals;

/*
 * ww_control_individuals_of - chart of individuals by the mean moving range.
 *
 *   sigma = max(mean |x_i - x_(i-1)| / 1.128, least),  limits = mean -+ 3 sigma
 *
 * Source    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2
 * Given     x, n    values in their order                                   n >= 2, finite
 *           least   what sigma is never taken under                         >= 0
 * Returned  *chart
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 * Accuracy  1e-14 relative to the greatest value
 */
ww_status ww_control_individuals_of(const double x[], size_t n, double least,
                                    ww_control_individuals *chart, ww_error *err);

/* What the last of some values completes, as bits. */
typedef enum ww_control_run {
    WW_CONTROL_RUN_TWO = 1,   /* 2 of 3 beyond 2 sigma, on one side */
    WW_CONTROL_RUN_FOUR = 2,  /* 4 of 5 beyond 1 sigma, on one side */
    WW_CONTROL_RUN_EIGHT = 4, /* 8 on one side of the centre */
    WW_CONTROL_RUN_TREND = 8  /* 6 that rise, or fall, each from the one before */
} ww_control_run;

/*
 * ww_control_runs - the runs that the last value completes: it is one of those that count.
 *
 * Source    the first three: Western Electric's zone rules, as many texts give them; the last:
 *           L. S. Nelson, J. Quality Technology 16 (1984) 237-239 (from memory)
 * Given     z, n   values as (x - centre) / sigma, in their order; what differs by less than 1e-9
 *                  is the same, and what lies nearer to a line than that is not beyond it
 * Returned  bits of ww_control_run; 0 where n is 0
 */
unsigned ww_control_runs(const double z[], size_t n);

/*
 * ww_control_false - how often a chart cries for nothing: of a process that does not change, one
 *                    value in so many lies beyond its limits, and one in so many completes a run.
 *
 *   Limits of few values are wrong themselves: of a baseline of 10 they are narrow as often as
 *   wide.
 *
 * Source    simulation (tests/core/test_control_chart.c), which gives the run lengths of Champ and
 *           Woodall, Technometrics 29 (1987) 393-399, too
 * Given     baseline  values that the limits are made of, 10 at least; 0: centre and sigma are
 *                     known
 * Returned  *limit, *runs  values, of the largest of 10, 15 and 20 that is no more than baseline
 * Accuracy  5 %
 */
void ww_control_false(size_t baseline, double *limit, double *runs);

/*
 * Slow drift: a weighted mean of all values, or what they add up to. Both in sigma, from values as
 * above.
 */
typedef enum ww_control_slow_kind {
    WW_CONTROL_SLOW_NONE,
    WW_CONTROL_SLOW_EWMA, /* exponentially weighted moving average */
    WW_CONTROL_SLOW_CUSUM /* cumulative sums of both sides */
} ww_control_slow_kind;

/* "none", "ewma", "cusum". */
const char *ww_control_slow_name(ww_control_slow_kind kind);

#define WW_CONTROL_EWMA_WEIGHT 0.2 /* NIST: 0.2 to 0.3 by common practice */
#define WW_CONTROL_CUSUM_SLACK 0.5 /* [sigma] half of the shift to be found */
#define WW_CONTROL_CUSUM_LIMIT 5.0 /* [sigma] common practice: 4 or 5 */

/*
 * ww_control_ewma       - e_t = weight z_t + (1 - weight) e_(t-1), e_0 = 0
 * ww_control_ewma_limit - 3 sqrt(weight / (2 - weight)): its limits, either side of the centre
 *
 * Source    NIST/SEMATECH e-Handbook, 6.3.2.4
 * Given     weight   0 < weight <= 1
 */
double ww_control_ewma(double before, double z, double weight);
double ww_control_ewma_limit(double weight);

/* One of the two on its way; begin with { .kind = ... }. */
typedef struct ww_control_slow {
    ww_control_slow_kind kind;
    double up;   /* EWMA: the mean; CUSUM: the sum above */
    double down; /* CUSUM: the sum below, positive */
} ww_control_slow;

/*
 * ww_control_slow_add - the next value.
 *
 *   CUSUM: up = max(0, up + z - 0.5), down = max(0, down - z - 0.5), beyond where one is over 5
 *
 * Source    NIST/SEMATECH e-Handbook, 6.3.2.3 (tabular form) and 6.3.2.4
 * Returned  whether it is beyond its limit; *slow
 */
bool ww_control_slow_add(ww_control_slow *slow, double z);

/* Where it stands, in its own limit: 1 is at the upper one, -1 at the lower. */
double ww_control_slow_part(const ww_control_slow *slow);

#endif
