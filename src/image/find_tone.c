/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_tone.h"
#include "image/order.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Steps of a strip are no more even than this, log10: shading, grain, dust in a cell. */
static const double unevenness = 0.01;
static const double most_floor = 0.004;
enum { CELLS_OF_NOISE = 40000 };
static const double ln10 = 2.302585092994045684;

void ww__tone_release(ww__tone *tone) {
    if (!tone)
        return;
    free(tone->value);
    free(tone->weight);
    *tone = (ww__tone)WW__TONE_INIT;
}

static void shrunk(const ww__grid *preview, size_t shrink, const ww__tone *t, double light[]) {
    for (size_t y = 0; y < t->height; y++)
        for (size_t x = 0; x < t->width; x++) {
            double sum = 0.0;
            for (size_t j = 0; j < shrink; j++)
                for (size_t i = 0; i < shrink; i++)
                    sum += preview->light[x * shrink + i + (y * shrink + j) * preview->nu];
            light[x + y * t->width] = fmax(sum / (double)(shrink * shrink), 0.0);
        }
}

/* Rows that tell the noise: as many cells as that takes, spread over all of the map. */
static size_t rows_apart(const ww__tone *t) {
    const size_t apart = t->width * t->height / CELLS_OF_NOISE;
    return apart > 0 ? apart : 1;
}

/* Second differences of neighbours hold the noise of six cells and next to nothing of a picture. */
static size_t differences(const ww__tone *t, const double light[], double dark, double out[]) {
    size_t n = 0;
    for (size_t y = 0; y < t->height; y += rows_apart(t))
        for (size_t x = 1; x + 1 < t->width; x++) {
            const double *at = &light[x + y * t->width];
            if (at[0] <= dark)
                out[n++] = fabs(at[-1] - 2.0 * at[0] + at[1]);
        }
    return n;
}

static double noise_of(const ww__tone *t, const double light[], double room[]) {
    size_t n = 0;
    for (size_t y = 0; y < t->height; y += rows_apart(t), n += t->width)
        memcpy(&room[n], &light[y * t->width], t->width * sizeof *light);
    /* The darkest few alone would be those that noise made dark. */
    const double quarter = ww__order_nth(room, n, n / 4);
    const double darkest = ww__order_nth(room, n, n / 50);
    const double dark = fmax(darkest, fmin(quarter, 1.5 * darkest + 0.002));
    const size_t found = differences(t, light, dark, room);
    return found > 0 ? 1.4826 * ww__order_median(room, found) / sqrt(6.0) : 0.0;
}

static void weigh(ww__tone *t) {
    for (size_t i = 0; i < t->width * t->height; i++) {
        const double light = t->value[i] + t->floor;
        const double noise = t->noise / (ln10 * light);
        t->value[i] = log10(light);
        t->weight[i] = 1.0 / (unevenness * unevenness + noise * noise);
    }
}

ww_status ww__tone_new(const ww__grid *preview, size_t shrink, double quantum, ww__tone *tone,
                       ww_error *err) {
    assert(preview && preview->light && shrink > 0 && tone);
    ww__tone t = {.width = preview->nu / shrink,
                  .height = preview->nv / shrink,
                  .x = preview->x,
                  .y = preview->y,
                  .scale = preview->step_u * (double)shrink};
    const size_t n = t.width * t.height;
    assert(n > 0);
    t.value = malloc(n * sizeof *t.value);
    t.weight = malloc(n * sizeof *t.weight);
    if (!t.value || !t.weight) {
        ww__tone_release(&t);
        return ww_error_set(err, WW_EMEMORY, "no memory for a preview of %zu cells", n);
    }
    shrunk(preview, shrink, &t, t.value);
    t.noise = noise_of(&t, t.value, t.weight);
    t.floor = fmin(fmax(fmax(3.0 * t.noise, 0.5 * quantum), 1e-4), most_floor);
    weigh(&t);
    *tone = t;
    return WW_OK;
}

/* Between four cells of the map. */
static inline double between(const double at[], size_t right, size_t below, double fx, double fy) {
    return (1.0 - fy) * ((1.0 - fx) * at[0] + fx * at[right]) +
           fy * ((1.0 - fx) * at[below] + fx * at[below + right]);
}

/* The places of a line that have four cells around them: 0 <= start + i * step < last. One place
 * at either end is given up, so that rounding does not matter. */
static void cut_inside(double start, double step, double last, size_t *from, size_t *to) {
    const double n = (double)*to;
    double low = 0.0, high = 0.0;
    if (step == 0.0)
        high = start >= 0.0 && start < last ? n : 0.0;
    else {
        const double a = -start / step, b = (last - start) / step;
        low = fmin(fmax(ceil(fmin(a, b)) + 1.0, 0.0), n);
        high = fmin(fmax(floor(fmax(a, b)) - 1.0, low), n);
    }
    if ((size_t)low > *from)
        *from = (size_t)low;
    *to = (size_t)high;
}

/* Anywhere; what lies less than half a cell beyond the map has the value of its rim. */
static void tone_at(const ww__tone *t, double x, double y, double *value, double *weight) {
    *value = *weight = 0.0;
    if (!(x > -0.5 && y > -0.5 && x < (double)t->width - 0.5 && y < (double)t->height - 0.5))
        return;
    const double cx = fmin(fmax(x, 0.0), (double)(t->width - 1));
    const double cy = fmin(fmax(y, 0.0), (double)(t->height - 1));
    const size_t x0 = (size_t)cx, y0 = (size_t)cy, at = x0 + y0 * t->width;
    *value = between(&t->value[at], x0 + 1 < t->width ? 1 : 0, y0 + 1 < t->height ? t->width : 0,
                     cx - (double)x0, cy - (double)y0);
    *weight = t->weight[at];
}

void ww__tone_line(const ww__tone *tone, const ww__line *line, double value[], double weight[]) {
    const ww__tone t = *tone;
    const ww__line l = *line;
    const double start_x = l.x - 0.5, start_y = l.y - 0.5;
    size_t from = 0, to = l.n;
    cut_inside(start_x, l.dx, (double)(t.width - 1), &from, &to);
    cut_inside(start_y, l.dy, (double)(t.height - 1), &from, &to);
    from = from < to ? from : to;
    for (size_t i = 0; i < from; i++)
        tone_at(&t, start_x + (double)i * l.dx, start_y + (double)i * l.dy, &value[i], &weight[i]);
    for (size_t i = from; i < to; i++) {
        const double x = start_x + (double)i * l.dx, y = start_y + (double)i * l.dy;
        const size_t x0 = (size_t)x, y0 = (size_t)y, at = x0 + y0 * t.width;
        value[i] = between(&t.value[at], 1, t.width, x - (double)x0, y - (double)y0);
        weight[i] = t.weight[at];
    }
    for (size_t i = to; i < l.n; i++)
        tone_at(&t, start_x + (double)i * l.dx, start_y + (double)i * l.dy, &value[i], &weight[i]);
}
