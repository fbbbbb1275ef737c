/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/wedge_draw.h"

#include <math.h>
#include <stdlib.h>

static const double pi = 3.14159265358979323846;

typedef void draw(wedge_glass *g, dice *d);

static void nothing(wedge_glass *g, dice *d) {
    wedge_draw_fill(g, dice_even(d, 0.0, 3.0));
}

static void gradient(wedge_glass *g, dice *d) {
    wedge_draw_slope(g, dice_even(d, 0.5, 3.5), dice_even(d, 0.0, 2.0 * pi));
}

static void ramp(wedge_glass *g, dice *d) {
    const double w = (double)g->width, h = (double)g->height;
    wedge_draw_fill(g, dice_even(d, 0.0, 1.0) < 0.5 ? 0.0 : 3.5);
    for (double x = 0.1 * w; x < 0.9 * w; x += 1.0)
        for (double y = 0.3 * h; y < 0.5 * h; y += 1.0)
            wedge_draw_put(g, x, y, 3.0 * (x / w - 0.1) / 0.8);
}

static void clutter(wedge_glass *g, dice *d) {
    wedge_draw_fill(g, 0.0);
    wedge_draw_clutter(g, d);
}

static void grid(wedge_glass *g, dice *d) {
    const size_t cell = (size_t)dice_even(d, 8.0, 40.0);
    const double a = dice_even(d, 0.0, 0.4), b = dice_even(d, 0.6, 2.5);
    for (size_t i = 0; i < g->width * g->height; i++)
        g->density[i] = (i % g->width / cell + i / g->width / cell) % 2 == 0 ? a : b;
}

static void stripes(wedge_glass *g, dice *d) {
    const double pitch = dice_even(d, 10.0, 40.0), angle = dice_even(d, -0.1, 0.1);
    for (size_t i = 0; i < g->width * g->height; i++) {
        const double at = (double)(i % g->width) + angle * (double)(i / g->width);
        g->density[i] = fmod(at + 1e4, 2.0 * pitch) < pitch ? 0.2 : 1.4;
    }
}

/* Sum of soft hills of all sizes: clouds. */
static void clouds(wedge_glass *g, dice *d) {
    const double size = (double)(g->width + g->height);
    wedge_draw_fill(g, 0.8);
    for (int k = 0; k < 60; k++) {
        const double x = dice_even(d, 0.0, (double)g->width), height = dice_even(d, -0.5, 0.5);
        const double y = dice_even(d, 0.0, (double)g->height), r = size * dice_even(d, 0.01, 0.15);
        for (size_t i = 0; i < g->width * g->height; i++) {
            const double dx = ((double)(i % g->width) - x) / r;
            const double dy = ((double)(i / g->width) - y) / r;
            if (dx * dx + dy * dy < 9.0)
                g->density[i] += height * exp(-0.5 * (dx * dx + dy * dy));
        }
    }
}

/* A landscape: sky that darkens, hills in steps of haze, trees. */
static void landscape(wedge_glass *g, dice *d) {
    const double w = (double)g->width, h = (double)g->height;
    wedge_draw_slope(g, 0.6, 0.5 * pi);
    for (int k = 0; k < 5; k++) {
        const double phase = dice_even(d, 0.0, 6.0), tall = h * dice_even(d, 0.05, 0.12);
        for (double x = 0.0; x < w; x += 1.0) {
            const double top = h * (0.35 + 0.12 * k) + tall * sin(phase + 9.0 * x / w);
            for (double y = top; y < h; y += 1.0)
                wedge_draw_put(g, x, y, 0.6 + 0.3 * k + dice_normal(d, 0.03));
        }
    }
    for (int k = 0; k < 30; k++)
        wedge_draw_box(g, dice_even(d, 0.0, w), h * dice_even(d, 0.5, 1.0), dice_even(d, 1.0, 5.0),
                       h * dice_even(d, 0.02, 0.1), 0.0, 2.2);
}

