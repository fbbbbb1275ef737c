/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_ORDER_H
#define WW_IMAGE_ORDER_H

#include <stddef.h>

/*
 * Medians and quartiles by selection: an array is put in order only as far as the answer needs, in
 * time proportional to its length, also where it was made to be slow. No value may be NAN.
 */

/* The value that would stand at `place` if the array were in order, from 0; it is moved there, with
 * nothing greater before it and nothing less behind. place < n. */
double ww__order_nth(double value[], size_t n, size_t place);

/* Middle value, of an even number the mean of the two in the middle; moves values. n > 0. */
double ww__order_median(double value[], size_t n);

#endif
