/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_PLAN_FILE_H
#define WEDGEWORK_SCAN_PLAN_FILE_H

#include <stddef.h>
#include <wedgework/scan.h>

/*
 * ww_scan_plan_file_text - a scan plan as the JSON document that `scan` gives for --json and writes
 *                          for -o, UTF-8, ends with a line feed. *text is allocated: free() it.
 *
 *   { "wedgework": 1, "kind": "scan plan", "holds": true, "way": "second scan", "passes": 2,
 *     "first_passes": 1, "second_passes": 1, "separate": 0.01, "least": null, "stops": 0.7,
 *     "second_pass_stops": 1.67, "bits": 16, "bits_held": 16, "weakest": "blue",
 *     "channels": { "red": C, ... }, "notes": ["..."] }
 *
 *   C  { "stops": 0.7, "low": 0.6, "high": 0.8, "budget": { "readings": .., "calibration": ..,
 *        "dark": .. }, "light": 1, "read_as": "red",
 *        "base": "base", "base_is_film": true, "base_density": 0.31, "base_code": 62258,
 *        "highlight": "cloud", "highlight_density": 1.42, "highlight_detail": 0.08,
 *        "highlight_code": 4830, "highlight_snr": 61, "snr_before": 44, "snr_together": 61,
 *        "separable": 0.012, "n": 1, "told": { "n": 9, "density": 0.0066 }, "seen": true,
 *        "sees_to": Q, "contrast": 0.97, "code_steps": { "8": 0.03, ... }, "code_step": 0.0001,
 *        "second_pass_stops": 0, "switch_density": null, "second_told": null, "second_gain": null,
 *        "average": 1, "tones": [T, ...] }
 *   T  { "tone": "cloud", "base": false, "kept": true, "density": 1.42, "thin": 1.34, "code": 4830,
 *        "snr": 61, "noise": 0.007 }
 *
 * "least" is the smallest difference that 16 scans tell, where what was asked for does not hold.
 * "stops" of the plan is one exposure for all channels. "light" is a ratio, "low" and "high" are
 * the 95 % interval, "budget" its half-widths in stops. "separable" is for one pixel, "told" over n
 * with whole codes counted in. "sees_to" is null where nothing ends what is seen, and extrapolated
 * where it lies beyond the wedge; "average" is null where 16 scans do not do. What is not known of
 * a tone beyond the instrument is null.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY. On failure
 *           *text and *n are untouched.
 */
ww_status ww_scan_plan_file_text(const ww_scan_plan *plan, char **text, size_t *n, ww_error *err);

#endif
