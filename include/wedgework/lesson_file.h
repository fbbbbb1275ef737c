/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_LESSON_FILE_H
#define WEDGEWORK_LESSON_FILE_H

#include <stddef.h>
#include <wedgework/lesson.h>

/*
 * ww_lesson_file_table - the readings that are handed out, as a table (readings_file.h), spoilt
 *                        where the lesson's fault lies in the writing.
 * ww_lesson_file_text  - the same as a JSON document: { "wedgework": 1, "kind": "lesson",
 *                        "material": "film", "exposure_unit": "lux second", "log_h0": .., "rows":
 *                        [{ "step": "1", "wedge": 0.05, "density": "0.24" }], "figures":
 *                        [{ "figure": "gamma", "rule": "..", "formula": "..", "source": ".." }] }
 *                        Densities are texts, as in the table; nothing tells the answers.
 *
 * ww_lesson_file_answers - the answers:
 *
 *   { "wedgework": 1, "kind": "lesson answers", "seed": 7, "student": 1, "material": "film",
 *     "fault": { "name": "swapped-rows", "step": "9", "size": null, "what": "..", "sign": ".." },
 *     "hidden": { "base_fog": .., "gamma": .., "toe": .., "toe_half": .., "shoulder": ..,
 *       "shoulder_half": .., "reading_sd": .. },
 *     "rows": [{ "step": "base", "wedge": null, "log_h": null, "hidden": .., "read": ..,
 *       "given": .. }],
 *     "figures": [{ "figure": "gamma", "unit": "", "rule": "..", "formula": "..", "source": "..",
 *       "hidden": W, "sound": W, "given": W }] }
 *
 *   W is { "value": .., "numbers": { "x1": .. }, "why_not": null }: hidden of the curve itself,
 *   sound of the readings before they were spoilt, given of those handed out. A row that a missed
 *   step took away has null for given.
 *
 * Returned  *text  to be freed by the caller, n bytes
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_lesson_file_table(const ww_lesson *lesson, char **text, size_t *n, ww_error *err);
ww_status ww_lesson_file_text(const ww_lesson *lesson, char **text, size_t *n, ww_error *err);
ww_status ww_lesson_file_answers(const ww_lesson *lesson, char **text, size_t *n, ww_error *err);

#endif
