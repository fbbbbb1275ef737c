/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_CURVE_WORDS_H
#define WEDGEWORK_OUT_CURVE_WORDS_H

#include "out/report.h"

/* Paper, print and test strip are read as paper is; anything else as film. */
bool ww__curve_is_paper(const ww_curve *curve);

/* True where the suspect heads the readings that were moved along log H: they are all in the curve,
 * one step off their own exposure. */
bool ww__curve_suspect_moved(const ww_channel_curve *channel, const ww_suspect *suspect);

/* The finding as a sentence with its doubt; how the curve was laid, and how well it fits. */
void ww__words_curve_act(ww__text *text, const ww_curve *curve);
void ww__words_curve_why(ww__text *text, const ww_curve *curve);

/* "110 (106, 104 to 109)": R to the nearest ten, as it came out, its interval. */
void ww__words_iso_range(ww__text *text, ww_quantity iso_range);

#endif
