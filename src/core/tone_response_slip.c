/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tone_response_slip.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { EACH_KIND = WW__TONE_SLIPS / 2 };
static const double repeats = 0.01;   /* D */
static const double kink = 1.0 / 3.0; /* of the faster rate beside a place: less is another slope */

/* Greys of a scale, each once, with the mean of what was read there. */
typedef struct greys {
    double *drive, *density;
    size_t n;
} greys;

static void free_greys(greys *g) {
    free(g->drive);
    free(g->density);
}

static ww_status find_greys(const ww__series *s, greys *g, ww_error *err) {
    *g = (greys){calloc(s->n + 1, sizeof(double)), calloc(s->n + 1, sizeof(double)), 0};
    if (!g->drive || !g->density) {
        free_greys(g);
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", s->n);
    }
    double weight = 0.0;
    for (size_t k = 0; k < s->n; k++) {
        const size_t i = s->order[k];
        if (!(s->weight[i] > 0.0))
            continue;
        if (g->n == 0 || s->u[i] > g->drive[g->n - 1]) {
            g->drive[g->n++] = s->u[i];
            weight = 0.0;
        }
        double *mean = &g->density[g->n - 1];
        weight += s->weight[i];
        *mean += (s->density[i] - *mean) * s->weight[i] / weight;
    }
    return WW_OK;
}

/* How far readings between greys j - 1 and j speak for a slip there [D^2]. Where a scale is flat on
 * one side, as before a limit of ink, or nearly so, its bend says all that a slip would. */
static double evidence(const greys *g, size_t j, int moved) {
    const double *u = g->drive, *d = g->density;
    const double before = (d[j - 1] - d[j - 2]) / (u[j - 1] - u[j - 2]);
    const double after = (d[j + 1] - d[j]) / (u[j + 1] - u[j]);
    const double rate = (before + after) / 2.0, grown = d[j] - d[j - 1];
    if (!(fmin(before, after) > kink * fmax(before, after)))
        return 0.0;
    const double told = moved > 0 ? rate * (u[j + 1] - u[j - 1]) : 0.0;
    return pow(grown - rate * (u[j] - u[j - 1]), 2.0) - pow(grown - told, 2.0);
}

static size_t add_places(const greys *g, int moved, ww__tone_slip slip[]) {
    double best[EACH_KIND];
    size_t n = 0;
    for (size_t j = 2; j + 2 < g->n; j++) {
        const double here = evidence(g, j, moved);
        if (!(here > repeats * repeats))
            continue;
        size_t at = n;
        while (at > 0 && best[at - 1] < here)
            at--;
        if (at == EACH_KIND)
            continue;
        n += n < EACH_KIND;
        for (size_t i = n - 1; i > at; i--) {
            best[i] = best[i - 1];
            slip[i] = slip[i - 1];
        }
        best[at] = here;
        slip[at] = (ww__tone_slip){moved, g->drive[j]};
    }
    return n;
}

ww_status ww__tone_response_slip_places(const ww__series *series,
                                        ww__tone_slip slip[WW__TONE_SLIPS], size_t *n,
                                        ww_error *err) {
    greys g;
    assert(series && slip && n);
    const ww_status status = find_greys(series, &g, err);
    if (status != WW_OK)
        return status;
    *n = add_places(&g, 1, slip);
    *n += add_places(&g, -1, slip + *n);
    free_greys(&g);
    return WW_OK;
}

/* Of the grey after or before one; the same where there is none. */
static double neighbour(const greys *g, double drive, int moved) {
    size_t at = 0;
    while (at + 1 < g->n && g->drive[at] < drive)
        at++;
    if (moved > 0)
        return g->drive[at + 1 < g->n ? at + 1 : at];
    return g->drive[at > 0 ? at - 1 : at];
}

ww_status ww__tone_response_slip_move(const ww__series *series, ww__tone_slip slip,
                                      ww__series *moved, ww_error *err) {
    greys g;
    ww__series made = WW__SERIES_INIT;
    assert(series && moved);
    ww_status status = find_greys(series, &g, err);
    if (status != WW_OK)
        return status;
    status = ww__series_copy(series, &made, err);
    for (size_t i = 0; i < made.n && status == WW_OK; i++)
        if (made.u[i] >= slip.drive)
            made.u[i] = neighbour(&g, made.u[i], slip.moved);
    free_greys(&g);
    if (status == WW_OK)
        status = ww__series_sort(&made, err);
    if (status != WW_OK) {
        ww__series_release(&made);
        return status;
    }
    *moved = made;
    return WW_OK;
}
