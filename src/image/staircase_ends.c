/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_ends.h"
#include "image/order.h"
#include "image/profile.h"

#include <math.h>
#include <stdlib.h>

static const double least_fall = 0.004, clear_fall = 0.02, clear_rise = 0.06; /* log10 */
static const double rim = 0.2; /* share of a step at each side that its level leaves out */
static const double level_doubt = 0.0005;
static const double same_light = 0.02; /* log10, between what is taken for one thing */
static const double nearly_white = 0.98;
static const double most_slip = 3.0; /* usual falls, over a step out of order */
enum { ROOM = 64, LEAST_BEFORE_SLIP = 3 };
/* Extents of the outermost level, in steps. */
static const double least_cut = 0.5, least_whole = 0.8, most_whole = 1.25, off_whole = 0.2;

static bool inner(const ww__cells *c, size_t line) {
    return line > 0 && line < c->n && c->known[line - 1] && c->known[line];
}

static double fall_at(const ww__cells *c, size_t line) {
    return c->level[line - 1] - c->level[line];
}

static double doubt_at(const ww__cells *c, size_t line) {
    return hypot(c->doubt[line - 1], c->doubt[line]);
}

/* A fall beyond doubt; or a likely one that carries on another. */
static bool falls(const ww__cells *c, size_t line) {
    const double fall = fall_at(c, line);
    if (fall > fmax(least_fall, 3.0 * doubt_at(c, line)))
        return true;
    if (line < 2 || !c->known[line - 2] || fall < fmax(least_fall, 1.5 * doubt_at(c, line)) ||
        fall < 0.4 * fall_at(c, line - 1))
        return false;
    return c->level[line - 2] - c->level[line] >
           fmax(2.0 * least_fall, 5.0 * hypot(c->doubt[line - 2], c->doubt[line]));
}

static bool rises(const ww__cells *c, size_t line) {
    return -fall_at(c, line) > fmax(least_fall, fmin(3.5 * doubt_at(c, line), clear_rise));
}

ww_status ww__cells_measure(const ww__profile *profile, const ww__lattice *lattice,
                            ww__cells *cells, ww_error *err) {
    double *room = malloc((profile->n + 1) * sizeof *room);
    if (!room)
        return ww_error_set(err, WW_EMEMORY, "no memory for a profile");
    cells->n = lattice->n > 0 ? lattice->n - 1 : 0;
    for (size_t k = 0; k < cells->n; k++) {
        const double wide = lattice->at[k + 1] - lattice->at[k];
        const double from = fmax(ceil(lattice->at[k] + rim * wide), 0.0);
        const double to = fmin(lattice->at[k + 1] - rim * wide, (double)profile->n);
        size_t n = 0;
        for (double i = from; i < to; i += 1.0)
            if (profile->weight[(size_t)i] > 0.0)
                room[n++] = profile->value[(size_t)i];
        cells->known[k] = (double)n > 0.3 * wide;
        cells->level[k] = cells->doubt[k] = 0.0;
        if (n == 0)
            continue;
        cells->level[k] = ww__order_median(room, n);
        const double upper = ww__order_nth(room, n, n - 1 - n / 4);
        const double spread = (upper - ww__order_nth(room, n, n / 4)) / 1.349;
        cells->doubt[k] = hypot(level_doubt, 1.25 * spread / sqrt((double)n));
    }
    free(room);
    return WW_OK;
}

/* Mean of the smooth profile between two places; false where they hold nothing. */
static bool mean_between(const ww__profile *p, double from, double to, double *mean) {
    double sum = 0.0, n = 0.0;
    for (double i = fmax(ceil(from), 0.0); i < to && i < (double)p->n; i += 1.0)
        sum += p->smooth[(size_t)i], n += 1.0;
    *mean = n > 0.0 ? sum / n : 0.0;
    return n > 0.0;
}

/* Median of up to ROOM places between two; false where there are none. The smooth profile will
 * not do: what smooths a slope with noise on it makes steps. */
