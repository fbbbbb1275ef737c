/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/wedge_draw.h"

#include <math.h>
#include <stdlib.h>

static const double pi = 3.14159265358979323846;
static const double open_light = WEDGE_OPEN_LIGHT;
static const double channel_factor[3] = WEDGE_CHANNEL_FACTORS;

wedge_scene wedge_scene_plain(void) {
    return (wedge_scene){.width = 640,
                         .height = 420,
                         .bits = 16,
                         .channels = 1,
                         .gamma = 1.0,
                         .steps = 21,
                         .first = 0.05,
                         .gap = 0.15,
                         .x = 318.3,
                         .y = 207.6,
                         .length = 472.5,
                         .breadth = 61.7,
                         .seed = 1};
}

static double step_density(const wedge_scene *s, size_t step) {
    return s->density ? s->density[step] : s->first + s->gap * (double)step;
}

static double step_light(const wedge_scene *s, double density) {
    double sum = 0.0;
    for (size_t c = 0; c < s->channels; c++)
        sum += pow(10.0, -density * channel_factor[c] - (s->base ? s->base[c] : 0.0)) + s->flare;
    return open_light * sum / ((double)s->channels * (1.0 + s->flare));
}

double wedge_scene_light(const wedge_scene *s, size_t step) {
    return step_light(s, step_density(s, step));
}

size_t wedge_scene_step_at(const wedge_scene *s, size_t place) {
    return s->reversed ? s->steps - 1 - place : place;
}

void wedge_scene_edges(const wedge_scene *s, double edge[]) {
    double sum = 0.0;
    for (size_t i = 0; i < s->steps; i++)
        sum += s->widths ? s->widths[i] : 1.0;
    edge[0] = -0.5 * s->length;
    for (size_t i = 0; i < s->steps; i++) {
        const double width = s->widths ? s->widths[wedge_scene_step_at(s, i)] : 1.0;
        edge[i + 1] = edge[i] + width / sum * s->length;
    }
}

static void draw_surround(wedge_glass *g, const wedge_scene *s, dice *d) {
    wedge_draw_fill(g, 0.0);
    switch (s->surround) {
    case WEDGE_ON_DARK:
        wedge_draw_fill(g, 4.0);
        break;
    case WEDGE_ON_CLUTTER:
        wedge_draw_clutter(g, d);
        break;
    case WEDGE_ON_GRADIENT:
        wedge_draw_slope(g, 1.2, dice_even(d, 0.0, 2.0 * pi));
        break;
    case WEDGE_ON_GREY:
        wedge_draw_fill(g, 0.6);
        break;
    default:
        break;
    }
}

/* ------------------------------------------------------------------------------- the strip */

typedef struct bend {
    double shift, bow; /* of an edge, px */
} bend;

static double light_to_density(double light) {
    return -log10(light);
}

/* Density at u along (from the middle) and v across, both px. */
static double strip_density(const wedge_scene *s, const double edge[], const bend b[], double u,
                            double v) {
    const double across = 2.0 * v / s->breadth;
    size_t at = 0;
    double left = 0.0, right = 0.0, to_left = HUGE_VAL, to_right = HUGE_VAL;
    for (size_t k = 1; k < s->steps; k++) {
        const double place = edge[k] + b[k].shift + b[k].bow * across * across;
        if (u >= place)
            at = k, to_left = u - place;
        else if (to_right == HUGE_VAL)
            to_right = place - u;
    }
    const double own = step_density(s, wedge_scene_step_at(s, at));
    const double pitch = s->length / (double)s->steps;
    double density = own + s->shade * 0.5 * across + s->fall * u / s->length;
    if (s->line > 0.0 && fmin(to_left, to_right) < 0.5 * s->line * pitch)
        return s->line_density;
    if (s->blur > 0.0 && fmin(to_left, to_right) < s->blur) {
        const bool is_left = to_left < to_right;
        const size_t other = is_left ? at - 1 : at + 1;
        const double share = 0.5 - 0.5 * fmin(to_left, to_right) / s->blur;
        left = pow(10.0, -own);
        right = pow(10.0, -step_density(s, wedge_scene_step_at(s, other)));
        density += light_to_density((1.0 - share) * left + share * right) - own;
    }
    return density;
}

