/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/patch.h"

#include "base/threads.h"
#include "core/picture.h"
#include "core/scanner.h"
#include "image/patch_step.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Of the median absolute deviation to the standard deviation of a normal distribution. */
static const double robust = 1.4826;
/* Share of pixels that no dust is expected to have in common. */
static const double common = 0.1;

ww_channel ww__patch_channel(const ww_picture *picture, size_t c) {
    return picture->channels == 1 ? WW_VISUAL : (ww_channel)(WW_RED + (int)c);
}

/* --------------------------------------------------------------------------- one channel */

/* The least distance between two codes that occur. Two alone are a grid only where neither is rare:
 * the other may be dust on a patch without noise. */
static double code_grid(const ww__histogram *all) {
    double grid = 0.0, before = 0.0;
    uint64_t rarest = all->n;
    size_t codes = 0;
    for (ww__histogram_bin bin = {0}; ww__histogram_next(all, &bin); codes++) {
        if (codes > 0 && (codes == 1 || bin.code - before < grid))
            grid = bin.code - before;
        before = bin.code;
        rarest = bin.count < rarest ? bin.count : rarest;
    }
    return codes > 2 || (double)rarest >= common * (double)all->n ? grid : 0.0;
}

static ww_status limits(const ww__histogram *all, double step, double *low, double *high,
                        ww_error *err) {
    const double median = ww__histogram_quantile(all, 500);
    const double one = all->kind == WW_SAMPLE_FLOAT ? ldexp(fabs(median), -11) : step;
    double spread = 0.0;
    const ww_status status = ww__histogram_spread(all, median, &spread, err);
    const double reach =
        fmax(WW__PATCH_DEVIATIONS * robust * spread, WW__PATCH_CODES * fmax(one, code_grid(all)));
    *low = median - reach;
    *high = median + reach;
    return status;
}

static double light_of(const void *scanner, double code) {
    return ww_scanner_light(scanner, code);
}

/* Mean of light, as a code. Codes that are light may lie below 0; a power of them would not. */
static double mean_code(const ww__histogram *all, double low, double high, double mean,
                        const ww_scanner *scanner) {
    if (!scanner || (scanner->encoding == WW_ENCODING_POWER && scanner->gamma.value == 1.0))
        return mean;
    return ww_scanner_code(scanner, ww__histogram_mean_of(all, low, high, light_of, scanner));
}

/* What the quarters' means say of the light over a patch. */
typedef struct slopes {
    double slope[2];  /* of a plane through them, by least squares, along and across */
    double weight[2]; /* sum of squared places: a slope's variance is that of a pixel over it */
    double left;      /* mean square of what the plane leaves */
} slopes;

static void solve_plane(double uu, double uv, double vv, double uc, double vc, double slope[2]) {
    const double rest = uu * vv - uv * uv;
    if (rest > 1e-9 * uu * vv) {
        slope[0] = (uc * vv - vc * uv) / rest;
        slope[1] = (vc * uu - uc * uv) / rest;
    } else if (uu > 0.0 && uu >= vv) { /* one row of pixels */
        slope[0] = uc / uu;
    } else if (vv > 0.0) {
        slope[1] = vc / vv;
    }
}

static slopes plane(const ww__area_quarter quarter[], const ww__histogram_moments kept[]) {
    slopes s = {.left = 0.0};
    double n = 0.0, u = 0.0, v = 0.0, code = 0.0, uv = 0.0, uc = 0.0, vc = 0.0;
    for (size_t i = 0; i < WW__AREA_QUARTERS; i++) {
        const double w = (double)kept[i].n;
        n += w, u += w * quarter[i].u, v += w * quarter[i].v, code += w * kept[i].mean;
    }
    if (n == 0.0)
        return s;
    u /= n, v /= n, code /= n;
    for (size_t i = 0; i < WW__AREA_QUARTERS; i++) {
        const double w = (double)kept[i].n, du = quarter[i].u - u, dv = quarter[i].v - v;
        s.weight[0] += w * du * du, uv += w * du * dv, s.weight[1] += w * dv * dv;
        uc += w * du * (kept[i].mean - code), vc += w * dv * (kept[i].mean - code);
    }
    solve_plane(s.weight[0], uv, s.weight[1], uc, vc, s.slope);
    for (size_t i = 0; i < WW__AREA_QUARTERS; i++) {
        const double off =
            kept[i].mean - code - s.slope[0] * (quarter[i].u - u) - s.slope[1] * (quarter[i].v - v);
        s.left += (double)kept[i].n / n * off * off;
    }
    return s;
}

/* Mean square of places along an axis, over the whole patch. */
static double square_place(const ww__area *area, int axis) {
    const double half = axis == 0 ? area->half_u : area->half_v;
    return half * half / (area->disc ? 4.0 : 3.0);
}

/* sd of the light over the patch; what noise alone would make of it is taken off. */
static double uneven(const ww__area *area, const slopes *s, const ww__histogram_moments *kept) {
    double square = s->left - kept->sd * kept->sd / (double)kept->n;
    for (int axis = 0; axis < 2; axis++)
        if (s->weight[axis] > 0.0)
            square += (s->slope[axis] * s->slope[axis] - kept->sd * kept->sd / s->weight[axis]) *
                      square_place(area, axis);
    return sqrt(fmax(square, 0.0));
}

