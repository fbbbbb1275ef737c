/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_differ.h"

#include "base/threads.h"
#include "image/order.h"
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum { CELL = 64, EVERY = 4, LEAST = 256 };
static const double noises = 2.0, displaced = 2.0, moved = 0.25; /* see the header */

ww_status ww__merge_map_new(const ww_picture *picture, ww__merge_map *map, ww_error *err) {
    ww__merge_map made = {(picture->width + CELL - 1) / CELL, (picture->height + CELL - 1) / CELL,
                          NULL};
    made.cell = calloc(WW__THREADS_MOST * made.across * made.down, sizeof *made.cell);
    if (!made.cell)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    *map = made;
    return WW_OK;
}

void ww__merge_map_release(ww__merge_map *map) {
    free(map->cell);
    map->cell = NULL;
}

/* Pixels [from, to) of a row; `below` is one row further down in the sample's count. */
static void add_run(const ww__merge_rows *rows, const void *shorter, const void *longer,
                    size_t from, size_t to, size_t below, ww__merge_cell *cell) {
    const size_t step = rows->channels, c = rows->channels / 2;
    const float scale = (float)(1.0 / rows->rule[c].ratio);
    const float offset = (float)(rows->rule[c].offset / rows->rule[c].ratio);
    const float clipped = (float)ww__merge_light_of(rows->light, rows->clips_from);
    ww__merge_cell sum = {0};
    float here = ww__merge_light_at(rows->light, rows->light->kind, shorter, from);
    for (size_t i = from; i < to; i += step) {
        const float s = here, l = ww__merge_light_at(rows->light, rows->light->kind, longer, i);
        here = ww__merge_light_at(rows->light, rows->light->kind, shorter, i + step);
        const float d = l * scale - offset - s, across = here - s;
        const float down =
            ww__merge_light_at(rows->light, rows->light->kind, shorter, i + below) - s;
        if (!(l < clipped) || !isfinite(d + across + down))
            continue;
        sum.n += 1.0f;
        sum.s += s;
        sum.d += d;
        sum.dd += d * d;
        sum.gg += across * across + down * down;
    }
    cell->n += sum.n;
    cell->s += sum.s;
    cell->d += sum.d;
    cell->dd += sum.dd;
    cell->gg += sum.gg;
}

void ww__merge_map_add(ww__merge_map *map, const ww__merge_rows *rows, const void *shorter,
                       const void *longer, size_t row, size_t n_rows, size_t width, size_t worker) {
    ww__merge_cell *own = map->cell + worker * map->across * map->down;
    const size_t samples = width * rows->channels, c = rows->channels / 2;
    for (size_t y = 0; y + 1 < n_rows; y += EVERY)
        for (size_t x = 0; x < map->across; x++) {
            const size_t end = (x + 1) * CELL < width ? (x + 1) * CELL : width - 1;
            add_run(rows, shorter, longer, y * samples + x * CELL * rows->channels + c,
                    y * samples + end * rows->channels + c, samples,
                    &own[(row + y) / CELL * map->across + x]);
        }
}

/* What a place holds: variance of d, what noise makes of it, and the squared gradient of detail. */
typedef struct parts {
    double d, noise, gradient;
    double share; /* of the gradient that d has beyond noise */
    size_t cell;
} parts;

static bool part(const ww__merge_cell *cell, const ww__merge_rule *rule, parts *p) {
    const double n = (double)cell->n, light = (double)cell->s / n, mean = (double)cell->d / n;
    if (!(n >= LEAST))
        return false;
    const double of_s = ww__merge_noise_of(&rule->noise, light - rule->dark);
    const double of_l =
        ww__merge_noise_of(&rule->longer, rule->ratio * light + rule->offset - rule->dark);
    p->d = (double)cell->dd / n - mean * mean;
    p->noise = of_s + of_l / (rule->ratio * rule->ratio);
    p->gradient = fmax((double)cell->gg / n - 4.0 * of_s, 0.0);
    p->share = p->gradient > 0.0 ? (p->d - p->noise) / p->gradient : 0.0;
    return true;
}

static int by_share(const void *a, const void *b) {
    const double one = ((const parts *)a)->share, other = ((const parts *)b)->share;
    return (one > other) - (one < other);
}

/* The middle share, where half of all gradient lies: what the scans as wholes are displaced by. */
static double everywhere(parts place[], size_t n) {
    double all = 0.0, so_far = 0.0;
    size_t i = 0;
    for (size_t k = 0; k < n; k++)
        all += place[k].gradient;
    qsort(place, n, sizeof *place, by_share);
    while (i + 1 < n && (so_far += place[i].gradient) < 0.5 * all)
        i++;
    return n > 0 ? fmax(place[i].share, 0.0) : 0.0;
}

static void add_workers(ww__merge_map *map) {
    const size_t cells = map->across * map->down;
    for (size_t i = cells; i < WW__THREADS_MOST * cells; i++) {
        ww__merge_cell *to = &map->cell[i % cells];
        const ww__merge_cell *from = &map->cell[i];
        to->n += from->n;
        to->s += from->s;
        to->d += from->d;
        to->dd += from->dd;
        to->gg += from->gg;
    }
}

/* Puts it among the n worst so far, of which `most` are kept. */
static void keep(const ww__merge_differing *place, ww__merge_differing worst[], size_t n,
                 size_t most) {
    size_t at = n < most ? n : most;
    for (; at > 0 && worst[at - 1].by < place->by; at--)
        if (at < most)
            worst[at] = worst[at - 1];
    if (at < most)
        worst[at] = *place;
}

ww_status ww__merge_map_differ(ww__merge_map *map, const ww__merge_rows *rows,
                               ww_scan_merge_differ *differ, ww__merge_differing worst[],
                               size_t most, ww_error *err) {
    const size_t cells = map->across * map->down;
    parts *place = malloc(cells * sizeof *place);
    double *order = malloc(cells * sizeof *order), scale = 1.0;
    ww_scan_merge_differ found = {0, 0, 0.0, 0.0};
    if (!order || !place) {
        free(order);
        free(place);
        return ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    }
    add_workers(map);
    for (size_t i = 0; i < cells; i++)
        if (part(&map->cell[i], &rows->rule[rows->channels / 2], &place[found.of]))
            place[found.of++].cell = i;
    const double share = everywhere(place, found.of);
    for (size_t i = 0; i < found.of; i++)
        order[i] = place[i].d / (place[i].noise + share * place[i].gradient);
    if (found.of > 0)
        scale = fmax(ww__order_median(order, found.of), 1.0);
    for (size_t i = 0; i < found.of; i++) {
        const parts *p = &place[i];
        const double departure =
            p->d / (noises * scale * p->noise + (displaced * scale * share + moved) * p->gradient);
        if (!(departure > 1.0))
            continue;
        keep(&(ww__merge_differing){p->cell % map->across * CELL + CELL / 2,
                                    p->cell / map->across * CELL + CELL / 2, departure},
             worst, found.places++, most);
    }
    if (found.places > 0) {
        found.x = (double)worst[0].x;
        found.y = (double)worst[0].y;
    }
    free(order);
    free(place);
    *differ = found;
    return WW_OK;
}
