/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_noise.h"

#include "core/scanner.h"
#include "image/order.h"
#include <math.h>
#include <stdlib.h>

enum { LEVELS = WW__MERGE_LEVELS, PLACES_LEAST = 8 };

/* Median of chi^2 over its degrees of freedom, (1 - 2 / (9 * 63))^3. */
static const double median_share = 0.98946;

double ww__merge_noise_of(const ww__merge_noise *noise, double light) {
    const double l = fmax(light, 0.0);
    return noise->read + l * (noise->shot + l * noise->flicker);
}

ww__merge_noise ww__merge_noise_longer(const ww__merge_noise *shorter, double ratio,
                                       bool amplified) {
    return amplified ? (ww__merge_noise){ratio * ratio * shorter->read, ratio * shorter->shot,
                                         shorter->flicker}
                     : *shorter;
}

int ww__merge_noise_by_level(const void *a, const void *b) {
    const double one = ((const ww__merge_block *)a)->x, other = ((const ww__merge_block *)b)->x;
    return (one > other) - (one < other);
}

static int by_detail(const void *a, const void *b) {
    const double one = fabs(((const ww__merge_block *)a)->cov);
    const double other = fabs(((const ww__merge_block *)b)->cov);
    return (one > other) - (one < other);
}

double ww__merge_noise_difference(const ww__merge_block *block, double ratio) {
    return block->var_y - 2.0 * ratio * block->cov + ratio * ratio * block->var_x;
}

double ww__merge_noise_middle(ww__merge_block *block, size_t n, double ratio) {
    double value[512];
    size_t half;
    qsort(block, n, sizeof *block, by_detail);
    half = n / 2 < 512 ? n / 2 : 512;
    for (size_t i = 0; i < half; i++) /* evenly over the half */
        value[i] = ww__merge_noise_difference(&block[i * (n / 2) / half], ratio);
    return ww__order_median(value, half) / median_share;
}

ww_quantity ww__merge_noise_slope(const double light[], const double noise[], size_t n) {
    double x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;
    const double used = (double)n;
    for (size_t i = 0; i < n; i++) {
        x += light[i];
        y += noise[i];
        xx += light[i] * light[i];
        xy += light[i] * noise[i];
        yy += noise[i] * noise[i];
    }
    const double vx = xx - x * x / used, vxy = xy - x * y / used, vy = yy - y * y / used;
    if (!(vx > 0.01 * used)) /* too few tones */
        return (ww_quantity)WW_QUANTITY_INIT;
    const double slope = vxy / vx;
    const double sd = sqrt(fmax(vy - slope * vxy, 0.0) / (used - 2.0) / vx);
    return (ww_quantity){slope, slope - WW__SCANNER_95 * sd, slope + WW__SCANNER_95 * sd,
                         WW_MEASURED};
}

/* Weighted least squares of v = read f0 + shot f1 + flicker f2 with the weights 1 / v^2: sums over
 * n levels of what each makes of a level, as shares of v, and of their products. */
enum { READ, SHOT, FLICKER, TERMS };

typedef struct sums {
    double n, ff[TERMS][TERMS], f[TERMS];
} sums;

static void add_level(const double part[TERMS], sums *s) {
    s->n += 1.0;
    for (size_t i = 0; i < TERMS; i++) {
        s->f[i] += part[i];
        for (size_t k = 0; k < TERMS; k++)
            s->ff[i][k] += part[i] * part[k];
    }
}

/* With the terms in `which` alone, by elimination; false: they cannot be told apart, or one is
 * below 0. *left: sum of squares, of the shares. */
static bool solve_of(const sums *s, const bool which[TERMS], double term[TERMS], double *left) {
    double a[TERMS][TERMS + 1];
    for (size_t i = 0; i < TERMS; i++) {
        for (size_t k = 0; k < TERMS; k++)
            a[i][k] = which[i] && which[k] ? s->ff[i][k] : (i == k ? 1.0 : 0.0);
        a[i][TERMS] = which[i] ? s->f[i] : 0.0;
    }
    for (size_t k = 0; k < TERMS; k++) {
        if (!(a[k][k] > (which[k] ? 1e-9 * s->ff[k][k] : 0.0)))
            return false;
        for (size_t i = 0; i < TERMS; i++) {
            const double times = a[i][k] / a[k][k];
            for (size_t c = k; i != k && c <= TERMS; c++)
                a[i][c] -= times * a[k][c];
        }
    }
    *left = s->n;
    for (size_t i = 0; i < TERMS; i++) {
        if (!((term[i] = a[i][TERMS] / a[i][i]) >= 0.0))
            return false;
        *left -= term[i] * s->f[i];
    }
    return true;
}

/* Of all choices of terms that leave none below 0 the one that leaves least. */
static ww__merge_noise solve(const sums *s, bool with_flicker, double *left) {
    ww__merge_noise noise = {0.0, 0.0, 0.0};
    *left = s->n;
    for (unsigned choice = 1; choice < (with_flicker ? 8u : 4u); choice++) {
        const bool which[TERMS] = {choice & 1u, choice & 2u, choice & 4u};
        double term[TERMS], rest;
        if (!solve_of(s, which, term, &rest) || !(rest < *left))
            continue;
        *left = rest;
        noise = (ww__merge_noise){term[READ], term[SHOT], term[FLICKER]};
    }
    return noise;
}

ww__merge_noise ww__merge_noise_fit(ww__merge_blocks *blocks, double ratio, double dark,
                                    double least, bool amplified) {
    static const double surely = 8.4; /* F of 1 and 17 degrees of freedom, 1 % */
    const size_t n = blocks->n, levels = n / PLACES_LEAST < LEVELS ? n / PLACES_LEAST : LEVELS;
    const ww__merge_noise longer =
        ww__merge_noise_longer(&(ww__merge_noise){1.0, 1.0, 1.0}, ratio, amplified);
    sums s = {0};
    double left, left_with;
    qsort(blocks->block, n, sizeof *blocks->block, ww__merge_noise_by_level);
    for (size_t i = 0; i < levels; i++) {
        const size_t from = i * n / levels, to = (i + 1) * n / levels;
        const double x = fmax(blocks->block[(from + to) / 2].x - dark, 0.0), r = ratio;
        const double v =
            fmax(ww__merge_noise_middle(blocks->block + from, to - from, ratio), least);
        add_level((const double[TERMS]){(r * r + longer.read) / v, x * r * (r + longer.shot) / v,
                                        x * x * r * r * (1.0 + longer.flicker) / v},
                  &s);
    }
    ww__merge_noise noise = solve(&s, false, &left);
    const ww__merge_noise with = solve(&s, true, &left_with);
    if (levels > TERMS && left - left_with > surely * left_with / (double)(levels - TERMS))
        noise = with;
    noise.read = fmax(noise.read, least);
    return noise;
}
