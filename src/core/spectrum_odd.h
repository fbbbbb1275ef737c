/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_SPECTRUM_ODD_H
#define WEDGEWORK_CORE_SPECTRUM_ODD_H

#include <stddef.h>
#include <wedgework/spectrum.h>

enum { WW__SPECTRUM_AROUND = 4, WW__SPECTRUM_ODD_MOST = 2 };

/* Lagrange's polynomial through the values of four bands. */
double ww__spectrum_cubic(const ww_spectral_point p[WW__SPECTRUM_AROUND], double nm);

/*
 * ww__spectrum_odd - the one or two bands of a spectrum that do not go with their neighbours: a
 *                    slip of the decimal point or readings gone wrong.
 *
 *   |T - C| > 0.02 + 0.05 C   and   |T - C| > 7 r
 *
 * C is what the cubic through the nearest four other bands gives; r the farthest that any other
 * band lies off its own cubic once these are C. Dyes, however steep, bend over several bands, so
 * that r is of the same size there; an edge of straight lines gives 6 r at most, a step 3 r. Two
 * are looked for where one alone leaves another that far off.
 *
 * Source    definition; the limits are our own choice. Edge and step: by hand, in the test
 * Given     spectrum  wavelengths rising. The outermost two bands of either end are not judged:
 *                     products are all but 0 there
 * Returned  how many; of the first, its index and C. 0 where there is none, or more than two, which
 *           hide each other
 */
size_t ww__spectrum_odd(const ww_spectrum *spectrum, size_t *at, double *between);

#endif
