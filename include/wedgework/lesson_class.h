/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_LESSON_CLASS_H
#define WEDGEWORK_LESSON_CLASS_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/lesson.h>
#include <wedgework/notes.h>
#include <wedgework/readings.h>
#include <wedgework/text_style.h>

/* A class's readings beside each other: how figures spread, who departs, what was copied. */

/* One student's file, as it was read; densities are never changed. */
typedef struct ww_lesson_member {
    const char *file; /* not owned */
    double *log_h;    /* rising; owned, density beside it */
    double *density;
    size_t n;
    ww_optional base;
    ww_lesson_working working;
    bool departs[WW_LESSON_FIGURES];
} ww_lesson_member;

/* How a figure spreads over the class. */
typedef struct ww_lesson_spread {
    size_t n; /* who have it */
    double median;
    double sd; /* robust: 1.4826 times the median of departures from the median */
    double least, greatest;
} ww_lesson_spread;

/* Two files that agree in more rows than chance makes likely. */
typedef struct ww_lesson_pair {
    size_t a, b; /* members */
    size_t rows; /* that both have */
    size_t alike;
    double shift;  /* one less the other in those rows [D]: another zero; else 0 */
    double chance; /* that so many rows agree in any pair of such a class */
} ww_lesson_pair;

typedef struct ww_lesson_class {
    bool paper;
    ww_exposure_unit exposure_unit;
    ww_lesson_member *member;
    size_t n;
    ww_lesson_spread spread[WW_LESSON_FIGURES];
    ww_lesson_pair *copied;
    size_t n_copied;
    ww_notes notes;
} ww_lesson_class;

#define WW_LESSON_CLASS_INIT                                                                       \
    { .n = 0 }

enum { WW_LESSON_CLASS_MOST = 200 };

void ww_lesson_class_release(ww_lesson_class *made);

/*
 * ww_lesson_class_make - a class's files beside each other.
 *
 *   Figures as ww_lesson_work makes them of each file. A figure departs where it is off the
 *   median by more than 3.5 robust standard deviations and than its rule's trust. Two typings of a
 *   row in one file that are more than 0.02 D apart are noted.
 *
 *   Copied: of two files the shift that most rows have in common (to 0.01 D) is found, and how many
 *   rows have it. How often a row does so by chance is the share of rows in all other pairs that
 *   have their own pair's shift; with that, so many or more rows have a binomial probability, times
 *   the number of pairs. Below 0.001 the pair is told. Three files are the least.
 *
 * Source    robust sd: textbook; the rest definitions of this project; typings: common practice
 * Given     readings  n of them, 2 to 200, each with an exposure and one density
 * Returned  *made     (release it); it points to the files' names in `readings`
 * Status    WW_OK; WW_EMISMATCH film beside paper; WW_ENODATA a file with fewer than two exposed
 *           readings, or none; WW_EDOMAIN an exposure that is impossible; WW_EMEMORY
 */
ww_status ww_lesson_class_make(const ww_readings readings[], size_t n, ww_lesson_class *made,
                               ww_error *err);

/* ww_lesson_class_copied - finds the pairs of a class whose members are there. Status WW_OK;
 *                          WW_EMEMORY */
ww_status ww_lesson_class_copied(ww_lesson_class *made, ww_error *err);

/*
 * ww_lesson_class_file_text - the class as a JSON document.
 *
 *   { "wedgework": 1, "kind": "lesson class", "material": "film",
 *     "figures": [{ "figure": "gamma", "unit": "", "n": 30, "median": .., "sd": .., "least": ..,
 *       "greatest": .. }],
 *     "students": [{ "file": "..", "base": .., "readings": [[log H, D], ...],
 *       "figures": { "gamma": .. }, "departs": ["gamma"] }],
 *     "copied": [{ "files": ["..", ".."], "rows": 22, "alike": 22, "shift": 0, "chance": .. }],
 *     "notes": [] }
 *
 * Status    WW_OK; WW_EDOMAIN; WW_EMEMORY
 */
ww_status ww_lesson_class_file_text(const ww_lesson_class *made, char **text, size_t *n,
                                    ww_error *err);

/* ww_lesson_class_text - the same in words. Status WW_OK; WW_EMEMORY */
ww_status ww_lesson_class_text(const ww_lesson_class *made, const ww_text_style *style, char **text,
                               ww_error *err);

#endif
