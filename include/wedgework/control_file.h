/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CONTROL_FILE_H
#define WEDGEWORK_CONTROL_FILE_H

#include <stddef.h>
#include <wedgework/control.h>

/*
 * ww_control_file_text - where a process stands, as the JSON document that `control` prints for
 *                        --json, UTF-8, ends with a line feed.
 *
 *   { "wedgework": 1, "kind": "control", "state": "in control" | "warning" | "out of control",
 *     "judged": true,                          false: no limits yet, and nothing is known
 *     "process": "...", "machine": "...", "strip": 14, "confirmed": false,
 *     "rules": [{ "rule": "beyond the limit", "measure": "LD", "channel": "visual" }],
 *     "limits": { "LD": { "visual": { "aim": .., "centre": .., "lower": .., "upper": ..,
 *         "from": "history" | "user" | null, "sigma": .., "strips": 10 } } },
 *     "rows": [{ "strip": 14, "date": "2026-11-30", "process": .., "machine": .., "lot": ..,
 *         "state": .., "judged": true, "deleted": null, "rules": [as above],
 *         "values": { "LD": { "visual": { "value": .., "deviation": .., "slow": .. } } } }],
 *     "series": [{ "process": .., "machine": .., "state": .., "judged": .., "strip": 14 }],
 *     "slow": "none" | "ewma" | "cusum", "causes": [..], "notes": [..] }
 *
 * State, rules and limits are of the series that is worst off: `series` has them all. Limits are
 * densities; centre is the mean of history, or the aim of the user's limits and where there are
 * none. A spread's channel is "colours". Strips that do not count stand in rows where they were
 * asked for, with deleted { "entered", "why" } and no state.
 *
 * Given     control
 * Returned  *text, n bytes; allocated: free()
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY
 */
ww_status ww_control_file_text(const ww_control *control, char **text, size_t *n, ww_error *err);

/*
 * ww_control_limits_read - the user's own limits, as a table of ours.
 *
 *   # agreed for the film line
 *   measure,channel,action,control
 *   D-min,,+0.03,+0.05
 *   LD,,0.06,0.08
 *   HD-LD,green,0.07,0.09
 *   LD spread,,,0.09
 *
 *   Limits are deviations from the aim [D]: with a sign to that side alone, without one to both.
 *   A measure is D-min, LD, HD, D-max, HD-LD, LD spread, HD spread, or a step by its label. The
 *   column channel may be left out, or empty for all; so may action.
 *
 * Given     path   "-" reads standard input; at most 1 MiB. Lines that begin with # and blank ones
 *                  are comments; cells are parted by a comma, a semicolon or a tab, decimal commas
 *                  go with the last two
 *           entered  when, as text
 * Returned  *limits  (release it)
 * Status    WW_OK; WW_EINPUT missing, another header, a number that is none, is 0 or over 2 D, an
 *           action limit beyond the control limit, the same limit twice, none at all: file and line
 *           are in err; WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww_control_limits_read(const char *path, const char *entered, ww_control_limits *limits,
                                 ww_error *err);

/* ww_control_limits_parse - the same from memory; `name` is what messages call it. */
ww_status ww_control_limits_parse(const char *name, const char bytes[], size_t n,
                                  const char *entered, ww_control_limits *limits, ww_error *err);

#endif
