/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_NOTES_H
#define WW_IMAGE_MERGE_NOTES_H

#include "image/merge_growth.h"
#include "image/merge_line.h"
#include "image/merge_stated.h"
#include "image/no_light.h"
#include <wedgework/scan_merge.h>

/* What is said of a merge. */

/* The flaw that noise or the line tells of; WW_SCAN_MERGE_SOUND where they refuse the merge. */
ww_scan_merge_flaw ww__merge_flaw(ww__merge_kind kind, const ww__merge_line *line);

/* What the noise of one channel tells. Status WW_OK; WW_EMEMORY; WW_EMISMATCH both scans have the
 * same noise; WW_EINPUT their codes are no light */
ww_status ww__merge_note_noise(ww_scan_merge *merge, const ww_picture *longer,
                               const ww_picture *shorter, ww_channel channel, ww__merge_kind kind,
                               ww_error *err);

/* Whether the noise of a channel is the scanner file's. Status WW_OK; WW_EMEMORY */
ww_status ww__merge_note_stated(ww_scan_merge *merge, ww_channel channel,
                                const ww__merge_stated *stated, ww__merge_verdict verdict,
                                ww_error *err);

/* Notes of one channel: its ratio is in the merge. Status WW_OK; WW_EMEMORY; WW_EMISMATCH the other
 * scan is the longer one in this channel */
ww_status ww__merge_note_line(ww_scan_merge *merge, ww_channel channel, const ww__merge_line *line,
                              ww_error *err);

/* Where the scans differ, when rows are merged; then the merge does not hold. Status WW_OK;
 * WW_EMEMORY */
ww_status ww__merge_note_differ(ww_scan_merge *merge, ww_error *err);

/* Samples that are no light in one scan or both, when rows are merged. Status WW_OK; WW_EMEMORY */
ww_status ww__merge_note_no_light(ww_scan_merge *merge, const ww_picture *picture,
                                  const ww__no_light *samples, ww_error *err);

/* What the files say of their resolution, if it differs. Status WW_OK; WW_EMEMORY */
ww_status ww__merge_note_resolution(ww_scan_merge *merge, const ww_picture *shorter,
                                    const ww_picture *longer, ww_error *err);

/* Notes of the whole. Status WW_OK; WW_EMEMORY */
ww_status ww__merge_note(ww_scan_merge *merge, const ww_picture *picture, const ww_scanner *scanner,
                         ww_error *err);

#endif
