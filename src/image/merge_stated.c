/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_stated.h"

#include "core/scanner.h"
#include <math.h>
#include <stdlib.h>

enum { PLACES_LEAST = 32, LEVELS_LEAST = 4 };
static const double most_apart = 1.0; /* px, as further is refused */
static const double little = 0.1;     /* share of a variance that detail may make */

/* Logarithms of light and of the quotient of variances, of some levels. */
typedef struct levels {
    double light[WW__MERGE_LEVELS], times[WW__MERGE_LEVELS];
    size_t n;
} levels;

/* Without what detail may make of it, where that leaves something; with what rounding may hide. */
typedef struct bounds {
    levels least, most;
} bounds;

static void add(levels *to, double light, double times) {
    to->light[to->n] = log(light);
    to->times[to->n++] = log(times);
}

static int by_detail(const void *a, const void *b) {
    const double one = fabs(((const ww__merge_block *)a)->cov);
    const double other = fabs(((const ww__merge_block *)b)->cov);
    return (one > other) - (one < other);
}

/* Variance that detail in both scans may leave in y - ratio x, in the mean of n places. */
static double detail_in(const ww__merge_block *block, size_t n, double ratio, double off,
                        double apart) {
    const double d = apart < 0.0 ? most_apart : apart + 0.05;
    double both = 0.0;
    for (size_t i = 0; i < n; i++)
        both += block[i].cov / (double)n;
    both = fmax(both, 0.0);
    return WW__MERGE_DISPLACED_MOST * d * d * 4.0 * ratio * both + off * off * both / ratio;
}

/* The calmest eighth of places, or up to half where detail makes little of their noise. */
static size_t calmest(ww__merge_block *block, size_t n, double ratio, double off, double apart) {
    double sum = 0.0;
    size_t found = n / 8;
    qsort(block, n, sizeof *block, by_detail);
    for (size_t some = found, i = 0; some <= n / 2; some *= 2) {
        for (; i < some; i++)
            sum += ww__merge_noise_difference(&block[i], ratio);
        if (!(detail_in(block, some, ratio, off, apart) < little * sum / (double)some))
            break;
        found = some;
    }
    return found;
}

static void ask_level(ww__merge_block *block, size_t n, const ww__merge_light *light,
                      const ww__merge_noise *noise, double ratio, double off, double dark,
                      double apart, bounds *to) {
    const size_t some = calmest(block, n, ratio, off, apart);
    const double detail = detail_in(block, some, ratio, off, apart);
    double found = 0.0, stated = 0.0, x = 0.0, y = 0.0;
    /* Of the places themselves: a level may hold many tones, and they be of a few. */
    for (size_t i = 0; i < some; i++) {
        const ww__merge_block *b = &block[i];
        found += ww__merge_noise_difference(b, ratio) / (double)some;
        stated += (ratio * ratio * ww__merge_noise_of(noise, b->x - dark) +
                   ww__merge_noise_of(noise, b->y - dark)) /
                  (double)some;
        x += b->x / (double)some;
        y += b->y / (double)some;
    }
    const double step = ratio * ww__merge_light_step(light, x) + ww__merge_light_step(light, y);
    if (!(x > dark))
        return;
    add(&to->most, x - dark, (found + step * step / 12.0) / stated);
    if (detail < 0.5 * found)
        add(&to->least, x - dark, (found - detail) / stated);
}

/* Mean of n > 1 values, 95 %, by what they scatter. */
static ww_quantity mean_of(const double value[], size_t n) {
    double mean = 0.0, squares = 0.0;
    for (size_t i = 0; i < n; i++)
        mean += value[i] / (double)n;
    for (size_t i = 0; i < n; i++)
        squares += (value[i] - mean) * (value[i] - mean);
    const double doubt = WW__SCANNER_95 * sqrt(squares / (double)(n - 1) / (double)n);
    return (ww_quantity){mean, mean - doubt, mean + doubt, WW_MEASURED};
}

