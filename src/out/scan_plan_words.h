/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_SCAN_PLAN_WORDS_H
#define WEDGEWORK_OUT_SCAN_PLAN_WORDS_H

#include "base/text.h"
#include <wedgework/scan.h>

/* A scan plan in words; each adds to `text`. */

/* The first line, with its full stop. */
void ww__words_scan_act(ww__text *text, const ww_scan_plan *plan);

/* The line of why, about the channel that is worst off. */
void ww__words_scan_why(ww__text *text, const ww_scan_plan *plan);

/* Signal-to-noise as whole figures from 10 on; "no end" of a scanner without noise. */
void ww__words_snr(ww__text *text, double snr);

/* A difference of density, "0.012 D" or "0.0042 D". */
void ww__words_told(ww__text *text, double density);

const ww_scan_tone *ww__scan_plan_highlight(const ww_scan_channel *channel);

#endif
