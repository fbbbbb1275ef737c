/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_STRIP_WORDS_H
#define WEDGEWORK_OUT_STRIP_WORDS_H

#include "base/text.h"
#include <wedgework/strip.h>

/* The act, as a sentence with its doubt. */
void ww__words_strip_act(ww__text *text, const ww_strip *strip);

/* One line of why. */
void ww__words_strip_why(ww__text *text, const ww_strip *strip);

/* A time of this strip on its timer's step; of a safelight strip in seconds and, from two minutes
 * on, in minutes: "300 s (5 min)". */
void ww__words_strip_time(ww__text *text, const ww_strip *strip, double time_s);

/* The same without its unit, for lists. */
void ww__words_strip_bare(ww__text *text, const ww_strip *strip, double time_s);

/* What is to be said of a step: "out of order, left out"; nothing of most. */
void ww__words_strip_remark(ww__text *text, const ww_strip_step *step);

/* The timer's step; whole seconds where none was given, as on a safelight strip. */
double ww__words_strip_timer(const ww_strip *strip);

/* The act of a strip to expose, and the end of one that asks for a next strip, from ". Next" on. */
void ww__words_strip_series(ww__text *text, const ww_strip *strip);
void ww__words_strip_next(ww__text *text, const ww_strip *strip);

/* How to give the next strip with the lens at the stop that the act offers besides: nothing where
 * it offers none. */
void ww__words_strip_lens(ww__text *text, const ww_strip *strip);

#endif
