/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_SPECTRUM_ODD_H
#define WEDGEWORK_CORE_SPECTRUM_ODD_H

#include <stdbool.h>
#include <wedgework/spectrum.h>

enum { WW__SPECTRUM_AROUND = 4 };

/* Lagrange's polynomial through the values of four bands. */
double ww__spectrum_cubic(const ww_spectral_point p[WW__SPECTRUM_AROUND], double nm);

/*
 * ww__spectrum_odd - the one band of a spectrum that does not go with its neighbours: a slip of the
 *                    decimal point or a reading gone wrong.
 *
 *   |T - C| > 0.02 + 0.05 C   and   |T - C| > 7 r
 *
 * C is what the cubic through the four bands around it gives; r the farthest that any other band
 * lies off its own cubic once this one is C. Dyes, however steep, bend over several bands, so that
 * r is of the same size there; an edge of straight lines gives 6 r at most, a step 3 r.
 *
 * Source    definition; the limits are our own choice. Edge and step: by hand, in the test
 * Given     spectrum  wavelengths rising. The outermost two bands of either end are not judged:
 *                     products are all but 0 there
 * Returned  true, its index and C; false where there is none, or two, which hide each other
 */
bool ww__spectrum_odd(const ww_spectrum *spectrum, size_t *at, double *between);

#endif
