/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_run.h"
#include "image/order.h"

#include <math.h>
#include <stdlib.h>

static const double least_fall = WW__FALL_LEAST, clear_fall = 0.02, clear_rise = 0.06; /* log10 */
static const double rim = WW__CELL_RIM;
static const double level_doubt = 0.0005;
static const double same_light = WW__SAME_LIGHT;
/* A fall is the strip's alone if it is so many standard errors and light beside it falls by less
 * than this share of it. */
static const double sure_doubts = 6.0, beside_share = 0.3;
static const double most_slip = 3.0;    /* usual falls, over a step out of order */
static const double least_band = 0.14;  /* steps: a lighter band between two things, not a line */
static const double most_slopes = 0.25; /* of the steps of a run, else it is a slope */
static const double same_fall = 0.1;    /* of a fall, by which another is the same */
enum { ROOM = 64, LEAST_BEFORE_SLIP = 3, LEAST_CURVE = 5 };

bool ww__cells_inner(const ww__cells *c, size_t line) {
    return line > 0 && line < c->n && c->known[line - 1] && c->known[line];
}

double ww__cells_fall(const ww__cells *c, size_t line) {
    return c->level[line - 1] - c->level[line];
}

static double doubt_at(const ww__cells *c, size_t line) {
    return hypot(c->doubt[line - 1], c->doubt[line]);
}

/* A fall beyond doubt; or a likely one that carries on another. */
bool ww__cells_falls(const ww__cells *c, size_t line) {
    const double fall = ww__cells_fall(c, line);
    if (fall > fmax(least_fall, 3.0 * doubt_at(c, line)))
        return true;
    if (line < 2 || !c->known[line - 2] || fall < fmax(least_fall, 1.5 * doubt_at(c, line)) ||
        fall < 0.4 * ww__cells_fall(c, line - 1))
        return false;
    return c->level[line - 2] - c->level[line] >
           fmax(2.0 * least_fall, 5.0 * hypot(c->doubt[line - 2], c->doubt[line]));
}

static bool rises(const ww__cells *c, size_t line) {
    return -ww__cells_fall(c, line) > fmax(least_fall, fmin(3.5 * doubt_at(c, line), clear_rise));
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
double ww__profile_fall(const ww__profile *p, double at, double wide) {
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
        const double fall = fabs(ww__profile_fall(p, l->at[k] + 0.5 * wide, wide));
        const double beside =
            0.5 * (ww__profile_fall(p, l->at[k], wide) + ww__profile_fall(p, l->at[k + 1], wide));
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
        const double fall = ww__cells_falls(c, k) ? ww__cells_fall(c, k) : 0.0;
        if (fall > 0.0 && before > 0.0)
            ratio[n++] = fmax(fall, before) / fmin(fall, before);
        before = fall;
    }
    return n > 0 ? ww__order_median(ratio, n) : 1.0;
}

/* Falls between two lines, but for those at the side of lesser ones that say no more than doubt:
 * whether they grow to a greatest and shrink again. */
static bool grow_and_shrink(const ww__cells *c, size_t first, size_t last) {
    bool shrinks = false;
    for (size_t k = first + 1; k <= last; k++) {
        const double change = ww__cells_fall(c, k) - ww__cells_fall(c, k - 1);
        const double doubt = 3.0 * hypot(doubt_at(c, k), doubt_at(c, k - 1)) +
                             same_fall * fabs(ww__cells_fall(c, k));
        if (change > doubt && shrinks)
            return false;
        shrinks |= change < -doubt;
    }
    return true;
}

/* The outermost falls may be those into something else. Fewer than five falls come in such an order
 * by chance too often. */
static bool is_curved(const ww__cells *c, const ww__run *run) {
    for (size_t left_out = 0; left_out < 4; left_out++) {
        const size_t first = run->first + left_out / 2, last = run->last - left_out % 2;
        if (last >= first + LEAST_CURVE - 1 && grow_and_shrink(c, first, last))
            return true;
    }
    return false;
}

static void describe(const ww__profile *p, const ww__lattice *l, const ww__cells *c, ww__run *run) {
    double fall[WW__LATTICE_MOST];
    run->seen = 0;
    for (size_t k = run->first; k <= run->last; k++)
        if (ww__cells_falls(c, k))
            fall[run->seen++] = ww__cells_fall(c, k);
    run->fall = run->seen > 0 ? ww__order_median(fall, run->seen) : 0.0;
    run->slopes = slope_share(p, l, c, run);
    run->uneven = unevenness_of(c, run);
    run->curved = is_curved(c, run);
}

/* Median light beside the strip between two places; false where nothing is known. */
static bool beside_between(const ww__profile *p, int side, double from, double to, double *median) {
    double room[ROOM];
    size_t n = 0;
    for (size_t i = 0; i < ROOM; i++) {
        const double at = from + (to - from) * (double)i / ROOM;
        if (at >= 0.0 && at < (double)p->n && !isnan(p->beside[side][(size_t)at]))
            room[n++] = p->beside[side][(size_t)at];
    }
    *median = n > 0 ? ww__order_median(room, n) : 0.0;
    return n > 0;
}

/* On how many sides of the strip light is that of a cell: it may then be none of its steps. */
int ww__cells_alike_between(const ww__profile *p, const ww__cells *c, size_t cell, double from,
                            double to) {
    const double limit = same_light + 3.0 * c->doubt[cell];
    double light;
    int alike = 0;
    for (int side = 0; side < 2; side++)
        alike += beside_between(p, side, from, to, &light) && fabs(light - c->level[cell]) < limit;
    return alike;
}