/* A row of patches in no order. */
static void patches(wedge_glass *g, dice *d) {
    const double w = (double)g->width, h = (double)g->height;
    wedge_draw_fill(g, 0.0);
    for (int k = 0; k < 21; k++)
        wedge_draw_box(g, w * (0.1 + 0.04 * k), 0.5 * h, 0.02 * w, 0.08 * h, 0.0,
                       dice_even(d, 0.05, 3.0));
}

static void film(wedge_glass *g, dice *d) {
    wedge_draw_fill(g, dice_even(d, 0.0, 1.0) < 0.5 ? 0.0 : 3.5);
    for (int k = 0; k < 4; k++)
        wedge_draw_film_strip(g, d, 0.05 * (double)g->width, (0.2 * k + 0.15) * (double)g->height,
                              0.9 * (double)g->width, 0.15 * (double)g->height);
}

static void writing(wedge_glass *g, dice *d) {
    wedge_draw_fill(g, 0.05);
    wedge_draw_writing(g, d, 10.0, 10.0, (double)g->width - 20.0, (double)g->height - 20.0);
}

static void one_edge(wedge_glass *g, dice *d) {
    const double w = (double)g->width, h = (double)g->height;
    wedge_draw_fill(g, 0.0);
    wedge_draw_box(g, w * dice_even(d, 0.3, 1.0), h * 0.5, w * 0.4, h * 0.4, dice_even(d, 0.0, 0.2),
                   dice_even(d, 0.5, 3.0));
}

/* Strips that lie apart, each darker than the last, open light between them. */
static void apart(wedge_glass *g, dice *d) {
    const double w = (double)g->width, h = (double)g->height;
    const double gap = dice_even(d, 0.4, 0.7);
    wedge_draw_fill(g, 0.0);
    for (int k = 0; k < 6; k++)
        wedge_draw_box(g, 0.5 * w, h * (0.12 + 0.15 * k), 0.35 * w, h * 0.075 * (1.0 - gap), 0.0,
                       0.2 + 0.15 * k);
}

static void rings(wedge_glass *g, dice *d) {
    const double x = dice_even(d, 0.2, 0.8) * (double)g->width;
    const double y = dice_even(d, 0.2, 0.8) * (double)g->height, pitch = dice_even(d, 9.0, 30.0);
    for (size_t i = 0; i < g->width * g->height; i++) {
        const double r = hypot((double)(i % g->width) - x, (double)(i / g->width) - y);
        g->density[i] = 0.4 + 0.4 * sin(r / pitch);
    }
}

static const struct {
    const char *name;
    draw *draw;
} kinds[WEDGE_NONE_KINDS] = {
    {"nothing", nothing},    {"gradient", gradient},   {"ramp", ramp},
    {"clutter", clutter},    {"grid", grid},           {"stripes", stripes},
    {"clouds", clouds},      {"landscape", landscape}, {"patches in no order", patches},
    {"film strips", film},   {"writing", writing},     {"one edge", one_edge},
    {"strips apart", apart}, {"rings", rings},
};

const char *wedge_none_name(size_t kind) {
    return kinds[kind].name;
}

ww_picture wedge_none_new(size_t kind, uint64_t seed) {
    dice d = {seed};
    wedge_scene s = wedge_scene_plain();
    s.width = (size_t)dice_even(&d, 240.0, 420.0), s.height = (size_t)dice_even(&d, 180.0, 320.0);
    s.read_noise = dice_even(&d, 0.0, 0.002), s.shot_noise = dice_even(&d, 0.0, 0.03);
    s.channels = dice_even(&d, 0.0, 1.0) < 0.5 ? 1 : 3;
    s.gamma = dice_even(&d, 0.0, 1.0) < 0.3 ? 2.2 : 1.0;
    wedge_glass g = {s.width, s.height, malloc(s.width * s.height * sizeof(double)), NULL};
    kinds[kind].draw(&g, &d);
    ww_picture picture = wedge_draw_picture(&g, &s, &d);
    free(g.density);
    return picture;
}
