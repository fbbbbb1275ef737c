/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_PRINT_SPLIT_H
#define WEDGEWORK_PLAN_PRINT_SPLIT_H

#include "plan/print_parts.h"

/*
 * Two exposures through a soft and a hard filter, from prints of a wedge that were made so
 * (print_split_table.c). What counts is the soft filter's share of the seconds. Let T_r(D) be the
 * seconds that reach net density D at share r. An emulsion on which H adds to H, t_1 seconds at
 * share r_1 and t_2 at r_2, reaches D where
 *
 *   t_1 / T_1(D) + t_2 / T_2(D) = 1,
 *
 * that is, 1 / T(D) goes in a straight line of the share from one to the other. A paper of several
 * emulsions bends that line, and no formula says how: so it is drawn through what was measured,
 * straight between two pairs, and where a third stands beside them as the cubic that has at each
 * pair the slope of the parabola through it and its neighbours (print_split.c).
 *
 * Source    the sum: definition of exposure; the cubic: textbook (Hermite interpolation). On
 *           simulated papers of two emulsions with five pairs it leaves a third to a sixth of what
 *           the straight line is off by.
 */
#define WW__SPLIT_SAME 1e-6   /* of the seconds: shares this near are one */
#define WW__SPLIT_MATCH 0.005 /* [log H] a measured pair this near in range is the one wanted */
enum { WW__SPLIT_STEPS = 5 }; /* that a curve needs */

/* One measured pair: its curve in seconds of both exposures together at wedge density 0. */
typedef struct ww__split_pair {
    double soft;     /* share of the soft filter in the seconds, 0 to 1 */
    ww_curve *curve; /* owned */
} ww__split_pair;

typedef struct ww__split_table {
    ww__split_pair *pair; /* softest first */
    size_t n;
    double white_error; /* standard error of paper white, 0 where it was not read */
} ww__split_table;

void ww__split_table_release(ww__split_table *table);

/* The pairs of a table, each with a curve of its own. WW_EMISMATCH where it is no such table or a
 * density falls, WW_ENODATA where pairs or steps are missing, WW_EDOMAIN impossible seconds. */
ww_status ww__split_table_read(const ww_readings *readings, ww__split_table *table, ww_notes *notes,
                               ww_error *err);

/* "soft 60 %", "soft alone", "hard alone" */
enum { WW__SPLIT_LABEL = 24 };
char *ww__split_label(double soft, char label[WW__SPLIT_LABEL]);

/* Joins the n sheets of one table: one paper has one white and one D-max. */
void ww__print_split_join(ww__print_sheet sheet[], size_t n);

/* Log H (of all seconds) at which a share of soft gives a net density, by the table that a sheet is
 * of; false outside what was measured. */
bool ww__print_split_log_h(const ww__print_sheet *of, double soft, double net, double *log_h);

/* The inverse in net density. */
bool ww__print_split_net(const ww__print_sheet *of, double soft, double log_h, double *net);

/* 95 % half-width in log H of a share between two pairs: theirs, and half of what each of them is
 * missed by when it is drawn from its neighbours alone. Where only two pairs are there, the whole
 * way down to what either does by itself, since two exposures never do less. */
double ww__print_split_width(const ww__print_sheet *sheet, double log_h);

/* 95 % half-width in log H, at a net density, of both exposures set to a whole step of the timer;
 * step and seconds as the clock counts them. */
double ww__print_split_timer(const ww__print_sheet *sheet, double net, double step_s,
                             double time_s);

/* Adds the share between two pairs whose range is the negative's; a note where there is none. The
 * sheets have room for one more. */
ww_status ww__print_split_choose(const ww__print_negative *negative, ww__print_sheets *sheets,
                                 ww_notes *notes, ww_error *err);

/* The seconds of both exposures, and for every burn those through the soft filter alone that bring
 * the tone as far. Time and burns are set already; `exponent` is that of reciprocity. */
ww_status ww__print_split_tell(const ww__print_negative *negative, const ww__print_sheet *sheet,
                               const ww__print_fate *fate, double exponent, ww_print_paper *paper,
                               ww_error *err);

#endif
