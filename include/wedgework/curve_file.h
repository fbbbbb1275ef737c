/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CURVE_FILE_H
#define WEDGEWORK_CURVE_FILE_H

#include <stddef.h>
#include <wedgework/curve.h>

/*
 * The curve file: one JSON document that holds everything of a ww_curve, in full precision.
 *
 *   { "wedgework": 1, "kind": "curve", "name": "...", "material": "film", ..., "channels": {
 *     "green": { "model": "...", "parameters": {...}, "falling": false, "knots": null,
 *       "covariance": [[...]], "domain": [low, high], "points": [[log H, density, sd], ...],
 *       "steps": ["1", ...], "repeats": [1, ...], "states": ["value" | "over" | "missing", ...],
 *       "cut": [false, ...], "moved": [0, ...], "residual_sd": 0.007, "residual_rms": 0.006,
 *       "suspect": [{ "step": "7", "residual": 0.14, "cause": "slip", "point": 6 }],
 *       "base_fog": Q, ..., "toe": Q, "shoulder": Q,
 *       "construction": { "straight_run": [from, to], "straight_run_density": 0.4,
 *         "contrast_index_centre": -2.4, "contrast_index_arcs": [from, to],
 *         "exposure_range": [from, to], "iso_range": [from, to] } }, ... },
 *     "speed": { "standard": "ISO 6", "exact": 118.3, "low": 112, "high": 125, "how": "fitted",
 *       "arithmetic": 125, "degrees": 22, "delta_x": 121,
 *       "condition": { "density_difference": 0.78, "met": true } },
 *     "crossover": { "found": false, "worst_cc": Q, "channel": "blue", "at": -1.1,
 *       "between": [from, to], "middle": -1.2 },
 *     "notes": ["..."] }
 *
 * Q is { "value", "low", "high", "how" }, or null; average_gradient has its ends in "between" too.
 * The arrays from "steps" to "moved" stand beside "points", item for item; "moved" is log H, and
 * there only where steps were moved. Metadata have the keys of readings with '_' for each space
 * ("log_h0", "relative_to"); name, material, process, density, status, exposure_unit,
 * exposure_time, development_time and contrast are always there, null where nothing is said, the
 * others where they are said. A unit that nobody stated is "relative".
 *
 * A channel that was not fitted has null for model, parameters and covariance. End-points are null
 * where their figure is; the reasons of absent figures are in the notes and nowhere else.
 */

/*
 * ww_curve_file_text - a curve as that document, UTF-8; ends with a line feed. *text is allocated:
 *                      free() it.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY. On failure
 *           *text and *n are untouched.
 */
ww_status ww_curve_file_text(const ww_curve *curve, char **text, size_t *n, ww_error *err);

/*
 * ww_curve_file_write - the same into a file, whole or not at all.
 *
 * Status    as ww_curve_file_text; WW_ESYSTEM the system refused
 */
ww_status ww_curve_file_write(const ww_curve *curve, const char *path, ww_error *err);

/*
 * ww_curve_file_read - read it back without loss: writing again gives the same bytes. Nothing is
 *                      computed anew.
 *
 * Of a file from another hand may be missing: metadata, quantities, speed, crossover and notes
 * (taken as absent), "falling" (rising), "residual_rms" (residual_sd, which is never below it), and
 * the arrays beside "points" (steps are then called "1", "2", ..., each one reading of a value,
 * none cut) and the "point" of a suspect (the first step of that label). Keys that are not known
 * are left to later versions.
 *
 * Given     path   "-" reads standard input; at most 64 MiB
 * Returned  curve  (release it)
 * Status    WW_OK;
 *           WW_EINPUT missing, not JSON (err has line and column), of another kind or a later
 *           version; a key that is missing, of another type, twice there or out of range (density
 *           -0.1 to 6, log H -20 to 20), a domain that does not rise, a covariance that is not
 *           square, a model that is not known or whose parameters give no rising curve: err names
 *           file, key and remedy;
 *           WW_ESYSTEM it cannot be read; WW_EMEMORY
 */
ww_status ww_curve_file_read(const char *path, ww_curve *curve, ww_error *err);

/* ww_curve_file_parse - the same from memory; `name` is what messages call it. */
ww_status ww_curve_file_parse(const char *name, const char bytes[], size_t n, ww_curve *curve,
                              ww_error *err);

#endif
