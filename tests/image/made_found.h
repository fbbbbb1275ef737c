/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_MADE_FOUND_H
#define WEDGEWORK_TESTS_MADE_FOUND_H

#include "image/find.h"
#include "support/wedge_picture.h"

#include <math.h>

/* Worst error of an edge of a strip as found, in steps. */
static inline double made_worst_edge(const wedge_scene *s, const ww__strip_found *f) {
    double edge[64], worst = 0.0;
    wedge_scene_edges(s, edge);
    const double shift = (f->origin[0] - s->x) * f->along[0] + (f->origin[1] - s->y) * f->along[1];
    for (size_t k = 0; k <= s->steps; k++)
        worst = fmax(worst, fabs(f->edge[k] + shift - edge[k]) * (double)s->steps / s->length);
    return worst;
}

#endif
