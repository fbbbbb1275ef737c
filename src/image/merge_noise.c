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
    return noise->read + noise->shot * fmax(light, 0.0);
}

ww__merge_noise ww__merge_noise_longer(const ww__merge_noise *shorter, double ratio,
                                       bool amplified) {
    return amplified ? (ww__merge_noise){ratio * ratio * shorter->read, ratio * shorter->shot}
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

/* Weighted least squares of v = read a + shot b with the weights 1 / v^2; none below 0. */
typedef struct sums {
    double aa, ab, bb, av, bv;
} sums;

static ww__merge_noise solve(const sums *s) {
    const double det = s->aa * s->bb - s->ab * s->ab;
    ww__merge_noise noise = {0.0, 0.0};
    if (det > 1e-12 * s->aa * s->bb) {
        noise.read = (s->av * s->bb - s->bv * s->ab) / det;
        noise.shot = (s->bv * s->aa - s->av * s->ab) / det;
    }
    if (!(noise.shot > 0.0) && s->aa > 0.0)
        noise = (ww__merge_noise){s->av / s->aa, 0.0};
    else if (!(noise.read > 0.0) && s->bb > 0.0)
        noise = (ww__merge_noise){0.0, s->bv / s->bb};
    return noise;
}

ww__merge_noise ww__merge_noise_fit(ww__merge_blocks *blocks, double ratio, double dark,
                                    double least, bool amplified) {
    const size_t n = blocks->n, levels = n / PLACES_LEAST < LEVELS ? n / PLACES_LEAST : LEVELS;
    const ww__merge_noise longer =
        ww__merge_noise_longer(&(ww__merge_noise){1.0, 1.0}, ratio, amplified);
    sums s = {0.0, 0.0, 0.0, 0.0, 0.0};
    ww__merge_noise noise;
    qsort(blocks->block, n, sizeof *blocks->block, ww__merge_noise_by_level);
    for (size_t i = 0; i < levels; i++) {
        const size_t from = i * n / levels, to = (i + 1) * n / levels;
        const double level = fmax(blocks->block[(from + to) / 2].x - dark, 0.0);
        const double a = ratio * ratio + longer.read, b = level * ratio * (ratio + longer.shot);
        const double v =
            fmax(ww__merge_noise_middle(blocks->block + from, to - from, ratio), least);
        s.aa += a * a / (v * v);
        s.ab += a * b / (v * v);
        s.bb += b * b / (v * v);
        s.av += a / v;
        s.bv += b / v;
    }
    noise = solve(&s);
    if (noise.read < least)
        noise.read = least;
    return noise;
}
