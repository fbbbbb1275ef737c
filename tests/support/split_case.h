/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SPLIT_CASE_H
#define WEDGEWORK_TESTS_SPLIT_CASE_H

#include "support/emulsion.h"
#include "support/print_case.h"

/*
 * A paper of two emulsions that see two filters differently, in closed form: emulsion k gets
 * H = soft_k t_soft + hard_k t_hard and gives range_k / (1 + (H)^(-1/width_k)), width in log H by
 * e-fold. Invented; no code of the program has a part in it.
 */
typedef struct split_paper {
    double soft[2], hard[2]; /* exposure by a second through either filter */
    double range[2], width[2];
} split_paper;

/* Usual, with a wide gap between its emulsions, with a fast and with a slow hard filter. */
enum { SPLIT_PAPERS = 4 };
extern const split_paper split_papers[SPLIT_PAPERS];

/* Net density by seconds through either filter at density 0. */
double split_net(const split_paper *paper, double soft_s, double hard_s);

/* log10 of all seconds, of that share of soft, that reach it. By bisection. */
double split_log_h(const split_paper *paper, double soft, double net);

enum { SPLIT_STEPS = 21, SPLIT_MOST = 7 };
typedef struct split_case {
    print_case print;
    const split_paper *paper;
    ww_row row[SPLIT_MOST * SPLIT_STEPS + 1];
    char step[SPLIT_STEPS + 1][4];
    ww_readings table; /* given with the request */
} split_case;

/* A print case without papers and a table of five shares, each exposed for so many seconds through
 * a wedge of 0.05 to 2.05; densities to 0.01, white 0.06. */
void split_case_start(split_case *c, const split_paper *paper, double seconds);

/* Steps of one more share; with dice, readings scatter by sd and the wedge by 0.004. */
void split_case_add(split_case *c, double soft, double seconds, dice *d, double sd);

#endif