/* From one end of the longer way to the other; on a disc, the way that it changes most. */
static double drift(const ww__area *area, const double slope[2]) {
    if (area->disc)
        return 2.0 * area->half_u * hypot(slope[0], slope[1]);
    return area->half_u >= area->half_v ? 2.0 * area->half_u * slope[0]
                                        : 2.0 * area->half_v * slope[1];
}

static ww_status merge(const ww__histogram counts[], ww__histogram *all, ww_error *err) {
    ww_status status = ww__histogram_new(counts[0].kind, all, err);
    for (size_t i = 0; i < WW__AREA_QUARTERS && status == WW_OK; i++)
        status = ww__histogram_merge(&counts[i], all, err);
    return status;
}

ww_status ww__patch_value(const ww__histogram counts[WW__AREA_QUARTERS], const ww__area *area,
                          const ww__area_quarter quarter[WW__AREA_QUARTERS],
                          const ww_scanner *scanner, double white, double step,
                          ww_patch_channel *value, uint64_t *kept, double *rejected,
                          ww_error *err) {
    ww__histogram all = WW__HISTOGRAM_INIT;
    ww_patch_channel v = {.code = 0.0};
    ww__histogram_moments moments = {0, 0.0, 0.0};
    ww_status status = merge(counts, &all, err);
    if (status == WW_OK && all.n > 0) {
        v.step = ww__histogram_gap(&all);
        status = limits(&all, fmax(step, v.step), &v.low, &v.high, err);
    }
    if (status == WW_OK && all.n > 0) {
        ww__histogram_moments part[WW__AREA_QUARTERS];
        moments = ww__histogram_moments_of(&all, v.low, v.high);
        v.code = mean_code(&all, v.low, v.high, moments.mean, scanner);
        v.all = mean_code(&all, -HUGE_VAL, HUGE_VAL,
                          ww__histogram_moments_of(&all, -HUGE_VAL, HUGE_VAL).mean, scanner);
        v.sd = moments.sd;
        v.clipped =
            ww__histogram_share(&all, -HUGE_VAL, 0.0) + ww__histogram_share(&all, white, HUGE_VAL);
        for (size_t i = 0; i < WW__AREA_QUARTERS; i++)
            part[i] = ww__histogram_moments_of(&counts[i], v.low, v.high);
        const slopes tilt = plane(quarter, part);
        v.drift = drift(area, tilt.slope);
        v.along = area->disc ? 0.0 : 2.0 * area->half_u * tilt.slope[0];
        v.across = area->disc ? 0.0 : 2.0 * area->half_v * tilt.slope[1];
        v.uneven = uneven(area, &tilt, &moments);
        v.grain = v.sd > 0.0 ? tilt.left * (double)moments.n / (v.sd * v.sd) : 0.0;
    }
    if (status == WW_OK) {
        const double seen = (double)all.n + (double)all.strange;
        v.no_number = (size_t)all.strange;
        *value = v;
        *kept = moments.n;
        *rejected = seen > 0.0 ? (seen - (double)moments.n) / seen : 0.0;
    }
    ww__histogram_release(&all);
    return status;
}

/* -------------------------------------------------------------------------- many patches */

typedef struct reading {
    const ww_picture *picture;
    const ww__area *area;
    ww_region *box;
    size_t n;
    /* Of [worker][area][channel][quarter]; made when the worker meets the area. */
    ww__histogram *counts;
} reading;

static ww__histogram *counts_of(const reading *r, size_t worker, size_t area, size_t channel) {
    return &r->counts[((worker * r->n + area) * r->picture->channels + channel) *
                      WW__AREA_QUARTERS];
}

/* A run of one quarter, of all channels of the block. */
static ww_status count_run(const reading *r, const ww_block *block, size_t worker, size_t area,
                           const ww__area_run *run, size_t y, ww_error *err) {
    const ptrdiff_t at =
        (ptrdiff_t)(run->x - block->x) * block->next_x + (ptrdiff_t)(y - block->y) * block->next_y;
    const ptrdiff_t size = (ptrdiff_t)ww__picture_sample_bytes(block->kind);
    ww_status status = WW_OK;
    for (size_t c = 0; c < block->channels && status == WW_OK; c++) {
        ww__histogram *h = &counts_of(r, worker, area, block->channel + c)[run->quarter];
        if (!h->page)
            status = ww__histogram_new(block->kind, h, err);
        if (status == WW_OK)
            status =
                ww__histogram_count(h, (const char *)block->sample + (at + (ptrdiff_t)c) * size,
                                    block->next_x, run->n, err);
    }
    return status;
}

