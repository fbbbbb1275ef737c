/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FIND_STEPS_H
#define WW_IMAGE_FIND_STEPS_H

#include "image/find.h"
#include "image/find_band.h"
#include "image/staircase.h"

/* What was found, whether or not it is what was asked for. */
typedef struct ww__steps {
    size_t n;         /* steps */
    size_t seen;      /* edges that can be seen */
    double from, to;  /* px along, the first and the last of them, from the point of the band */
    bool contradicts; /* the number is that asked for, but not the widths */
    ww__width_misfit misfit; /* then the worst of them */
    /* Steps that find room beyond the lightest seen, where all is at the greatest code; and beyond
     * the darkest, where all is at code 0. */
    size_t hidden[2];
    size_t veiled; /* the same beyond the darkest, where all is as dark as it, not at code 0 alone,
                    * and light of ten times as much lies beside */
} ww__steps;

#define WW__STEP_PX_LEAST 6.0 /* width of the narrowest steps that are read */

/*
 * ww__steps_find - the steps of a band, at full resolution.
 *
 * Given     band   where they should be; the whole line through it is looked at
 * Returned  *found where the status is WW_OK; *there also for WW_EMISMATCH
 * Status    WW_OK; WW_EMISMATCH another number of steps, or other widths; WW_ENODATA no steps
 *           there (both without a message); WW_EMEMORY; what the picture's reader returns
 */
ww_status ww__steps_find(const ww_picture *picture, const ww_region *where, const ww__band *band,
                         size_t steps, const double *widths, size_t threads, ww__steps *there,
                         ww__strip_found *found, ww_error *err);

#endif
