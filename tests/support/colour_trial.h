/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_COLOUR_TRIAL_H
#define WEDGEWORK_TESTS_COLOUR_TRIAL_H

#include "support/colour_paper.h"

/*
 * Colour prints from starts that are off, balanced until they are right: how near they come, what
 * was said of them, and how often it held. One grey; the approved print is of the paper at hand, at
 * 60Y 45M and 11 s, so that the pack to be found is known.
 */
enum { TRIAL_PRINTS = 3 };

typedef struct trial_way {
    double filter_step, timer_step_s;
    double sd; /* of a reading [D] */
    size_t n;  /* readings that are said to be behind an average */
    enum { NO_RING, NEAR_RING, START_RING } ring; /* about which print */
    double far_cc, far_stops;                     /* how far starts are off */
} trial_way;

/* Of the print after i + 1 changes: */
typedef struct trial_print {
    size_t n, near_002, near_004;     /* within 0.02, 0.04 D */
    double worst;                     /* [D] */
    size_t said, said_wrong;          /* "within a hand's tolerance" */
    size_t packs, packs_held;         /* yellow and magenta of the plan, within its doubt */
    size_t stops_held;                /* its time */
    size_t densities, densities_held; /* foretold, within their doubt */
    double doubt_cc, doubt_stops;     /* sums */
    double off_cc, off_stops;         /* sums of squares */
} trial_print;

typedef struct trial_count {
    trial_print after[TRIAL_PRINTS];
    size_t refused; /* starts, whose print is white, black or beyond the curves */
    size_t late;    /* prints after the first that were refused */
    /* By the same readings and steps: who knows paper and head, and of exact packs all of them but
     * how strong filters are. */
    size_t oracle_002, oracle_004;
} trial_count;

extern const double trial_negative[3];
extern const ww_balance_setting trial_approved;

/* Adds `starts` starts on a paper with these curves of the program's. */
void trial_run(const colour_maker *maker, const ww_curve *curve, const trial_way *way,
               size_t starts, dice *d, trial_count *count);
void trial_show(const char *row, const trial_count *count);

#endif
