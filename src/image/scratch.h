/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_SCRATCH_H
#define WW_IMAGE_SCRATCH_H

#include "image/area.h"

/* A line is told as one where it runs across so many neighbouring steps. */
#define WW__SCRATCH_STEPS 3

/*
 * ww__scratch_find - scratches and hairs that run along a strip: pixels that were left out of
 *                    several steps, side by side, and lie on one line.
 *
 *   Of each step the places across it at which most was left out are taken, 4 to 16 along it; where
 *   three of four lie on a straight line, and neighbours' lines meet between them, it is one. Only
 *   steps of which enough was left out for a line are looked at once more.
 *
 * Source    common practice
 * Given     area   of the steps side by side, all turned alike
 *           patch  what was read of them
 * Returned  patch  line: 1, 2 ... in the order of the steps, 0 where there is none; the same for
 *                  any number of threads. On failure they are 0.
 * Status    WW_OK; WW_EMEMORY; what the picture's reader returns
 */
ww_status ww__scratch_find(const ww_picture *picture, const ww__area area[], size_t n,
                           size_t threads, ww_patch patch[], ww_error *err);

#endif
