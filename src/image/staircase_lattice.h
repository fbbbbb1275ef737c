/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_LATTICE_H
#define WW_IMAGE_STAIRCASE_LATTICE_H

#include "image/staircase_parts.h"
#include <stdbool.h>

/*
 * Where edges would lie if the steps of a flight had even widths, or widths that are known: found
 * from all edges of the flight together, so that missing and additional ones do little harm.
 */
enum { WW__LATTICE_MOST = 1024 };

typedef struct ww__edges {
    size_t n;
    double at[WW__LATTICE_MOST];   /* places */
    double fall[WW__LATTICE_MOST]; /* log10, > 0 */
} ww__edges;

typedef struct ww__lattice {
    size_t n;                    /* lines; the cells between them are one less */
    double at[WW__LATTICE_MOST]; /* places, rising */
    double pitch;                /* places, mean width */
    double order;                /* 1: every edge lies on a line; 0: as if by chance */
} ww__lattice;

/* ww__edges_of - the edges within a flight where light falls. */
void ww__edges_of(const ww__part part[], size_t n_parts, const ww__flight *flight,
                  ww__edges *edges);

void ww__edges_drop_first(ww__edges *edges);

/* ww__lattice_even - even widths near `pitch`; lines from place 0 to place `length`. */
void ww__lattice_even(const ww__edges *edges, double pitch, double length, ww__lattice *lattice);

/*
 * ww__lattice_given - relative widths in order, or in the other order where that fits better.
 *                     Exactly n + 1 lines, which may reach outside.
 * Given     pitch  about the mean width, places
 */
void ww__lattice_given(const ww__edges *edges, const double widths[], size_t n, double pitch,
                       ww__lattice *lattice);

/* ww__lattice_free - lines are the ends of the flight's parts. */
void ww__lattice_free(const ww__part part[], const ww__flight *flight, ww__lattice *lattice);

#endif
