/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase.h"
#include "image/order.h"
#include "image/profile.h"
#include "image/staircase_edge.h"
#include "image/staircase_margin.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { EDGES_OF_MARGIN = 3 };

static const double part_penalty = 14.0;
static const double unevenness = 0.005; /* log10, of a step along the strip */
static const double smooth_reach = 0.12;
static const double least_order = 0.8;        /* of the edges of even steps */
static const double least_order_short = 0.93; /* the same where three edges or fewer are all */
static const double most_uneven = 2.8;
static const size_t some_steps = 8, few_steps = 6;
static const double price_of_few = 0.25;
static const double price_inside = 0.1; /* of an end, where the other is margin */
static const double loose_doubts = 12.0;
static const double dearest = 1.0;

/* Everything that a fit needs, too large for a stack. */
typedef struct work {
    ww__part *part;
    size_t n_parts;
    double *weight;
    ww__flight flight;
    ww__edges edges;
    ww__lattice lattice;
    ww__cells cells;
    ww__run run;
    ww__counts before, after;
} work;

static void work_free(work *w) {
    if (!w)
        return;
    free(w->part);
    free(w->weight);
    free(w);
}

static work *work_new(size_t n) {
    work *w = calloc(1, sizeof *w);
    if (!w)
        return NULL;
    w->part = malloc((n + 1) * sizeof *w->part);
    w->weight = malloc((n + 1) * sizeof *w->weight);
    if (w->part && w->weight)
        return w;
    work_free(w);
    return NULL;
}

/* Neighbours in a smoothed profile say the same: each counts for less. */
static ww_status find_flight(const ww__profile *p, double pitch, work *w, ww_error *err) {
    const double alike = 1.0 + 2.0 * smooth_reach * pitch;
    for (size_t i = 0; i < p->n; i++)
        w->weight[i] = p->weight[i] > 0.0
                           ? 1.0 / (alike * (1.0 / p->weight[i] + unevenness * unevenness))
                           : 0.0;
    ww_status status =
        ww__parts_find(p->smooth, w->weight, NULL, p->n, part_penalty, w->part, &w->n_parts, err);
    if (status == WW_OK)
        status = ww__parts_flight(w->part, w->n_parts, 1.0, (size_t)fmax(2.0, 0.25 * pitch),
                                  &w->flight, err);
    if (status == WW_OK && w->flight.n < 3)
        status = WW_ENODATA;
    return status;
}

/* Whether the run is a staircase at all. */
static bool is_staircase(const work *w) {
    const size_t lines = w->run.last - w->run.first + 1;
    if (w->run.seen < 2 || (double)w->run.seen < 0.8 * (double)lines)
        return false;
    if (w->run.seen <= 3 && (w->lattice.order < least_order_short || w->run.seen < lines))
        return false;
    return w->run.uneven < most_uneven || (w->run.curved && w->lattice.order > least_order_short);
}

/* Lines of the steps; beyond the lattice's own ends they go on by its pitch. */
static double line_at(const work *w, double k) {
    const ww__lattice *l = &w->lattice;
    if (k < 0.0)
        return l->at[0] + k * l->pitch;
    if (k > (double)(l->n - 1))
        return l->at[l->n - 1] + (k - (double)(l->n - 1)) * l->pitch;
    return l->at[(size_t)k];
}

/* Three to seven steps are soon found by chance, among patches in no order: they must stand alone,
 * and fewer than six must end where they are seen to end. */
static bool is_alone(const ww__profile *p, const work *w, size_t first, double price,
                     size_t steps) {
    if (steps < few_steps && price > price_of_few)
        return false;
    const double strip[2] = {line_at(w, (double)first), line_at(w, (double)(first + steps))};
    return steps >= some_steps ||
           (!ww__row_goes_on(p, &w->lattice, &w->cells, strip, first - 1, 0) &&
            !ww__row_goes_on(p, &w->lattice, &w->cells, strip, first + steps, 1));
}

static ww_status measure(const ww__profile *p, work *w, ww_error *err) {
    const ww_status status = ww__cells_measure(p, &w->lattice, &w->cells, err);
    if (status != WW_OK)
        return status;
    return ww__run_find(p, &w->lattice, &w->cells, &w->run) && is_staircase(w) ? WW_OK : WW_ENODATA;
}

