/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_line.h"

#include "core/scanner.h"
#include "image/order.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { ROUNDS = 20, QUARTERS = 4 };
static const double model = 0.0035;   /* share of light that a place may be off in either scan */
static const double bisquare = 4.685; /* robust sd from which on a place has no weight */
static const double to_sd = 1.4826;   /* of a normal's median absolute deviation */
static const double known = 0.005;    /* sd of a ratio that is well known, as a share */

ww_status ww__merge_line_start(const ww__merge_blocks *blocks, double *ratio, ww_error *err) {
    assert(blocks->n > 0);
    double *value = malloc(2 * blocks->n * sizeof *value), *by = value + blocks->n;
    size_t n = 0;
    if (!value)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    for (size_t i = 0; i < blocks->n; i++)
        value[i] = blocks->block[i].y;
    const double middle = ww__order_nth(value, blocks->n, blocks->n / 2);
    for (size_t i = 0; i < blocks->n; i++)
        if (blocks->block[i].y >= middle && blocks->block[i].x > 0.0)
            by[n++] = blocks->block[i].y / blocks->block[i].x;
    *ratio = n > 0 ? ww__order_median(by, n) : 1.0;
    free(value);
    return WW_OK;
}

/* ------------------------------------------------------------------------------------- the line */

typedef struct fit {
    const ww__merge_blocks *blocks;
    const ww__merge_light *codes;
    const ww__merge_noise *noise;
    double dark;       /* in both scans */
    double *departure; /* of each place, in sd expected */
    double *order;     /* scratch */
    double scale;      /* robust sd of the departures */
} fit;

static double variance(const fit *f, double light) {
    const double off = model * light;
    return ww__merge_noise_of(f->noise, light - f->dark) / WW__MERGE_PIXELS + off * off;
}

static double departure_of(const fit *f, const ww__merge_line *line, const ww__merge_block *b) {
    const double v = variance(f, b->y) + line->ratio * line->ratio * variance(f, b->x);
    return (b->y - line->ratio * b->x - line->offset) / sqrt(v);
}

static void depart(fit *f, const ww__merge_line *line) {
    const size_t n = f->blocks->n;
    for (size_t i = 0; i < n; i++) {
        f->departure[i] = departure_of(f, line, &f->blocks->block[i]);
        f->order[i] = fabs(f->departure[i]);
    }
    f->scale = fmax(to_sd * ww__order_median(f->order, n), 1e-6);
}

static double trust(const fit *f, size_t i) {
    const double u = f->departure[i] / (bisquare * f->scale);
    return fabs(u) < 1.0 ? (1.0 - u * u) * (1.0 - u * u) : 0.0;
}

/* York's step: the slope of the best line, its points put where both errors leave them. */
static void step_free(const fit *f, ww__merge_line *line) {
    double w_sum = 0.0, x_sum = 0.0, y_sum = 0.0, up = 0.0, down = 0.0, b_sum = 0.0, bb = 0.0;
    const double r = line->ratio;
    for (size_t i = 0; i < f->blocks->n; i++) {
        const ww__merge_block *b = &f->blocks->block[i];
        const double w = trust(f, i) / (variance(f, b->y) + r * r * variance(f, b->x));
        w_sum += w;
        x_sum += w * b->x;
        y_sum += w * b->y;
    }
    const double x = x_sum / w_sum, y = y_sum / w_sum;
    for (size_t i = 0; i < f->blocks->n; i++) {
        const ww__merge_block *b = &f->blocks->block[i];
        const double v_x = variance(f, b->x), v_y = variance(f, b->y);
        const double total = v_y + r * r * v_x, w = trust(f, i) / total;
        const double u = b->x - x, v = b->y - y, beta = (u * v_y + r * v * v_x) / total;
        up += w * beta * v;
        down += w * beta * u;
        b_sum += w * beta;
        bb += w * beta * beta;
    }
    line->ratio = down > 0.0 && up > 0.0 ? up / down : r;
    line->offset = y - line->ratio * x;
    line->middle = x;
    line->sd = f->scale / sqrt(fmax(bb - b_sum * b_sum / w_sum, 1e-300));
}

static void step_through_dark(const fit *f, ww__merge_line *line) {
    double up = 0.0, down = 0.0;
    const double r = line->ratio;
    for (size_t i = 0; i < f->blocks->n; i++) {
        const ww__merge_block *b = &f->blocks->block[i];
        const double w = trust(f, i) / (variance(f, b->y) + r * r * variance(f, b->x));
        up += w * (b->y - f->dark) * (b->x - f->dark);
        down += w * (b->x - f->dark) * (b->x - f->dark);
    }
    line->ratio = down > 0.0 && up > 0.0 ? up / down : r;
    line->offset = f->dark * (1.0 - line->ratio);
    line->sd = f->scale / sqrt(fmax(down, 1e-300));
}

static void settle(fit *f, ww__merge_line *line, void (*step)(const fit *f, ww__merge_line *line)) {
    line->offset = f->dark * (1.0 - line->ratio);
    for (int round = 0; round < ROUNDS; round++) {
        depart(f, line);
        step(f, line);
    }
    depart(f, line);
}

/* ------------------------------------------------------------------------------ is it a line? */

