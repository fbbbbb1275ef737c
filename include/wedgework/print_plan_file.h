/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PRINT_PLAN_FILE_H
#define WEDGEWORK_PRINT_PLAN_FILE_H

#include <stddef.h>
#include <wedgework/print.h>

/*
 * ww_print_plan_file_text - a print plan as the JSON document that `print` gives for --json and
 *                           writes for -o, UTF-8, ends with a line feed. *text is allocated: free()
 *                           it.
 *
 *   { "wedgework": 1, "kind": "print plan", "holds": true, "choice": P, "papers": [P, ...],
 *     "negative_range": Q, "dense_tone": "...", "thin_tone": "...", "miss": M,
 *     "first": [what comes before any advice], "notes": [...] }
 *
 * P is one paper; best comes first, and `choice` is that one again, or null where there is none:
 *
 *   { "paper": "...", "contrast": "2", "nominal": false, "interpolated": false, "split": null,
 *     "time": 14.1, "doubt_stops": 0.17, "holds": true, "why": "...", "paper_range": Q,
 *     "mismatch": 0.03, "work_stops": 0.8, "flash": null, "tones": [T, ...],
 *     "budget": [{"from": "paper fit", "stops": 0.08}, ...] }
 *
 * T is one tone; densities of the print are above paper white, pairs run from thin to dense:
 *
 *   { "tone": "cloud", "base": false, "negative": 1.34, "negative_ends": [1.30, 1.38],
 *     "print": 0.03, "print_ends": [0.04, 0.02], "aim": 0.10, "separation": 0.05,
 *     "separation_straight": 0.01, "verdict": "burn", "burn": {"stops": 0.8, "seconds": 10.5},
 *     "refused_stops": null,
 *     "hand_stops": null, "hand_seconds": null, "print_after": 0.10, "flash": null,
 *     "soft_burn": null, "beyond": false }
 *
 * where a paper's "split" is {"soft": s, "hard": s}, its "flash" {"time": s, "log_h": Q,
 * "white": D, "lift": log H}, a tone's "flash" {"print": D, "separation": D, "burn_stops": stops}
 * and its "soft_burn" {"seconds": s, "separation": D}; see wedgework/print.h.
 *
 * M is how the last print came out, or null where none is known: see wedgework/print_result.h
 *
 *   { "cause": "exposure", "supported": ["exposure"], "why": "...", "paper": "...",
 *     "contrast": "2", "time": 14.1, "telling": null, "learned": L,
 *     "hypotheses": [{"cause": "exposure", "supported": true, "log_h": 0.09, "log_h_sd": 0.006,
 *       "range": null, "range_sd": null, "lift": null, "chi_squared": 3.1, "freedom": 6,
 *       "chance": 0.8}, ...],
 *     "tones": [{"tone": "cloud", "part": "whole", "foretold": 0.10, "beyond": false, "came": 0.14,
 *       "error": 0.02, "left": 0.01}, ...], "notes": [...] }
 *
 * its "cause" null where not one cause alone is supported, those that could not be tried left out,
 * L an entry as the recipe has it under "offsets", or null where nothing was learned.
 *
 * Time is in seconds, ranges and mismatch in log H; negative stops and seconds are dodging. What
 * the plan does not have is null: so is the verdict on a tone that is the film's base. Numbers
 * carry full precision.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY. On failure
 *           *text and *n are untouched.
 */
ww_status ww_print_plan_file_text(const ww_print_plan *plan, char **text, size_t *n, ww_error *err);

/*
 * ww_print_plan_file_write - the same into a file, whole or not at all.
 *
 * Status    as ww_print_plan_file_text; WW_ESYSTEM the system refused
 */
ww_status ww_print_plan_file_write(const ww_print_plan *plan, const char *path, ww_error *err);

#endif
