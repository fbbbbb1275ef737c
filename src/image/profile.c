/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/profile.h"

#include <assert.h>
#include <math.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Floating-point light is summed in steps of 2^-24 of full scale, so that the order of blocks does
 * not matter; it is cut at 16 times full scale. */
static const double float_steps = 16777216.0;
static const double float_most = 16.0;

typedef struct sums {
    const ww__grid *grid;
    ww_region limits;
    size_t skip;
    _Atomic uint64_t *sum;
    _Atomic uint32_t *count;
} sums;

void ww__grid_release(ww__grid *grid) {
    if (!grid)
        return;
    free(grid->light);
    *grid = (ww__grid)WW__GRID_INIT;
}

static uint64_t code_of_float(double value) {
    if (!(value > 0.0))
        return 0;
    return (uint64_t)((value < float_most ? value : float_most) * float_steps);
}

/* All channels of one pixel. */
static uint64_t pixel(const ww_block *block, ptrdiff_t at) {
    uint64_t sum = 0;
    for (ptrdiff_t c = 0; c < (ptrdiff_t)block->channels; c++)
        switch (block->kind) {
        case WW_SAMPLE_8:
            sum += ((const uint8_t *)block->sample)[at + c];
            break;
        case WW_SAMPLE_16:
            sum += ((const uint16_t *)block->sample)[at + c];
            break;
        case WW_SAMPLE_FLOAT:
            sum += code_of_float((double)((const float *)block->sample)[at + c]);
            break;
        }
    return sum;
}

static void add(sums *s, size_t cell, uint64_t sum, uint32_t count) {
    if (count == 0)
        return;
    atomic_fetch_add_explicit(&s->sum[cell], sum, memory_order_relaxed);
    atomic_fetch_add_explicit(&s->count[cell], count, memory_order_relaxed);
}

/* Pixels of a row that fall into the same cell are added up before they are handed over. */
static void add_row(sums *s, const ww_block *block, size_t y, size_t x_from, size_t x_to) {
    const ww__grid *g = s->grid;
    const double dy = (double)y + 0.5 - g->y;
    const ptrdiff_t row = (ptrdiff_t)(y - block->y) * block->next_y;
    size_t cell = 0;
    uint64_t sum = 0;
    uint32_t count = 0;
    for (size_t x = x_from; x < x_to; x += s->skip) {
        const double dx = (double)x + 0.5 - g->x;
        const double u = (dx * g->along[0] + dy * g->along[1]) / g->step_u;
        const double v = (dx * g->across[0] + dy * g->across[1]) / g->step_v;
        if (u < 0.0 || v < 0.0 || u >= (double)g->nu || v >= (double)g->nv)
            continue;
        const size_t here = (size_t)u + (size_t)v * g->nu;
        if (here != cell) {
            add(s, cell, sum, count);
            cell = here, sum = 0, count = 0;
        }
        sum += pixel(block, row + (ptrdiff_t)(x - block->x) * block->next_x);
        count += (uint32_t)block->channels;
    }
    add(s, cell, sum, count);
}

static size_t larger(size_t a, size_t b) {
    return a > b ? a : b;
}

static size_t smaller(size_t a, size_t b) {
    return a < b ? a : b;
}

static size_t next_multiple(size_t at, size_t step) {
    return (at + step - 1) / step * step;
}

static ww_status add_block(const ww_block *block, size_t worker, void *context, ww_error *err) {
    sums *s = context;
    const ww_region *l = &s->limits;
    const size_t x_from = next_multiple(larger(block->x, l->x), s->skip);
    const size_t y_from = next_multiple(larger(block->y, l->y), s->skip);
    const size_t x_to = smaller(block->x + block->width, l->x + l->width);
    const size_t y_to = smaller(block->y + block->height, l->y + l->height);
    (void)worker, (void)err;
    for (size_t y = y_from; y < y_to; y += s->skip)
        add_row(s, block, y, x_from, x_to);
    return WW_OK;
}

/* The limits cut to the box around the grid; false where nothing is left. */
static bool cut_to_grid(const ww__grid *g, ww_region *limits) {
    const double lu = (double)g->nu * g->step_u, lv = (double)g->nv * g->step_v;
    double low[2], high[2];
    for (int i = 0; i < 2; i++) {
        const double at = i == 0 ? g->x : g->y, a = lu * g->along[i], b = lv * g->across[i];
        low[i] = at + fmin(0.0, a) + fmin(0.0, b);
        high[i] = at + fmax(0.0, a) + fmax(0.0, b);
    }
    const double x0 = fmax(floor(low[0]), (double)limits->x);
    const double y0 = fmax(floor(low[1]), (double)limits->y);
    const double x1 = fmin(ceil(high[0]), (double)(limits->x + limits->width));
    const double y1 = fmin(ceil(high[1]), (double)(limits->y + limits->height));
    if (!(x1 > x0 && y1 > y0))
        return false;
    *limits = (ww_region){(size_t)x0, (size_t)y0, (size_t)(x1 - x0), (size_t)(y1 - y0)};
    return true;
}

