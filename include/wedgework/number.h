/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_NUMBER_H
#define WEDGEWORK_NUMBER_H

#include <wedgework/error.h>

/*
 * ww_number_parse - the one way from text to a number: whole token, whatever the locale.
 *
 *   [+-] digits [mark [digits]] [e [+-] digits], or [+-] mark digits; white space around it may be.
 *
 * Given     text          NUL-terminated
 *           decimal_mark  '.' or ','
 * Returned  *value        nearest double                                     finite
 * Status    WW_OK; WW_EINPUT not a whole number token (empty, letters such as O or l, "nan", "inf",
 *           hexadecimal, a second mark, trailing text) or too large for a double. The message names
 *           the text. On failure *value is untouched.
 * Accuracy  correctly rounded.
 */
ww_status ww_number_parse(const char *text, char decimal_mark, double *value, ww_error *err);

/*
 * ww_number_format - a number as text with `decimals` digits after a '.', whatever the locale.
 *                    Never writes "-0.00".
 *
 * Given     decimals  0 to 17
 *           size      bytes in text, at least 1
 * Returned  text, always NUL-terminated, cut where it does not fit; the return value is text
 */
char *ww_number_format(double value, int decimals, char text[], size_t size);

#endif
