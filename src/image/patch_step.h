/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_PATCH_STEP_H
#define WW_IMAGE_PATCH_STEP_H

#include "image/histogram.h"
#include <wedgework/measure.h>

/* ww__patch_step - the step that all codes of all counts lie on; 1 where none of them has three,
 *                  since two tones of a picture without noise are no grid; 0 in floating point,
 *                  which has no steps. */
double ww__patch_step(const ww__histogram counts[], size_t n);

/*
 * ww__patch_step_settle - the step of each patch. A curve or levels that 8 bits went through leave
 *                         a comb whose codes lie on no common step: each patch has that of its own
 *                         codes, or where its noise fills no two, the greatest of the others. Fewer
 *                         than three patches that show one are tones of a picture without noise.
 *
 * Given     patch  its step as its own codes show it, 0 where they don't
 *           step   that all codes lie on
 */
void ww__patch_step_settle(ww_patch patch[], size_t n, double step);

#endif
