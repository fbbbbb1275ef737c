/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_window.h"

#include "image/merge_light.h"
#include "image/order.h"
#include <math.h>
#include <stdlib.h>

bool ww__merge_window_new(size_t width, size_t height, ww__merge_window *w) {
    *w = (ww__merge_window){
        .width = width, .height = height, .value = malloc(width * height * sizeof *w->value)};
    return w->value != NULL;
}

bool ww__merge_window_fill(const ww_picture *picture, ww_region region, size_t channel,
                           ww__merge_end end, const void *pixel, ww__merge_window *w) {
    const ww__merge_light light = {
        .kind = picture->sample, .white = picture->white, .clips = end.clips};
    if (!ww__merge_window_new(region.width, region.height, w))
        return false;
    w->code = picture->sample == WW_SAMPLE_FLOAT ? 0.0 : 1.0 / picture->white;
    w->held = end.held ? (float)(end.clips / light.white) : 0.0f;
    for (size_t i = 0; i < region.width * region.height; i++) {
        const double code = ww__merge_light_code(&light, pixel, i * picture->channels + channel);
        if (ww__merge_light_holds(&light, code))
            w->value[i] = (float)(code / light.white);
        else
            w->value[i] = end.held && code > 0.0 ? w->held : NAN;
    }
    return true;
}

/* Means of WW__MERGE_COARSE x WW__MERGE_COARSE px, from (left, top) on. */
bool ww__merge_window_coarse(const ww__merge_window *from, size_t left, size_t top,
                             ww__merge_window *to) {
    if (!ww__merge_window_new((from->width - left) / WW__MERGE_COARSE,
                              (from->height - top) / WW__MERGE_COARSE, to))
        return false;
    for (size_t y = 0; y < to->height; y++)
        for (size_t x = 0; x < to->width; x++) {
            float sum = 0.0f;
            for (size_t i = 0; i < WW__MERGE_COARSE * WW__MERGE_COARSE; i++)
                sum +=
                    from->value[(top + y * WW__MERGE_COARSE + i / WW__MERGE_COARSE) * from->width +
                                left + x * WW__MERGE_COARSE + i % WW__MERGE_COARSE];
            to->value[y * to->width + x] = sum / (WW__MERGE_COARSE * WW__MERGE_COARSE);
        }
    return true;
}

/*
 * Variance that noise will have in a window when it is smoothed: what pixels are off the middle of
 * two neighbours, 2 px apart, where a scanner's noise is independent, by what smoothing leaves of
 * it, which is 70/256 along each axis. What pixels are off more along one axis are streaks, which
 * smoothing lessens along that axis alone. Detail as fine as that counts as noise.
 */
static double smoothed_noise_of(const ww__merge_window *w) {
    static const double left = 70.0 / 256.0;
    double off[2] = {0.0, 0.0}, tried[2] = {0.0, 0.0};
    for (ptrdiff_t y = 0; y < (ptrdiff_t)w->height; y++)
        for (ptrdiff_t x = 0; x < (ptrdiff_t)w->width; x++)
            for (size_t way = 0; way < 2; way++) {
                const ptrdiff_t dx = way == 0 ? 2 : 0, dy = 2 - dx;
                const double bend = (double)(ww__merge_window_at(w, x - dx, y - dy) +
                                             ww__merge_window_at(w, x + dx, y + dy)) -
                                    2.0 * (double)ww__merge_window_at(w, x, y);
                if (isnan(bend))
                    continue;
                off[way] += bend * bend / 6.0;
                tried[way] += 1.0;
            }
    if (!(tried[0] > 0.0 && tried[1] > 0.0))
        return HUGE_VAL;
    const double across = off[0] / tried[0], along = off[1] / tried[1];
    return left * (left * fmin(across, along) + fabs(across - along));
}

/* The mean of 3 x 3 px with weights 1 2 1, twice. */
bool ww__merge_window_smooth(ww__merge_window *w) {
    ww__merge_window to;
    if (!ww__merge_window_new(w->width, w->height, &to))
        return false;
    w->noise = smoothed_noise_of(w);
    for (int round = 0; round < 2; round++) {
        const ww__merge_window from = *w;
        for (ptrdiff_t y = 0; y < (ptrdiff_t)w->height; y++)
            for (ptrdiff_t x = 0; x < (ptrdiff_t)w->width; x++) {
                float sum = 0.0f;
                for (ptrdiff_t i = 0; i < 9; i++)
                    sum += (float)((2 - labs(i % 3 - 1)) * (2 - labs(i / 3 - 1))) *
                           ww__merge_window_at(&from, x + i % 3 - 1, y + i / 3 - 1);
                to.value[(size_t)y * w->width + (size_t)x] = sum / 16.0f;
            }
        w->value = to.value;
        to = from;
    }
    free(to.value);
    return true;
}

