/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_COMPARE_FILE_H
#define WEDGEWORK_COMPARE_FILE_H

#include <stddef.h>
#include <wedgework/compare.h>

/*
 * ww_compare_file_text - a comparison as a JSON document.
 *
 *   { "wedgework": 1, "kind": "comparison", "holds": true,
 *     "prints": [{ "name": "...", "curve": false, "screen": false, "status": "A", "channel":
 *       "visual", "control": "value", "white": 0.05, "black": 2.1, "range": 2.05, "gradient": 2.6,
 *       "doubt": { "white": .., "black": .., "range": .., "gradient": .. },
 *       "drift": { "red-green": { "value": .., "doubt": .., "tone": "5" }, "blue-green": null },
 *       "paper_white": { "L": .., "a": .., "b": .. }, "luminance": [black, white],
 *       "temperature": .., "seen": [{ "veil": 0.005, "white": .., "black": .., "range": .. }] }],
 *     "pairs": [{ "a": "...", "b": "...", "channel": "visual", "above_white": false,
 *       "worst": -0.21, "worst_at": W, "in_reach": W,
 *       "regions": { "light": .., "middle": .., "dark": .. }, the worst of each, with its sign
 *       "means": the same of means, "white": Q, "black": Q, "range": Q, "gradient": Q,
 *       "drift": as above, "de2000": { "mean": .., "max": .., "tone": "5", "doubt": .. },
 *       "white_ab": [a*, b*], "seen_black": [of each veil],
 *       "never": ["white", "black", "drift", "hue"], "black_from": ..,
 *       "within": true, "limits": [{ "limit": "white", "most": .., "value": .., "doubt": ..,
 *         "within": true, "doubtful": false }], "offset": { "light": .., ... },
 *       "tones": [{ "tone": "5", "region": "light", "between": false, "reached": true,
 *         "difference": { "visual": .. }, "doubt": { "visual": .. }, "de2000": ..,
 *         "lab": [L*, a*, b*] }] }],
 *     "notes": [] }
 *
 * W is { "value", "doubt", "channel", "tone" }. A doubt is the half-width of a 95 % interval. What
 * is not known is null; so are "within" and "offset" where no limits were given or nothing is off
 * beyond doubt.
 *
 * Returned  *text  to be freed by the caller, n bytes
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY
 */
ww_status ww_compare_file_text(const ww_comparison *comparison, char **text, size_t *n,
                               ww_error *err);

/*
 * ww_compare_limits_read - what was agreed, as a table of our own.
 *
 *   # agreed for the edition
 *   limit,most
 *   white,0.02
 *
 * Limits are white, black, light, middle, dark, drift [D], de2000_mean, de2000_max and neutral_ab
 * [CIELAB], each once, above 0 and up to 100. Lines that begin with # and blank ones are comments;
 * cells are parted by a comma, a semicolon or a tab, decimal commas go with the last two.
 *
 * Given     path   "-" reads standard input; at most 1 MiB
 * Returned  *limits
 * Status    WW_OK; WW_EINPUT missing, another header, a limit that is not known or given twice, a
 *           number that is none or beyond its range, no limit at all: file and line are in err;
 *           WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww_compare_limits_read(const char *path, ww_compare_limits *limits, ww_error *err);

/* ww_compare_limits_parse - the same from memory; `name` is what messages call it. */
ww_status ww_compare_limits_parse(const char *name, const char bytes[], size_t n,
                                  ww_compare_limits *limits, ww_error *err);

#endif
