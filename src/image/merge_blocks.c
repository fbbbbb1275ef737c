/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_blocks.h"

#include "core/picture.h"
#include "image/bands.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { BANDS = 32 };

void ww__merge_blocks_release(ww__merge_blocks blocks[WW__MERGE_CHANNELS]) {
    for (size_t c = 0; c < WW__MERGE_CHANNELS; c++) {
        free(blocks[c].block);
        blocks[c] = (ww__merge_blocks){NULL, 0, 0};
    }
}

void ww__merge_blocks_swap(ww__merge_blocks *blocks) {
    for (size_t i = 0; i < blocks->n; i++) {
        const ww__merge_block b = blocks->block[i];
        blocks->block[i] = (ww__merge_block){b.y, b.x, b.var_y, b.var_x, b.cov, b.top};
    }
}

/* The pixels of one band of both scans. */
typedef struct pair {
    const ww__merge_light *light;
    size_t width, channels;
    unsigned char *a, *b;
    size_t *count; /* pixels of each code in a, then in b; NULL for floating point */
    double sum_a, sum_b;
    ww__picture_range range_a, range_b; /* of floating point */
} pair;

/* By the table where there is one: integers. */
static double light_of(const ww__merge_light *light, double code) {
    return light->light ? (double)light->light[(size_t)code] : ww__merge_light_of(light, code);
}

/* False where a pixel is clipped. `at` is the place's first sample of the channel. */
static bool summarise(const pair *p, size_t at, ww__merge_block *block) {
    double x = 0.0, y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0, first_x = 0.0, first_y = 0.0, top = 0.0;
    for (size_t i = 0; i < WW__MERGE_PIXELS; i++) {
        const size_t place =
            at + (i / WW__MERGE_BLOCK * p->width + i % WW__MERGE_BLOCK) * p->channels;
        const double code_a = ww__merge_light_code(p->light, p->a, place);
        const double code_b = ww__merge_light_code(p->light, p->b, place);
        if (!ww__merge_light_holds(p->light, code_a) || !ww__merge_light_holds(p->light, code_b))
            return false;
        top = fmax(top, fmax(code_a, code_b));
        double a = light_of(p->light, code_a), b = light_of(p->light, code_b);
        if (i == 0) {
            first_x = a;
            first_y = b;
        }
        a -= first_x; /* small numbers, whose squares lose nothing */
        b -= first_y;
        x += a;
        y += b;
        xx += a * a;
        yy += b * b;
        xy += a * b;
    }
    const double n = WW__MERGE_PIXELS;
    *block = (ww__merge_block){.x = first_x + x / n,
                               .y = first_y + y / n,
                               .var_x = (xx - x * x / n) / (n - 1.0),
                               .var_y = (yy - y * y / n) / (n - 1.0),
                               .cov = (xy - x * y / n) / (n - 1.0),
                               .top = top};
    return true;
}

static void add_band(const pair *p, ww__merge_blocks blocks[]) {
    for (size_t x = 0; x + WW__MERGE_BLOCK <= p->width; x += WW__MERGE_BLOCK)
        for (size_t c = 0; c < p->channels; c++) {
            blocks[c].seen++;
            if (summarise(p, x * p->channels + c, &blocks[c].block[blocks[c].n]))
                blocks[c].n++;
        }
}

static void count_codes(pair *p) {
    for (size_t i = 0; p->count && i < p->width * WW__MERGE_BLOCK * p->channels; i++) {
        const double a = ww__merge_light_code(p->light, p->a, i);
        const double b = ww__merge_light_code(p->light, p->b, i);
        p->count[(size_t)a]++;
        p->count[p->light->codes + (size_t)b]++;
        p->sum_a += a;
        p->sum_b += b;
    }
}

/* Whether codes end in a heap: the last is frequent, and none near it a quarter as much. */
static bool ends_in_heap(const size_t count[], size_t last) {
    enum { LEAST = 100, TIMES = 4, NEAR = 16 };
    size_t other = 0;
    for (size_t i = last - last / NEAR; i < last; i++)
        other = count[i] > other ? count[i] : other;
    return count[last] >= LEAST && count[last] > TIMES * other;
}

