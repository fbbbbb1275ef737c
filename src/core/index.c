/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "index.h"

#include <math.h>

/*
 * The near point alone fixes the line: at net density n on an arc of radius 0.2 its angle has
 * sin = n / 0.2, the far point lies 2.0 further along it, and there the net density must be 11 n.
 * So one unknown remains, the u of the near point:
 *
 *   G(u) = net(u + 2 cos) - 11 net(u),   cos = sqrt(1 - (net(u) / 0.2)^2)
 *
 * G is negative where net(u) = 0.2 (a line straight up) and positive far down in the toe.
 */
static const double SPAN = WW__INDEX_FAR - WW__INDEX_NEAR;
static const double RATIO = WW__INDEX_FAR / WW__INDEX_NEAR;

static double sine(double net) {
    return fmin(fmax(net / WW__INDEX_NEAR, 0.0), 1.0);
}

static double cosine(double net) {
    const double s = sine(net);
    return sqrt(1.0 - s * s);
}

/* Newton's step for G at the near spot; its sign is right even where its size is of no use. */
static double step_from(const ww__trace *trace, double base_fog, ww__spot near) {
    const double net = near.density - base_fog;
    const double s = sine(net), c = cosine(net);
    const ww__spot far = ww__trace_at(trace, near.u + SPAN * c);
    const double error = far.density - base_fog - RATIO * fmax(net, 0.0);
    const double turn = c > 1e-6 ? SPAN * s / c * near.slope / WW__INDEX_NEAR : 0.0;
    const double rate = far.slope * (1.0 - turn) - RATIO * near.slope;
    /* Up to the root G is to fall: elsewhere only the direction counts. */
    return rate < 0.0 && c > 1e-6 ? -error / rate : copysign(HUGE_VAL, error);
}

ww__reach ww__index_find(const ww__trace *trace, double base_fog, double start, ww__index *index) {
    const ww__spot *const s = trace->spot;
    const double limit = base_fog + WW__INDEX_NEAR;
    size_t k = 0;
    while (k < trace->n && s[k].density < limit)
        k++;
    if (k == 0)
        return WW__REACH_BEFORE;
    if (k == trace->n)
        return WW__REACH_BEYOND;

    if (step_from(trace, base_fog, s[0]) < 0.0)
        return WW__REACH_BEFORE;

    double low = s[0].u, high = s[k].u, u = start;
    double net = 0.0;
    if (!(u > low && u < high))
        u = low + (high - low) / 2.0;
    for (int i = 0; i < 100 && high - low > 1e-12; i++) {
        const ww__spot near = ww__trace_at(trace, u);
        const double step = step_from(trace, base_fog, near);
        net = near.density - base_fog;
        /* One more step is exact to the square of this one; steep lines bend more. */
        if (fabs(step) < 1e-6 * cosine(net)) {
            u += step;
            net += step * near.slope;
            break;
        }
        if (step > 0.0)
            low = u;
        else
            high = u;
        u = u + step > low && u + step < high ? u + step : low + (high - low) / 2.0;
    }
    const double c = cosine(net), far = u + SPAN * c;
    if (far > s[trace->n - 1].u + 1e-9)
        return WW__REACH_BEYOND;
    *index = (ww__index){sine(net) / c, u - WW__INDEX_NEAR * c, u, far};
    return WW__REACH_FOUND;
}
