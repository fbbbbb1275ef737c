/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_SUGGEST_H
#define WEDGEWORK_CLI_SUGGEST_H

#include <stddef.h>

/*
 * ww__suggest - which of the names somebody most likely meant by a word that is none of them.
 *
 *   A single name that begins with the word (three letters or more of it) is meant; else the one
 *   with the fewest slips, if these are at most a third of the word's letters: a letter added, left
 *   out, changed, or two neighbours swapped. Capitals count as small letters.
 *
 * Source    optimal string alignment distance (definition)
 * Given     word, names[n]  any text
 * Returned  the name, the first of equals; NULL where none is near
 */
const char *ww__suggest(const char *word, const char *const names[], size_t n);

#endif
