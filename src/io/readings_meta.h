/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_READINGS_META_H
#define WEDGEWORK_IO_READINGS_META_H

#include "base/text.h"
#include <stdbool.h>
#include <wedgework/readings.h>

enum { WW__META_MOST = 32, WW__META_NOTES_MOST = 10 };

/* Gathers metadata from comment lines. */
typedef struct ww__meta_reader {
    const char *file;
    ww_meta *meta;
    ww_notes *notes;
    bool decimal_comma; /* "-1,5" is a number here */
    bool foreign;       /* comments may be another's: what does not fit is noted, not refused */
    size_t noted;       /* notes made so far; a page of comments makes a few at most */
    size_t line[WW__META_MOST]; /* where each key stood first, 0 for nowhere */
} ww__meta_reader;

/*
 * One comment line without its '#'. `key: value` with a known key is taken, contradictions are
 * refused; a key that looks like a slip for a known one is noted; anything else is a comment.
 * *taken, unless NULL, says whether it was metadata.
 */
ww_status ww__readings_meta_line(ww__meta_reader *reader, const char *comment, size_t n,
                                 size_t line, bool *taken, ww_error *err);

/* The lines `# key: value` that read back as the same metadata. */
void ww__readings_meta_write(ww__text *text, const ww_meta *meta);

/* WW_EDOMAIN where a text of the metadata cannot stand in one line. */
ww_status ww__readings_meta_check(const ww_meta *meta, const char *file, ww_error *err);

#endif
