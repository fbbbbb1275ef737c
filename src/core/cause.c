/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cause.h"

#include <assert.h>
#include <math.h>

static const double dust_most = 0.05;  /* D */
static const double digits_most = 1e3; /* D: beyond, there are no digits to exchange */

/* Readings are written to a hundredth or a thousandth. */
static long digits_of(double density, long unit) {
    return lround(fabs(density) * (double)unit);
}

/* Exchange of digit `place` (0: last) with the one before it. */
static long exchanged(long number, long place_value) {
    const long low = number / place_value % 10, high = number / (place_value * 10) % 10;
    return number + (low - high) * place_value * 9;
}

static bool nearer(double candidate, double expected, double tolerance, double *miss) {
    const double here = fabs(candidate - expected);
    if (here > tolerance || here >= *miss)
        return false;
    *miss = here;
    return true;
}

/* The likeliest typing slip: two digits exchanged, or one digit off by one. */
static ww_optional retyped(double density, double expected, double tolerance) {
    ww_optional found = {false, 0.0};
    double miss = HUGE_VAL;
    if (!(fabs(density) < digits_most))
        return found;
    const double sign = density < 0.0 ? -1.0 : 1.0;
    const long unit = fabs(density * 100.0 - round(density * 100.0)) < 1e-6 ? 100 : 1000;
    const long number = digits_of(density, unit);
    for (long place = 1; place < unit * 10; place *= 10) {
        const double swapped = sign * (double)exchanged(number, place) / (double)unit;
        if (swapped != density && nearer(swapped, expected, tolerance, &miss))
            found = (ww_optional){true, swapped};
    }
    for (long place = unit / 10; place <= unit; place *= 10) {
        for (int step = -1; step <= 1; step += 2) {
            const double other = density + (double)step * (double)place / (double)unit;
            if (nearer(other, expected, tolerance, &miss))
                found = (ww_optional){true, other};
        }
    }
    return found;
}

ww_cause ww__cause_of_reading(double density, double expected, double tolerance, bool transmission,
                              ww_optional *would_be) {
    assert(would_be && tolerance > 0.0);
    static const double factors[] = {10.0, 0.1, 100.0, 0.01};
    *would_be = (ww_optional){false, 0.0};
    for (size_t i = 0; i < sizeof factors / sizeof *factors; i++) {
        /* Near zero any factor fits: only a real difference counts. */
        if (fabs(density * factors[i] - expected) <= tolerance &&
            fabs(density - expected) > 4.0 * tolerance) {
            *would_be = (ww_optional){true, density * factors[i]};
            return WW_CAUSE_DECIMAL_POINT;
        }
    }
    *would_be = retyped(density, expected, tolerance);
    if (!would_be->set && transmission && density > expected && density - expected < dust_most)
        return WW_CAUSE_DUST;
    return WW_CAUSE_SLIP;
}
