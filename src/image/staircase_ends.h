/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_ENDS_H
#define WW_IMAGE_STAIRCASE_ENDS_H

#include "image/staircase_run.h"

/*
 * How many steps lie beyond the first and the last edge that can be seen. The outermost step ends
 * where the strip does; steps as black as the noise have no edges between them; and what lies
 * before the thinnest step may be open light or a leader. Where the picture leaves several answers
 * open they are all given, with a price: 0 is beyond doubt, from 0.5 on the number asked for would
 * be the only reason to believe it.
 */
#define WW__COUNTS_BY_NUMBER 0.26 /* a level that is even steps wide, if it is the strip's at all */
enum { WW__COUNTS_MOST = 32 };
typedef struct ww__counts {
    size_t n, likely; /* likely: index of the best */
    size_t count[WW__COUNTS_MOST];
    double price[WW__COUNTS_MOST];
    double end;   /* places, where the outermost level ends */
    bool bounded; /* by an edge, or the end of the picture */
} ww__counts;

/* ww__counts_find - steps beyond the run: side 0 before its first line, 1 after its last. */
void ww__counts_find(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                     const ww__run *run, int side, size_t most, ww__counts *counts);

/*
 * ww__row_goes_on - whether a cell just outside the steps is a patch of the same row: an even tone
 *                   that is not the surround's, with an edge on its far side too.
 *
 * Given     strip  places, from end to end of the steps: light beside them is the surround's
 */
bool ww__row_goes_on(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                     const double strip[2], size_t cell, int side);

#endif
