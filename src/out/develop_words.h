/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_DEVELOP_WORDS_H
#define WEDGEWORK_OUT_DEVELOP_WORDS_H

#include "base/text.h"
#include <wedgework/develop.h>

/* The act, as sentences with their doubt. */
void ww__words_develop_act(ww__text *text, const ww_development *development);

/* One line of why. */
void ww__words_develop_why(ww__text *text, const ww_development *development);

/* "7 min 15 s", on 5 s: the nearest, or from there down (-1) or up (+1). */
void ww__words_develop_time(ww__text *text, double minutes, int way);

/* The same as "7:15". */
void ww__words_develop_clock(ww__text *text, double minutes, int way);

/* "7 min 15 s (6 min 50 s to 7 min 45 s)" */
void ww__words_develop_interval(ww__text *text, ww_quantity time);

/* "contrast index", ... */
const char *ww__words_develop_measure(ww_develop_measure measure);

#endif