/* The cheapest way to the number asked for: first and last line. False where there is none. */
static bool choose(const work *w, size_t steps, size_t *first, double *price) {
    const size_t between = w->run.last - w->run.first;
    *price = dearest;
    for (size_t i = 0; i < w->before.n; i++)
        for (size_t j = 0; j < w->after.n; j++) {
            const double sum = w->before.price[i] + w->after.price[j];
            if (w->before.count[i] + between + w->after.count[j] != steps || sum >= *price)
                continue;
            *price = sum;
            *first = w->before.count[i];
        }
    return *price < dearest;
}

/* ----------------------------------------------------------------------------- all edges */

/*
 * Edges that can be seen may leave their lines a little, for they are uneven; the levels beside
 * them and the lines come from the whole profile.
 */
static void loosen(const ww__profile *p, const work *w, size_t first, ww__stairs *s) {
    for (size_t e = 1; e < s->n; e++) {
        const size_t line = first + e;
        if (line <= w->run.first || line >= w->run.last)
            continue;
        const double high = w->cells.level[line - 1], low = w->cells.level[line];
        const double doubt = hypot(w->cells.doubt[line - 1], w->cells.doubt[line]);
        const double pitch = fmin(s->edge[e + 1] - s->edge[e], s->edge[e] - s->edge[e - 1]);
        if (high - low > fmax(0.3 * w->run.fall, loose_doubts * doubt))
            s->edge[e] = ww__edge_loosened(p, s->edge[e], pitch, high, low);
    }
}

/* A step that is cut off ends where it was seen to end. */
static void cut_ends(const work *w, ww__stairs *s) {
    const double least = WW__EDGE_OFFSET_MOST * w->lattice.pitch, most = 0.55 * w->lattice.pitch;
    const double before = w->before.end - s->edge[0], after = s->edge[s->n] - w->after.end;
    if (w->before.bounded && before > least && before < most)
        s->edge[0] = w->before.end;
    if (w->after.bounded && after > least && after < most)
        s->edge[s->n] = w->after.end;
}

/*
 * Lines between steps leave the smooth profile's edge at one of their sides, the same for all. The
 * median of where the lines' middles lie moves the edges there.
 */
static double line_shift(const ww__profile *p, const work *w, size_t first, const ww__stairs *s) {
    double shift[WW__STEPS_MOST + 1];
    size_t n = 0;
    for (size_t e = 1; e < s->n; e++) {
        const size_t line = first + e;
        if (line <= w->run.first || line >= w->run.last)
            continue;
        const double high = w->cells.level[line - 1], low = w->cells.level[line];
        const double margin = 0.3 * (high - low) + 0.01, reach = 0.18 * w->lattice.pitch;
        double sum = 0.0, count = 0.0;
        for (double i = fmax(ceil(s->edge[e] - reach), 0.0);
             i < s->edge[e] + reach && i < (double)p->n; i += 1.0) {
            const double y = p->value[(size_t)i];
            if (y > high + margin || y < low - margin)
                sum += i + 0.5, count += 1.0;
        }
        if (count > 0.0)
            shift[n++] = sum / count - s->edge[e];
    }
    return 2 * n > w->run.seen ? ww__order_median(shift, n) : 0.0;
}

/* From lines to edges; `first` is the line of edge 0. */
static void set_edges(const ww__profile *p, const work *w, size_t first, ww__stairs *s) {
    const double shift = line_shift(p, w, first, s);
    for (size_t k = 1; k < s->n; k++)
        s->edge[k] += shift;
    loosen(p, w, first, s);
}

/* Known widths: the lines are the steps. Falls outside them are steps too many, but for one that
 * may be into what lies beside the strip. */
static ww_status finish_given(const ww__profile *p, size_t steps, const work *w, ww__stairs *s) {
    const ww__lattice *l = &w->lattice;
    size_t outside[2] = {0, 0};
    for (size_t i = 0; i < w->edges.n; i++) {
        outside[0] += w->edges.at[i] < l->at[0] - 0.3 * l->pitch;
        outside[1] += w->edges.at[i] > l->at[steps] + 0.3 * l->pitch;
    }
    s->n = steps;
    if (outside[0] > 1 || outside[1] > 1)
        return WW_ENODATA;
    if (l->order < least_order || w->run.first > 2 || w->run.last + 2 + steps / 4 < steps)
        return WW_ENODATA;
    s->certain = w->run.first == 1 && w->run.last + 1 == steps;
    for (size_t k = 0; k <= steps; k++)
        s->edge[k] = l->at[k];
    set_edges(p, w, 0, s);
    return WW_OK;
}

