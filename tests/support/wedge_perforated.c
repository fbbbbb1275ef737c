/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/wedge_perforated.h"
#include "support/wedge_draw.h"

#include <stdlib.h>

/* Film of 35 mm and its holes. Source: from memory. */
static const double breadth_mm = 35.0, picture_mm = 24.0;
static const double hole_x_mm = 1.98, hole_y_mm = 2.79, hole_from_edge_mm = 2.01, pitch_mm = 4.75;

/* Along the film, from its middle, towards the dense end: u. */
static void box(wedge_glass *g, const wedge_scene *s, double from, double to, double across,
                double high, double density) {
    const double way = s->reversed ? -1.0 : 1.0;
    wedge_draw_box(g, s->x + way * 0.5 * (from + to), s->y + across, 0.5 * (to - from), 0.5 * high,
                   0.0, density);
}

ww_picture wedge_perforated_new(const wedge_perforated *film) {
    const wedge_scene *s = &film->scene;
    const size_t n = s->width * s->height;
    wedge_glass g = {s->width, s->height, malloc(n * sizeof *g.density), NULL};
    dice d = {s->seed};
    const double mm = s->breadth / breadth_mm, step = s->length / (double)s->steps;
    const double from = -0.5 * s->length - film->margin[0] * step;
    const double to = 0.5 * s->length + film->margin[1] * step;
    const double row = s->breadth / 2.0 - (hole_from_edge_mm + 0.5 * hole_y_mm) * mm;
    const double around = s->surround == WEDGE_ON_DARK ? 4.0 : 0.0;
    wedge_draw_fill(&g, around);
    box(&g, s, from, to, 0.0, s->breadth, film->base);
    for (size_t k = 0; k < s->steps; k++) {
        const double at = -0.5 * s->length + step * (double)k;
        box(&g, s, at, at + step, 0.0, film->whole ? s->breadth : picture_mm * mm,
            s->density ? s->density[k] : s->first + s->gap * (double)k);
    }
    for (double u = from + dice_even(&d, 0.0, pitch_mm) * mm; u < to; u += pitch_mm * mm)
        for (int side = -1; side <= 1; side += 2)
            box(&g, s, u, u + hole_x_mm * mm < to ? u + hole_x_mm * mm : to, side * row,
                hole_y_mm * mm, around);
    wedge_draw_dirt(&g, s, &d);
    ww_picture picture = wedge_draw_picture(&g, s, &d);
    free(g.density);
    return picture;
}
