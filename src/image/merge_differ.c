/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_differ.h"

#include "base/threads.h"
#include "image/order.h"
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum { CELL = 64, EVERY = 4, LEAST = 256 };
static const double differs = 2.25;

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

static float light_at(const ww__merge_light *light, const void *samples, size_t i) {
    if (light->kind == WW_SAMPLE_FLOAT)
        return (float)ww__merge_light_of(light, (double)((const float *)samples)[i]);
    return light->light[light->kind == WW_SAMPLE_16 ? ((const uint16_t *)samples)[i]
                                                    : ((const uint8_t *)samples)[i]];
}

/* Pixels [from, to) of a row; `below` is one row further down in the sample's count. */
static void add_run(const ww__merge_rows *rows, const void *shorter, const void *longer,
                    size_t from, size_t to, size_t below, ww__merge_cell *cell) {
    const size_t step = rows->channels, c = rows->channels / 2;
    const float scale = (float)(1.0 / rows->rule[c].ratio);
    const float offset = (float)(rows->rule[c].offset / rows->rule[c].ratio);
    const float clipped = (float)ww__merge_light_of(rows->light, rows->clips_from);
    ww__merge_cell sum = {0};
    float here = light_at(rows->light, shorter, from);
    for (size_t i = from; i < to; i += step) {
        const float s = here, l = light_at(rows->light, longer, i);
        here = light_at(rows->light, shorter, i + step);
        const float d = l * scale - offset - s, across = here - s;
        const float down = light_at(rows->light, shorter, i + below) - s;
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

/* Negative where too few pixels hold light in both. */
static double departure_of(const ww__merge_cell *cell, const ww__merge_rule *rule) {
    const double n = (double)cell->n, light = (double)cell->s / n, mean = (double)cell->d / n;
    if (!(n >= LEAST))
        return -1.0;
    const double of_s = ww__merge_noise_of(&rule->noise, light - rule->dark);
    const double of_l =
        ww__merge_noise_of(&rule->longer, rule->ratio * light + rule->offset - rule->dark);
    const double gradient = fmax((double)cell->gg / n - 4.0 * of_s, 0.0);
    return ((double)cell->dd / n - mean * mean) /
           (of_s + of_l / (rule->ratio * rule->ratio) + gradient);
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

ww_status ww__merge_map_differ(ww__merge_map *map, const ww__merge_rows *rows,
                               ww_scan_merge_differ *differ, ww_error *err) {
    const size_t cells = map->across * map->down;
    const ww__merge_rule *rule = &rows->rule[rows->channels / 2];
    double *order = malloc(cells * sizeof *order), worst = 0.0;
    ww_scan_merge_differ found = {0, 0, 0.0, 0.0};
    if (!order)
        return ww_error_set(err, WW_EMEMORY, "no memory to compare two scans");
    add_workers(map);
    for (size_t i = 0; i < cells; i++) {
        const double departure = departure_of(&map->cell[i], rule);
        if (departure >= 0.0)
            order[found.of++] = departure;
    }
    const double from = found.of > 0 ? differs * fmax(ww__order_median(order, found.of), 1.0) : 0.0;
    for (size_t i = 0; i < cells; i++) {
        const double departure = departure_of(&map->cell[i], rule);
        if (!(departure > from))
            continue;
        found.places++;
        if (departure > worst) {
            worst = departure;
            found.x = (double)(i % map->across * CELL + CELL / 2);
            found.y = (double)(i / map->across * CELL + CELL / 2);
        }
    }
    free(order);
    *differ = found;
    return WW_OK;
}
