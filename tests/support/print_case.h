/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_PRINT_CASE_H
#define WEDGEWORK_TESTS_PRINT_CASE_H

#include <wedgework/print.h>

/*
 * A negative, papers and a request for tests of print plans. Everything lies in the struct itself
 * or is a constant, so there is nothing to release but the plan.
 */
typedef struct print_case {
    ww_row row[12];
    ww_readings negative;
    ww_curve paper[8];
    const ww_curve *list[8];
    double covariance[25];
    ww_print_place place[4];
    ww_print_request request;
} print_case;

/* An empty negative in absolute visual densities, no papers, the defaults. */
void print_case_start(print_case *c);

/* A row of the negative, one reading; "base" is the base row. The cell is there to be changed. */
ww_cell *print_case_tone(print_case *c, const char *tone, ww_part part, double density);

/*
 * The logistic paper of closed form: white 0.05, net D-max 2.0, D = 0.05 + 2/(1 + e^(-s (x - x0))),
 * with the s that puts net 0.04 and 90 % of net D-max range log H apart: s = (ln 49 + ln 9)/range.
 * Measured from x0 - 1.6 to x0 + 1.6 in seconds, through a certified wedge, without covariance.
 */
ww_curve *print_case_paper(print_case *c, const char *name, double range, double x0);
double print_case_log_h(double range, double x0, double net);
double print_case_net(double range, double x0, double log_h);

/* A covariance under which only the paper's white is in doubt. */
void print_case_white_sd(print_case *c, ww_curve *paper, double sd);

void print_case_place(print_case *c, const char *tone, double aim);

/* The tone of that name on a paper; the test fails where there is none. */
const ww_print_tone *print_case_find(const ww_print_paper *paper, const char *tone);

/* Whether a note holds these words. */
bool print_case_noted(const ww_print_plan *plan, const char *words);

/* Makes the plan and looks whether a note holds these words; the test fails where that is not as
 * `said` has it, and shows the notes. */
void print_case_says(const char *row, const print_case *c, const char *words, bool said);

/* Makes the plan, which must succeed. */
void print_case_make(const char *row, const print_case *c, ww_print_plan *plan);

/* Half-width in stops of a budget line; the test fails where there is none. */
double print_case_budget(const ww_print_paper *paper, const char *from);

#endif
