/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_MERGE_FILE_H
#define WEDGEWORK_SCAN_MERGE_FILE_H

#include <stddef.h>
#include <wedgework/scan_merge.h>

/*
 * ww_scan_merge_file_text - what was found out of two scans and done with them, as the JSON
 *                           document that `scan --merge` gives for --json, UTF-8, ends with a line
 *                           feed. *text is allocated: free() it.
 *
 *   { "wedgework": 1, "kind": "scan merge", "longer": "long.tif", "shorter": "short.tif",
 *     "sample": "16 bit" | "float", "noise_from": "pair" | "scanner file",
 *     "shift": { "places": 9, "x": 0.1, "y": 0 },
 *     "channels": { "red": C, ... }, "notes": ["..."] }
 *
 *   C  { "stops": Q, "ratio": Q, "offset": 0.0001, "darkest": 1.8, "places": 2304,
 *        "read": 0.0006, "shot": 0.003,
 *        "shares": { "longer": 0.8, "blended": 0.02, "shorter": 0.18 }, "noise": [N, ...] }
 *   N  { "below": 2, "shorter": 0.02, "merged": 0.006 }
 *
 * "stops" are log2 of the ratio. "darkest" is the density below the shorter scan's full scale that
 * a hundredth of the places reach, in tenths. The shift is null where it could not be checked.
 * "read" and "shot" are as light, full scale 1; N is in density, so far below the shorter scan's
 * full scale.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite; WW_EMEMORY. On failure *text and *n are
 *           untouched.
 */
ww_status ww_scan_merge_file_text(const ww_scan_merge *merge, char **text, size_t *n,
                                  ww_error *err);

#endif
