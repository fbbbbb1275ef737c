/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_SHARPENED_H
#define WW_IMAGE_SHARPENED_H

#include <stddef.h>
#include <wedgework/error.h>

/* From where on edges were sharpened: resampling alone overdraws a sharp one by up to 0.08. */
#define WW__SHARPENED 0.1

/* Light along a strip: place i reaches from `from + i step` px on, for `step` px. */
typedef struct ww__sharpened_profile {
    const double *light; /* below 0 where nothing was seen */
    const double *error; /* standard error of it */
    size_t n;
    double from, step; /* px */
} ww__sharpened_profile;

/*
 * ww__sharpened_by - by how much the light at the edges of steps surely lies beyond the steps on
 *                    both sides, as a share of the fall between them. Sharpening makes it so; blur,
 *                    flare, dust and lines between steps do not.
 *
 *   of an edge, the lesser of (brightest before it - level before) and (level behind - darkest
 *   behind it), each less 3 errors, over their difference; of all edges, the upper quartile
 *
 * Source    common practice
 * Given     edge   px, of the steps, rising; one more than steps
 *           level  of the steps; falls from one to the next, or rises
 * Returned  *by    0 or more
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__sharpened_by(const ww__sharpened_profile *profile, const double edge[],
                           const double level[], size_t steps, double *by, ww_error *err);

#endif
