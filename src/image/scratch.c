/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/scratch.h"
#include "image/order.h"

#include "image/patch.h"
#include <assert.h>
#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>

enum { BINS_LEAST = 4, BINS_MOST = 16, CELLS = 128 };
static const double bin_px = 3.0;       /* along a step, at least */
static const double least_px = 0.5;     /* thickness of a line, on average */
static const double window_px = 6.0;    /* across: what one line may fill, at least */
static const double window_part = 0.04; /* and as a share of the step */
static const double most = 0.75;        /* of the places must lie on the line */
static const double bend = 0.2;         /* px for each px between two steps */

/* Counts of what was left out, of [candidate][bin][cell]; bins lie along a step, cells across. */
typedef struct search {
    const ww_picture *picture;
    const ww__area *area;
    const ww_patch *patch;
    size_t n;
    size_t *candidate; /* steps that are looked at */
    size_t n_candidates;
    ww_region *box;
    atomic_uint_least32_t *count;
} search;

/* v = at + slope u, px from a step's centre. */
typedef struct line {
    bool there;
    double at, slope;
} line;

static size_t bins_of(const ww__area *area) {
    const double n = floor(2.0 * area->half_u / bin_px);
    return n < BINS_LEAST ? BINS_LEAST : n < BINS_MOST ? (size_t)n : BINS_MOST;
}

static double window_of(const ww__area *area) {
    return fmax(window_px, window_part * 2.0 * area->half_v);
}

/* --------------------------------------------------------------------------------- counting */

static bool has_enough(const ww__area *area, const ww_patch *patch) {
    return patch->rejected * 2.0 * area->half_v >= least_px;
}

/* Steps with enough, that have neighbours with enough. */
static void choose(search *s) {
    size_t run = 0;
    for (size_t i = 0; i <= s->n; i++) {
        if (i < s->n && has_enough(&s->area[i], &s->patch[i])) {
            run++;
            continue;
        }
        for (size_t k = i - run; run >= WW__SCRATCH_STEPS && k < i; k++)
            s->candidate[s->n_candidates++] = k;
        run = 0;
    }
}

static bool left_out(const search *s, const ww_block *block, const ww_patch *patch, size_t x,
                     size_t y) {
    const ptrdiff_t at =
        (ptrdiff_t)(x - block->x) * block->next_x + (ptrdiff_t)(y - block->y) * block->next_y;
    for (size_t c = 0; c < block->channels; c++) {
        const ww_patch_channel *channel =
            &patch->channel[ww__patch_channel(s->picture, block->channel + c)];
        const double code = ww_block_code(block, at + (ptrdiff_t)c);
        if (!(code >= channel->low && code <= channel->high))
            return true;
    }
    return false;
}

static void count_pixel(search *s, size_t k, size_t x, size_t y) {
    const ww__area *area = &s->area[s->candidate[k]];
    const double dx = (double)x + 0.5 - area->centre[0], dy = (double)y + 0.5 - area->centre[1];
    const double u = dx * area->along[0] + dy * area->along[1];
    const double v = dx * area->across[0] + dy * area->across[1];
    const size_t bins = bins_of(area);
    const double bin = (u / area->half_u + 1.0) * 0.5 * (double)bins;
    const double cell = (v / area->half_v + 1.0) * 0.5 * CELLS;
    if (!(bin >= 0.0 && bin < (double)bins && cell >= 0.0 && cell < CELLS))
        return;
    atomic_fetch_add_explicit(&s->count[(k * BINS_MOST + (size_t)bin) * CELLS + (size_t)cell], 1,
                              memory_order_relaxed);
}

static ww_status see(const ww_block *block, size_t worker, void *context, ww_error *err) {
    search *s = context;
    const ww_region shown = {block->x, block->y, block->width, block->height};
    (void)worker, (void)err;
    for (size_t k = 0; k < s->n_candidates; k++) {
        const ww__area *area = &s->area[s->candidate[k]];
        const ww_region part = ww__area_common(s->box[k], shown);
        for (size_t y = part.y; y < part.y + part.height; y++) {
            ww__area_run run[WW__AREA_RUNS];
            const size_t runs = ww__area_runs(area, &s->box[k], y, run);
            for (size_t i = 0; i < runs; i++)
                for (size_t x = run[i].x; x < run[i].x + run[i].n; x++)
                    if (x >= part.x && x < part.x + part.width &&
                        left_out(s, block, &s->patch[s->candidate[k]], x, y))
                        count_pixel(s, k, x, y);
        }
    }
    return WW_OK;
}

/* ----------------------------------------------------------------------------- one step's line */

/* The window across that holds most of a bin; false where that is no line's share. */
static bool place_in(const atomic_uint_least32_t count[CELLS], const ww__area *area, size_t bins,
                     double *v) {
    const double cell_px = 2.0 * area->half_v / CELLS;
    const size_t wide = (size_t)fmin(fmax(ceil(window_of(area) / cell_px), 1.0), CELLS / 4);
    double all = 0.0, within = 0.0, best = 0.0, sum = 0.0;
    size_t from = 0;
    for (size_t i = 0; i < CELLS; i++) {
        const double in = (double)atomic_load_explicit(&count[i], memory_order_relaxed);
        all += in;
        within += in;
        if (i >= wide)
            within -= (double)atomic_load_explicit(&count[i - wide], memory_order_relaxed);
        if (within > best) {
            best = within;
            from = i + 1 > wide ? i + 1 - wide : 0;
        }
    }
    if (best < least_px * 2.0 * area->half_u / (double)bins || best < 0.5 * all)
        return false;
    for (size_t i = from; i < from + wide && i < CELLS; i++)
        sum += ((double)i + 0.5) * (double)atomic_load_explicit(&count[i], memory_order_relaxed);
    *v = (sum / best) * cell_px - area->half_v;
    return true;
}