/* A sheet of film or paper may reach about a step's way beyond its steps: what is as light as the
 * light on both sides of it, with the run's outermost edge at its far end, need not be one. */
static bool leave_out_margin(const ww__profile *p, work *w) {
    ww__run *run = &w->run;
    if (run->last - run->first < some_steps)
        return false;
    const bool first = ww__cells_alike(p, &w->lattice, &w->cells, run->first) == 2;
    if (!first && ww__cells_alike(p, &w->lattice, &w->cells, run->last - 1) < 2)
        return false;
    if (first)
        run->first++;
    else
        run->last--;
    return true;
}

/* Steps beyond the run, and whether there is a way to the number asked for. */
static bool count(const ww__profile *p, size_t steps, work *w, size_t *before, double *price) {
    ww__counts_find(p, &w->lattice, &w->cells, &w->run, 0, 1 + steps / 2, &w->before);
    ww__counts_find(p, &w->lattice, &w->cells, &w->run, 1, 1 + steps / 2, &w->after);
    return choose(w, steps, before, price);
}

/* All edges, the first of them so many lines before the run. */
static void place(const ww__profile *p, size_t steps, const work *w, size_t before, ww__stairs *s) {
    s->n = steps;
    for (size_t k = 0; k <= steps; k++)
        s->edge[k] = line_at(w, (double)w->run.first - (double)before + (double)k);
    set_edges(p, w, w->run.first - before, s);
    cut_ends(w, s);
}

static ww_status finish(const ww__profile *p, size_t steps, work *w, ww__stairs *s) {
    size_t before = 0;
    double price;
    bool found = count(p, steps, w, &before, &price), in_margin = false;
    s->n = w->before.count[w->before.likely] + w->run.last - w->run.first +
           w->after.count[w->after.likely];
    if (!found && s->n == steps + 1 && leave_out_margin(p, w))
        found = in_margin = count(p, steps, w, &before, &price);
    if (!found)
        return s->n >= 3 && 3 * s->n >= steps ? WW_EMISMATCH : WW_ENODATA;
    if (!is_alone(p, w, w->run.first - before, price, steps))
        return WW_ENODATA;
    s->certain = price < WW__COUNTS_BY_NUMBER && !in_margin;
    place(p, steps, w, before, s);
    return WW_OK;
}

/* What can be seen, whether or not it is what was asked for. */
static void describe(const work *w, ww__stairs *s) {
    *s = (ww__stairs){.seen = w->run.seen,
                      .fall = w->run.fall,
                      .from = w->lattice.at[w->run.first],
                      .to = w->lattice.at[w->run.last]};
}

typedef enum lattice { EVEN, GIVEN, FREE } lattice;

static ww_status fit(const ww__profile *profile, size_t steps, const double *widths, lattice kind,
                     work *w, ww__stairs *s, ww_error *err) {
    *s = (ww__stairs){.n = 0};
    if (kind == GIVEN)
        ww__lattice_given(&w->edges, widths, steps, w->flight.pitch, &w->lattice);
    if (kind == EVEN)
        ww__lattice_even(&w->edges, w->flight.pitch, (double)profile->n, &w->lattice);
    if (kind == FREE || (kind == EVEN && w->lattice.order < least_order))
        ww__lattice_free(w->part, &w->flight, &w->lattice);
    const ww_status status = measure(profile, w, err);
    if (status != WW_OK)
        return status;
    describe(w, s);
    return kind == GIVEN ? finish_given(profile, steps, w, s) : finish(profile, steps, w, s);
}

/* The steps from the first of the edges on, where what lies before it is margin. */
static ww_status fit_from_edge(const ww__profile *p, size_t steps, work *w, ww__stairs *s,
                               ww_error *err) {
    size_t before = 0;
    double price;
    ww__lattice_even(&w->edges, w->flight.pitch, (double)p->n, &w->lattice);
    const ww_status status = w->lattice.order < least_order_short ? WW_ENODATA : measure(p, w, err);
    if (status != WW_OK)
        return status;
    if (!ww__margin_leave_out(&w->lattice, &w->cells, w->edges.at[0], &w->run))
        return WW_ENODATA;
    (void)count(p, steps, w, &before, &price);
    if (!ww__margin_is_told(p, &w->lattice, &w->cells, &w->run, &w->before, steps))
        return WW_ENODATA;
    w->before = (ww__counts){.n = 1};
    if (!choose(w, steps, &before, &price) || price > price_inside)
        return WW_ENODATA;
    describe(w, s);
    s->certain = true;
    place(p, steps, w, before, s);
    return WW_OK;
}

