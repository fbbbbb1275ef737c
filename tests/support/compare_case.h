/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_COMPARE_CASE_H
#define WEDGEWORK_TESTS_COMPARE_CASE_H

#include "core/readings_made.h"
#include <stdio.h>
#include <wedgework/compare.h>

/* Prints for tests of comparisons. All names and numbers are invented. */

/* A scale of greys sent from 1 (white) to 0 in equal steps, with these densities in one column;
 * the row base repeats the first. Steps are called 1, 2, ... */
static inline ww_readings compare_case_scale(const char *name, ww_column column,
                                             const double density[], size_t n) {
    ww_readings made = WW_READINGS_INIT;
    made.meta.name = made_text(name);
    made.meta.material = WW_MATERIAL_PRINT;
    made.meta.density = WW_DENSITY_REFLECTION;
    made_value(&made, made_row(&made, "base", ""), column, density[0]);
    for (size_t i = 0; i < n; i++) {
        char step[24];
        snprintf(step, sizeof step, "%zu", i + 1);
        made_value(&made, made_row(&made, step, ""), column, density[i]);
        made_value(&made, &made.row[made.n - 1], WW_COLUMN_VALUE,
                   1.0 - (double)i / (double)(n - 1));
    }
    return made;
}

/* More columns of the row of a step (0: base). */
static inline void compare_case_lab(ww_readings *print, size_t step, double l, double a, double b) {
    made_value(print, &print->row[step], WW_COLUMN_LAB_L, l);
    made_value(print, &print->row[step], WW_COLUMN_LAB_A, a);
    made_value(print, &print->row[step], WW_COLUMN_LAB_B, b);
}

/* Glossy silver and warm textured rag: six greys each, by visual density and CIELAB. */
static const double compare_case_gloss[] = {0.05, 0.25, 0.58, 1.05, 1.65, 2.15};
static const double compare_case_rag[] = {0.10, 0.30, 0.64, 1.00, 1.40, 1.60};

/* Its greys have the hue of its white, a and b, dimmed as they are. */
static inline ww_readings compare_case_print(const char *name, const double density[], double a,
                                             double b) {
    ww_readings made = compare_case_scale(name, WW_COLUMN_VISUAL, density, 6);
    for (size_t i = 0; i < made.n; i++) {
        const double l = ww_viewing_lightness(made.row[i].cell[WW_COLUMN_VISUAL].value);
        const double dimmed = (l + 16.0) / (ww_viewing_lightness(density[0]) + 16.0);
        compare_case_lab(&made, i, l, dimmed * a, dimmed * b);
    }
    return made;
}

/* The second against the first; the test fails where they cannot be compared. */
static inline void compare_case_two(const ww_readings *a, const ww_readings *b,
                                    const ww_compare_limits *limits, ww_comparison *comparison) {
    const ww_compare_input input[] = {{.readings = a, .file = "a.csv"},
                                      {.readings = b, .file = "folder/b.csv"}};
    ww_error err = WW_ERROR_INIT;
    test_status("compare", ww_compare_make(input, 2, limits, comparison, &err), WW_OK, &err);
}

/* Why two cannot be compared; nothing is made. */
static inline void compare_case_refuses(const char *row, const ww_readings *a, const ww_readings *b,
                                        ww_status status, const char *words) {
    const ww_compare_input input[] = {{.readings = a, .file = "a.csv"},
                                      {.readings = b, .file = "b.csv"}};
    ww_comparison comparison = WW_COMPARISON_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_compare_make(input, 2, NULL, &comparison, &err), status, &err);
    test_holds(row, err.msg, words);
    test_true(row, comparison.print == NULL && comparison.n_pairs == 0);
}

/* Gloss and rag, with and without limits that the rag breaks but for its light tones. */
static inline void compare_case_usual(bool limited, ww_comparison *comparison) {
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings rag = compare_case_print("Rag", compare_case_rag, 0.5, 5.0);
    ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
    limits.most[WW_LIMIT_LIGHT] = (ww_optional){true, 0.2};
    limits.most[WW_LIMIT_BLACK] = (ww_optional){true, 0.05};
    limits.most[WW_LIMIT_NEUTRAL_AB] = (ww_optional){true, 1.0};
    limits.most[WW_LIMIT_DRIFT] = (ww_optional){true, 0.03};
    compare_case_two(&gloss, &rag, limited ? &limits : NULL, comparison);
    ww_readings_release(&gloss);
    ww_readings_release(&rag);
}

#endif