static bool median_between(const ww__profile *p, double from, double to, double *median) {
    double room[ROOM];
    size_t n = 0;
    const double step = fmax(1.0, (to - from) / (double)ROOM);
    for (double i = fmax(ceil(from), 0.0); i < to && i < (double)p->n && n < ROOM; i += step)
        if (p->weight[(size_t)i] > 0.0)
            room[n++] = p->value[(size_t)i];
    *median = n > 0 ? ww__order_median(room, n) : 0.0;
    return n > 0;
}

/* Fall across a place, from windows of a third of a step on both sides. */
static double short_fall(const ww__profile *p, double at, double wide) {
    double before, after;
    if (!median_between(p, at - 0.36 * wide, at - 0.06 * wide, &before) ||
        !median_between(p, at + 0.06 * wide, at + 0.36 * wide, &after))
        return 0.0;
    return before - after;
}

/*
 * Share of the steps that fall half way between their lines as well. All of a slope does, no step
 * of a staircase does, however coarse. Steps in the noise are not asked.
 */
static double slope_share(const ww__profile *p, const ww__lattice *l, const ww__cells *c,
                          const ww__run *run) {
    double slopes = 0.0, asked = 0.0;
    for (size_t k = run->first; k < run->last; k++) {
        const double wide = l->at[k + 1] - l->at[k];
        const double fall = fabs(short_fall(p, l->at[k] + 0.5 * wide, wide));
        const double beside =
            0.5 * (short_fall(p, l->at[k], wide) + short_fall(p, l->at[k + 1], wide));
        if (beside < 4.0 * c->doubt[k])
            continue;
        asked += 1.0;
        slopes += fall > 0.4 * beside ? 1.0 : 0.0;
    }
    return asked > 0.0 ? slopes / asked : 1.0;
}

/* Median ratio of neighbouring falls, the larger over the smaller. */
static double unevenness_of(const ww__cells *c, const ww__run *run) {
    double ratio[WW__LATTICE_MOST], before = 0.0;
    size_t n = 0;
    for (size_t k = run->first; k <= run->last; k++) {
        const double fall = falls(c, k) ? fall_at(c, k) : 0.0;
        if (fall > 0.0 && before > 0.0)
            ratio[n++] = fmax(fall, before) / fmin(fall, before);
        before = fall;
    }
    return n > 0 ? ww__order_median(ratio, n) : 1.0;
}

static void describe(const ww__profile *p, const ww__lattice *l, const ww__cells *c, ww__run *run) {
    double fall[WW__LATTICE_MOST];
    run->seen = 0;
    for (size_t k = run->first; k <= run->last; k++)
        if (falls(c, k))
            fall[run->seen++] = fall_at(c, k);
    run->fall = run->seen > 0 ? ww__order_median(fall, run->seen) : 0.0;
    run->slopes = slope_share(p, l, c, run);
    run->uneven = unevenness_of(c, run);
}

/* On how many sides of the strip light is that of a cell: it may then be none of its steps. */
static int sides_alike(const ww__profile *p, const ww__cells *c, size_t cell, double from,
                       double to) {
    const double limit = same_light + 3.0 * c->doubt[cell];
    double room[ROOM];
    int alike = 0;
    for (int side = 0; side < 2; side++) {
        size_t n = 0;
        for (size_t i = 0; i < ROOM; i++) {
            const double at = from + (to - from) * (double)i / ROOM;
            if (at >= 0.0 && at < (double)p->n && !isnan(p->beside[side][(size_t)at]))
                room[n++] = p->beside[side][(size_t)at];
        }
        alike += n > 0 && fabs(ww__order_median(room, n) - c->level[cell]) < limit;
    }
    return alike;
}

/* The same of the middle of a cell. */
static int cell_alike(const ww__profile *p, const ww__lattice *l, const ww__cells *c, size_t cell) {
    const double wide = l->at[cell + 1] - l->at[cell];
    return sides_alike(p, c, cell, l->at[cell] + rim * wide, l->at[cell + 1] - rim * wide);
}

