/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_NOTES_H
#define WEDGEWORK_NOTES_H

#include <stddef.h>
#include <wedgework/error.h>

/*
 * Notes travel with every result: what was assumed, extrapolated, doubtful or left out, each one
 * sentence in plain words. Order is kept; an identical sentence is kept once.
 */
typedef struct ww_notes {
    char **text;
    size_t n;
} ww_notes;

#define WW_NOTES_INIT                                                                              \
    {                                                                                              \
        NULL, 0                                                                                    \
    }

/*
 * ww_notes_add - append one sentence.
 *
 * Status    WW_OK; WW_EMEMORY. On failure the notes are unchanged.
 */
ww_status ww_notes_add(ww_notes *notes, ww_error *err, const char *format, ...) WW_PRINTF(3, 4);

/* ww_notes_copy - append every note of `from` to `to`. Status WW_OK; WW_EMEMORY. */
ww_status ww_notes_copy(const ww_notes *from, ww_notes *to, ww_error *err);

/*
 * ww_notes_copy_of - the same, each after what it is of: "of the exposures: ..."; NULL for nothing.
 *                    Status as above.
 */
ww_status ww_notes_copy_of(const ww_notes *from, const char *of, ww_notes *to, ww_error *err);

void ww_notes_release(ww_notes *notes);

#endif
