/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/texture_squares.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { NEIGHBOURS = 3 };
static const double whole_enough = 0.75; /* of a square's pixels */

/* Pixels of a place, and which of them count. */
typedef struct place {
    const double *density;
    const bool *counts;
    size_t width, height;
} place;

/* Means of squares that lie in the disc, as a grid; NAN where too little of one counts. */
typedef struct squares {
    double *mean;
    size_t across, down, n;
} squares;

static double mean_of_square(const place *p, size_t left, size_t top, size_t side) {
    double sum = 0.0;
    size_t counted = 0;
    for (size_t j = 0; j < side; j++)
        for (size_t i = 0; i < side; i++) {
            const size_t at = (top + j) * p->width + left + i;
            sum += p->counts[at] ? p->density[at] : 0.0;
            counted += p->counts[at];
        }
    return (double)counted < whole_enough * (double)(side * side) ? (double)NAN
                                                                  : sum / (double)counted;
}

static ww_status find_squares(const place *p, size_t side, squares *s, ww_error *err) {
    *s = (squares){.across = p->width / side, .down = p->height / side};
    s->mean = calloc(s->across * s->down + 1, sizeof *s->mean);
    if (!s->mean)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu squares", s->across * s->down);
    for (size_t i = 0; i < s->across * s->down; i++) {
        s->mean[i] = mean_of_square(p, i % s->across * side, i / s->across * side, side);
        s->n += isfinite(s->mean[i]) ? 1 : 0;
    }
    return WW_OK;
}

/* Spread of the means. */
static double spread(squares *s) {
    double sum = 0.0, of_squares = 0.0;
    for (size_t i = 0; i < s->across * s->down; i++) {
        const double here = isfinite(s->mean[i]) ? s->mean[i] : 0.0;
        sum += here;
        of_squares += here * here;
    }
    const double n = (double)s->n;
    return s->n > 1 ? sqrt(fmax(of_squares - sum * sum / n, 0.0) / (n - 1.0)) : 0.0;
}

/* How alike squares are that lie so far apart, squared, less what chance makes of it. */
static double likeness(const squares *s, double sd, size_t right, size_t down, bool left) {
    double sum = 0.0, pairs = 0.0;
    for (size_t y = 0; y + down < s->down; y++)
        for (size_t x = 0; x + right < s->across; x++) {
            const double one = s->mean[y * s->across + x + (left ? right : 0)];
            const double other = s->mean[(y + down) * s->across + x + (left ? 0 : right)];
            if (!isfinite(one) || !isfinite(other))
                continue;
            sum += one * other;
            pairs += 1.0;
        }
    if (pairs < 2.0 || !(sd > 0.0))
        return 0.0;
    const double alike = sum / pairs / (sd * sd);
    return fmax(alike * alike - 1.0 / pairs, 0.0);
}

/* Squares that tell as much of a spread as these would if none knew of its neighbours. */
static double independent(const squares *s, double sd) {
    double sum = 1.0;
    for (size_t down = 0; down <= NEIGHBOURS; down++)
        for (size_t right = 0; right <= NEIGHBOURS; right++) {
            if (down == 0 && right == 0)
                continue;
            sum += 2.0 * likeness(s, sd, right, down, false);
            if (down > 0 && right > 0)
                sum += 2.0 * likeness(s, sd, right, down, true);
        }
    return fmax((double)s->n / sum, 2.0);
}

ww_status ww__texture_squares_read(const double density[], const bool counts[], size_t width,
                                   size_t height, size_t side, ww__texture_squares *found,
                                   ww_error *err) {
    assert(density && counts && side > 0 && found);
    const place p = {density, counts, width, height};
    squares s;
    const ww_status status = find_squares(&p, side, &s, err);
    if (status != WW_OK)
        return status;
    const double sd = spread(&s);
    *found = (ww__texture_squares){s.n, sd, independent(&s, sd)};
    free(s.mean);
    return WW_OK;
}
