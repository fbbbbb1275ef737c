/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_rows.h"
#include "base/threads.h"
#include "image/staircase_parts.h"

#include <math.h>
#include <stdlib.h>

enum { ANGLES = 13, DIRECTIONS = 2 * ANGLES, ROWS_MOST = 96, ROWS_APART = 4, LEAST_STEP = 4 };

static const double widest_angle = 0.157; /* rad, 9 degrees */
static const double part_penalty = 12.0;  /* twice the log likelihood that an edge must gain */
static const double least_change = 1.0;   /* standard errors */
static const double least_score = 1.5;    /* a flight of three steps has two edges */
static const double lone_share = 0.3;     /* what the score of a flight on one row alone counts */
static const double most_unlike = 1.7;    /* ratio of the widths of steps that are the same */

typedef struct search {
    const ww__tone *tone;
    size_t first, step; /* directions looked along */
    size_t n_rows;
    ww__place *found; /* n_rows of each direction; score 0 where nothing was */
} search;

/* What one direction needs. */
typedef struct desk {
    size_t n;
    double *value, *weight;
    bool *may;
    ww__part *part;
} desk;

void ww__place_axes(double angle, bool upright, double along[2], double across[2]) {
    const double c = cos(angle), s = sin(angle);
    along[0] = upright ? -s : c, along[1] = upright ? c : s;
    across[0] = upright ? c : -s, across[1] = upright ? s : c;
}

/* Parts begin where light changes by more than a little from three places to the next three; to
 * look there alone is many times as fast. */
static void mark_changes(const desk *room, size_t n) {
    for (size_t i = 0; i < n; i++) {
        room->may[i] = i < 3 || i + 3 > n;
        if (room->may[i])
            continue;
        const double *y = &room->value[i], w = room->weight[i];
        const double change = (y[0] + y[1] + y[2] - y[-1] - y[-2] - y[-3]) / 3.0;
        room->may[i] = change * change * w * 1.5 > least_change * least_change;
    }
}

static ww_status find_on_row(const search *s, const desk *room, const ww__line *line,
                             ww__place *place, ww_error *err) {
    size_t n_parts = 0;
    ww__flight flight = {0};
    ww__tone_line(s->tone, line, room->value, room->weight);
    mark_changes(room, line->n);
    ww_status status = ww__parts_find(room->value, room->weight, room->may, line->n, part_penalty,
                                      room->part, &n_parts, err);
    for (int sign = -1; status == WW_OK && sign <= 1; sign += 2) {
        status = ww__parts_flight(room->part, n_parts, sign, LEAST_STEP, &flight, err);
        if (status != WW_OK || flight.n < 3 || flight.score < least_score ||
            flight.score <= place->score)
            continue;
        const double from = (double)room->part[flight.part[0]].from;
        const double to = (double)room->part[flight.part[flight.n - 1]].to;
        const double middle = 0.5 * (from + to);
        place->score = flight.score;
        place->x = line->x + middle * line->dx, place->y = line->y + middle * line->dy;
        place->length = to - from, place->pitch = flight.pitch;
        place->falling = sign > 0, place->parts = flight.n;
    }
    return status;
}

/* One direction: rows on both sides of the middle, as long as the map is across. */
static ww_status find_in_direction(size_t item, size_t worker, void *context, ww_error *err) {
    search *s = context;
    const ww__tone *t = s->tone;
    const size_t direction = s->first + item * s->step;
    const bool upright = direction >= ANGLES;
    const double turn = (double)(direction % ANGLES) / (ANGLES - 1) * 2.0 - 1.0;
    const double angle = turn * widest_angle;
    double along[2], across[2];
    (void)worker;
    ww__place_axes(angle, upright, along, across);
    const size_t n = (size_t)hypot((double)t->width, (double)t->height) + 1;
    const double wide = (double)(upright ? t->width : t->height) * cos(angle) +
                        (double)(upright ? t->height : t->width) * fabs(sin(angle));
    double *numbers = malloc(2 * n * sizeof *numbers);
    desk r = {n, numbers, numbers ? numbers + n : NULL, malloc(n * sizeof(bool)),
              malloc(n * sizeof(ww__part))};
    if (!numbers || !r.may || !r.part) {
        free(numbers), free(r.may), free(r.part);
        return ww_error_set(err, WW_EMEMORY, "no memory to look for a strip");
    }
    ww_status status = WW_OK;
    for (size_t row = 0; row < s->n_rows && status == WW_OK; row++) {
        const double v = (((double)row + 0.5) / (double)s->n_rows - 0.5) * wide;
        const double u = -0.5 * (double)n;
        const ww__line line = {0.5 * (double)t->width + u * along[0] + v * across[0],
                               0.5 * (double)t->height + u * along[1] + v * across[1], along[0],
                               along[1], n};
        ww__place *place = &s->found[item * s->n_rows + row];
        *place = (ww__place){.angle = angle, .upright = upright};
        status = find_on_row(s, &r, &line, place, err);
    }
    free(numbers), free(r.may), free(r.part);
    return status;
}