double ww__merge_window_alike(const ww__merge_pair *p, ptrdiff_t right, ptrdiff_t down,
                              double *compared) {
    return ww__merge_window_alike_in(p, (ww_region){0, 0, p->a.width, p->a.height}, right, down,
                                     compared);
}

double ww__merge_window_alike_in(const ww__merge_pair *p, ww_region part, ptrdiff_t right,
                                 ptrdiff_t down, double *compared) {
    const ptrdiff_t end_x = (ptrdiff_t)(part.x + part.width),
                    end_y = (ptrdiff_t)(part.y + part.height);
    double n = 0.0, a = 0.0, b = 0.0, aa = 0.0, bb = 0.0, ab = 0.0;
    for (ptrdiff_t y = (ptrdiff_t)part.y; y < end_y; y++)
        for (ptrdiff_t x = (ptrdiff_t)part.x; x < end_x; x++) {
            const double one = (double)ww__merge_window_at(&p->a, x, y);
            const double other =
                (double)ww__merge_window_at(&p->b, x + p->left + right, y + p->top + down);
            if (isnan(one) || isnan(other))
                continue;
            n += 1.0;
            a += one;
            b += other;
            aa += one * one;
            bb += other * other;
            ab += one * other;
        }
    *compared = n;
    if (4.0 * n < (double)(part.width * part.height))
        return -1.0;
    const double va = aa - a * a / n, vb = bb - b * b / n;
    return va > 0.0 && vb > 0.0 ? (ab - a * b / n) / sqrt(va * vb) : -1.0;
}

bool ww__merge_window_cut(const ww__merge_window *from, size_t x, size_t y, size_t width,
                          size_t height, ww__merge_window *to) {
    if (!ww__merge_window_new(width, height, to))
        return false;
    to->code = from->code;
    to->noise = from->noise;
    for (size_t i = 0; i < width * height; i++)
        to->value[i] = from->value[(y + i / width) * from->width + x + i % width];
    return true;
}

/* Means of up to 17 of n values, `step` apart, in place; what is NAN stays out. */
static void average(float *value, size_t n, size_t step, float *scratch) {
    double sum = 0.0, known = 0.0;
    for (size_t i = 0; i < n + WW__MERGE_FLAT; i++) {
        if (i < n && !isnan(scratch[i] = value[i * step])) {
            sum += (double)scratch[i];
            known += 1.0;
        }
        if (i > 2 * WW__MERGE_FLAT && !isnan(scratch[i - 2 * WW__MERGE_FLAT - 1])) {
            sum -= (double)scratch[i - 2 * WW__MERGE_FLAT - 1];
            known -= 1.0;
        }
        if (i >= WW__MERGE_FLAT)
            value[(i - WW__MERGE_FLAT) * step] = known > 0.0 ? (float)(sum / known) : NAN;
    }
}

bool ww__merge_window_hold(ww__merge_window *w) {
    static const double to_sd = 1.4826,
                        most = 3.0; /* of a normal's median absolute deviation; sd */
    double *order = malloc(w->width * w->height * sizeof *order);
    size_t n = 0;
    if (!order)
        return false;
    for (size_t i = 0; i < w->width * w->height; i++)
        if (!isnan(w->value[i]))
            order[n++] = fabs((double)w->value[i]);
    const float end = n > 0 ? (float)(most * to_sd * ww__order_median(order, n)) : 0.0f;
    for (size_t i = 0; i < w->width * w->height && end > 0.0f; i++)
        if (fabsf(w->value[i]) > end)
            w->value[i] = copysignf(end, w->value[i]);
    free(order);
    return true;
}

bool ww__merge_window_flatten(ww__merge_window *w) {
    const size_t n = w->width * w->height;
    float *mean = malloc(n * sizeof *mean);
    float *scratch = malloc((w->width > w->height ? w->width : w->height) * sizeof *scratch);
    const bool room = mean && scratch;
    if (room) {
        for (size_t i = 0; i < n; i++)
            mean[i] = w->value[i];
        for (size_t y = 0; y < w->height; y++)
            average(mean + y * w->width, w->width, 1, scratch);
        for (size_t x = 0; x < w->width; x++)
            average(mean + x, w->height, w->width, scratch);
        for (size_t i = 0; i < n; i++)
            w->value[i] -= mean[i];
    }
    free(mean);
    free(scratch);
    return room;
}
