/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_MARGIN_H
#define WW_IMAGE_STAIRCASE_MARGIN_H

#include "image/staircase_ends.h"

/*
 * ww__margin_leave_out - a run from the line of an edge on, however early it was found to begin;
 *                        false where light does not fall there and at every line up to the run.
 */
bool ww__margin_leave_out(const ww__lattice *lattice, const ww__cells *cells, double edge,
                          ww__run *run);

/*
 * ww__margin_is_told - whether what lies before the run is the clear margin of its film, and no
 *                      step. It is even, ends with an edge, and is wider than a step; or about as
 *                      wide, but as light as the film on both sides of the steps or behind the
 *                      densest of them; or it differs so little from the first step, beside the
 *                      fall to the second, that no curve begins so.
 *
 * Given     run     begins with the edge of the first step
 *           before  of ww__counts_find for that run
 *           steps   from there to the end of the densest
 */
bool ww__margin_is_told(const ww__profile *profile, const ww__lattice *lattice,
                        const ww__cells *cells, const ww__run *run, const ww__counts *before,
                        size_t steps);

#endif
