/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_ends.h"

#include <math.h>
#include <stdlib.h>

static const double next_code = 2.1; /* floors: a code, or six times the noise */
static const double ln10 = 2.302585092994045684;
static const double nearly_white = 0.98;
static const double fading = 0.9;       /* of a fall, over the one before */
static const double most_within = 0.4;  /* of the edges beside it: change within an even tone */
static const double most_stray = 0.025; /* log10, of a tone along a step, unless noise is more */
/* Extents of the outermost level, in steps. */
static const double least_cut = 0.5, least_whole = 0.8, most_whole = 1.25, off_whole = 0.2;

/* Mean of the smooth profile between two places; false where they hold nothing. */
static bool mean_between(const ww__profile *p, double from, double to, double *mean) {
    double sum = 0.0, n = 0.0;
    for (double i = fmax(ceil(from), 0.0); i < to && i < (double)p->n; i += 1.0)
        sum += p->smooth[(size_t)i], n += 1.0;
    *mean = n > 0.0 ? sum / n : 0.0;
    return n > 0.0;
}

typedef struct end {
    const ww__profile *p;
    const ww__lattice *l;
    const ww__cells *c;
    const ww__run *run;
    int side;
    size_t line, cell; /* outermost seen edge, and the cell beyond it */
    double wide;       /* places, of a step there */
    double extent;     /* steps, of that cell's level */
    double hidden;     /* steps: the same with surround of the same light or less behind it */
    bool sharp;        /* it ends with an edge or with the picture, not by drifting away */
    bool at_border;
} end;

/* Where the level of a cell ends, going outwards from a line, and whether with an edge. */
static double end_of_level(end *e, size_t line, size_t cell) {
    const ww__profile *p = e->p;
    const double way = e->side == 0 ? -1.0 : 1.0, from = e->l->at[line];
    const double own = fabs(ww__cells_fall(e->c, line)), level = e->c->level[cell];
    const double tolerance = fmax(fmax(0.015, fmin(0.35 * fmin(own, e->run->fall), most_stray)),
                                  8.0 * e->c->doubt[cell]);
    double at = from + way * 0.3 * e->wide, last = at, beyond;
    /* Places that differ count only where several follow each other. */
    for (; at >= 0.0 && at < (double)p->n && fabs(at - last) < 0.2 * e->wide; at += way)
        if (fabs(p->smooth[(size_t)at] - level) < tolerance)
            last = at;
    at = last + way;
    at = fmin(fmax(at, 0.0), (double)p->n);
    e->at_border = p->open[e->side] && (at < 1.5 || at > (double)p->n - 1.5);
    /* Near the picture's end there may be little to see beyond. */
    const double left = e->side == 0 ? at : (double)p->n - at;
    const double a = at + way * fmin(0.1 * e->wide, 0.5 * left), b = at + way * 0.4 * e->wide;
    e->sharp = e->at_border || (mean_between(p, fmin(a, b), fmax(a, b), &beyond) &&
                                fabs(beyond - level) > 1.6 * tolerance);
    return e->side == 0 ? (at > 0.0 ? at + 1.0 : at) : at;
}

static bool is_whole(double steps) {
    return steps > least_whole && fabs(steps - floor(steps + 0.5)) < off_whole;
}

/* From a level that ends with a fall on a line to the next one. */
static bool to_next_level(const end *e, double place, size_t *line, size_t *cell) {
    const double steps = fabs(place - e->l->at[*line]) / e->wide;
    const size_t whole = (size_t)floor(steps + 0.5);
    if (!e->sharp || e->at_border || !is_whole(steps) || (e->side == 0 && whole >= *line))
        return false;
    *line = e->side == 0 ? *line - whole : *line + whole;
    *cell = e->side == 0 ? *line - 1 : *line;
    return ww__cells_inner(e->c, *line) && ww__cells_falls(e->c, *line);
}

