/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_WIDTHS_H
#define WW_IMAGE_STAIRCASE_WIDTHS_H

#include <stdbool.h>
#include <stddef.h>

/* A step that is not as wide as was said. */
typedef struct ww__width_misfit {
    size_t step;        /* counted from 0, in the order of the widths */
    double given, seen; /* in the unit of the widths, by the median of all steps */
} ww__width_misfit;

/*
 * ww__widths_misfit - whether steps contradict the widths that were given for them, in order or the
 *                     other way round, whichever fits better.
 *
 * Given     edge    n + 1, where they were seen without regard to the widths, rising
 *           widths  n, relative
 * Returned  *misfit, the step that differs most; true where it does so by more than a quarter of
 *           the narrower. That an outermost step reaches further than was said is no contradiction:
 *           it may be as light as what lies beside the strip.
 */
bool ww__widths_misfit(const double edge[], const double widths[], size_t n,
                       ww__width_misfit *misfit);

#endif
