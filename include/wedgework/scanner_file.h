/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCANNER_FILE_H
#define WEDGEWORK_SCANNER_FILE_H

#include <stddef.h>
#include <wedgework/scanner.h>

/*
 * The scanner file: one JSON document that holds everything of a ww_scanner, in full precision.
 *
 *   { "wedgework": 1, "kind": "scanner", "name": "wedge.tif", "bits": 16, "white": 65535,
 *     "step": 1,
 *     "encoding": { "gamma": 1, "low": 0.996, "high": 1.005, "how": "fitted", "curve": "power" },
 *     "wedge": "certified", "wedge_sd": 0.005, "density": "transmission",
 *     "dark_scan": false, "misfit": false,
 *     "channels": { "red": { "curve": [[code, density], ...], "doubt": [0.009, ...], "k": 0.93,
 *       "surround": 61164.2, "noise": { "read": 0.0002, "shot": 0.0015, "fixed": 0.004 },
 *       "dark": Q, "flare": Q, "dmax": Q,
 *       "clipped": ["1"], "compressed": ["20", "21"], "suspect": [],
 *       "steps": [{ "step": "1", "density": 0.05, "code": 65535, "sd": 0, "fitted": 0.05 }, ...],
 *       "residual_sd": 0.006, "worst_residual": -0.011 }, ... },
 *     "notes": ["..."] }
 *
 * "curve" is "power" or "sRGB". Codes of "curve" rise, densities fall; "doubt" stands beside them,
 * item for item: the 95 % half-width. "surround" is a code, or null. Q is
 * { "value", "low", "high", "how" }, or null. Noise, dark and light are in shares of full scale as
 * light, flare in shares of open light.
 */

/*
 * ww_scanner_file_text - a scanner as that document, UTF-8; ends with a line feed. *text is
 *                        allocated: free() it.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY. On failure
 *           *text and *n are untouched.
 */
ww_status ww_scanner_file_text(const ww_scanner *scanner, char **text, size_t *n, ww_error *err);

/*
 * ww_scanner_file_write - the same into a file, whole or not at all.
 *
 * Status    as ww_scanner_file_text; WW_ESYSTEM the system refused
 */
ww_status ww_scanner_file_write(const ww_scanner *scanner, const char *path, ww_error *err);

/*
 * ww_scanner_file_read - read it back without loss: writing again gives the same bytes. Nothing is
 *                        computed anew.
 *
 * Of a file from another hand may be missing: name, step, "curve" of the encoding (power), wedge,
 * wedge sd, dark scan, surround, quantities, lists of steps and notes. Keys that are not known are
 * left to later versions.
 *
 * Given     path     "-" reads standard input; at most 64 MiB
 * Returned  scanner  (release it)
 * Status    WW_OK;
 *           WW_EINPUT missing, not JSON (err has line and column), of another kind or a later
 *           version; a key that is missing, of another type, twice there or out of range, a white
 *           that does not belong to the bits (2^bits - 1; 1 for floating point), codes that do not
 *           rise or densities that do not fall, a step in a list that is not among the steps: err
 *           names file, key and remedy;
 *           WW_ESYSTEM it cannot be read; WW_EMEMORY
 */
ww_status ww_scanner_file_read(const char *path, ww_scanner *scanner, ww_error *err);

/* ww_scanner_file_parse - the same from memory; `name` is what messages call it. */
ww_status ww_scanner_file_parse(const char *name, const char bytes[], size_t n, ww_scanner *scanner,
                                ww_error *err);

#endif