/* What holds whichever level is left out: where all but one are of one tone, that one alone would
 * decide. */
static ww_quantity slope_of(const levels *at) {
    ww_quantity slope = ww__merge_noise_slope(at->light, at->times, at->n);
    for (size_t i = 0; i < at->n && slope.how != WW_ABSENT; i++) {
        levels rest = {.n = 0};
        for (size_t k = 0; k < at->n; k++)
            if (k != i) {
                rest.light[rest.n] = at->light[k];
                rest.times[rest.n++] = at->times[k];
            }
        const ww_quantity without = ww__merge_noise_slope(rest.light, rest.times, rest.n);
        slope.how = without.how;
        slope.low = fmin(slope.low, without.low);
        slope.high = fmax(slope.high, without.high);
    }
    return slope;
}

ww__merge_stated ww__merge_stated_find(ww__merge_blocks *blocks, const ww__merge_light *light,
                                       const ww__merge_noise *noise, double ratio, double off,
                                       double dark, double apart) {
    const size_t n = blocks->n, some = n / PLACES_LEAST;
    const size_t all = some < WW__MERGE_LEVELS ? some : WW__MERGE_LEVELS;
    bounds at = {.least.n = 0};
    ww__merge_stated stated = {WW_QUANTITY_INIT, WW_QUANTITY_INIT};
    qsort(blocks->block, n, sizeof *blocks->block, ww__merge_noise_by_level);
    for (size_t i = 0; i < all; i++) {
        const size_t from = i * n / all, to = (i + 1) * n / all;
        ask_level(blocks->block + from, to - from, light, noise, ratio, off, dark, apart, &at);
    }
    const levels *least = &at.least, *most = &at.most;
    if (most->n < LEVELS_LEAST)
        return stated;
    const ww_quantity high = mean_of(most->times, most->n);
    stated.times = (ww_quantity){exp(0.5 * high.value), 0.0, exp(0.5 * high.high), WW_MEASURED};
    if (least->n < LEVELS_LEAST)
        return stated;
    const ww_quantity low = mean_of(least->times, least->n);
    stated.times.low = exp(0.5 * low.low);
    const ww_quantity one = slope_of(least), other = slope_of(most);
    if (one.how != WW_ABSENT && other.how != WW_ABSENT)
        stated.power = (ww_quantity){0.5 * (one.value + other.value), fmin(one.low, other.low),
                                     fmax(one.high, other.high), WW_MEASURED};
    return stated;
}

/* A calibration's noise is worth 20 %; a power of 1.25 is an encoding, by photons. */
static const double alike = 1.25, encoded = 0.25;

bool ww__merge_stated_allows(const ww__merge_stated *stated) {
    const ww_quantity *times = &stated->times, *power = &stated->power;
    return times->how != WW_ABSENT && times->low < alike && times->high > 1.0 / alike &&
           (power->how == WW_ABSENT || (power->low < encoded && power->high > -encoded));
}

bool ww__merge_stated_bears_out(const ww__merge_stated *stated, double gamma) {
    const ww_quantity *power = &stated->power;
    return ww__merge_stated_allows(stated) && power->how != WW_ABSENT && power->low > -encoded &&
           power->high < 1.0 - 1.0 / gamma;
}

ww__merge_verdict ww__merge_stated_says(const ww__merge_stated *stated) {
    const ww_quantity *times = &stated->times, *power = &stated->power;
    if (times->how == WW_ABSENT)
        return WW__MERGE_STATED_OPEN;
    if (power->how != WW_ABSENT && power->high < -encoded)
        return WW__MERGE_STATED_OTHER;
    if (times->low > alike)
        return WW__MERGE_STATED_MORE;
    if (times->high < 1.0 / alike)
        return WW__MERGE_STATED_LESS;
    return power->how != WW_ABSENT && power->low > -encoded && times->low > 1.0 / alike &&
                   times->high < alike
               ? WW__MERGE_STATED_RIGHT
               : WW__MERGE_STATED_OPEN;
}
