/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_edge.h"

#include <math.h>

enum { OFFSETS = 21 };

static const double usual_offset = 0.05;
static const double least_share = 0.15; /* of a fall, by which a step is uneven */
static const double most_misfit = 4.0;

/*
 * What a place says about the step that it is on: the square of its departure from the level, in
 * units of the edge's fall, and no more for dust, hairs and lines than for anything else far off.
 */
static double misfit(const ww__profile *p, double place, double level, double fall) {
    if (place < 0.0 || place >= (double)p->n)
        return 0.0;
    const size_t i = (size_t)place;
    if (!(p->weight[i] > 0.0))
        return 0.0;
    const double off = p->value[i] - level, own = least_share * fall;
    return fmin(off * off / (own * own + 1.0 / p->weight[i]), most_misfit);
}

double ww__edge_loosened(const ww__profile *p, double line, double pitch, double high, double low) {
    const double reach = 1.6 * WW__EDGE_OFFSET_MOST * pitch;
    double best = HUGE_VAL, place = line;
    for (size_t k = 0; k < OFFSETS; k++) {
        const double off = ((double)k / (OFFSETS - 1) * 2.0 - 1.0) * WW__EDGE_OFFSET_MOST;
        double cost = off * off / (usual_offset * usual_offset);
        for (double i = floor(line - reach); i < line + reach; i += 1.0)
            cost += misfit(p, i, i + 0.5 < line + off * pitch ? high : low, high - low);
        if (cost < best)
            best = cost, place = line + off * pitch;
    }
    return place;
}
