/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "emulsion.h"
#include "support.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { GRID = 4001 };
static const double pi = 3.14159265358979323846;

/* splitmix64 (public domain algorithm by Vigna). */
static uint64_t roll(dice *d) {
    uint64_t z = d->state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

double dice_even(dice *d, double low, double high) {
    return low + (high - low) * ((double)(roll(d) >> 11) + 0.5) / 9007199254740992.0;
}

double dice_normal(dice *d, double sd) {
    const double radius = sqrt(-2.0 * log(dice_even(d, 0.0, 1.0)));
    return sd * radius * cos(dice_even(d, 0.0, 2.0 * pi));
}

emulsion emulsion_draw(dice *d, emulsion_kind kind, bool paper) {
    /* A paper is a film drawn together along log H by about two and a half times. */
    const double scale = paper ? 0.4 : 1.0;
    emulsion e = {.kind = kind,
                  .base = paper ? dice_even(d, 0.04, 0.10) : dice_even(d, 0.05, 0.35),
                  .range = paper ? dice_even(d, 1.6, 2.2) : dice_even(d, 1.3, 2.4)};
    const double middle = paper ? dice_even(d, -1.7, -1.4) : dice_even(d, -2.1, -1.7);
    if (kind == EMULSION_RAMP) {
        e.place[0] = middle - scale * dice_even(d, 0.2, 0.5);
        e.length = scale * dice_even(d, 1.4, 2.4);
        e.width[0] = scale * dice_even(d, 0.15, 0.45);
        e.width[1] = scale * dice_even(d, 0.15, 0.5);
        return e;
    }
    e.share[0] = dice_even(d, 0.3, 0.7);
    e.share[1] = 1.0 - e.share[0];
    e.place[0] = middle;
    e.place[1] = middle + scale * dice_even(d, 0.3, 0.9);
    for (int k = 0; k < 2; k++)
        e.width[k] =
            scale * (kind == EMULSION_NORMAL ? dice_even(d, 0.35, 0.6) : dice_even(d, 0.7, 1.1));
    return e;
}

static double normal_integral(double z) {
    return 0.5 * erfc(-z / sqrt(2.0));
}

/* Integral of the Gaussian integral: a ramp with a soft foot. */
static double soft_ramp(double z) {
    return z * normal_integral(z) + exp(-0.5 * z * z) / sqrt(2.0 * pi);
}

double emulsion_density(const emulsion *e, double log_h) {
    if (e->kind == EMULSION_RAMP) {
        const double up = e->width[0] * soft_ramp((log_h - e->place[0]) / e->width[0]);
        const double off = e->width[1] * soft_ramp((log_h - e->place[0] - e->length) / e->width[1]);
        return e->base + e->range * (up - off) / e->length;
    }
    double made = 0.0;
    for (int k = 0; k < 2; k++) {
        const double z = (log_h - e->place[k]) / e->width[k];
        made += e->share[k] *
                (e->kind == EMULSION_NORMAL ? normal_integral(z) : 1.0 - exp(-pow(10.0, z)));
    }
    return e->base + e->range * made;
}

/* ------------------------------------------------------------------------- brute force */

typedef struct grid {
    const emulsion *e;
    double low, high, gap;
    double slope[GRID];
    size_t steepest;
} grid;

static double at(const grid *g, size_t i) {
    return g->low + g->gap * (double)i;
}

static bool place_of(const grid *g, double density, double *log_h) {
    double a = g->low, b = g->high;
    if (emulsion_density(g->e, a) > density || emulsion_density(g->e, b) < density)
        return false;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (a + b);
        if (emulsion_density(g->e, middle) < density)
            a = middle;
        else
            b = middle;
    }
    *log_h = 0.5 * (a + b);
    return true;
}

/* Where the slope, walking from the steepest place, first falls to a level; false: it does not. */
static bool slope_falls(const grid *g, int way, double level, double *log_h) {
    size_t i = g->steepest;
    while (g->slope[i] >= level) {
        if ((way < 0 && i == 0) || (way > 0 && i == GRID - 1)) {
            *log_h = at(g, i);
            return false;
        }
        i = way < 0 ? i - 1 : i + 1;
    }
    const size_t inside = way < 0 ? i + 1 : i - 1;
    const double part = (g->slope[inside] - level) / (g->slope[inside] - g->slope[i]);
    *log_h = at(g, inside) + (way < 0 ? -part : part) * g->gap;
    return true;
}

static void give(emulsion_truth *t, emulsion_figure f, double value) {
    t->has[f] = true;
    t->value[f] = value;
}

/* Slope of the line from (centre, base) to the place where the curve is `radius` away from it. */
static bool arc_slope(const grid *g, double centre, double radius, double *slope) {
    double a = fmax(centre, g->low), b = centre + radius;
    if (b > g->high)
        b = g->high;
    const double d = emulsion_density(g->e, b) - g->e->base;
    if (hypot(b - centre, d) < radius)
        return false;
    const double first = emulsion_density(g->e, a) - g->e->base;
    if (hypot(a - centre, first) > radius)
        return false;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (a + b);
        if (hypot(middle - centre, emulsion_density(g->e, middle) - g->e->base) < radius)
            a = middle;
        else
            b = middle;
    }
    *slope = (emulsion_density(g->e, b) - g->e->base) / (b - centre);
    return true;
}

