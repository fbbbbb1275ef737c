/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/direction.h"

#include <assert.h>
#include <math.h>

static const double enough = 0.9;

/* Whether levels fall with densities; `alike` where no pair of densities says anything. */
static bool agrees(const double density[], const double level[], size_t n, bool reversed,
                   bool *alike) {
    size_t pairs = 0, right = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++) {
            const double rise = density[k] - density[i];
            const double light =
                reversed ? level[n - 1 - k] - level[n - 1 - i] : level[k] - level[i];
            if (!(fabs(rise) >= WW__DIRECTION_LEAST))
                continue;
            pairs++;
            right += rise > 0.0 ? light < 0.0 : light > 0.0;
        }
    *alike = pairs == 0;
    return (double)right >= enough * (double)pairs;
}

ww__direction ww__direction_find(const double density[], const double level[], size_t n) {
    bool alike = false;
    assert(density && level);
    const bool forward = agrees(density, level, n, false, &alike);
    const bool reversed = agrees(density, level, n, true, &alike);
    if (forward && reversed)
        return WW__DIRECTION_ALIKE;
    if (!forward && !reversed)
        return WW__DIRECTION_NEITHER;
    return forward ? WW__DIRECTION_FORWARD : WW__DIRECTION_REVERSED;
}
