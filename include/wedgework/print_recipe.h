/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PRINT_RECIPE_H
#define WEDGEWORK_PRINT_RECIPE_H

#include <stddef.h>
#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/print.h>
#include <wedgework/readings.h>

/*
 * A recipe: all that a print plan was made from, so that it can be made again, for another size,
 * aperture, paper or dry-down.
 */
typedef struct ww_print_recipe {
    ww_print_request request; /* points into the rest */
    ww_readings *table;       /* WW_PRINT_RECIPE_TABLES of them, owned; NULL where it is empty */
    ww_curve *curve;          /* owned, n_curves */
    size_t n_curves;
    const ww_curve **paper;
    ww_print_place *place;
    ww_print_move *move;
    ww_print_offset *offset; /* their texts are among the names */
    char **name;             /* of tones and papers, owned */
    size_t n_names;
} ww_print_recipe;

enum {
    WW_PRINT_RECIPE_NEGATIVE,
    WW_PRINT_RECIPE_FLASH,
    WW_PRINT_RECIPE_SPLIT,
    WW_PRINT_RECIPE_TABLES
};

#define WW_PRINT_RECIPE_INIT                                                                       \
    { .request = WW_PRINT_REQUEST_INIT }

void ww_print_recipe_release(ww_print_recipe *recipe);

/*
 * ww_print_recipe_text - the plan's document (wedgework/print_plan_file.h) with all that it was
 *                        made from under one more key, "inputs". *text is allocated: free() it.
 *
 *   { "negative": ["# material: negative", "tone,visual", "cloud,1.34", ...],
 *     "papers": "nominal" or [curve, ...], "flash": null, "split": null,
 *     "places": [{"tone": "cloud", "aim": 0.10}], "tests": [{"time": 12, "tone": "cloud",
 *     "density": 0.20}], "moves": [{"tone": "cloud", "stops": 0.5}],
 *     "callier": 1, "enlarger_flare": 0, "dry_down": 0, "from_scale": null, "scale": null,
 *     "from_aperture": null, "aperture": null, "reciprocity": null, "timer_step": 0.1,
 *     "repeatability": null, "offsets": [{"paper": "...", "contrast": "2", "lot": "", "scale": 3,
 *     "tested": false, "log_h": 0.09, "range": 0, "sd": 0.006, "prints": 1, "tone": "cloud",
 *     "negative": 1.34, "density": 0.12, "test_time": null, "test_density": null}],
 *     "lift": null }
 *
 * Tables of readings stand as the lines of their CSV, curves as in their own files. "moves" is
 * where a hand writes what it burned or dodged besides the plan: stops relative to the base time,
 * several on one tone add in seconds. Everything else may be edited too.
 *
 * Status    as ww_print_plan_file_text and ww_readings_file_text
 */
ww_status ww_print_recipe_text(const ww_print_plan *plan, const ww_print_request *request,
                               char **text, size_t *n, ww_error *err);

/*
 * ww_print_recipe_read - the inputs of a recipe, without loss: what they are written as again is
 *                        the same. The plan beside them is not read: it follows from them.
 *
 * What a hand has left out is as if it had not been given; what is not known is refused, since it
 * is a slip.
 *
 * Given     path    "-" reads standard input; at most 64 MiB
 * Returned  recipe  (release it)
 * Status    WW_OK;
 *           WW_EINPUT missing, not JSON (err has line and column), of another kind or a later
 *           version, or a plan without inputs; a key that is missing, not known, of another type,
 *           twice there or out of range: err names file, key and remedy; readings and curves as
 *           their own files are;
 *           WW_ESYSTEM it cannot be read; WW_EMEMORY
 */
ww_status ww_print_recipe_read(const char *path, ww_print_recipe *recipe, ww_error *err);

/* ww_print_recipe_parse - the same from memory; `name` is what messages call it. */
ww_status ww_print_recipe_parse(const char *name, const char bytes[], size_t n,
                                ww_print_recipe *recipe, ww_error *err);

#endif
