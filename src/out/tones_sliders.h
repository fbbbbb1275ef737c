/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_TONES_SLIDERS_H
#define WEDGEWORK_OUT_TONES_SLIDERS_H

#include "out/page.h"
#include <wedgework/tones.h>

/*
 * ww__tones_sliders - sliders that move the chain of tones on its page: exposure of film and print,
 *                     the three flares, and which film stands on which paper.
 *
 * Returned  false where there is nothing to move: of a wanted print, which is worked backwards
 *           *sliders  filled where true (ww__page_write releases it)
 * Accuracy  of what the page shows against the program at the same settings: its curves are tables
 *           of density and slope, at most WW__TONES_SLIDERS_STEP of log H apart over all that was
 *           measured, with cubics between: 0.001 D
 */
#define WW__TONES_SLIDERS_STEP 0.02 /* [log10] */
bool ww__tones_sliders(const ww_tones *tones, ww__sliders *sliders);

#endif
