/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_band.h"
#include "image/order.h"

#include <math.h>
#include <stdlib.h>

enum {
    SECTIONS = 8,
    APART = 3,
    ROUNDS = 4,
    ALONG_MOST = 480,
    MODEL_ROWS = 7,
    PAIRS = SECTIONS * (SECTIONS - 1)
};

static const double least_likeness = 0.02; /* log10 by which a row may differ from the strip */
static const double of_fall = 0.4;         /* the same as a share of the mean fall at an edge */
static const double widest = 1.2;          /* half width looked at, as a share of the length */
static const double widest_steps = 14.0;   /* or in steps, if that is less */
static const double most_turn = 0.166;     /* rad, 9.5 degrees */
static const double most_told = 0.52;      /* rad, 30 degrees: further turns are not even told */

/* Cells of the map. */
typedef struct strip {
    const ww__tone *tone;
    double x, y, angle;
    bool upright;
    double from, to, pitch;
    double tolerance;
    size_t n, reach; /* places along; rows on each side */
    double step;     /* cells between places */
    double *model, *value, *weight, *room, *rows;
} strip;

typedef struct limits {
    bool seen[2];
    double at[2]; /* cells across from the middle line: low, high */
    double u;
} limits;

static void read_row(const strip *s, double v) {
    double along[2], across[2];
    ww__place_axes(s->angle, s->upright, along, across);
    const ww__line line = {s->x + s->from * along[0] + v * across[0],
                           s->y + s->from * along[1] + v * across[1], s->step * along[0],
                           s->step * along[1], s->n};
    ww__tone_line(s->tone, &line, s->value, s->weight);
}

/* Median of some rows around the middle: hairs and scratches cross few of them. */
static void read_model(strip *s, double half) {
    for (size_t k = 0; k < MODEL_ROWS; k++) {
        read_row(s, half * (2.0 * (double)k / (MODEL_ROWS - 1) - 1.0));
        for (size_t i = 0; i < s->n; i++)
            s->rows[k * s->n + i] = s->weight[i] > 0.0 ? s->value[i] : (double)NAN;
    }
    for (size_t i = 0; i < s->n; i++) {
        double column[MODEL_ROWS];
        size_t n = 0;
        for (size_t k = 0; k < MODEL_ROWS; k++)
            if (!isnan(s->rows[k * s->n + i]))
                column[n++] = s->rows[k * s->n + i];
        s->model[i] = n > 0 ? ww__order_median(column, n) : (double)NAN;
    }
}

/* Whether the row just read looks like the model in a section. */
static bool alike(const strip *s, size_t section) {
    const size_t from = section * s->n / SECTIONS, to = (section + 1) * s->n / SECTIONS;
    size_t n = 0, near = 0;
    for (size_t i = from; i < to; i++)
        if (s->weight[i] > 0.0 && !isnan(s->model[i]))
            n++, near += fabs(s->value[i] - s->model[i]) < s->tolerance;
    return 2 * n > to - from && 2 * near > n;
}

/* Rows from the middle outwards; what is unlike for a few rows only is a scratch or a hair. */
static void find_limits(strip *s, limits found[SECTIONS]) {
    const size_t patience = 3 + (size_t)(0.12 * s->pitch);
    for (size_t k = 0; k < SECTIONS; k++)
        found[k] = (limits){.u = s->from + ((double)k + 0.5) / SECTIONS * (s->to - s->from)};
    for (int side = 0; side < 2; side++) {
        size_t unlike[SECTIONS] = {0};
        const double way = side == 0 ? -1.0 : 1.0;
        size_t open = SECTIONS;
        for (size_t row = 0; row <= s->reach && open > 0; row++) {
            open = 0;
            read_row(s, way * (double)row);
            for (size_t k = 0; k < SECTIONS; k++) {
                if (unlike[k] > patience)
                    continue;
                open++;
                if (alike(s, k))
                    unlike[k] = 0, found[k].at[side] = way * ((double)row + 0.5);
                else
                    unlike[k]++;
                found[k].seen[side] = unlike[k] > patience && fabs(found[k].at[side]) > 1.0;
            }
        }
    }
}

/* Median slope between sections that lie well apart, of both sides together. */
static double slope_of(const limits found[SECTIONS]) {
    double slope[PAIRS];
    size_t n = 0;
    for (int side = 0; side < 2; side++)
        for (size_t i = 0; i < SECTIONS; i++)
            for (size_t j = i + APART; j < SECTIONS; j++)
                if (found[i].seen[side] && found[j].seen[side])
                    slope[n++] =
                        (found[j].at[side] - found[i].at[side]) / (found[j].u - found[i].u);
    return n > 0 ? ww__order_median(slope, n) : 0.0;
}