static void draw_strip(wedge_glass *g, const wedge_scene *s, dice *d) {
    double edge[130];
    bend b[130];
    const double angle = s->angle_deg * pi / 180.0, pitch = s->length / (double)s->steps;
    const double a[2] = {s->upright ? -sin(angle) : cos(angle),
                         s->upright ? cos(angle) : sin(angle)};
    const double low = -0.5 * s->length + (s->reversed ? s->cut * s->length : 0.0);
    const double high = 0.5 * s->length - (s->reversed ? 0.0 : s->cut * s->length);
    wedge_scene_edges(s, edge);
    for (size_t k = 0; k <= s->steps; k++)
        b[k] = (bend){s->wobble * pitch * dice_even(d, -0.5, 0.5),
                      s->wobble * pitch * dice_even(d, -0.5, 0.5)};
    for (size_t i = 0; i < g->width * g->height; i++) {
        const double dx = (double)(i % g->width) + 0.5 - s->x;
        const double dy = (double)(i / g->width) + 0.5 - s->y;
        const double u = dx * a[0] + dy * a[1], v = dy * a[0] - dx * a[1];
        const double beyond = fmax(fmax(low - u, u - high), fabs(v) - 0.5 * s->breadth);
        if (beyond >= s->margin && beyond > 0.0)
            continue;
        g->film[i] = true;
        g->density[i] = beyond > 0.0 ? s->margin_density : strip_density(s, edge, b, u, v);
    }
}

/* ------------------------------------------------------------------------------- dirt, noise */

/* Means of `wide` neighbours along each row of length n, in place; `row` holds one. */
static void smooth_rows(double value[], size_t n, size_t next, size_t rows, size_t next_row,
                        size_t wide, double row[]) {
    for (size_t r = 0; r < rows; r++) {
        double *const at = value + r * next_row;
        double sum = 0.0;
        for (size_t i = 0; i < n + wide; i++) {
            sum += i < n ? at[i * next] : 0.0;
            sum -= i >= wide && i - wide < n ? at[(i - wide) * next] : 0.0;
            if (i < n)
                row[i] = sum / (double)wide;
        }
        for (size_t i = 0; i < n; i++)
            at[i * next] = row[i];
    }
}

/* Noise smoothed twice, each way, over grain_px. The weights are a triangle, whose squares add up
 * to (2 w^2 + 1) / (3 w^3). */
static void draw_grain(wedge_glass *g, const wedge_scene *s, dice *d) {
    const size_t n = g->width * g->height, longer = g->width > g->height ? g->width : g->height;
    const double w = (double)s->grain_px, left = (2.0 * w * w + 1.0) / (3.0 * w * w * w);
    double *grain = malloc((n + longer) * sizeof *grain);
    for (size_t i = 0; i < n; i++)
        grain[i] = dice_normal(d, s->grain / left);
    for (int k = 0; k < 2; k++) {
        smooth_rows(grain, g->width, 1, g->height, g->width, s->grain_px, grain + n);
        smooth_rows(grain, g->height, g->width, g->width, 1, s->grain_px, grain + n);
    }
    for (size_t i = 0; i < n; i++)
        g->density[i] += g->film[i] ? grain[i] : 0.0;
    free(grain);
}

void wedge_draw_dirt(wedge_glass *g, const wedge_scene *s, dice *d) {
    const double w = (double)g->width, h = (double)g->height;
    for (size_t k = 0; k < s->dust; k++) {
        const double r = dice_even(d, 0.5, 2.4);
        wedge_draw_box(g, w * dice_even(d, 0.0, 1.0), h * dice_even(d, 0.0, 1.0), r, r, 0.0,
                       dice_even(d, 0.0, 1.0) < 0.5 ? 3.0 : 0.1);
    }
    for (size_t k = 0; k < s->hairs; k++) {
        double x = w * dice_even(d, 0.1, 0.9), y = h * dice_even(d, 0.1, 0.9);
        double way = dice_even(d, 0.0, 2.0 * pi);
        for (int i = 0; i < 160; i++) {
            wedge_draw_put(g, x, y, 2.5);
            wedge_draw_put(g, x + 1.0, y, 2.5);
            x += 0.7 * cos(way), y += 0.7 * sin(way), way += dice_even(d, -0.12, 0.12);
        }
    }
    for (size_t k = 0; k < s->scratches; k++)
        wedge_draw_box(g, w * dice_even(d, 0.2, 0.8), h * dice_even(d, 0.2, 0.8), w * 0.3, 0.6,
                       dice_even(d, -0.06, 0.06) + (s->upright ? 0.5 * pi : 0.0), 0.0);
}

ww_picture wedge_picture_new(const wedge_scene *s) {
    const size_t n = s->width * s->height;
    wedge_glass g = {s->width, s->height, malloc(n * sizeof *g.density), calloc(n, sizeof *g.film)};
    dice d = {s->seed};
    draw_surround(&g, s, &d);
    draw_strip(&g, s, &d);
    if (s->grain > 0.0)
        draw_grain(&g, s, &d);
    wedge_draw_dirt(&g, s, &d);
    ww_picture picture = wedge_draw_picture(&g, s, &d);
    free(g.density);
    free(g.film);
    return picture;
}
