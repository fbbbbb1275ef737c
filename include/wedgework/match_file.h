/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MATCH_FILE_H
#define WEDGEWORK_MATCH_FILE_H

#include <stddef.h>
#include <wedgework/match.h>

/*
 * A correction as a file. *text is allocated, n bytes: free() it.
 *
 * ww_match_file_text - JSON: { "wedgework": 1, "kind": "correction", "control": "gray",
 *                      "white": "keep" | "match", "holds": true, "channels": { "gray":
 *                      [[in, out], ...] }, "worst": .., "worst_at": { "channel", "in" },
 *                      "doubt": .., "regions": { "light", "middle", "dark" }, "details": {...},
 *                      "notes": [...] }. `in` and `out` are the unit of the control that was read,
 *                      256 of them, rising; differences are densities, print less aim; a region
 *                      that the aim does not have is null.
 * ww_match_file_csv  - a table with the columns in and gray, or in, red, green, blue; the same
 *                      numbers.
 * ww_match_file_cube - a table of one dimension as picture programs read it: LUT_1D_SIZE 256, three
 *                      columns from black to white, whatever the control is called.
 * ww_match_file_icc  - an ICC device link, GRAY or RGB, by little CMS.
 *
 * Source    cube: the layout that its makers publish: keywords, then a row of red, green and blue
 *           for each step; ICC.1:2022
 * Status    WW_OK; WW_EDOMAIN a name that is not UTF-8; WW_EMEMORY. On failure *text and *n are
 *           untouched.
 * Accuracy  cube 1e-6, ICC half a code of 16 bits
 */
ww_status ww_match_file_text(const ww_match *match, char **text, size_t *n, ww_error *err);
ww_status ww_match_file_csv(const ww_match *match, char **text, size_t *n, ww_error *err);
ww_status ww_match_file_cube(const ww_match *match, char **text, size_t *n, ww_error *err);
ww_status ww_match_file_icc(const ww_match *match, char **text, size_t *n, ww_error *err);

#endif
