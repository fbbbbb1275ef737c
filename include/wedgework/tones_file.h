/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TONES_FILE_H
#define WEDGEWORK_TONES_FILE_H

#include <stddef.h>
#include <wedgework/tones.h>

/*
 * ww_tones_file_text - tones as JSON.
 *
 *   { "wedgework": 1, "kind": "tones", "subject_range": 2.2, "detail": 0.2,
 *     "flare": 0, "enlarger_flare": 0, "callier": 1, "viewing_flare": 0, "film_stops": 0,
 *     "place": { "stops": 0, "density": 0.04 },
 *     "kept_stops": Q, "rows": [R, ...], the first film on the first paper, of colours green
 *     "chains": [{ "film": "...", "film_channel": "green", "paper": "...",
 *       "paper_channel": "visual", "exposed_by": "speed point" | "first step",
 *       "white_log_h": .., "print_log_h": .., "paper_white": .., "kept_stops": Q,
 *       "rows": [R, ...], "grey": R, "detail": [{ "from": 0, "to": -0.12, "fate": "..." }] }],
 *     "wanted": null, "notes": [...] }
 *
 * R is { "scene": log10 of luminance over white, "stops", "film_logh", "negative", "print",
 * "lightness", "gradient", "viewed", "paper_logh", "links": { "camera", "film", "enlarger",
 * "paper", "viewing" }, "fate", "doubt": { "negative", "print", "lightness", "gradient" } }; what
 * lies beyond a measured range is null, and a doubt, the half-width of a 95 % interval, where a
 * curve carries no covariance. Q is { "value", "low", "high", "how" }.
 *
 * Of a wanted print "wanted" is { "paper", "paper_channel", "slope" of a straight one or null,
 * "had", "slope_least", "slope_most", "range", "worst", "worst_scene", "rows": [{ "scene",
 * "viewed", "want", "film_logh", "film", "doubt", "slope", "paper_logh", "light", "given" }] }.
 *
 * ww_tones_file_csv  - the film of a wanted print as readings, which `fit` takes: columns logh and
 *                      visual, from dark to light, only tones that can be had; log H of white is 0
 *                      where no film was given.
 *
 * Returned  *text  to be freed by the caller, n bytes
 * Status    WW_OK; WW_ENODATA (csv) no wanted print was asked for; WW_EDOMAIN a number is not
 *           finite or a text is not UTF-8; WW_EMEMORY
 */
ww_status ww_tones_file_text(const ww_tones *tones, char **text, size_t *n, ww_error *err);
ww_status ww_tones_file_csv(const ww_tones *tones, char **text, size_t *n, ww_error *err);

#endif