/* Whether two places lie on the same strip, or nearly. */
static bool beside(const ww__place *a, const ww__place *b) {
    double along[2], across[2];
    if (a->upright != b->upright)
        return false;
    ww__place_axes(a->angle, a->upright, along, across);
    const double dx = b->x - a->x, dy = b->y - a->y;
    return fabs(dx * along[0] + dy * along[1]) < 0.35 * a->length &&
           fabs(dx * across[0] + dy * across[1]) < fmax(2.5 * ROWS_APART, 0.8 * a->pitch);
}

/* Whether two rows that lie side by side see the same flight. */
static bool sees_the_same(const ww__place *a, const ww__place *b) {
    double along[2], across[2];
    ww__place_axes(a->angle, a->upright, along, across);
    const double shift = (b->x - a->x) * along[0] + (b->y - a->y) * along[1];
    return b->score > 0.0 && a->falling == b->falling && fabs(shift) < 0.35 * a->length &&
           a->pitch < most_unlike * b->pitch && b->pitch < most_unlike * a->pitch;
}

/* A row that runs along a slanting edge sees steps where it crosses from pixel to pixel, and no
 * other row sees them: those stand back behind what two rows see. A score that stands back is still
 * over 0, which is all that the next row asks of it. */
static void doubt_lone_rows(search *s, size_t directions) {
    for (size_t i = 0; i < directions * s->n_rows; i++) {
        ww__place *p = &s->found[i];
        const size_t row = i % s->n_rows;
        const bool seen = (row > 0 && sees_the_same(p, p - 1)) ||
                          (row + 1 < s->n_rows && sees_the_same(p, p + 1));
        p->score *= seen ? 1.0 : lone_share;
    }
}

static size_t best_apart(const search *s, size_t n_found, ww__place place[]) {
    size_t n = 0;
    while (n < WW__PLACES_MOST) {
        const ww__place *best = NULL;
        for (size_t i = 0; i < n_found; i++) {
            const ww__place *p = &s->found[i];
            bool is_new = p->score > 0.0 && (!best || p->score > best->score);
            for (size_t k = 0; is_new && k < n; k++)
                is_new = !beside(&place[k], p);
            if (is_new)
                best = p;
        }
        if (!best)
            break;
        place[n++] = *best;
    }
    return n;
}

ww_status ww__rows_find(const ww__tone *tone, bool level, size_t threads,
                        ww__place place[WW__PLACES_MOST], size_t *n_places, ww_error *err) {
    search s = {.tone = tone, .first = level ? ANGLES / 2 : 0, .step = level ? ANGLES : 1};
    const size_t directions = level ? 2 : DIRECTIONS;
    const size_t longer = tone->width > tone->height ? tone->width : tone->height;
    s.n_rows = longer / ROWS_APART < ROWS_MOST ? longer / ROWS_APART + 1 : ROWS_MOST;
    s.found = calloc(directions * s.n_rows, sizeof *s.found);
    if (!s.found)
        return ww_error_set(err, WW_EMEMORY, "no memory to look for a strip");
    const ww_status status = ww__threads_for(directions, threads, find_in_direction, &s, err);
    if (status == WW_OK) {
        doubt_lone_rows(&s, directions);
        *n_places = best_apart(&s, directions * s.n_rows, place);
    }
    free(s.found);
    return status;
}
