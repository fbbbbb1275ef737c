/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_RUN_H
#define WW_IMAGE_STAIRCASE_RUN_H

#include "image/staircase_lattice.h"

/* The levels between the lines of a lattice, and the longest run of lines at which light falls. */
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
    bool curved; /* its falls grow to a greatest and shrink again, as a characteristic curve's do */
} ww__run;

typedef struct ww__cells {
    size_t n;                       /* cell k lies between lines k and k + 1 */
    double level[WW__LATTICE_MOST]; /* log10, of its middle */
    double doubt[WW__LATTICE_MOST]; /* standard error */
    bool known[WW__LATTICE_MOST];
} ww__cells;

/* log10: the least fall that is one; light that is taken for one thing. */
#define WW__FALL_LEAST 0.004
#define WW__SAME_LIGHT 0.02
#define WW__CELL_RIM 0.2 /* share of a step at each side that its level leaves out */

/* ww__profile_fall - log10 by which light falls across a place, from windows of a third of a step
 *                    on both sides; `wide` is that step. 0 where nothing is known. */
double ww__profile_fall(const ww__profile *profile, double at, double wide);

/* Status WW_OK; WW_EMEMORY */
ww_status ww__cells_measure(const ww__profile *profile, const ww__lattice *lattice,
                            ww__cells *cells, ww_error *err);

/* ww__run_find - the longest run of falls through the cells that is no slope; false where there is
 *                none. */
bool ww__run_find(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                  ww__run *run);

/* Of the line between cells line - 1 and line: whether both are known; by how much light falls
 * there; whether it does beyond doubt, or likely so where that carries on another fall. */
bool ww__cells_inner(const ww__cells *cells, size_t line);
double ww__cells_fall(const ww__cells *cells, size_t line);
bool ww__cells_falls(const ww__cells *cells, size_t line);

/* On how many sides of the strip light is that of a cell, over the cell's middle or between two
 * places: it may then be none of its steps. */
int ww__cells_alike(const ww__profile *profile, const ww__lattice *lattice, const ww__cells *cells,
                    size_t cell);
int ww__cells_alike_between(const ww__profile *profile, const ww__cells *cells, size_t cell,
                            double from, double to);

#endif
