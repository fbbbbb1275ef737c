/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_TIME_LAW_H
#define WEDGEWORK_CORE_TIME_LAW_H

#include <wedgework/time_gamma.h>

/*
 * The law of development, gamma = gamma_inf (1 - e^(-k (t - t0))), as sums of squares. For a given
 * rate k it is linear in what remains, so that each of these is a search along k alone; k = 0 is
 * the straight line that the law becomes as gamma_inf grows without end, and belongs to it.
 */
typedef struct ww__time_law {
    const ww_time_gamma_point *point; /* in order of time */
    size_t n;
    double weight[WW_TIME_GAMMA_MOST];
    double first;     /* [min] */
    double rate_most; /* [1/min] */
} ww__time_law;

/* Weights of the points' own errors and a relative scatter; rates up to 10 / first. */
void ww__time_law_set(ww__time_law *law, const ww_time_gamma_point point[], size_t n,
                      double scatter);

/* Contrast and its slope on a line; where it levels off (DBL_MAX: nowhere) and where it begins
 * [min]. */
double ww__time_law_at(const ww_time_gamma_line *line, double first, double time_min,
                       double *slope);
double ww__time_law_level(const ww_time_gamma_line *line);
double ww__time_law_start(const ww_time_gamma_line *line, double first);

/* Least weighted sum of squares, and the line that has it (NULL: nobody asks): t0 anywhere; t0 = 0;
 * t0 from 0 to the first time. Lines do not fall. */
double ww__time_law_free(const ww__time_law *law, ww_time_gamma_line *line);
double ww__time_law_at_once(const ww__time_law *law, ww_time_gamma_line *line);
double ww__time_law_possible(const ww__time_law *law, ww_time_gamma_line *line);

/* The same of t0 anywhere and a given rate. */
double ww__time_law_of_rate(const ww__time_law *law, double rate, ww_time_gamma_line *line);

/* The same through a contrast at a time; the other two with t0 from 0 to the first time, at a given
 * gamma_inf, rate, t0. */
double ww__time_law_through(const ww__time_law *law, double time_min, double contrast);
double ww__time_law_with_infinity(const ww__time_law *law, double gamma_infinity);
double ww__time_law_with_rate(const ww__time_law *law, double rate);
double ww__time_law_with_start(const ww__time_law *law, double start_min);

/* The rate of the law through two contrasts that begins at a time before both; 0 where none is so
 * steep, DBL_MAX where contrast does not rise. */
double ww__time_law_two(double start_min, const ww_time_gamma_point *a,
                        const ww_time_gamma_point *b);

#endif
