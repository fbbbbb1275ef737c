/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_READINGS_H
#define WEDGEWORK_CORE_READINGS_H

#include <stdbool.h>
#include <wedgework/readings.h>

/* A copy of a text to own. Status WW_OK; WW_EMEMORY. */
ww_status ww__readings_text_copy(const char *text, char **copy, ww_error *err);

/* Deep copy of a row; nothing is left behind on failure. */
ww_status ww__readings_row_copy(const ww_row *from, ww_row *to, ww_error *err);
void ww__readings_row_release(ww_row *row);

/*
 * Room for one more row, doubling *capacity as needed. The row at [n] is the caller's to fill, and
 * its to count. Status WW_OK; WW_EMEMORY.
 */
ww_status ww__readings_reserve(ww_readings *readings, size_t *capacity, ww_error *err);

/* Everything but the rows: name, metadata, columns, notes. */
ww_status ww__readings_copy_head(const ww_readings *from, ww_readings *to, ww_error *err);

/* Whether a column holds what was sent to an output, or what is to be added, rather than what was
 * read. */
bool ww__readings_is_control(ww_column column);

/* Whether a row of a split table says that it got no seconds through either filter. */
bool ww__readings_is_dark(const ww_row *row);

/* "base", in any mix of case. */
bool ww__readings_is_base_word(const char *text);

/* "glass", in any mix of case. */
bool ww__readings_is_glass_word(const char *text);

/* Whether a row of a safelight strip is the piece that was never under it: "covered", in any mix of
 * case, is its step or tone. Its time may be left out. */
bool ww__readings_is_covered(const ww_row *row);

#endif
