/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_DEVELOP_FILE_H
#define WEDGEWORK_DEVELOP_FILE_H

#include <stddef.h>
#include <wedgework/develop.h>

/*
 * ww_develop_file_text - a development plan as the JSON document that `develop` gives for --json
 *                        and writes for -o, UTF-8, ends with a line feed. *text is allocated:
 *                        free() it.
 *
 *   { "wedgework": 1, "kind": "development plan", "holds": true,
 *     "aim": { "measure": "contrast_index", "value": 0.56, "density_range": null,
 *       "subject_range": null, "film_range": null, "flare": 0 },
 *     "time": Q, "temperature": 20, "place": "inside"|"shorter"|"longer"|"never"|"level",
 *     "open": null|"low"|"high"|"both", "next": null,
 *     "gamma_infinity": Q, "rate": Q, "start": Q,
 *     "laws": { "contrast_index": L, "average_gradient": L, "gamma": L, "range_gradient": null },
 *     "rows": [R, ...], "ranges": [N, ...],
 *     "budget": [{ "from": "curve fits", "minutes": 0.21 }, ...],
 *     "by_temperature": T,
 *     "base_fog": Q, "speed_point": Q, "speed_stops": Q, "exposure_index": Q,
 *     "index": { "metered": 100, "below_stops": 3.32, "time": 7.5 },
 *     "foretold": [[log H, density], ...], "notes": ["..."] }
 *
 *   Q  { "value", "low", "high", "how" }, or null
 *   L  { "form": "between"|"at once"|"free", "gamma_infinity": Q, "rate": Q, "start": Q,
 *        "chi_squared": 1.2, "freedom": 1, "scatter": 0.01, "scattered": false }, or null
 *   R  { "file": "n8.json", "time": 8, "temperature": 20, "contrast_index": 0.56,
 *        "average_gradient": 0.55, "gamma": 0.61, "range_gradient": null, "speed": 118,
 *        "speed_standard": "ISO 6", "speed_point": -2.17, "speed_stops": -0.2, "base_fog": 0.21,
 *        "exposure_index": null, "off": 0.004, "falls": false, "in_law": true,
 *        "intervals": { "contrast_index": [low, high], ... } }
 *   N  { "n": 1, "subject_range": 1.8, "film_range": 1.8, "gradient": 0.667, "time": Q,
 *        "place": "inside" }; place is null where the curves do not reach over that range
 *   T  { "reference": 20, "pairs": 2, "factor_10": Q,
 *        "times": [{ "temperature": 20, "time": Q }, ...] }, or null
 *
 * Times are in minutes, rates a minute, temperatures in degrees Celsius. "gamma_infinity", "rate"
 * and "start" are gamma's. What has no meaning, or is not told by the curves, is null; the notes
 * say why.
 *
 * Status    WW_OK; WW_EDOMAIN a number is not finite or a text is not UTF-8; WW_EMEMORY. On failure
 *           *text and *n are untouched.
 */
ww_status ww_develop_file_text(const ww_development *development, char **text, size_t *n,
                               ww_error *err);

/*
 * ww_develop_file_write - the same into a file, whole or not at all.
 *
 * Status    as ww_develop_file_text; WW_ESYSTEM the system refused
 */
ww_status ww_develop_file_write(const ww_development *development, const char *path, ww_error *err);

#endif