static void means(const sums *s, double full, double light[]) {
    for (size_t i = 0; i < s->grid->nu * s->grid->nv; i++)
        light[i] = s->count[i] > 0 ? (double)s->sum[i] / ((double)s->count[i] * full) : -1.0;
}

ww_status ww__grid_read(const ww_picture *picture, const ww_region *limits, size_t skip,
                        size_t threads, ww__grid *grid, ww_error *err) {
    assert(picture && limits && skip > 0 && grid && grid->nu > 0 && grid->nv > 0);
    const size_t n = grid->nu * grid->nv;
    const double full = picture->sample == WW_SAMPLE_FLOAT ? float_steps : picture->white;
    sums s = {.grid = grid, .limits = *limits, .skip = skip};
    if (!cut_to_grid(grid, &s.limits))
        return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                               "the strip looked for lies outside the picture; give another one");
    double *light = malloc(n * sizeof *light);
    s.sum = calloc(n, sizeof *s.sum);
    s.count = calloc(n, sizeof *s.count);
    ww_status status = WW_OK;
    if (!light || !s.sum || !s.count)
        status = ww_error_set(err, WW_EMEMORY, "no memory for a preview of %zu cells", n);
    if (status == WW_OK)
        status = ww_picture_visit(picture, &s.limits, 1, threads, add_block, &s, err);
    if (status == WW_OK) {
        means(&s, full, light);
        free(grid->light);
        grid->light = light;
        light = NULL;
    }
    free(light);
    free(s.sum);
    free(s.count);
    return status;
}

static int by_size(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double ww__profile_median(double value[], size_t n) {
    assert(n > 0);
    qsort(value, n, sizeof value[0], by_size);
    return 0.5 * (value[(n - 1) / 2] + value[n / 2]);
}

/* The middle half, and its standard error as if the rest were as regular: from the quartiles. */
static void middle_half(double value[], size_t n, double *mean, double *error) {
    qsort(value, n, sizeof value[0], by_size);
    const size_t from = n / 4, to = n - n / 4;
    double sum = 0.0;
    for (size_t i = from; i < to; i++)
        sum += value[i];
    *mean = sum / (double)(to - from);
    const double spread = (value[to - 1] - value[from]) / 1.349; /* quartiles of a normal */
    *error = 1.1 * spread / sqrt((double)n);
}

ww_status ww__profile_mean(const ww__grid *grid, size_t v_from, size_t v_to, double light[],
                           double scatter[], ww_error *err) {
    assert(grid && grid->light && v_from < v_to && v_to <= grid->nv);
    double *column = malloc((v_to - v_from) * sizeof *column);
    if (!column)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    for (size_t u = 0; u < grid->nu; u++) {
        size_t n = 0;
        for (size_t v = v_from; v < v_to; v++)
            if (grid->light[u + v * grid->nu] >= 0.0)
                column[n++] = grid->light[u + v * grid->nu];
        light[u] = -1.0, scatter[u] = 0.0;
        if (n > 0)
            middle_half(column, n, &light[u], &scatter[u]);
    }
    free(column);
    return WW_OK;
}

/* Place of the first value not below x in an ordered array. */
static size_t place_of(const double ordered[], size_t n, double x) {
    size_t low = 0, high = n;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (ordered[middle] < x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

ww_status ww__profile_smooth(const double value[], size_t n, size_t reach, double smooth[],
                             ww_error *err) {
    double *window = malloc((2 * reach + 2) * sizeof *window);
    size_t held = 0;
    if (!window)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    for (size_t i = 0, next = 0; i < n; i++) {
        for (; next < n && next <= i + reach; next++) {
            const size_t at = place_of(window, held, value[next]);
            memmove(&window[at + 1], &window[at], (held - at) * sizeof *window);
            window[at] = value[next];
            held++;
        }
        if (i > reach) {
            const size_t at = place_of(window, held, value[i - reach - 1]);
            memmove(&window[at], &window[at + 1], (held - at - 1) * sizeof *window);
            held--;
        }
        smooth[i] = 0.5 * (window[(held - 1) / 2] + window[held / 2]);
    }
    free(window);
    return WW_OK;
}
