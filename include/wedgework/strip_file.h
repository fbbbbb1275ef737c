/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_STRIP_FILE_H
#define WEDGEWORK_STRIP_FILE_H

#include <stddef.h>
#include <wedgework/strip.h>

/*
 * ww_strip_file_text - a strip planned or read as the JSON document that `strip` gives for --json
 *                      and writes for -o, UTF-8, ends with a line feed. *text is allocated: free()
 *                      it.
 *
 *   { "wedgework": 1, "kind": "strip plan", "act": "plan"|"read"|"proof"|"safelight", "holds":
 * true,
 *     "exposures": [8, 10.08, ...], "centre": 16, "step_stops": 0.333, "pieces": [P, ...],
 *     "best": { "time": 14.3, "low": 12.9, "high": 15.8, "open": null|"low"|"high"|"both" },
 *     "place": "inside"|"light"|"dark"|"disorder"|"no reach", "aim": 0.10,
 *     "white": 0.06, "plateau": null|[from, to], "black": null, "grey": null, "insensitive": false,
 *     "changed": null, "least_change": null, "steps": [S, ...], "notes": ["..."] }
 *
 *   P  { "time": 10.08, "set": 10.1, "add": 2.1, "off_stops": 0.003 }
 *   S  { "step": "3", "time": 12, "density": 0.07, "error": 0.01, "n": 1, "marks": ["..."] }
 *
 * "exposures" and "pieces" are the strip asked for or, of a strip that was read, the one to make
 * next: empty where there is none. "best" is null where there is no time. An "open" end is the end
 * of the strip, and the time may lie beyond. A step's density is null where it is beyond the
 * instrument ("over" among the marks).
 * Times are in seconds, densities above paper white where "white" is not null. What has no meaning
 * for the act is null.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY. On failure
 *           *text and *n are untouched.
 */
ww_status ww_strip_file_text(const ww_strip *strip, char **text, size_t *n, ww_error *err);

/*
 * ww_strip_file_write - the same into a file, whole or not at all.
 *
 * Status    as ww_strip_file_text; WW_ESYSTEM the system refused
 */
ww_status ww_strip_file_write(const ww_strip *strip, const char *path, ww_error *err);

#endif
