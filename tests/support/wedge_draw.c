/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/wedge_draw.h"
#include "base/threads.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double open_light = WEDGE_OPEN_LIGHT;
static const double channel_factor[3] = WEDGE_CHANNEL_FACTORS;

typedef struct raster {
    size_t width, height, channels;
    unsigned bits;
    void *code;
} raster;

void wedge_draw_put(wedge_glass *g, double x, double y, double density) {
    if (x >= 0.0 && y >= 0.0 && x < (double)g->width && y < (double)g->height)
        g->density[(size_t)x + (size_t)y * g->width] = density;
}

void wedge_draw_box(wedge_glass *g, double x, double y, double half_x, double half_y, double angle,
                    double density) {
    const double c = cos(angle), s = sin(angle), reach = hypot(half_x, half_y);
    for (double j = floor(y - reach); j <= y + reach; j += 1.0)
        for (double i = floor(x - reach); i <= x + reach; i += 1.0) {
            const double dx = i + 0.5 - x, dy = j + 0.5 - y;
            if (fabs(dx * c + dy * s) <= half_x && fabs(dy * c - dx * s) <= half_y)
                wedge_draw_put(g, i, j, density);
        }
}

void wedge_draw_writing(wedge_glass *g, dice *d, double x, double y, double wide, double high) {
    for (double j = y; j < y + high; j += 9.0)
        for (double i = x; i < x + wide; i += dice_even(d, 3.0, 8.0))
            wedge_draw_box(g, i, j + dice_even(d, -2.0, 2.0), dice_even(d, 0.5, 2.2),
                           dice_even(d, 0.5, 3.0), 0.0, 1.4);
}

/* Frames of random patches between two rows of holes. */
void wedge_draw_film_strip(wedge_glass *g, dice *d, double x, double y, double length,
                           double breadth) {
    wedge_draw_box(g, x + length / 2.0, y, length / 2.0, breadth / 2.0, 0.0, 0.25);
    for (double i = x + 4.0; i < x + length; i += 9.0) {
        wedge_draw_box(g, i, y - 0.43 * breadth, 2.5, 0.04 * breadth, 0.0, 0.0);
        wedge_draw_box(g, i, y + 0.43 * breadth, 2.5, 0.04 * breadth, 0.0, 0.0);
    }
    for (double i = x; i + breadth < x + length; i += 1.1 * breadth)
        for (int k = 0; k < 12; k++)
            wedge_draw_box(g, i + breadth * dice_even(d, 0.2, 0.8),
                           y + breadth * dice_even(d, -0.2, 0.2), breadth * dice_even(d, 0.04, 0.2),
                           breadth * dice_even(d, 0.03, 0.13), 0.0, dice_even(d, 0.25, 1.6));
}

void wedge_draw_clutter(wedge_glass *g, dice *d) {
    const double w = (double)g->width, h = (double)g->height, size = fmin(w, h);
    for (int k = 0; k < 14; k++)
        wedge_draw_box(g, w * dice_even(d, 0.0, 1.0), h * dice_even(d, 0.0, 1.0),
                       size * dice_even(d, 0.02, 0.16), size * dice_even(d, 0.02, 0.16),
                       dice_even(d, 0.0, 3.0), dice_even(d, 0.05, 2.5));
    for (int k = 0; k < 3; k++)
        wedge_draw_writing(g, d, w * dice_even(d, 0.0, 0.7), h * dice_even(d, 0.0, 0.9),
                           w * dice_even(d, 0.1, 0.3), h * dice_even(d, 0.05, 0.2));
    wedge_draw_film_strip(g, d, w * dice_even(d, -0.2, 0.2), h * dice_even(d, 0.0, 1.0),
                          w * dice_even(d, 0.5, 1.0), size * dice_even(d, 0.08, 0.16));
}

void wedge_draw_fill(wedge_glass *g, double density) {
    for (size_t i = 0; i < g->width * g->height; i++)
        g->density[i] = density;
}

void wedge_draw_slope(wedge_glass *g, double to, double angle) {
    const double w = (double)g->width, h = (double)g->height;
    for (size_t i = 0; i < g->width * g->height; i++) {
        const double x = (double)(i % g->width) / w, y = (double)(i / g->width) / h;
        const double at = 0.5 + ((x - 0.5) * cos(angle) + (y - 0.5) * sin(angle)) / 1.42;
        g->density[i] = to * at;
    }
}