/* Clear film before the steps, wherever it ends: its own edges are none of theirs. */
static ww_status fit_inside_margin(const ww__profile *p, size_t steps, work *w, ww__stairs *s,
                                   ww_error *err) {
    ww__stairs inside;
    size_t found = 0;
    for (size_t left_out = 0; left_out <= EDGES_OF_MARGIN && w->edges.n > few_steps; left_out++) {
        const ww_status status = fit_from_edge(p, steps, w, &inside, err);
        if (status == WW_EMEMORY || (status == WW_OK && found++ > 0))
            return status == WW_OK ? WW_ENODATA : status;
        if (status == WW_OK)
            *s = inside;
        ww__edges_drop_first(&w->edges);
    }
    return found == 1 ? WW_OK : WW_ENODATA;
}

/* Steps of even widths, or as they are; where they are others than asked for, inside a margin. */
static ww_status fit_even(const ww__profile *p, size_t steps, work *w, ww__stairs *s,
                          ww_error *err) {
    const ww_status status = fit(p, steps, NULL, EVEN, w, s, err);
    if (steps < some_steps || status == WW_OK || status == WW_EMEMORY ||
        (status == WW_EMISMATCH && s->n < steps))
        return status;
    ww__stairs inside;
    const ww_status again = fit_inside_margin(p, steps, w, &inside, err);
    if (again == WW_OK)
        *s = inside;
    return again == WW_ENODATA ? status : again;
}

/* A flight leaves out an end that is far wider than the rest of it; here it may be a step. */
static void take_ends(work *w) {
    ww__flight *f = &w->flight;
    const size_t first = f->part[0], last = f->part[f->n - 1];
    if (last + 1 < w->n_parts && f->n < WW__FLIGHT_MOST &&
        w->part[last + 1].level < w->part[last].level)
        f->part[f->n++] = last + 1;
    if (first > 0 && f->n < WW__FLIGHT_MOST && w->part[first - 1].level > w->part[first].level) {
        memmove(&f->part[1], &f->part[0], f->n * sizeof f->part[0]);
        f->part[0] = first - 1;
        f->n++;
    }
}

/* Widths may be those of another wedge, or wrong for a step: then the steps as they are seen, where
 * all of them are, do not bear them out. */
static ww_status fit_given(const ww__profile *profile, size_t steps, const double *widths, work *w,
                           ww__stairs *s, ww_error *err) {
    ww__stairs seen;
    const ww_status as_given = fit(profile, steps, widths, GIVEN, w, s, err);
    if (as_given == WW_EMEMORY)
        return as_given;
    take_ends(w);
    const ww_status as_seen = fit(profile, steps, NULL, FREE, w, &seen, err);
    if (as_given == WW_OK && as_seen != WW_OK && as_seen != WW_EMEMORY)
        return WW_OK;
    if (as_seen == WW_OK)
        seen.contradicts = ww__widths_misfit(seen.edge, widths, steps, &seen.misfit);
    if (as_given != WW_OK || as_seen != WW_OK || seen.contradicts)
        *s = seen;
    return seen.contradicts ? WW_EMISMATCH : as_seen;
}

ww_status ww__stairs_fit(const ww__profile *profile, size_t steps, const double *widths,
                         double pitch, ww__stairs *stairs, ww_error *err) {
    assert(profile && steps >= 3 && steps <= WW__STEPS_MOST && stairs);
    ww__stairs s = {0};
    work *w = work_new(profile->n);
    if (!w)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    ww_status status = find_flight(profile, pitch, w, err);
    if (status == WW_OK) {
        ww__edges_of(w->part, w->n_parts, &w->flight, &w->edges);
        status = widths ? fit_given(profile, steps, widths, w, &s, err)
                        : fit_even(profile, steps, w, &s, err);
    }
    if (status == WW_OK || status == WW_EMISMATCH)
        *stairs = s;
    work_free(w);
    return status;
}