static int by_y(const void *a, const void *b) {
    const double one = ((const ww__merge_block *)a)->y, other = ((const ww__merge_block *)b)->y;
    return (one > other) - (one < other);
}

/*
 * What rounding may do to a mean: half a code where noise and detail are none, and less as they
 * are more. A rounded normal's mean is off by sums of sines, the first exp(-2 pi^2 sd^2) / pi high.
 */
static double rounding_of(const ww__merge_light *codes, double light, double variance) {
    const double step = ww__merge_light_step(codes, light);
    if (!(step > 0.0))
        return 0.0;
    const double sd_2 = fmax(variance / (step * step) - 1.0 / 12.0, 0.0);
    return 0.5 * step * exp(-2.0 * 9.8696 * sd_2);
}

/* Share by which the middle place of some departs from the line, beyond what rounding may do; 0
 * where it may be chance. */
static double bent_in(const fit *f, const ww__merge_line *line, const ww__merge_block *block,
                      size_t n) {
    double *off = f->order;
    for (size_t i = 0; i < n; i++) {
        const ww__merge_block *b = &block[i];
        const double rounding = line->ratio * rounding_of(f->codes, b->x, b->var_x) +
                                rounding_of(f->codes, b->y, b->var_y);
        const double by = b->y - line->ratio * b->x - line->offset;
        off[i] = copysign(fmax(fabs(by) - rounding, 0.0), by) / b->y;
    }
    const double middle = ww__order_median(off, n);
    for (size_t i = 0; i < n; i++)
        off[i] = fabs(off[i] - middle);
    const double sd = 1.2533 * to_sd * ww__order_median(off, n) / sqrt((double)n); /* of a median */
    return fabs(middle) > 4.0 * sd ? middle : 0.0;
}

static ww_status measure_bend(fit *f, ww__merge_line *line, ww_error *err) {
    const size_t n = f->blocks->n;
    ww__merge_block *sorted = malloc(n * sizeof *sorted);
    if (!sorted)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    for (size_t i = 0; i < n; i++)
        sorted[i] = f->blocks->block[i];
    qsort(sorted, n, sizeof *sorted, by_y);
    line->bent = 0.0;
    for (size_t q = 0; q < QUARTERS && n >= QUARTERS; q++) {
        const size_t from = q * n / QUARTERS, to = (q + 1) * n / QUARTERS;
        const double bent = bent_in(f, line, sorted + from, to - from);
        if (fabs(bent) > fabs(line->bent))
            line->bent = bent;
    }
    free(sorted);
    return WW_OK;
}

/* ------------------------------------------------------------------------- through a black */

/* The line through one black in both, from where that and the middle of the tones put it. */
static ww__merge_line through(fit *f, double black, const ww__merge_line *free) {
    const double y = free->ratio * free->middle + free->offset;
    ww__merge_line line = {.ratio = fmax((y - black) / (free->middle - black), 0.0),
                           .through_dark = true};
    f->dark = black;
    settle(f, &line, step_through_dark);
    return line;
}

/* Black that both have where a line of some ratio goes through the middle of the tones. */
static double black_of(const ww__merge_line *free, double ratio) {
    const double y = free->ratio * free->middle + free->offset;
    return (ratio * free->middle - y) / (ratio - 1.0);
}

/*
 * Where the black may lie anywhere between two, so may the ratio: what the tones tell of that
 * without a black makes it less, and half-way is taken.
 */
static ww__merge_line fit_through(fit *f, const ww__merge_line *free, ww_quantity dark) {
    const double doubt = WW__SCANNER_95 * free->sd;
    double least = dark.low, most = dark.high, black = dark.value;
    if (dark.how != WW_MEASURED) {
        if (free->ratio - doubt > 1.0) {
            least = fmin(fmax(black_of(free, free->ratio - doubt), least), most);
            most = fmax(fmin(black_of(free, free->ratio + doubt), most), least);
        }
        black = 0.5 * (least + most);
    }
    const ww__merge_line low = through(f, least, free), high = through(f, most, free);
    ww__merge_line line = through(f, black, free);
    line.by_black = log2(through(f, black + 0.001, free).ratio / line.ratio);
    line.guessed = dark.how != WW_MEASURED;
    line.below = fmax(line.ratio - low.ratio, 0.0);
    line.above = fmax(high.ratio - line.ratio, 0.0);
    return line;
}

ww_status ww__merge_line_fit(const ww__merge_blocks *blocks, const ww__merge_light *codes,
                             const ww__merge_noise *noise, ww_quantity dark, ww__merge_line *line,
                             ww_error *err) {
    assert(blocks->n > 0 && line->ratio > 0.0);
    fit f = {.blocks = blocks, .codes = codes, .noise = noise, .dark = dark.value};
    ww__merge_line found = {.ratio = line->ratio};
    f.departure = malloc(2 * blocks->n * sizeof *f.departure);
    if (!f.departure)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    f.order = f.departure + blocks->n;
    settle(&f, &found, step_free);
    if (!(found.sd < known * found.ratio))
        found = fit_through(&f, &found, dark);
    const ww_status status = measure_bend(&f, &found, err);
    free(f.departure);
    if (status == WW_OK)
        *line = found;
    return status;
}
