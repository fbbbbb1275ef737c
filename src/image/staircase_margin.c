/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_margin.h"

#include <math.h>

static const double least_wide = 1.35; /* steps: more than one is */
static const double least_step = 0.8;
static const double abrupt = 0.25; /* of the next fall, by which a toe's first is less */

bool ww__margin_leave_out(const ww__lattice *l, const ww__cells *c, double edge, ww__run *run) {
    size_t line = 0;
    while (line < run->last && l->at[line] < edge - 0.5 * l->pitch)
        line++;
    if (line == run->last)
        return false;
    const size_t to = line > run->first ? line : run->first;
    for (size_t k = line; k <= to; k++)
        if (!ww__cells_inner(c, k) || !ww__cells_falls(c, k))
            return false;
    run->first = line, run->seen = 0;
    for (size_t k = line; k <= run->last; k++)
        run->seen += ww__cells_falls(c, k);
    return true;
}

/* Film behind the densest step is as clear as that before the thinnest. A cell that holds an end of
 * the film has so great a doubt that it would be like anything: doubts do not count here. */
static bool is_alike_behind(const ww__cells *c, size_t margin, size_t behind) {
    return behind < c->n && c->known[behind] &&
           fabs(c->level[behind] - c->level[margin]) < WW__SAME_LIGHT;
}

/* Whether light falls neither at a line between a place and the first step nor, by the outer and
 * the inner half of the way, between lines. */
static bool is_even(const ww__profile *p, const ww__lattice *l, const ww__cells *c, double from,
                    size_t line) {
    const double to = l->at[line], wide = to - l->at[line - 1];
    const double fall = ww__profile_fall(p, 0.5 * (from + to), 1.2 * (to - from));
    if (fabs(fall) > 2.0 * WW__FALL_LEAST + 3.0 * c->doubt[line - 1])
        return false;
    while (line-- > 1 && l->at[line - 1] > from - 0.3 * wide)
        if (ww__cells_falls(c, line))
            return false;
    return true;
}

bool ww__margin_is_told(const ww__profile *p, const ww__lattice *l, const ww__cells *c,
                        const ww__run *run, const ww__counts *before, size_t steps) {
    const size_t line = run->first, margin = line - 1;
    const double wide = l->at[line] - l->at[margin], extent = (l->at[line] - before->end) / wide;
    if (!before->bounded || extent < least_step || !is_even(p, l, c, before->end, line))
        return false;
    return extent > least_wide ||
           ww__cells_alike_between(p, c, margin, l->at[margin], l->at[run->last]) == 2 ||
           is_alike_behind(c, margin, line + steps) ||
           ww__cells_fall(c, line) < abrupt * ww__cells_fall(c, line + 1);
}
