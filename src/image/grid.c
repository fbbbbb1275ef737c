/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/grid.h"

#include "base/sizes.h"
#include "base/threads.h"

#include <assert.h>
#include <math.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Numbers in floating point, wide integers among them, are summed in steps of 2^-24 of full scale,
 * so that the order of blocks does not matter; they are cut at 16 times full scale. */
static const double float_steps = 16777216.0;
static const double float_most = 16.0;

/* Sums of the cells that lie under a block; one a worker, kept from block to block. */
typedef struct desk {
    size_t u, v, nu, nv; /* first cell, and how many */
    size_t room;         /* cells that there is memory for */
    uint64_t *sum;
    uint32_t *count;
} desk;

typedef struct sums {
    const ww__grid *grid;
    ww_region limits;
    double white;
    size_t skip;
    desk *desk;
    pthread_mutex_t lock; /* over what follows */
    uint64_t *sum;
    uint32_t *count;
} sums;

void ww__grid_release(ww__grid *grid) {
    if (!grid)
        return;
    free(grid->light);
    *grid = (ww__grid)WW__GRID_INIT;
}

/* ------------------------------------------------------------------------------- of one block */

static uint64_t code_of_float(float value, double white) {
    if (!(value > 0.0f))
        return 0;
    return (uint64_t)(fmin((double)value / white, float_most) * float_steps);
}

static inline uint64_t channel(const void *sample, ww_sample kind, double white, ptrdiff_t at) {
    return kind == WW_SAMPLE_8    ? ((const uint8_t *)sample)[at]
           : kind == WW_SAMPLE_16 ? ((const uint16_t *)sample)[at]
                                  : code_of_float(((const float *)sample)[at], white);
}

/* All channels of one pixel; three, the usual number, without a loop. */
static inline uint64_t pixel(const void *sample, ww_sample kind, double white, ptrdiff_t at,
                             size_t channels) {
    if (channels == 3)
        return channel(sample, kind, white, at) + channel(sample, kind, white, at + 1) +
               channel(sample, kind, white, at + 2);
    uint64_t sum = 0;
    for (size_t c = 0; c < channels; c++)
        sum += channel(sample, kind, white, at + (ptrdiff_t)c);
    return sum;
}

/* Place in a grid along one of its axes, in cells, of a place in the picture. */
static double place_along(const ww__grid *g, const double axis[2], double step, double x,
                          double y) {
    return ((x - g->x) * axis[0] + (y - g->y) * axis[1]) / step;
}

/* Places in steps of 2^-32 of a cell: to go from pixel to pixel is one addition, and the error of
 * a row of 2^20 pixels is under 0.001 of a cell. A place before the grid turns out beyond it. */
static int64_t fixed(double cells) {
    return (int64_t)(cells * 4294967296.0);
}

static size_t cell_of(int64_t place) {
    return (size_t)(place >> 32);
}

/* A row of pixels on its way through the cells of a desk. */
typedef struct row {
    const ww_block *block;
    double white;
    ptrdiff_t at, next; /* sample of the first pixel; samples from one to the next */
    size_t n;
    int64_t u, v, du, dv;
} row;

static inline void add_pixels(const row *r, ww_sample kind, size_t channels, desk *d) {
    /* Out of the desk and the row: the compiler has to think that the sums lie there, too. */
    const size_t nu = d->nu, nv = d->nv, n = r->n;
    const int64_t du = r->du, dv = r->dv;
    const ptrdiff_t next = r->next;
    const void *const sample = r->block->sample;
    const double white = r->white;
    uint64_t *const sum = d->sum;
    uint32_t *const count = d->count;
    int64_t u = r->u, v = r->v;
    ptrdiff_t at = r->at;
    for (size_t i = 0; i < n; i++, u += du, v += dv, at += next) {
        const size_t cu = cell_of(u), cv = cell_of(v);
        if (cu >= nu || cv >= nv)
            continue;
        sum[cu + cv * nu] += pixel(sample, kind, white, at, channels);
        count[cu + cv * nu] += (uint32_t)channels;
    }
}