/* The same of the middle of a cell. */
int ww__cells_alike(const ww__profile *p, const ww__lattice *l, const ww__cells *c, size_t cell) {
    const double wide = l->at[cell + 1] - l->at[cell];
    return ww__cells_alike_between(p, c, cell, l->at[cell] + rim * wide,
                                   l->at[cell + 1] - rim * wide);
}

/* Whether light falls beside the strip too, at a line and on both sides, as it does on it. */
static bool falls_beside(const ww__profile *p, const ww__lattice *l, const ww__cells *c,
                         size_t line) {
    const double wide = l->at[line + 1] - l->at[line],
                 least = beside_share * ww__cells_fall(c, line);
    for (int side = 0; side < 2; side++) {
        double before, after;
        if (!beside_between(p, side, l->at[line] - 0.8 * wide, l->at[line] - rim * wide, &before) ||
            !beside_between(p, side, l->at[line] + rim * wide, l->at[line] + 0.8 * wide, &after) ||
            before - after > least)
            return true;
    }
    return false;
}

/* Whether the cells before and after a line are both surround: as light as what lies beside them,
 * and no edge between them that is the strip's alone. */
static bool in_surround(const ww__profile *p, const ww__lattice *l, const ww__cells *c,
                        size_t line) {
    if (ww__cells_alike(p, l, c, line - 1) < 2 || ww__cells_alike(p, l, c, line) < 2)
        return false;
    return ww__cells_fall(c, line) < sure_doubts * doubt_at(c, line) || falls_beside(p, l, c, line);
}

/* A fall between cells that need not be neighbours, as clear as those elsewhere in the run and no
 * more than about two of its steps. */
static bool is_clear_step(const ww__cells *c, const ww__run *run, size_t before, size_t after) {
    const double fall = c->level[before] - c->level[after];
    const double usual = (c->level[run->first - 1] - c->level[run->last]) / (double)run->seen;
    return fall < most_slip * usual &&
           fall > fmax(clear_fall, 6.0 * hypot(c->doubt[before], c->doubt[after]));
}

/*
 * Whether light rises at a line because one of the steps beside it is out of order: over both it
 * falls as it does elsewhere, or, where the first of them is far too dense, past that one, and goes
 * on falling. Such a step was exposed or developed so, and is a step.
 */
static bool is_out_of_order(const ww__cells *c, const ww__run *run, size_t line) {
    if (!ww__cells_inner(c, line + 1))
        return false;
    return is_clear_step(c, run, line - 1, line + 1) ||
           (is_clear_step(c, run, line - 2, line) && is_clear_step(c, run, line, line + 1));
}

/* Whether a band that is lighter than the cells on both sides of a line lies between them: the
 * border of a sheet, say, with something dark beyond. */
static bool has_band(const ww__profile *p, const ww__lattice *l, const ww__cells *c, size_t line) {
    const double higher = fmax(c->level[line - 1], c->level[line]);
    const double limit = higher + fmax(clear_fall, 6.0 * doubt_at(c, line));
    const double wide = l->at[line] - l->at[line - 1];
    const double to = 0.5 * (l->at[line] + l->at[line + 1]);
    double band = 0.0;
    for (double i = floor(0.5 * (l->at[line - 1] + l->at[line]));
         i < to && i < (double)p->n && band <= least_band * wide; i += 1.0)
        band = i >= 0.0 && p->value[(size_t)i] > limit ? band + 1.0 : 0.0;
    return band > least_band * wide;
}

/* A step that lies alone beyond such a band is none of the row; gaps between all steps are no such
 * bands. */
static void leave_out_beyond_bands(const ww__profile *p, const ww__lattice *l, const ww__cells *c,
                                   ww__run *run) {
    if (run->last > run->first && has_band(p, l, c, run->last) && !has_band(p, l, c, run->last - 1))
        run->last--, run->seen--;
    if (run->last > run->first && has_band(p, l, c, run->first) &&
        !has_band(p, l, c, run->first + 1))
        run->first++, run->seen--;
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
    for (size_t k = line + 1; ww__cells_inner(c, k) && k <= run.last + 3; k++) {
        const double fall = ww__cells_fall(c, k);
        if (rises(c, k)) {
            if (excused || run.seen < LEAST_BEFORE_SLIP || !is_out_of_order(c, &run, k))
                break;
            excused = true;
            continue;
        }
        if (!ww__cells_falls(c, k) ||
            (k > run.last + 1 && fall < fmax(clear_fall, 6.0 * doubt_at(c, k))) ||
            in_surround(p, l, c, k))
            continue;
        before = run.last;
        run.last = k, run.seen++;
        if (run.seen == 2 && k > run.first + 1)
            run.first = before = k, run.seen = 1;
    }
    if (run.last > before + 1)
        run.last = before, run.seen--;
    leave_out_beyond_bands(p, l, c, &run);
    return run;
}

bool ww__run_find(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                  ww__run *run) {
    ww__run best = {0};
    for (size_t k = 1; k < cells->n; k++) {
        if (!ww__cells_inner(cells, k) || !ww__cells_falls(cells, k))
            continue;
        ww__run r = run_from(profile, lattice, cells, k);
        k = r.last;
        if (r.seen <= best.seen)
            continue;
        describe(profile, lattice, cells, &r);
        if (r.slopes < most_slopes)
            best = r;
    }
    *run = best;
    return best.seen > 0;
}