static void find_index(const grid *g, emulsion_truth *t, double foot) {
    double a = foot - 0.19, b = foot + 0.1, near = 0.0, far = 0.0;
    for (int i = 0; i < 50; i++) {
        const double centre = 0.5 * (a + b);
        if (!arc_slope(g, centre, 0.2, &near) || !arc_slope(g, centre, 2.2, &far))
            return;
        if (near > far)
            b = centre;
        else
            a = centre;
    }
    if (fabs(near - far) < 1e-6)
        give(t, EMULSION_CONTRAST_INDEX, far);
}

static void find_slopes(grid *g, emulsion_truth *t) {
    const double h = 1e-5;
    for (size_t i = 0; i < GRID; i++) {
        const double x = at(g, i);
        g->slope[i] = (emulsion_density(g->e, x + h) - emulsion_density(g->e, x - h)) / (2.0 * h);
        if (g->slope[i] > g->slope[g->steepest])
            g->steepest = i;
    }
    double from, to;
    const double level = 0.95 * g->slope[g->steepest];
    (void)slope_falls(g, -1, level, &from);
    (void)slope_falls(g, 1, level, &to);
    const double gamma = (emulsion_density(g->e, to) - emulsion_density(g->e, from)) / (to - from);
    give(t, EMULSION_GAMMA, gamma);
    const double density = emulsion_density(g->e, from), top = emulsion_density(g->e, g->high);
    if (from - (density - g->e->base) / gamma >= g->low)
        give(t, EMULSION_TOE, from - (density - g->e->base) / gamma);
    if (g->slope[GRID - 1] <= 0.2 * gamma)
        give(t, EMULSION_SHOULDER, from + (top - density) / gamma);
}

void emulsion_figures(const emulsion *e, double low, double high, bool paper,
                      emulsion_truth *truth) {
    *truth = (emulsion_truth){0};
    grid *g = calloc(1, sizeof *g);
    assert_non_null(g);
    *g = (grid){.e = e, .low = low, .high = high, .gap = (high - low) / (GRID - 1)};
    double foot, end, place;
    give(truth, EMULSION_BASE_FOG, e->base);
    find_slopes(g, truth);
    const double gamma = truth->value[EMULSION_GAMMA], top = emulsion_density(e, high);
    truth->shoulder_ends = slope_falls(g, 1, 0.2 * gamma, &end);
    if (truth->shoulder_ends)
        give(truth, EMULSION_DMAX, top);
    if (place_of(g, e->base + (paper ? 0.60 : 0.10), &place))
        give(truth, EMULSION_SPEED_POINT, place);
    if (place_of(g, e->base + 0.10, &foot)) {
        give(truth, EMULSION_EXPOSURE_RANGE, end - foot);
        give(truth, EMULSION_DENSITY_RANGE, emulsion_density(e, end) - e->base - 0.10);
        if (!paper && foot + 1.5 <= high)
            give(truth, EMULSION_AVERAGE_GRADIENT,
                 (emulsion_density(e, foot + 1.5) - e->base - 0.10) / 1.5);
        if (!paper)
            find_index(g, truth, foot);
    }
    double thin, dense;
    if (paper && truth->has[EMULSION_DMAX] && place_of(g, e->base + 0.04, &thin) &&
        place_of(g, e->base + 0.9 * (top - e->base), &dense)) {
        give(truth, EMULSION_ISO_RANGE, 100.0 * (dense - thin));
        give(truth, EMULSION_AVERAGE_GRADIENT, (0.9 * (top - e->base) - 0.04) / (dense - thin));
    }
    free(g);
}

/* ---------------------------------------------------------------------------- readings */

static char *text_of(const char *text) {
    char *copy = malloc(strlen(text) + 1);
    assert_non_null(copy);
    return strcpy(copy, text);
}

static void row_of(ww_row *row, const char *step, double density) {
    *row = (ww_row){.step = text_of(step), .tone = text_of(""), .pack = text_of("")};
    row->cell[WW_COLUMN_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = density, .n = 1};
}

void emulsion_read(const emulsion *e, dice *d, size_t steps, double low, double gap, double sd,
                   bool paper, ww_readings *readings) {
    *readings = (ww_readings)WW_READINGS_INIT;
    readings->meta.material = paper ? WW_MATERIAL_PAPER : WW_MATERIAL_FILM;
    readings->meta.process = WW_PROCESS_NEGATIVE;
    readings->meta.exposure_unit = WW_UNIT_LUX_SECOND;
    readings->meta.emulsion = WW_EMULSION_BLACK_AND_WHITE;
    readings->exposure = WW_EXPOSURE_LOG_H;
    readings->has[WW_COLUMN_VISUAL] = true;
    readings->row = calloc(steps + 1, sizeof *readings->row);
    assert_non_null(readings->row);
    readings->n = steps + 1;
    row_of(&readings->row[0], "base", e->base + dice_normal(d, sd));
    readings->row[0].is_base = true;
    for (size_t i = 0; i < steps; i++) {
        char step[32];
        const double log_h = low + gap * (double)i;
        snprintf(step, sizeof step, "%zu", i + 1);
        row_of(&readings->row[i + 1], step, emulsion_density(e, log_h) + dice_normal(d, sd));
        readings->row[i + 1].exposure = (ww_optional){true, log_h};
    }
}