/* The usual kinds have loops of their own, which is several times as fast. */
static void add_row(const row *r, desk *d) {
    const size_t channels = r->block->channels;
    if (r->block->kind == WW_SAMPLE_16 && channels == 3)
        add_pixels(r, WW_SAMPLE_16, 3, d);
    else if (r->block->kind == WW_SAMPLE_16)
        add_pixels(r, WW_SAMPLE_16, channels, d);
    else if (r->block->kind == WW_SAMPLE_8)
        add_pixels(r, WW_SAMPLE_8, channels, d);
    else
        add_pixels(r, WW_SAMPLE_FLOAT, channels, d);
}

/* Cells that a part of the picture may touch, no further than the grid goes. */
static void lay_desk(const ww__grid *g, const ww_region *part, desk *d) {
    double low[2] = {HUGE_VAL, HUGE_VAL}, high[2] = {-HUGE_VAL, -HUGE_VAL};
    for (int corner = 0; corner < 4; corner++) {
        const double x = (double)(part->x + (corner & 1 ? part->width : 0));
        const double y = (double)(part->y + (corner & 2 ? part->height : 0));
        const double place[2] = {place_along(g, g->along, g->step_u, x, y),
                                 place_along(g, g->across, g->step_v, x, y)};
        for (int i = 0; i < 2; i++) {
            low[i] = fmin(low[i], place[i]);
            high[i] = fmax(high[i], place[i]);
        }
    }
    const double nu = (double)g->nu, nv = (double)g->nv;
    d->u = (size_t)fmin(fmax(floor(low[0]), 0.0), nu);
    d->v = (size_t)fmin(fmax(floor(low[1]), 0.0), nv);
    d->nu = (size_t)fmin(fmax(floor(high[0]) + 1.0, (double)d->u), nu) - d->u;
    d->nv = (size_t)fmin(fmax(floor(high[1]) + 1.0, (double)d->v), nv) - d->v;
}

static ww_status clear_desk(desk *d, ww_error *err) {
    const size_t n = d->nu * d->nv;
    if (n > d->room) {
        free(d->sum), free(d->count);
        d->sum = malloc(n * sizeof *d->sum);
        d->count = malloc(n * sizeof *d->count);
        d->room = d->sum && d->count ? n : 0;
        if (d->room == 0)
            return ww_error_set(err, WW_EMEMORY, "no memory for a preview of %zu cells", n);
    }
    memset(d->sum, 0, n * sizeof *d->sum);
    memset(d->count, 0, n * sizeof *d->count);
    return WW_OK;
}

static row start_row(const sums *s, const ww_block *block, const ww_region *part) {
    const ww__grid *g = s->grid;
    return (row){.block = block,
                 .white = s->white,
                 .next = block->next_x * (ptrdiff_t)s->skip,
                 .n = (part->width + s->skip - 1) / s->skip,
                 .du = fixed(g->along[0] * (double)s->skip / g->step_u),
                 .dv = fixed(g->across[0] * (double)s->skip / g->step_v)};
}

static void place_row(const ww__grid *g, const ww_region *part, size_t y, const desk *d, row *r) {
    const double px = (double)part->x + 0.5, py = (double)y + 0.5;
    r->at = (ptrdiff_t)(y - r->block->y) * r->block->next_y +
            (ptrdiff_t)(part->x - r->block->x) * r->block->next_x;
    r->u = fixed(place_along(g, g->along, g->step_u, px, py) - (double)d->u);
    r->v = fixed(place_along(g, g->across, g->step_v, px, py) - (double)d->v);
}

static void hand_over(sums *s, const desk *d) {
    pthread_mutex_lock(&s->lock);
    for (size_t v = 0; v < d->nv; v++)
        for (size_t u = 0; u < d->nu; u++) {
            const size_t cell = d->u + u + (d->v + v) * s->grid->nu;
            s->sum[cell] += d->sum[u + v * d->nu];
            s->count[cell] += d->count[u + v * d->nu];
        }
    pthread_mutex_unlock(&s->lock);
}

static size_t next_multiple(size_t at, size_t step) {
    return (at + step - 1) / step * step;
}

