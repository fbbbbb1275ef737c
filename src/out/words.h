/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_WORDS_H
#define WEDGEWORK_OUT_WORDS_H

#include "base/text.h"
#include <stdbool.h>
#include <wedgework/quantity.h>

/* The trade's quantities as a hand sets them and an eye reads them. Each adds to `text`. */

/* Nearest 1/12 stop, reduced: "1 1/3 stop", with `sign` "+1 1/3 stop", "-1/2 stop"; less than
 * half of 1/12: "0 stop". */
void ww__words_stops(ww__text *text, double stops, bool sign);

/* A doubt in 1/12 stop, as ww_doubt_shown: "1/6 stop". */
void ww__words_doubt(ww__text *text, double stops);

/* On the timer's step, with its decimals: "18.4 s". step_s > 0. */
void ww__words_seconds(ww__text *text, double seconds, double step_s);

/* "0.61 (0.59 to 0.63)"; the value alone where there is no interval; "-" where there is no value.
 */
void ww__words_interval(ww__text *text, ww_quantity quantity, int decimals);

/* "0.08 to 0.12", lower first; one number where both are written alike. */
void ww__words_range(ww__text *text, double a, double b, int decimals);

/* Two decimals, or "-" where it is not set. */
void ww__words_optional(ww__text *text, ww_optional value);

/* To the nearest ten: "110". */
void ww__words_tens(ww__text *text, double value);

/*
 * A paper's contrast as one says it: "grade 2 1/2" for the labels "2.5" and "2 1/2", "grade 00"; a
 * label that is no number stands as it is ("filter Y30"). Nothing for an empty one or NULL.
 */
void ww__words_contrast(ww__text *text, const char *label);

/* A material by its name, escaped for a message, and its contrast where it has one: "Heron gloss,
 * grade 3". Without a name it is `otherwise`. */
void ww__words_material(ww__text *text, const char *name, const char *contrast,
                        const char *otherwise);

#endif
