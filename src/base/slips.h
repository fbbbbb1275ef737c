/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_BASE_SLIPS_H
#define WEDGEWORK_BASE_SLIPS_H

#include <stddef.h>

enum { WW__SLIPS_LONGEST = 40 /* letters; what is looked for is shorter */ };

/*
 * ww__slips - number of slips of the pen from one word to another: a letter added, left out,
 *             changed, or two neighbours swapped. Capitals count as small letters, in ASCII,
 *             whatever the locale.
 *
 * Source    optimal string alignment distance (definition)
 * Given     a, b  any text
 * Returned  the least number; SIZE_MAX where a word is longer than WW__SLIPS_LONGEST
 */
size_t ww__slips(const char *a, const char *b);

#endif