static ww_status add_block(const ww_block *block, size_t worker, void *context, ww_error *err) {
    sums *s = context;
    const ww_region *l = &s->limits;
    desk *d = &s->desk[worker];
    const size_t x = next_multiple(ww__most(block->x, l->x), s->skip);
    const size_t y = next_multiple(ww__most(block->y, l->y), s->skip);
    const size_t x_to = ww__least(block->x + block->width, l->x + l->width);
    const size_t y_to = ww__least(block->y + block->height, l->y + l->height);
    if (x >= x_to || y >= y_to)
        return WW_OK;
    const ww_region part = {x, y, x_to - x, y_to - y};
    lay_desk(s->grid, &part, d);
    if (d->nu == 0 || d->nv == 0)
        return WW_OK;
    const ww_status status = clear_desk(d, err);
    if (status != WW_OK)
        return status;
    row r = start_row(s, block, &part);
    for (size_t at = y; at < y_to; at += s->skip) {
        place_row(s->grid, &part, at, d, &r);
        add_row(&r, d);
    }
    hand_over(s, d);
    return WW_OK;
}

/* ----------------------------------------------------------------------------- of the picture */

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

/* Only the rows that count are asked for: of a large scan most of the time is its reading. */
static ww_status visit_rows(const ww_picture *picture, sums *s, size_t threads, ww_error *err) {
    const ww_region *l = &s->limits;
    const size_t first = next_multiple(l->y, s->skip), to = l->y + l->height;
    const size_t n = first < to ? (to - first + s->skip - 1) / s->skip : 0;
    if (s->skip == 1 || n == 0)
        return ww_picture_visit(picture, l, 1, threads, add_block, s, err);
    ww_region *rows = malloc(n * sizeof *rows);
    if (!rows)
        return ww_error_set(err, WW_EMEMORY, "no memory for a preview of %zu rows", n);
    for (size_t i = 0; i < n; i++)
        rows[i] = (ww_region){l->x, first + i * s->skip, l->width, 1};
    const ww_status status = ww_picture_visit(picture, rows, n, threads, add_block, s, err);
    free(rows);
    return status;
}

static ww_status read_sums(const ww_picture *picture, sums *s, size_t threads, double light[],
                           ww_error *err) {
    const double full = picture->sample == WW_SAMPLE_FLOAT ? float_steps : picture->white;
    if (pthread_mutex_init(&s->lock, NULL) != 0)
        return ww_error_set(err, WW_ESYSTEM, "the system has no lock to give");
    const ww_status status = visit_rows(picture, s, threads, err);
    pthread_mutex_destroy(&s->lock);
    if (status == WW_OK)
        means(s, full, light);
    return status;
}

ww_status ww__grid_read(const ww_picture *picture, const ww_region *limits, size_t skip,
                        size_t threads, ww__grid *grid, ww_error *err) {
    assert(picture && limits && skip > 0 && grid && grid->nu > 0 && grid->nv > 0);
    const size_t n = grid->nu * grid->nv, workers = ww__threads_count(threads);
    sums s = {.grid = grid, .limits = *limits, .white = picture->white, .skip = skip};
    if (!cut_to_grid(grid, &s.limits))
        return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                               "the strip looked for lies outside the picture; give another one");
    double *light = malloc(n * sizeof *light);
    s.desk = calloc(workers, sizeof *s.desk);
    s.sum = calloc(n, sizeof *s.sum);
    s.count = calloc(n, sizeof *s.count);
    ww_status status = WW_OK;
    if (!light || !s.desk || !s.sum || !s.count)
        status = ww_error_set(err, WW_EMEMORY, "no memory for a preview of %zu cells", n);
    if (status == WW_OK)
        status = read_sums(picture, &s, threads, light, err);
    if (status == WW_OK) {
        free(grid->light);
        grid->light = light;
        light = NULL;
    }
    for (size_t i = 0; s.desk && i < workers; i++)
        free(s.desk[i].sum), free(s.desk[i].count);
    free(s.desk);
    free(light);
    free(s.sum);
    free(s.count);
    return status;
}