/* How far the level beyond the edge goes, with further ones behind it that are whole steps wide:
 * few codes of a coarse scan, or the flat end of a curve. What is as light as the surround is none
 * of them, but may hide more. */
static void measure_extent(end *e, double *place) {
    size_t line = e->line, cell = e->cell;
    double hidden = *place = end_of_level(e, line, cell);
    while (to_next_level(e, *place, &line, &cell)) {
        end next = *e;
        const int sides = ww__cells_alike(e->p, e->l, e->c, cell);
        const double beyond = end_of_level(&next, line, cell);
        if (sides > 0)
            hidden = beyond;
        if (sides > 0 || !next.sharp || !is_whole(fabs(beyond - e->l->at[line]) / e->wide))
            break;
        *e = next;
        hidden = *place = beyond;
    }
    e->extent = fabs(*place - e->l->at[e->line]) / e->wide;
    e->hidden = fabs(hidden - e->l->at[e->line]) / e->wide;
}

static int surround_sides(const end *e) {
    const double way = e->side == 0 ? -1.0 : 1.0, from = e->l->at[e->line];
    const double reach = way * fmin(e->extent, 1.0) * e->wide;
    return ww__cells_alike_between(e->p, e->c, e->cell, from + 0.2 * reach, from + 0.9 * reach);
}

/* A line so many steps inwards of the outermost edge. */
static size_t inward(const end *e, size_t steps) {
    return e->side == 0 ? e->line + steps : e->line - steps;
}

static double light_of(const end *e, size_t cell) {
    return pow(10.0, e->c->level[cell]) - e->p->floor;
}

static double code_fall(const end *e, size_t line) {
    return ww__cells_fall(e->c, line);
}

static double light_fall(const end *e, size_t line) {
    return light_of(e, line - 1) - light_of(e, line);
}

/*
 * Fall to expect at another edge beyond the outermost one. Falls go on as they did, by the mean of
 * the three edges before the outermost (which may be into something else) and of the three before
 * those, for single ones are uneven where codes are few; or the last two fade away, which is all
 * that a few edges tell.
 */
static double next_fall(const end *e, double (*fall)(const end *e, size_t line)) {
    const double last = fall(e, e->line), before = fall(e, inward(e, 1));
    double sum[2] = {0.0, 0.0};
    if (e->run->last - e->run->first < 6)
        return last < fading * before ? last * last * last / (before * before) : HUGE_VAL;
    for (size_t i = 0; i < 6; i++)
        sum[i / 3] += fall(e, inward(e, i + 1));
    const double ratio = sum[1] > 0.0 ? fmin(1.0, fmax(0.0, sum[0] / sum[1])) : 1.0;
    const double faded = last < before ? last * last * last / (before * before) : last;
    return fmin(sum[0] / 3.0 * ratio, faded);
}

static bool is_clipped(const end *e) {
    return e->side == 0 && light_of(e, e->cell) > nearly_white;
}

/* Whether another edge beyond the outermost one would drown in the noise, or between two codes. */
static bool would_be_unseen(const end *e) {
    const double limit = 1.5 * fmax(WW__FALL_LEAST, 5.7 * e->c->doubt[e->cell]);
    if (e->run->last - e->run->first < 3)
        return false;
    const double fall = next_fall(e, light_fall);
    const double light = pow(10.0, e->c->level[e->cell]) * ln10;
    return next_fall(e, code_fall) < limit || fall / light < limit ||
           (e->side == 1 && fall < next_code * e->p->floor);
}

/* Bare glass hides no steps, though the edge to it may be slight. Paper white, or a film's base
 * around the strip, hides steps of its own, towards which falls get less and less. */
static bool fades_away(const end *e) {
    const double last = code_fall(e, e->line), before = code_fall(e, inward(e, 1));
    return last < fading * before && before < fading * code_fall(e, inward(e, 2));
}

