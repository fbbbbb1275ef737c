/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_NOTES_H
#define WW_IMAGE_MERGE_NOTES_H

#include "image/merge_growth.h"
#include "image/merge_line.h"
#include "image/merge_shift.h"
#include <wedgework/scan_merge.h>

/* What is said of a merge, and why it is refused. */

/* Whether two pictures may be merged at all. Status as ww_scan_merge_measure */
ww_status ww__merge_check(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                          ww_error *err);

/* WW_ENODATA: only n of `seen` places hold light in both. */
ww_status ww__merge_refuse_overlap(const ww_picture *a, const ww_picture *b, ww_channel channel,
                                   size_t n, size_t seen, size_t least, ww_error *err);

/* WW_EMISMATCH: the longer scan is displaced, most at the worst of all places. */
ww_status ww__merge_refuse_shift(const ww_picture *longer,
                                 const ww__merge_place place[WW__MERGE_PLACES],
                                 const ww__merge_place *worst, ww_error *err);

/* WW_EMISMATCH: at more places than lie on each other both hold detail that does not match. */
ww_status ww__merge_refuse_unlike(const ww_picture *longer, const ww_picture *shorter,
                                  size_t unlike, ww_error *err);

/* The flaw that noise or the line tells of; WW_SCAN_MERGE_SOUND where they refuse the merge. */
ww_scan_merge_flaw ww__merge_flaw(ww__merge_kind kind, const ww__merge_line *line);

/* What the noise of one channel tells. Status WW_OK; WW_EMEMORY; WW_EMISMATCH both scans have the
 * same noise; WW_EINPUT their codes are no light */
ww_status ww__merge_note_noise(ww_scan_merge *merge, const ww_picture *longer,
                               const ww_picture *shorter, ww_channel channel, ww__merge_kind kind,
                               ww_error *err);

/* Notes of one channel: its ratio is in the merge. Status WW_OK; WW_EMEMORY; WW_EMISMATCH the other
 * scan is the longer one in this channel */
ww_status ww__merge_note_line(ww_scan_merge *merge, ww_channel channel, const ww__merge_line *line,
                              ww_error *err);

/* Where the scans differ, when rows are merged; then the merge does not hold. Status WW_OK;
 * WW_EMEMORY */
ww_status ww__merge_note_differ(ww_scan_merge *merge, ww_error *err);

/* What the files say of their resolution, if it differs. Status WW_OK; WW_EMEMORY */
ww_status ww__merge_note_resolution(ww_scan_merge *merge, const ww_picture *shorter,
                                    const ww_picture *longer, ww_error *err);

/* Notes of the whole. Status WW_OK; WW_EMEMORY */
ww_status ww__merge_note(ww_scan_merge *merge, const ww_picture *picture, const ww_scanner *scanner,
                         ww_error *err);

#endif