/* Where the side lies at the middle of the flight; false where it was not seen. */
static bool side_of(const limits found[SECTIONS], int side, double slope, double middle,
                    double *at) {
    double place[SECTIONS];
    size_t n = 0;
    for (size_t i = 0; i < SECTIONS; i++)
        if (found[i].seen[side])
            place[n++] = found[i].at[side] - slope * (found[i].u - middle);
    if (n == 0)
        return false;
    *at = ww__order_median(place, n);
    return true;
}

/* Moves the middle line to where the limits say, and turns it; false where there is no strip. */
static bool settle(strip *s, double *half) {
    limits found[SECTIONS];
    double side[2], along[2], across[2];
    find_limits(s, found);

    const double slope = slope_of(found), middle = 0.5 * (s->from + s->to);
    for (int k = 0; k < 2; k++)
        if (!side_of(found, k, slope, middle, &side[k]))
            side[k] = (k == 0 ? -1.0 : 1.0) * (double)s->reach;
    ww__place_axes(s->angle, s->upright, along, across);
    const double v = 0.5 * (side[0] + side[1]);
    s->x += middle * along[0] + v * across[0];
    s->y += middle * along[1] + v * across[1];
    s->from -= middle, s->to -= middle;
    *half = 0.5 * (side[1] - side[0]);
    /* Clockwise is from along to across for a level strip, and the other way for an upright one. */
    s->angle += (s->upright ? -1.0 : 1.0) * atan(slope);
    return *half >= 1.5 && fabs(s->angle) <= most_told;
}

static ww_status prepare(const ww__tone *tone, const ww__place *place, strip *s, ww_error *err) {
    *s = (strip){.tone = tone,
                 .x = place->x,
                 .y = place->y,
                 .angle = place->angle,
                 .upright = place->upright,
                 .from = -0.5 * place->length,
                 .to = 0.5 * place->length,
                 .pitch = place->pitch};
    s->n = place->length < ALONG_MOST ? (size_t)place->length + 1 : ALONG_MOST;
    s->step = place->length / (double)s->n;
    s->reach = (size_t)fmin(widest * place->length, widest_steps * place->pitch) + 2;
    s->model = malloc((4 + MODEL_ROWS) * s->n * sizeof *s->model);
    if (!s->model)
        return ww_error_set(err, WW_EMEMORY, "no memory to look for a strip");
    s->value = s->model + s->n, s->weight = s->value + s->n, s->room = s->weight + s->n;
    s->rows = s->room + s->n;
    return WW_OK;
}

/* Mean fall from part to part. */
static double mean_fall(strip *s, size_t parts) {
    size_t n = 0;
    for (size_t i = 0; i < s->n; i++)
        if (!isnan(s->model[i]))
            s->room[n++] = s->model[i];
    if (n < 2)
        return 0.0;
    const double high = ww__order_nth(s->room, n, n - 1 - n / 50);
    return (high - ww__order_nth(s->room, n, n / 50)) / (double)(parts - 1);
}

ww_status ww__band_find(const ww__tone *tone, const ww__place *place, ww__band *band,
                        ww_error *err) {
    strip s;
    double half = 2.0;
    const ww_status status = prepare(tone, place, &s, err);
    if (status != WW_OK)
        return status;
    bool good = true, turned = false;
    for (int round = 0; good && round < ROUNDS; round++) {
        read_model(&s, round == 0 ? 1.0 : 0.4 * half);
        s.tolerance = fmax(least_likeness, of_fall * mean_fall(&s, place->parts));
        good = settle(&s, &half);
        turned |= fabs(s.angle) > most_turn;
    }
    free(s.model);
    /* What turns back is none: rows of something else drew it away. */
    if (!good || (turned && fabs(s.angle) <= most_turn))
        return WW_ENODATA;
    *band = (ww__band){.x = tone->x + s.x * tone->scale,
                       .y = tone->y + s.y * tone->scale,
                       .angle = s.angle,
                       .upright = place->upright,
                       .falling = place->falling,
                       .half = half * tone->scale,
                       .from = s.from * tone->scale,
                       .to = s.to * tone->scale,
                       .pitch = s.pitch * tone->scale};
    return turned ? WW_EMISMATCH : WW_OK;
}
