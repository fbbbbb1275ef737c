/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_MERGE_TEXT_H
#define WEDGEWORK_SCAN_MERGE_TEXT_H

#include <wedgework/error.h>
#include <wedgework/scan_merge.h>
#include <wedgework/text_style.h>

/*
 * ww_scan_merge_text - what became of two scans, for people: noise before and after as a sentence,
 *                      one line of why, exposures and where pixels come from, noise at some
 *                      densities, notes.
 *
 * Given     merge, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_scan_merge_text(const ww_scan_merge *merge, const ww_text_style *style, char **text,
                             ww_error *err);

#endif
