/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_STRIP_PARTS_H
#define WEDGEWORK_PLAN_STRIP_PARTS_H

#include <wedgework/strip.h>

/*
 * A strip that was read: readings become steps (strip_steps.c), whose times must be totals
 * (strip_added.c); those out of order are flagged (strip_order.c), the others become a line that
 * does not fall (strip_line.c), on which a density is looked up (strip_find.c); strip_next.c says
 * what strip to make next. The numbers that it rests on:
 */
#define WW__STRIP_FALL 0.02         /* [D] a fall of less is none; common practice */
#define WW__STRIP_FALL_ERRORS 3.0   /* and one of less than so many errors */
#define WW__STRIP_PLATEAU_STOPS 1.0 /* [stops] black is reached where it lasts so long; practice */
#define WW__STRIP_UNDER_WHITE 0.05  /* [D] lighter than paper is misread; common practice */
#define WW__STRIP_BLACK_LEAST 1.0   /* [D] no paper's black is less; common practice */
#define WW__STRIP_WHITE_TRUST 0.03  /* [D] a fitted white known no better is not known */
#define WW__STRIP_SETTLED (1.0 / 12.0)            /* [stops] finishing step of the trade */
#define WW__STRIP_COUNT 7                         /* pieces of a strip that finds */
#define WW__STRIP_LOG_STOP 0.30102999566398119521 /* log10 2 */
#define WW__STRIP_95 1.959963984540054            /* half-width of 95 % of a normal, in sd */

/* The pieces of a plan; refuses what ww_strip_plan refuses, and leaves *series alone then. */
ww_status ww__strip_series_make(double centre_s, double step_stops, size_t count,
                                double timer_step_s, ww_strip_series *series, ww_error *err);

ww_status ww__strip_timer_check(double timer_step_s, ww_error *err);

/* Steps, channel and white, with notes. `white_needed`: without one it is WW_ENODATA; else the
 * densities stay as read. */
ww_status ww__strip_steps_read(const ww_readings *readings, bool white_needed, ww_strip *strip,
                               ww_error *err);

/* A place on the line: one time, density on the steps' own zero. */
typedef struct ww__strip_point {
    double log_t;
    double density;
    double error;
    double slope; /* dD/dlog t of the line */
    size_t step;  /* index of the first step of that time */
} ww__strip_point;

/* Points in order of time, distinct times, densities that do not fall. */
typedef struct ww__strip_line {
    ww__strip_point *point;
    size_t n;
    double level_error; /* standard error of the level that densities are compared with */
    bool reversed;      /* more light than its last point's prints lighter */
} ww__strip_line;

#define WW__STRIP_LINE_INIT                                                                        \
    { .point = NULL }

void ww__strip_line_release(ww__strip_line *line);

/* Refuses times that are the seconds which a hand added, piece by piece, in place of all that each
 * piece got: densities rise along the rows, the second time is no longer than the first, and the
 * sums make an even series. */
ww_status ww__strip_added_check(ww_strip *strip, const char *file, ww_error *err);

/* Whether the second is darker than the first by more than their error. */
bool ww__strip_order_darker(const ww_strip_step *lighter, const ww_strip_step *darker);

/* Flags the steps that are out of order, and says so. `order` are n steps in order of time. */
ww_status ww__strip_order_check(ww_strip *strip, const size_t order[], size_t n, ww_error *err);

/* The line through the steps that are in order; those evened out are marked, and said. */
ww_status ww__strip_line_make(ww_strip *strip, ww__strip_line *line, ww_error *err);

/* Of two points or more: the first of the two that log_t lies between; from a point to the next, in
 * log t; slope between them. */
size_t ww__strip_line_part(const ww__strip_line *line, double log_t);
double ww__strip_line_gap(const ww__strip_line *line, size_t i);
double ww__strip_line_secant(const ww__strip_line *line, size_t i);

/* Density of the line at log_t, which lies on it. */
double ww__strip_line_density(const ww__strip_line *line, double log_t);

/* 95 % half-width there; *reading is the part that the readings have in it (NULL allowed). */
double ww__strip_line_half(const ww__strip_line *line, double log_t, double *reading);

/* The line as points of the result. */
ww_status ww__strip_line_show(const ww__strip_line *line, ww_strip *strip, ww_error *err);

/* What the line says of a density. */
typedef struct ww__strip_found {
    bool crossed; /* the line passes through the density: */
    double log_t; /* there */
    bool met;     /* it comes within its half-width of it: */
    double low, high;
    bool low_open, high_open; /* at the line's ends */
    size_t before;            /* crossed: points before and after */
    double half;              /* 95 % half-width of log t, from the readings alone */
} ww__strip_found;
ww__strip_found ww__strip_find(const ww__strip_line *line, double density);

/* The darkest steps, where they are the paper's black: the mean of those that differ from the
 * darkest by no more than 0.02, or twice the error of that, up to the end. False where they last
 * less than a stop, unless more light reversed it: the paper gives no more. The error holds what
 * they still rise. *first is the first of them. */
bool ww__strip_find_black(const ww__strip_line *line, double *black, double *error, size_t *first);

/* Looks a density up: place, best, interval, plateau, neighbours, holds. */
void ww__strip_look_up(ww_strip *strip, const ww__strip_line *line, double density,
                       ww__strip_found *found);

/* Plans a next strip from a time on, to less light where `dark`; a note says where there is
 * none. */
ww_status ww__strip_next_beyond(ww_strip *strip, double end_s, bool dark, double step_stops,
                                ww_error *err);

/* Notes on an interval that was found: what cannot be told apart, where it ends with the strip. */
ww_status ww__strip_look_up_notes(ww_strip *strip, ww_error *err);

/* The strip to make next, with a note on why, or why none. */
ww_status ww__strip_next_plan(ww_strip *strip, const ww__strip_line *line,
                              const ww__strip_found *found, double density, ww_error *err);

#endif
