/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_ENDS_H
#define WW_IMAGE_STAIRCASE_ENDS_H

#include "image/staircase_lattice.h"

/*
 * How many steps lie beyond the first and the last edge that can be seen. The outermost step ends
 * where the strip does; steps as black as the noise have no edges between them; and what lies
 * before the thinnest step may be open light or a leader. Where the picture leaves several answers
 * open they are all given, with a price: 0 is beyond doubt, from 0.5 on the number asked for would
 * be the only reason to believe it.
 */
typedef struct ww__profile {
    size_t n;
    double *value;     /* log10 of light along a strip, falling */
    double *smooth;    /* the same without lines, dust and hairs */
    double *weight;    /* 1 / variance of value; 0 where nothing is known */
    double *beside[2]; /* log10 of light just outside its long sides; NAN where nothing is known */
    double floor;      /* share of full scale that was added to light */
    bool open[2];      /* the picture, or the part looked at, ends where the profile does */
} ww__profile;

/* The lines of a lattice at which light falls: first .. last. */
typedef struct ww__run {
    size_t first, last;
    size_t seen;   /* lines of them at which a fall is beyond doubt */
    double fall;   /* log10, median at those */
    double slopes; /* share of its steps that are slopes */
    double uneven; /* ratio of neighbouring falls, median */
} ww__run;

typedef struct ww__cells {
    size_t n;                       /* cell k lies between lines k and k + 1 */
    double level[WW__LATTICE_MOST]; /* log10, of its middle */
    double doubt[WW__LATTICE_MOST]; /* standard error */
    bool known[WW__LATTICE_MOST];
} ww__cells;

enum { WW__COUNTS_MOST = 32 };
typedef struct ww__counts {
    size_t n, likely; /* likely: index of the best */
    size_t count[WW__COUNTS_MOST];
    double price[WW__COUNTS_MOST];
    double end;   /* places, where the outermost level ends */
    bool bounded; /* by an edge, or the end of the picture */
} ww__counts;

/* Status WW_OK; WW_EMEMORY */
ww_status ww__cells_measure(const ww__profile *profile, const ww__lattice *lattice,
                            ww__cells *cells, ww_error *err);

/* ww__run_find - the longest run of falls through the cells; false where there is none. */
bool ww__run_find(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                  ww__run *run);

/* ww__counts_find - steps beyond the run: side 0 before its first line, 1 after its last. */
void ww__counts_find(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                     const ww__run *run, int side, size_t most, ww__counts *counts);

/*
 * ww__row_goes_on - whether a cell just outside the steps is a patch of the same row: an even tone
 *                   that is not the surround's, with an edge on its far side too.
 */
bool ww__row_goes_on(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                     size_t cell, int side);

#endif