static ww_status count_area(const reading *r, const ww_block *block, size_t worker, size_t area,
                            ww_error *err) {
    const ww_region shown = {block->x, block->y, block->width, block->height};
    const ww_region part = ww__area_common(r->box[area], shown);
    ww_status status = WW_OK;
    for (size_t y = part.y; y < part.y + part.height && status == WW_OK; y++) {
        ww__area_run run[WW__AREA_RUNS];
        const size_t n = ww__area_runs(&r->area[area], &r->box[area], y, run);
        for (size_t i = 0; i < n && status == WW_OK; i++) {
            const size_t from = run[i].x > part.x ? run[i].x : part.x;
            const size_t end = run[i].x + run[i].n, edge = part.x + part.width;
            const size_t to = end < edge ? end : edge;
            const ww__area_run inside = {from, to > from ? to - from : 0, run[i].quarter};
            if (inside.n > 0)
                status = count_run(r, block, worker, area, &inside, y, err);
        }
    }
    return status;
}

static ww_status count_block(const ww_block *block, size_t worker, void *context, ww_error *err) {
    const reading *r = context;
    ww_status status = WW_OK;
    assert(block->channel + block->channels <= r->picture->channels);
    for (size_t i = 0; i < r->n && status == WW_OK; i++)
        status = count_area(r, block, worker, i, err);
    return status;
}

/* All workers' counts of one channel, in those of the first. */
static ww_status gather(const reading *r, size_t workers, size_t area, size_t channel,
                        ww_error *err) {
    ww__histogram *to = counts_of(r, 0, area, channel);
    ww_status status = WW_OK;
    for (size_t q = 0; q < WW__AREA_QUARTERS && status == WW_OK; q++) {
        if (!to[q].page)
            status = ww__histogram_new(r->picture->sample, &to[q], err);
        for (size_t w = 1; w < workers && status == WW_OK; w++) {
            const ww__histogram *from = &counts_of(r, w, area, channel)[q];
            if (from->page)
                status = ww__histogram_merge(from, &to[q], err);
        }
    }
    return status;
}

static void place(const ww__area *area, const ww_region *box, ww_patch *patch) {
    ww__area_corners(area, patch->corner);
    patch->centre_x = area->centre[0];
    patch->centre_y = area->centre[1];
    patch->radius = area->disc ? area->half_u : 0.0;
    patch->x = (double)box->x;
    patch->y = (double)box->y;
    patch->width = (double)box->width;
    patch->height = (double)box->height;
}

static ww_status value(const reading *r, size_t i, const ww_scanner *scanner, double step,
                       ww_patch *patch, ww_error *err) {
    ww__area_quarter quarter[WW__AREA_QUARTERS];
    ww_patch made = {.n = SIZE_MAX};
    ww_status status = WW_OK;
    ww__area_quarters(&r->area[i], &r->box[i], quarter);
    place(&r->area[i], &r->box[i], &made);
    for (size_t c = 0; c < r->picture->channels && status == WW_OK; c++) {
        const ww_channel channel = ww__patch_channel(r->picture, c);
        const double end = scanner ? ww__scanner_end(scanner, channel) : r->picture->white;
        uint64_t kept = 0;
        double rejected = 0.0;
        status = ww__patch_value(counts_of(r, 0, i, c), &r->area[i], quarter, scanner, end, step,
                                 &made.channel[channel], &kept, &rejected, err);
        made.n = kept < made.n ? (size_t)kept : made.n;
        made.rejected = fmax(made.rejected, rejected);
    }
    if (status == WW_OK)
        *patch = made;
    return status;
}

ww_status ww__patch_read(const ww_picture *picture, const ww__area area[], size_t n,
                         const ww_scanner *scanner, size_t threads, ww_patch patch[],
                         ww_error *err) {
    const size_t workers = ww__threads_count(threads);
    reading r = {.picture = picture, .area = area, .n = n};
    ww_status status = WW_OK;
    assert(picture && area && n > 0 && patch && picture->channels > 0);
    const size_t one = picture->channels * WW__AREA_QUARTERS * sizeof *r.counts;
    r.box = n <= SIZE_MAX / workers / one ? malloc(n * sizeof *r.box) : NULL;
    r.counts = r.box ? calloc(workers * n, one) : NULL;
    if (!r.counts)
        status = ww_error_set(err, WW_EMEMORY, "no memory for %zu patches", n);
    for (size_t i = 0; i < n && status == WW_OK; i++)
        r.box[i] = ww__area_box(&area[i], picture->width, picture->height);
    if (status == WW_OK)
        status = ww_picture_visit(picture, r.box, n, threads, count_block, &r, err);
    for (size_t i = 0; i < n * picture->channels && status == WW_OK; i++)
        status = gather(&r, workers, i / picture->channels, i % picture->channels, err);
    const double step =
        status == WW_OK ? ww__patch_step(r.counts, n * picture->channels * WW__AREA_QUARTERS) : 0.0;
    for (size_t i = 0; i < n && status == WW_OK; i++)
        status = value(&r, i, scanner, step, &patch[i], err);
    if (status == WW_OK)
        ww__patch_step_settle(patch, n, step);
    for (size_t i = 0; r.counts && i < workers * n * picture->channels * WW__AREA_QUARTERS; i++)
        ww__histogram_release(&r.counts[i]);
    free(r.counts);
    free(r.box);
    return status;
}