/* Whether the cells before and after a line are both surround. */
static bool in_surround(const ww__profile *p, const ww__lattice *l, const ww__cells *c,
                        size_t line) {
    return cell_alike(p, l, c, line - 1) == 2 && cell_alike(p, l, c, line) == 2;
}

/*
 * Whether light rises at a line because one of the steps beside it is out of order: over both it
 * falls as clearly as it does elsewhere, and as much as two steps of the run do. Such a step was
 * exposed or developed so, and is a step.
 */
static bool is_out_of_order(const ww__cells *c, const ww__run *run, size_t line) {
    const double fall = c->level[line - 1] - c->level[line + 1];
    const double usual = (c->level[run->first - 1] - c->level[run->last]) / (double)run->seen;
    return inner(c, line + 1) && fall < most_slip * usual &&
           fall > fmax(clear_fall, 6.0 * hypot(c->doubt[line - 1], c->doubt[line + 1]));
}

/*
 * Follows the lines as long as light falls, but for one step out of order in a run of others. Up to
 * two lines without a fall are passed over, if clear falls follow: a single one before or after
 * them may be that into something else.
 */
static ww__run run_from(const ww__profile *p, const ww__lattice *l, const ww__cells *c,
                        size_t line) {
    ww__run run = {.first = line, .last = line, .seen = 1};
    size_t before = line;
    bool excused = false;
    for (size_t k = line + 1; inner(c, k) && k <= run.last + 3; k++) {
        const double fall = fall_at(c, k);
        if (rises(c, k)) {
            if (excused || run.seen < LEAST_BEFORE_SLIP || !is_out_of_order(c, &run, k))
                break;
            excused = true;
            continue;
        }
        if (!falls(c, k) || (k > run.last + 1 && fall < fmax(clear_fall, 6.0 * doubt_at(c, k))) ||
            in_surround(p, l, c, k))
            continue;
        before = run.last;
        run.last = k, run.seen++;
        if (run.seen == 2 && k > run.first + 1)
            run.first = before = k, run.seen = 1;
    }
    if (run.last > before + 1)
        run.last = before, run.seen--;
    return run;
}

bool ww__run_find(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                  ww__run *run) {
    ww__run best = {0};
    for (size_t k = 1; k < cells->n; k++) {
        if (!inner(cells, k) || !falls(cells, k))
            continue;
        const ww__run r = run_from(profile, lattice, cells, k);
        if (r.seen > best.seen)
            best = r;
        k = r.last;
    }
    if (best.seen == 0)
        return false;
    describe(profile, lattice, cells, &best);
    *run = best;
    return true;
}

/* ------------------------------------------------------------------ beyond the run */

typedef struct end {
    const ww__profile *p;
    const ww__lattice *l;
    const ww__cells *c;
    const ww__run *run;
    int side;
    size_t line, cell; /* outermost seen edge, and the cell beyond it */
    double wide;       /* places, of a step there */
    double extent;     /* steps, of that cell's level */
    bool sharp;        /* it ends with an edge or with the picture, not by drifting away */
    bool at_border;
} end;

/* How far the level beyond the edge goes. */
static void measure_extent(end *e, double *place) {
    const ww__profile *p = e->p;
    const double way = e->side == 0 ? -1.0 : 1.0, from = e->l->at[e->line];
    const double own = fabs(fall_at(e->c, e->line));
    const double tolerance =
        fmax(fmax(0.015, 0.35 * fmin(own, e->run->fall)), 8.0 * e->c->doubt[e->cell]);
    double at = from + way * 0.3 * e->wide, last = at, beyond;
    /* Places that differ count only where several follow each other. */
    for (; at >= 0.0 && at < (double)p->n && fabs(at - last) < 0.2 * e->wide; at += way)
        if (fabs(p->smooth[(size_t)at] - e->c->level[e->cell]) < tolerance)
            last = at;
    at = last + way;
    at = fmin(fmax(at, 0.0), (double)p->n);
    *place = e->side == 0 ? (at > 0.0 ? at + 1.0 : at) : at;
    e->extent = fabs(*place - from) / e->wide;
    e->at_border = p->open[e->side] && (at < 1.5 || at > (double)p->n - 1.5);
    const double a = at + way * 0.1 * e->wide, b = at + way * 0.4 * e->wide;
    e->sharp = e->at_border || (mean_between(p, fmin(a, b), fmax(a, b), &beyond) &&
                                fabs(beyond - e->c->level[e->cell]) > 1.6 * tolerance);
}

