/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_CHANNEL_NOTES_H
#define WW_CORE_CHANNEL_NOTES_H

#include <wedgework/notes.h>

/*
 * ww__channel_notes_merge - one sentence for channels of which the same is said.
 *
 *   "... (red) ..." and "... (green) ..." become "... (red, green) ..."; the first keeps its place.
 *
 * Status    WW_OK; WW_EMEMORY: the notes are as they were
 */
ww_status ww__channel_notes_merge(ww_notes *notes, ww_error *err);

#endif
