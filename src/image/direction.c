/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/direction.h"

#include <assert.h>
#include <math.h>

static const double enough = 0.9;

/* The end of the codes that a level is clipped at, 0 or 1; -1: neither. */
static int end_of(double level, double rounding) {
    return level <= rounding ? 0 : level >= 1.0 - rounding ? 1 : -1;
}

/* Whether levels fall with densities; `alike` where no pair of densities says anything. */
static bool agrees(const double density[], const double level[], size_t n, double rounding,
                   bool reversed, bool *alike) {
    size_t pairs = 0, right = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++) {
            const double rise = density[k] - density[i];
            const double a = level[reversed ? n - 1 - i : i], b = level[reversed ? n - 1 - k : k];
            const double light = b - a;
            const int end = end_of(a, rounding);
            if (!(fabs(rise) >= WW__DIRECTION_LEAST) || (end >= 0 && end == end_of(b, rounding)))
                continue;
            pairs++;
            right += rise > 0.0 ? light < 0.0 : light > 0.0;
        }
    *alike = pairs == 0;
    return (double)right >= enough * (double)pairs;
}

ww__direction ww__direction_find(const double density[], const double level[], size_t n,
                                 double rounding) {
    bool alike = false;
    assert(density && level);
    const bool forward = agrees(density, level, n, rounding, false, &alike);
    const bool reversed = agrees(density, level, n, rounding, true, &alike);
    if (forward && reversed)
        return WW__DIRECTION_ALIKE;
    if (!forward && !reversed)
        return WW__DIRECTION_NEITHER;
    return forward ? WW__DIRECTION_FORWARD : WW__DIRECTION_REVERSED;
}

void ww__direction_clipped(const double level[], size_t n, double rounding, size_t clipped[2]) {
    assert(level && clipped);
    clipped[0] = clipped[1] = 0;
    for (size_t i = 0; i < n; i++) {
        const int end = end_of(level[i], rounding);
        if (end >= 0)
            clipped[end]++;
    }
}