static void expose(const wedge_glass *g, const wedge_scene *s, dice *d, raster *r) {
    for (size_t i = 0; i < g->width * g->height; i++)
        for (size_t c = 0; c < s->channels; c++) {
            const double factor = s->channels == 1 ? 1.0 : channel_factor[c];
            const double base = g->film && g->film[i] && s->base ? s->base[c] : 0.0;
            double light = open_light * (pow(10.0, -factor * g->density[i] - base) + s->flare) /
                           (1.0 + s->flare);
            light += dice_normal(d, hypot(s->read_noise, s->shot_noise * sqrt(light)));
            const double share = pow(fmin(fmax(light, 0.0), 1.0), 1.0 / s->gamma);
            if (s->bits == 8)
                ((uint8_t *)r->code)[i * s->channels + c] = (uint8_t)(255.0 * share + 0.5);
            else if (s->bits == 16)
                ((uint16_t *)r->code)[i * s->channels + c] = (uint16_t)(65535.0 * share + 0.5);
            else
                ((float *)r->code)[i * s->channels + c] = (float)share;
        }
}

/* ------------------------------------------------------------------------------- the picture */

enum { TILE_X = 117, TILE_Y = 83 };

typedef struct tour {
    const ww_picture *picture;
    const ww_region *region;
    size_t n_regions;
    ww_block_visit *visit;
    void *context;
} tour;

static bool touches(const tour *t, const ww_block *b) {
    for (size_t i = 0; i < t->n_regions; i++) {
        const ww_region *r = &t->region[i];
        if (b->x < r->x + r->width && r->x < b->x + b->width && b->y < r->y + r->height &&
            r->y < b->y + b->height)
            return true;
    }
    return false;
}

static ww_sample sample_of(unsigned bits) {
    return bits == 8 ? WW_SAMPLE_8 : bits == 16 ? WW_SAMPLE_16 : WW_SAMPLE_FLOAT;
}

static ww_status show(size_t item, size_t worker, void *context, ww_error *err) {
    const tour *t = context;
    const raster *r = t->picture->handle;
    const size_t tiles = (r->width + TILE_X - 1) / TILE_X;
    const size_t x = item % tiles * TILE_X, y = item / tiles * TILE_Y;
    const size_t at = (x + y * r->width) * r->channels;
    const ww_block block = {.x = x,
                            .y = y,
                            .width = r->width - x < TILE_X ? r->width - x : TILE_X,
                            .height = r->height - y < TILE_Y ? r->height - y : TILE_Y,
                            .channels = r->channels,
                            .kind = sample_of(r->bits),
                            .sample = (const char *)r->code + at * (r->bits / 8),
                            .next_x = (ptrdiff_t)r->channels,
                            .next_y = (ptrdiff_t)(r->width * r->channels)};
    return touches(t, &block) ? t->visit(&block, worker, t->context, err) : WW_OK;
}

static ww_status visit_tiles(const ww_picture *picture, const ww_region region[], size_t n_regions,
                             size_t threads, ww_block_visit *visit, void *context, ww_error *err) {
    tour t = {picture, region, n_regions, visit, context};
    const size_t tiles = (picture->width + TILE_X - 1) / TILE_X;
    const size_t rows = (picture->height + TILE_Y - 1) / TILE_Y;
    return ww__threads_for(tiles * rows, threads, show, &t, err);
}

static void close_raster(void *handle) {
    raster *r = handle;
    free(r->code);
    free(r);
}

static const ww_picture_source source = {visit_tiles, close_raster};

ww_picture wedge_draw_picture(const wedge_glass *g, const wedge_scene *s, dice *d) {
    raster *r = calloc(1, sizeof *r);
    ww_picture picture = WW_PICTURE_INIT;
    char *name = calloc(16, 1);
    *r = (raster){g->width, g->height, s->channels, s->bits,
                  malloc(g->width * g->height * s->channels * (s->bits / 8))};
    expose(g, s, d, r);
    strcpy(name, "made.tif");
    picture.file = name;
    picture.width = g->width, picture.height = g->height;
    picture.page = picture.pages = 1;
    picture.channels = s->channels;
    picture.sample = sample_of(s->bits);
    picture.bits = s->bits;
    picture.white = s->bits == 8 ? 255.0 : s->bits == 16 ? 65535.0 : 1.0;
    picture.source = &source;
    picture.handle = r;
    return picture;
}

double wedge_picture_code(const ww_picture *picture, size_t x, size_t y, size_t channel) {
    const raster *r = picture->handle;
    const size_t at = (x + y * r->width) * r->channels + channel;
    return r->bits == 8    ? ((const uint8_t *)r->code)[at] / 255.0
           : r->bits == 16 ? ((const uint16_t *)r->code)[at] / 65535.0
                           : (double)((const float *)r->code)[at];
}
