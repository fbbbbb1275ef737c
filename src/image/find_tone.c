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

void ww__tone_line(const ww__tone *tone, const ww__line *line, double value[], double weight[]) {
    for (size_t i = 0; i < line->n; i++) {
        const double x = line->x + (double)i * line->dx - 0.5;
        const double y = line->y + (double)i * line->dy - 0.5;
        value[i] = weight[i] = 0.0;
        if (!(x > -0.5 && y > -0.5 && x < (double)tone->width - 0.5 &&
              y < (double)tone->height - 0.5))
            continue;
        const double cx = fmin(fmax(x, 0.0), (double)(tone->width - 1));
        const double cy = fmin(fmax(y, 0.0), (double)(tone->height - 1));
        const size_t x0 = (size_t)cx, y0 = (size_t)cy;
        const size_t right = x0 + 1 < tone->width ? 1 : 0;
        const size_t below = y0 + 1 < tone->height ? tone->width : 0;
        const double fx = cx - (double)x0, fy = cy - (double)y0;
        const double *at = &tone->value[x0 + y0 * tone->width];
        value[i] = (1.0 - fy) * ((1.0 - fx) * at[0] + fx * at[right]) +
                   fy * ((1.0 - fx) * at[below] + fx * at[below + right]);
        weight[i] = tone->weight[x0 + y0 * tone->width];
    }
}
