/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_FILTER_PLAN_FILE_H
#define WEDGEWORK_FILTER_PLAN_FILE_H

#include <stddef.h>
#include <wedgework/balance.h>

/*
 * ww_filter_plan_file_text - a balance as the JSON document that `balance` gives for --json and
 *                            writes for -o, UTF-8, ends with a line feed. *text is allocated:
 *                            free() it.
 *
 *   { "wedgework": 1, "kind": "filter plan", "from": "print", "holds": true,
 *     "pack": P, "time": 12.6, "settable": {P's keys, "time": 12.6},
 *     "change": {P's keys, "stops": 0.2}, "doubt": {"cc": 2.1, "stops": 0.05},
 *     "predicted": C, "within": true,
 *     "crossover": {"found": false, "worst_cc": 1.2, "doubt_cc": 2.0, "tone": "light",
 *                   "middle": "card", "channel": "red"},
 *     "tones": [T, ...], "burn": {"tone": "sky", "pack": P, "time": 3.4, "stops": 0.4,
 *                                 "settable": {P's keys, "time": 3.4}},
 *     "budget": [{"from": "readings", "cc": 0.8}, ...],
 *     "response": {"rows": 4, "red": R, "green": R, "blue": R,
 *                  "doubt": {"red": R, "green": R, "blue": R}},
 *     "inputs": {"pack": P, "time": 11, "filter_step": 2.5, "head_scale": 1, "timer_step": 0.1},
 *     "first": [what comes before any advice], "notes": [...] }
 *
 *   P  { "yellow": 60, "magenta": 30.4, "cyan": 0 }
 *   C  { "red": 0.71, "green": 0.70, "blue": 0.72 }
 *   R  { "time": 1, "yellow": 0, "magenta": -0.08, "cyan": -0.93 }   change of log H by log10 time,
 *                            and by 100 CC; 95 % half-widths of these under "doubt"
 *   T  { "tone": "card", "solved": true, "print": C, "aim": C, "predicted": C,
 *        "predicted_doubt": C, "left_cc": C, "within": true }
 *                                    a burnt tone's predicted_doubt and within are null; so are
 *                                    print, left_cc and within of a carried plan
 *
 * Packs are in the unit that they were given in. "predicted" is of the next print as it is set, of
 * the tone solved for, and null, as is "within", where it is not foretold; so are "doubt" of a plan
 * carried from one without, "worst_cc" of a
 * single grey and "burn" where none was asked for or can be given.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY. On failure
 *           *text and *n are untouched.
 */
ww_status ww_filter_plan_file_text(const ww_balance *balance, char **text, size_t *n,
                                   ww_error *err);

/*
 * ww_filter_plan_file_write - the same into a file, whole or not at all.
 *
 * Status    as above; WW_ESYSTEM the system refused
 */
ww_status ww_filter_plan_file_write(const ww_balance *balance, const char *path, ww_error *err);

/* What a stored plan says to set, and what it changed. */
typedef struct ww_filter_plan {
    ww_balance_setting exact;
    ww_pack change;
    double stops;
    ww_balance_doubt doubt;
    ww_balance_grey grey; /* the first that the pack was solved for and that is foretold */
    double head_scale, filter_step, timer_step_s;
} ww_filter_plan;

/*
 * ww_filter_plan_file_read - a stored plan, so that it can be carried to another paper or size.
 *
 * Status    WW_OK; WW_EINPUT missing, not JSON, of another kind or a later version, a key that is
 *           missing, of another type or out of range: err names file, key and remedy; WW_ESYSTEM;
 *           WW_EMEMORY
 */
ww_status ww_filter_plan_file_read(const char *path, ww_filter_plan *plan, ww_error *err);

/* ww_filter_plan_file_parse - the same from memory; `name` is what messages call it. */
ww_status ww_filter_plan_file_parse(const char *name, const char bytes[], size_t n,
                                    ww_filter_plan *plan, ww_error *err);

#endif