/* Median of the slopes of all pairs (Theil and Sen), which dust does not sway. */
static line through(const double u[], const double v[], size_t n) {
    double slope[BINS_MOST * (BINS_MOST - 1) / 2], at[BINS_MOST];
    size_t pairs = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            slope[pairs++] = (v[k] - v[i]) / (u[k] - u[i]);
    line l = {true, 0.0, ww__order_median(slope, pairs)};
    for (size_t i = 0; i < n; i++)
        at[i] = v[i] - l.slope * u[i];
    l.at = ww__order_median(at, n);
    return l;
}

/* What lies along a long side of the step is the strip's own edge. */
static bool along_edge(const ww__area *area, const line *l) {
    return fabs(l->at) > area->half_v - window_of(area) &&
           fabs(l->slope) * area->half_u < window_px;
}

static line line_of(const search *s, size_t k) {
    const ww__area *area = &s->area[s->candidate[k]];
    const size_t bins = bins_of(area);
    const double near = 0.5 * window_of(area);
    double u[BINS_MOST], v[BINS_MOST];
    size_t n = 0, on = 0;
    for (size_t b = 0; b < bins; b++)
        if (place_in(&s->count[(k * BINS_MOST + b) * CELLS], area, bins, &v[n])) {
            u[n] = (((double)b + 0.5) / (double)bins * 2.0 - 1.0) * area->half_u;
            n++;
        }
    if (n < 2 || (double)n < most * (double)bins)
        return (line){.there = false};
    line l = through(u, v, n);
    for (size_t i = 0; i < n; i++)
        on += fabs(v[i] - l.at - l.slope * u[i]) <= near;
    l.there = (double)on >= most * (double)n && !along_edge(area, &l);
    return l;
}

/* ------------------------------------------------------------------------------ along the strip */

/* Whether the lines of two steps side by side meet half way between them. */
static bool meet(const ww__area *a, const line *of_a, const ww__area *b, const line *of_b) {
    const double dx = b->centre[0] - a->centre[0], dy = b->centre[1] - a->centre[1];
    const double u = dx * a->along[0] + dy * a->along[1];
    const double v = dx * a->across[0] + dy * a->across[1];
    const double gap = fmax(fabs(u) - a->half_u - b->half_u, 0.0);
    const double from_a = of_a->at + 0.5 * u * of_a->slope;
    const double from_b = v + of_b->at - 0.5 * u * of_b->slope;
    return fabs(from_a - from_b) <= window_of(a) + bend * gap;
}

static void number_lines(const search *s, ww_patch patch[]) {
    unsigned number = 0;
    size_t first = 0, run = 0;
    line before = {.there = false};
    for (size_t k = 0; k <= s->n_candidates; k++) {
        const line here = k < s->n_candidates ? line_of(s, k) : (line){.there = false};
        const size_t i = k < s->n_candidates ? s->candidate[k] : s->n;
        const bool goes_on = here.there && run > 0 && s->candidate[k - 1] + 1 == i &&
                             meet(&s->area[i - 1], &before, &s->area[i], &here);
        if (!goes_on) {
            number += run >= WW__SCRATCH_STEPS;
            for (size_t j = first; run >= WW__SCRATCH_STEPS && j < first + run; j++)
                patch[j].line = number;
            first = i;
            run = 0;
        }
        run += here.there;
        before = here;
    }
}

static ww_status look(search *s, size_t threads, ww_patch patch[], ww_error *err) {
    for (size_t k = 0; k < s->n_candidates; k++)
        s->box[k] = ww__area_box(&s->area[s->candidate[k]], s->picture->width, s->picture->height);
    const ww_status status =
        ww_picture_visit(s->picture, s->box, s->n_candidates, threads, see, s, err);
    if (status == WW_OK)
        number_lines(s, patch);
    return status;
}

ww_status ww__scratch_find(const ww_picture *picture, const ww__area area[], size_t n,
                           size_t threads, ww_patch patch[], ww_error *err) {
    search s = {.picture = picture, .area = area, .patch = patch, .n = n};
    ww_status status = WW_OK;
    assert(picture && area && patch && n > 0);
    for (size_t i = 0; i < n; i++)
        patch[i].line = 0;
    s.candidate = calloc(n, sizeof *s.candidate);
    if (s.candidate)
        choose(&s);
    if (s.n_candidates > 0) {
        s.box = calloc(s.n_candidates, sizeof *s.box);
        s.count = calloc(s.n_candidates, BINS_MOST * CELLS * sizeof *s.count);
    }
    if (!s.candidate || (s.n_candidates > 0 && (!s.box || !s.count)))
        status = ww_error_set(err, WW_EMEMORY, "no memory to look for scratches");
    else if (s.n_candidates > 0)
        status = look(&s, threads, patch, err);
    free(s.count);
    free(s.box);
    free(s.candidate);
    return status;
}