/* Of the longer scan: one of fewer bits than its file, or scaled after it clipped. */
static void find_end(const pair *p, ww__merge_light *light, ww__merge_blocks blocks[]) {
    const size_t *count = p->count + (p->sum_b > p->sum_a ? light->codes : 0);
    size_t last = light->codes - 1;
    while (last > 0 && count[last] == 0)
        last--;
    if ((double)last >= light->clips || !ends_in_heap(count, last))
        return;
    light->clips = WW__MERGED_CLIPPED * (double)last;
    for (size_t c = 0; c < p->channels; c++) {
        const size_t n = blocks[c].n;
        blocks[c].n = 0;
        for (size_t i = 0; i < n; i++)
            if (blocks[c].block[i].top < light->clips)
                blocks[c].block[blocks[c].n++] = blocks[c].block[i];
    }
}

static void look_at_range(pair *p, const ww_picture *a, const ww_picture *b) {
    for (size_t i = 0; !p->count && i < p->width * WW__MERGE_BLOCK * p->channels; i++) {
        ww__picture_range_add(&p->range_a, a, ww__merge_light_code(p->light, p->a, i));
        ww__picture_range_add(&p->range_b, b, ww__merge_light_code(p->light, p->b, i));
    }
}

static ww_status read_bands(const ww_picture *a, const ww_picture *b, pair *p, size_t bands,
                            ww__merge_blocks blocks[], ww_error *err) {
    const size_t down = a->height / WW__MERGE_BLOCK;
    ww_status status = WW_OK;
    for (size_t i = 0; i < bands && status == WW_OK; i++) {
        /* the middle of each of as many equal parts */
        const size_t y = (2 * i + 1) * down / (2 * bands) * WW__MERGE_BLOCK;
        const ww_region region = {0, y, a->width, WW__MERGE_BLOCK};
        status = ww__bands_read(a, region, p->a, err);
        if (status == WW_OK)
            status = ww__bands_read(b, region, p->b, err);
        if (status == WW_OK) {
            count_codes(p);
            look_at_range(p, a, b);
            add_band(p, blocks);
        }
    }
    if (status == WW_OK)
        status = ww__picture_range_check(&p->range_a, a, err);
    return status == WW_OK ? ww__picture_range_check(&p->range_b, b, err) : status;
}

ww_status ww__merge_blocks_read(const ww_picture *a, const ww_picture *b, ww__merge_light *light,
                                ww__merge_blocks blocks[WW__MERGE_CHANNELS], ww_error *err) {
    assert(a->width == b->width && a->height == b->height && a->channels == b->channels);
    const size_t across = a->width / WW__MERGE_BLOCK, down = a->height / WW__MERGE_BLOCK;
    const size_t bands = down < BANDS ? down : BANDS, n = across * bands + 1;
    const size_t bytes = a->width * WW__MERGE_BLOCK * ww__bands_pixel(a);
    pair p = {.light = light,
              .width = a->width,
              .channels = a->channels,
              .a = malloc(bytes),
              .b = malloc(bytes)};
    bool room = p.a && p.b;
    ww_status status;
    if (light->codes > 0)
        room = (p.count = calloc(2 * light->codes, sizeof *p.count)) && room;
    for (size_t c = 0; c < WW__MERGE_CHANNELS; c++) {
        blocks[c] = (ww__merge_blocks){NULL, 0, 0};
        if (c < a->channels)
            room = (blocks[c].block = malloc(n * sizeof *blocks[c].block)) && room;
    }
    status = room ? read_bands(a, b, &p, bands, blocks, err)
                  : ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    if (status == WW_OK && p.count)
        find_end(&p, light, blocks);
    free(p.count);
    free(p.a);
    free(p.b);
    if (status != WW_OK)
        ww__merge_blocks_release(blocks);
    return status;
}
