/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MEASURE_FILE_H
#define WEDGEWORK_MEASURE_FILE_H

#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/measure.h>

/*
 * What was read from a scan as JSON, UTF-8, ends with a line feed; *text is allocated: free() it.
 * `_line` is the same document in one line, for several scans below each other. Numbers carry full
 * precision; what is not there is null. Names that are not UTF-8 get U+FFFD for what is wrong.
 */

/*
 * ww_measure_file_text - the steps or spots of a scan.
 *
 *   { "wedgework": 1, "kind": "readings", "file": "...", "page": 1, "width": 3200, "height": 2400,
 *     "bits": 16, "white": 65535, "px_per_mm": 94.5, "profile": "...", "calibrated": true,
 *     "channels": ["red", "green", "blue"], "rows": [R, ...],
 *     "wedge": { "steps": 21, "angle": 1.7, "found": true, "upright": false, "reversed": false },
 *     "notes": [...] }
 *
 * R is a step or a spot, a number a channel in each inner object; pixels from the top left corner:
 *
 *   { "step": "1", "tone": null, "x": 812.4, "y": 300.2, "width": 61.0, "height": 118.5,
 *     "corners": [[x, y], ...], "centre": [x, y], "radius": null,
 *     "code": {"red": 50231.7}, "sd": {"red": 84.2}, "density": {"red": 0.047},
 *     "standard_error": {"red": 0.004}, "less_than": {"red": null}, "over": ["blue"], "mixed": [],
 *     "n": 6871, "rejected": 0.0021, "low": {..}, "high": {..}, "drift": {..}, "clipped": {..} }
 *
 * `sd` is that of one pixel, in codes. `density` is null without a scanner file, and where there is
 * none to be told: too light, clipped or not, and `less_than` gives the limit; denser than the
 * scanner's wedge covered, and the channel stands in `over`; of more than one density, in `mixed`.
 * A spot has its name in `step` and in `tone`, a centre and a radius; `wedge` then says that none
 * was found. The angle is in degrees, clockwise.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite; WW_EMEMORY. On failure *text and *n are
 *           untouched.
 */
ww_status ww_measure_file_text(const ww_measured *measured, char **text, size_t *n, ww_error *err);
ww_status ww_measure_file_line(const ww_measured *measured, char **text, size_t *n, ww_error *err);

/*
 * ww_measure_file_whole_text - the percentiles of a whole scan.
 *
 *   { "wedgework": 1, "kind": "histogram", "file": "...", "bits": 16, "white": 65535,
 *     "pixels": 24000000, "unit": "density",
 *     "channels": { "red": { "min": .., "p0.1": .., "p1": .., "median": .., "p99": .., "p99.9": ..,
 *                            "max": .. }, ... },
 *     "codes": { "red": { the same keys as code values, "mean": .., "clipped_low": ..,
 *                         "clipped_high": .. }, ... },
 *     "bins": { "from": 0, "width": 0.02, "red": { "lighter": 0, "darker": 12,
 *               "counts": [0, 0, 530, ...] }, ... }, "notes": [...] }
 *
 * `channels` is in the unit that `unit` names: densities where the scan was calibrated, else codes.
 * Either way the numbers rise from `min` to `max`: the least density is that of the greatest code,
 * and 99.9 % of the pixels have no more than density p99.9. A density beyond the scanner's wedge is
 * null. Clipped are shares of the pixels at code 0 and at the greatest code. `bins` counts pixels
 * by density, or by log10 of the greatest code over the code where the scan was not calibrated: the
 * first of counts from `from` on, each `width` wide, up to the last that holds anything; `lighter`
 * and `darker` than those are the rest.
 *
 * Status    as above
 */
ww_status ww_measure_file_whole_text(const ww_whole *whole, char **text, size_t *n, ww_error *err);
ww_status ww_measure_file_whole_line(const ww_whole *whole, char **text, size_t *n, ww_error *err);

#endif
