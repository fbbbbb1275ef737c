/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_H
#define WW_IMAGE_STAIRCASE_H

#include "image/staircase_ends.h"
#include "image/staircase_widths.h"

/*
 * The staircase along a strip: all edges at once, from the lattice that they lie on, and the number
 * of steps that the profile bears out, whatever number was asked for.
 */
enum { WW__STEPS_MOST = 250 };

typedef struct ww__stairs {
    size_t n;                        /* steps that the profile bears out */
    double edge[WW__STEPS_MOST + 1]; /* places; where n is the number asked for */
    size_t seen;                     /* edges that can be seen */
    double from, to;                 /* places, first and last of them */
    double fall;                     /* log10, median at an edge */
    bool certain;            /* false: only the number asked for says where the strip ends */
    bool contradicts;        /* the number of steps is that asked for, but widths are others */
    ww__width_misfit misfit; /* then the worst */
} ww__stairs;

/*
 * ww__stairs_fit - steps asked for, in a profile along which light falls.
 *
 * Given     steps   3 to WW__STEPS_MOST
 *           widths  relative, in order or the other way round; NULL: alike, or else as they are
 *           pitch   places, about the width of a step
 * Returned  *stairs, where the status is WW_OK or WW_EMISMATCH
 * Status    WW_OK; WW_EMISMATCH a staircase of stairs->n other steps, or of other widths (no
 *           message); WW_ENODATA no
 *           staircase, or none whose ends can be told (no message); WW_EMEMORY
 */
ww_status ww__stairs_fit(const ww__profile *profile, size_t steps, const double *widths,
                         double pitch, ww__stairs *stairs, ww_error *err);

#endif
