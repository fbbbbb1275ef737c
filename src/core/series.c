/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "series.h"

#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

typedef struct place {
    double u;
    size_t i;
} place;

ww_status ww__series_new(size_t n, ww__series *series, ww_error *err) {
    assert(series);
    ww__series made = WW__SERIES_INIT;
    const size_t room = n ? n : 1;
    if (room > SIZE_MAX / sizeof(place))
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", n);
    made.n = n;
    made.u = calloc(room, sizeof *made.u);
    made.density = calloc(room, sizeof *made.density);
    made.weight = calloc(room, sizeof *made.weight);
    made.order = calloc(room, sizeof *made.order);
    if (!made.u || !made.density || !made.weight || !made.order) {
        ww__series_release(&made);
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", n);
    }
    for (size_t i = 0; i < n; i++) {
        made.weight[i] = 1.0;
        made.order[i] = i;
    }
    *series = made;
    return WW_OK;
}

ww_status ww__series_copy(const ww__series *from, ww__series *to, ww_error *err) {
    const ww_status status = ww__series_new(from->n, to, err);
    if (status != WW_OK)
        return status;
    memcpy(to->u, from->u, from->n * sizeof *to->u);
    memcpy(to->density, from->density, from->n * sizeof *to->density);
    memcpy(to->weight, from->weight, from->n * sizeof *to->weight);
    memcpy(to->order, from->order, from->n * sizeof *to->order);
    to->has_base = from->has_base;
    to->base = from->base;
    to->base_weight = from->base_weight;
    return WW_OK;
}

static int by_exposure(const void *left, const void *right) {
    const place *a = left, *b = right;
    if (a->u != b->u)
        return a->u < b->u ? -1 : 1;
    return a->i < b->i ? -1 : a->i > b->i; /* ties keep the order of the readings */
}

ww_status ww__series_sort(ww__series *series, ww_error *err) {
    assert(series);
    place *places = malloc((series->n ? series->n : 1) * sizeof *places);
    if (!places)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", series->n);
    for (size_t i = 0; i < series->n; i++)
        places[i] = (place){series->u[i], i};
    qsort(places, series->n, sizeof *places, by_exposure);
    for (size_t i = 0; i < series->n; i++)
        series->order[i] = places[i].i;
    free(places);
    return WW_OK;
}

size_t ww__series_rows(const ww__series *series) {
    size_t rows = series->has_base && series->base_weight > 0.0 ? 1 : 0;
    for (size_t i = 0; i < series->n; i++)
        if (series->weight[i] > 0.0)
            rows++;
    return rows;
}

void ww__series_release(ww__series *series) {
    if (!series)
        return;
    free(series->u);
    free(series->density);
    free(series->weight);
    free(series->order);
    *series = (ww__series)WW__SERIES_INIT;
}