static int surround_sides(const end *e) {
    const double way = e->side == 0 ? -1.0 : 1.0, from = e->l->at[e->line];
    const double reach = way * fmin(e->extent, 1.0) * e->wide;
    return sides_alike(e->p, e->c, e->cell, from + 0.2 * reach, from + 0.9 * reach);
}

static double light_of(const end *e, size_t cell) {
    return pow(10.0, e->c->level[cell]) - e->p->floor;
}

/* Median ratio of the next fall outwards to the last, over the five edges before the outermost. */
static double falling_off(const end *e, bool linear) {
    double ratio[5], before = 0.0;
    size_t n = 0;
    for (size_t i = 6; i >= 1; i--) {
        if (e->run->last - e->run->first < i)
            continue;
        const size_t line = e->side == 0 ? e->line + i : e->line - i;
        const double fall =
            linear ? light_of(e, line - 1) - light_of(e, line) : fall_at(e->c, line);
        if (before > 0.0 && n < 5)
            ratio[n++] = fall / before;
        before = fall;
    }
    return n >= 2 ? fmin(1.0, fmax(0.0, ww__order_median(ratio, n))) : 1.0;
}

/* Whether another edge beyond the outermost one would drown in the noise, or is clipped away. */
static bool would_be_unseen(const end *e) {
    const double limit = 1.5 * fmax(least_fall, 5.7 * e->c->doubt[e->cell]);
    const size_t inward = e->side == 0 ? e->line + 1 : e->line - 1;
    if (e->side == 0 && light_of(e, e->cell) > nearly_white)
        return true;
    if (e->run->last - e->run->first < 4)
        return false;
    const double q = falling_off(e, false), linear_q = falling_off(e, true);
    const double fall = fall_at(e->c, inward) * q * q;
    const double linear_fall =
        (light_of(e, inward - 1) - light_of(e, inward)) * linear_q * linear_q;
    const double light = pow(10.0, e->c->level[e->cell]) * 2.302585;
    return fall < limit || linear_fall / light < limit;
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
    const bool unseen = would_be_unseen(e);
    if (even && !surround && whole <= most)
        offer(counts, whole, unseen ? 0.1 : 0.3);
    if (even && surround && unseen && e->at_border)
        offer(counts, whole, 0.85);
    offer(counts, 0, surround ? 0.0 : 0.25);
    if (!surround || sides == 1)
        offer(counts, 1, surround ? 0.35 : 0.5);
    if (surround && e->side == 0)
        return;
    for (size_t k = 1; unseen && k <= most && (double)k < e->extent + off_whole; k++)
        offer(counts, k, 0.6 + 0.05 * (double)k);
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
                     size_t cell, int side) {
    const size_t inward = side == 0 ? cell + 1 : cell - 1;
    const size_t outward = side == 0 ? cell - 1 : cell + 1; /* wraps at 0: then it is none */
    if (cell >= cells->n || inward >= cells->n || outward >= cells->n || !cells->known[cell])
        return false;
    const double apart = 2.0 * same_light;
    return fabs(cells->level[inward] - cells->level[cell]) > apart &&
           fabs(cells->level[outward] - cells->level[cell]) > apart &&
           cell_alike(profile, lattice, cells, cell) == 0;
}
