/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_COMPARE_WORDS_H
#define WEDGEWORK_OUT_COMPARE_WORDS_H

#include "base/text.h"
#include <wedgework/compare.h>

/* What differs as a sentence, or whether limits are kept; how it was found. */
void ww__words_compare_act(ww__text *text, const ww_comparison *comparison);
void ww__words_compare_why(ww__text *text, const ww_comparison *comparison);

/* "0.06 D darker", "no different": to 0.01. */
void ww__words_darker(ww__text *text, double difference);

/* "0.02 D too dark in its dark tones"; nothing where there is none. */
void ww__words_compare_offset(ww__text *text, const ww_compare_pair *pair);

/* Label of the tone that a pair's difference is of. */
const char *ww__words_compare_tone(const ww_comparison *comparison, const ww_compare_pair *pair,
                                   size_t at);

/*
 * Each reason why no curve makes B look as A does, a sentence; false, and nothing added, where
 * there is none of that number.
 */
enum { WW__COMPARE_NEVER = 4 };
bool ww__words_compare_never(ww__text *text, const ww_comparison *comparison,
                             const ww_compare_pair *pair, size_t which);

#endif