static void offer(ww__counts *counts, size_t count, double price) {
    for (size_t i = 0; i < counts->n; i++)
        if (counts->count[i] == count)
            return;
    if (counts->n == WW__COUNTS_MOST)
        return;
    counts->count[counts->n] = count;
    counts->price[counts->n] = price;
    if (price < counts->price[counts->likely])
        counts->likely = counts->n;
    counts->n++;
}

/* About one step wide. */
static void offer_one(const end *e, bool surround, ww__counts *counts) {
    if (!surround) {
        offer(counts, 1, e->sharp ? 0.0 : 0.3);
        return;
    }
    offer(counts, 0, e->at_border ? 0.0 : 0.2);
    offer(counts, 1, e->at_border ? 0.4 : 0.2);
}

/* Wider than a step: surround, a leader, or several steps without edges between them, which a sharp
 * end after a whole number of steps tells. Where open light is clipped, steps that are clipped with
 * it can be told only if the part looked at ends with them, and all else fits. */
static void offer_many(const end *e, int sides, size_t most, ww__counts *counts) {
    const bool surround = sides > 0;
    const size_t whole = (size_t)floor(e->extent + 0.5);
    const bool even = e->sharp && fabs(e->extent - (double)whole) < off_whole;
    const bool unseen = is_clipped(e) || would_be_unseen(e);
    if (even && !surround && whole <= most)
        offer(counts, whole, unseen ? 0.1 : WW__COUNTS_BY_NUMBER);
    if (even && surround && unseen && e->at_border)
        offer(counts, whole, 0.85);
    offer(counts, 0, surround ? 0.0 : 0.25);
    if (!surround || sides == 1)
        offer(counts, 1, surround ? 0.35 : 0.5);
    /* Towards its own white a strip may end in one step of that, whatever the falls before it. */
    const bool own_white = surround && e->side == 0 && fades_away(e);
    if (surround && e->side == 0 && !own_white)
        return;
    for (size_t k = 1; k <= most && (double)k < e->hidden + off_whole; k++)
        if (unseen || (own_white && k == 1))
            offer(counts, k, 0.6 + 0.02 * (double)k);
}

void ww__counts_find(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                     const ww__run *run, int side, size_t most, ww__counts *counts) {
    const size_t line = side == 0 ? run->first : run->last;
    end e = {.p = profile, .l = lattice, .c = cells, .run = run, .side = side, .line = line};
    e.cell = side == 0 ? line - 1 : line;
    e.wide = lattice->at[e.cell + 1] - lattice->at[e.cell];
    counts->n = counts->likely = 0;
    measure_extent(&e, &counts->end);
    counts->bounded = e.sharp;
    const int sides = surround_sides(&e);
    if (e.extent < least_cut) {
        offer(counts, 0, 0.0);
    } else if (e.extent < least_whole) {
        offer(counts, 0, 0.0);
        offer(counts, 1, 0.3);
    } else if (e.extent <= most_whole) {
        offer_one(&e, sides > 0, counts);
    } else {
        offer_many(&e, sides, most, counts);
    }
}

bool ww__row_goes_on(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                     const double strip[2], size_t cell, int side) {
    const size_t inward = side == 0 ? cell + 1 : cell - 1;
    const size_t outward = side == 0 ? cell - 1 : cell + 1; /* wraps at 0: then it is none */
    if (cell >= cells->n || inward >= cells->n || outward >= cells->n || !cells->known[cell])
        return false;
    const double from = lattice->at[cell], to = lattice->at[cell + 1], wide = to - from;
    const double near = fabs(cells->level[inward] - cells->level[cell]);
    const double far = fabs(ww__profile_fall(profile, side == 0 ? from : to, wide));
    const double within = fabs(ww__profile_fall(profile, 0.5 * (from + to), wide));
    return fmin(near, far) > 2.0 * WW__SAME_LIGHT && within < most_within * fmin(near, far) &&
           ww__cells_alike(profile, lattice, cells, cell) == 0 &&
           ww__cells_alike_between(profile, cells, cell, strip[0], strip[1]) == 0;
}
