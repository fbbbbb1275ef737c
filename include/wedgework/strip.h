/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_STRIP_H
#define WEDGEWORK_STRIP_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

/*
 * Test strips of paper: planned in equal stops, read at an aim, read for the standard proof time,
 * read for a safelight. All four give a ww_strip.
 */
typedef enum ww_strip_kind {
    WW_STRIP_PLAN,
    WW_STRIP_READ,
    WW_STRIP_PROOF,
    WW_STRIP_SAFELIGHT
} ww_strip_kind;

/* "plan", "read", "proof", "safelight". */
const char *ww_strip_kind_name(ww_strip_kind kind);

/* What a plan may hold; beyond lies a slip of typing. */
#define WW_STRIP_CENTRE_LEAST 0.1 /* [s] */
#define WW_STRIP_CENTRE_MOST 3600.0
#define WW_STRIP_STEP_LEAST (1.0 / 24.0) /* [stops] */
#define WW_STRIP_STEP_MOST 3.0
enum { WW_STRIP_COUNT_LEAST = 3, WW_STRIP_COUNT_MOST = 24 };
#define WW_STRIP_TIME_MOST 3600.0  /* [s] of the longest piece */
#define WW_STRIP_TIMER_LEAST 0.001 /* [s], step of the timer */
#define WW_STRIP_TIMER_MOST 60.0
#define WW_STRIP_AIM_LEAST 0.005 /* [net D] */
/* Of five papers in their makers' data sheets the darkest, a colour paper's red, reads 2.67 above
 * its white, the black-and-white ones 2.28. */
#define WW_STRIP_AIM_MOST 2.7
#define WW_STRIP_AIM_ABOVE "no paper prints so dark"
enum { WW_STRIP_STEPS_MOST = 1000 };

/* Printing's and the safelight's own numbers. */
#define WW_STRIP_BLACK 0.05      /* [D] this near to maximum black is black: the standard proof */
#define WW_STRIP_CHANGE 0.02     /* [D] less is no change under a safelight */
#define WW_STRIP_GREY_LEAST 0.15 /* [net D] of paper pre-exposed for a safelight strip */
#define WW_STRIP_GREY_MOST 0.40

/* One piece of a strip to expose. The whole strip gets the first piece's seconds; then it is
 * covered piece by piece, and what is still open gets what the next one adds. */
typedef struct ww_strip_piece {
    double time_s;    /* all the light that the piece gets, exact */
    double set_s;     /* the same on the timer's step: also what it gets where each piece is exposed
                         by itself */
    double add_s;     /* what is given before the next piece is covered, on the timer's step */
    double off_stops; /* set_s against time_s */
} ww_strip_piece;

typedef struct ww_strip_series {
    double centre_s;
    double step_stops;
    ww_strip_piece *piece; /* shortest first, owned */
    size_t n;              /* 0: no strip is to be made */
} ww_strip_series;

/* One step of a strip that was read. */
typedef struct ww_strip_step {
    char *step;    /* label, owned, never NULL */
    double time_s; /* 0 for the covered piece of a safelight strip */
    ww_cell_state state;
    double density;    /* above paper white where that is known, else as read */
    double error;      /* standard error of it [D] */
    size_t n;          /* readings behind it */
    bool covered;      /* was never under the safelight */
    bool out_of_order; /* lighter than a step with less light, by more than its error: not used */
    bool evened;       /* the same within its error: used with its neighbour's mean */
    bool suspect;      /* off the curve of the others */
    bool black;        /* proof: one of the steps that maximum black is the mean of */
    bool changed;      /* safelight */
} ww_strip_step;

/* Where the aim lies. */
typedef enum ww_strip_place {
    WW_STRIP_INSIDE,   /* between two steps, or within error of the lightest or darkest */
    WW_STRIP_LIGHT,    /* the whole strip is lighter: more light is needed */
    WW_STRIP_DARK,     /* the whole strip is darker: less light */
    WW_STRIP_DISORDER, /* among steps that are out of order; safelight: a piece is lighter than the
                          covered one */
    WW_STRIP_NO_REACH, /* darker than the black of this paper */
    WW_STRIP_TURNED    /* nowhere: the strip lightens with time throughout */
} ww_strip_place;

/* A place on the line through the steps that were used. */
typedef struct ww_strip_point {
    double time_s;
    double density; /* on the steps' own zero */
    double half;    /* 95 % half-width [D] */
} ww_strip_point;

typedef struct ww_strip {
    ww_strip_kind kind;
    bool holds;             /* what was asked for is there */
    double timer_step_s;    /* 0 where the strip was read for a safelight */
    ww_strip_series series; /* the strip asked for, or the one to make next */
    ww_strip_step *step;    /* as they were read, in the order of the readings */
    size_t n_steps;
    ww_strip_point *line; /* owned; in order of time; none of a safelight strip */
    size_t n_line;
    ww_channel channel;
    ww_optional white;  /* density of paper white that was taken off, as read */
    double white_error; /* standard error of it */
    bool white_fitted;  /* no base row: D-min of the steps' own curve */
    ww_optional aim;    /* net; of a proof: density of near black, on the steps' own zero */
    ww_strip_place place;
    ww_quantity best; /* [s] the time that gives the aim; safelight: the longest time without a
                            change, high where a change was first seen */
    bool low_open, high_open; /* the interval's end is the end of the strip: it may lie beyond */
    bool plateau;             /* two steps or more cannot be told from the aim: */
    double plateau_from_s, plateau_to_s;
    bool enough;   /* in black, up to the strip's darkest: the least of these times is enough */
    bool reversed; /* density falls after the darkest steps, to the strip's end */
    ww_optional lighter, darker; /* [index of step] the steps either side of the aim; one alone
                                    where the aim lies beyond the strip's end, within error */
    ww_optional black;           /* proof: maximum black, on the steps' own zero */
    ww_optional grey;            /* safelight: of the covered piece, above paper */
    bool insensitive;      /* safelight: that grey is not known to be one that shows a change */
    ww_optional changed_s; /* safelight: shortest time that left a change */
    double least_change;   /* safelight: smallest change that these readings could show [D] */
    ww_notes notes;
} ww_strip;

#define WW_STRIP_INIT                                                                              \
    { .kind = WW_STRIP_PLAN }

void ww_strip_release(ww_strip *strip);

/*
 * ww_strip_plan - exposures in equal stops around a centre, and what a hand gives.
 *
 *   t_i = centre * 2^(step * (i - (count - 1) / 2)),  i = 0 ... count - 1
 *
 *   Totals are rounded to the timer's step, and what a hand adds is the difference of two rounded
 *   totals, so that roundings do not add up along the strip.
 *
 * Source    definition; handbook series: 8, 10.08, 12.70, 16, 20.16, 25.40, 32 s in 1/3 stop
 * Given     centre_s                                                       [s]       0.1 to 3600
 *           step_stops                                                     [stops]   1/24 to 3
 *           count                                                          [1]       3 to 24
 *           timer_step_s                                                   [s]       0.001 to 60
 * Returned  *strip  (release it): series; notes on what a hand cannot repeat, on the lamp and on
 *           where to lay the strip
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold, the longest piece gets over an hour,
 *           the shortest less than the timer sets, or two pieces get the same seconds on that
 *           timer; WW_EMEMORY
 * Accuracy  1e-15 relative
 */
ww_status ww_strip_plan(double centre_s, double step_stops, size_t count, double timer_step_s,
                        ww_strip *strip, ww_error *err);

/*
 * ww_strip_form - a strip to expose as a table of readings that waits for its densities: the row
 *                 base, then a row a piece with all the seconds that the timer gives it.
 *
 * Given     series  with pieces
 * Returned  *form   (release it): steps 1, 2, ... with `time`, no density yet
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_strip_form(const ww_strip_series *series, ww_readings *form, ww_error *err);

/*
 * ww_strip_read - the time that gives a density above paper white.
 *
 *   Density against log time, monotone cubic between the steps; the interval holds every time at
 *   which the line, give or take
 *
 *     1.96 sqrt((1 - u)^2 e_a^2 + u^2 e_b^2 + e_white^2) + 1.5 g |cubic - straight line|,
 *
 *   meets the aim; e_a, e_b being the standard errors of the readings either side, u the share of
 *   the way between them, g the gap in stops. Between the first two steps and the last two, where
 *   a bend shows on one side at most, the last term is how far the line is from the lowest and
 *   highest shape that paper can have there: net density, and what it lacks of black (1.0 or the
 *   darkest step, whichever is more), each changing by one factor.
 *
 * Steps     `time` is all the light that a piece got. Replicates are averaged; their standard error
 *           is sd / root n, but not under 0.0029, else 0.01 for a reading. A step that is lighter
 *           than one with less light, by more than three times its error and 0.02, is out of order:
 *           flagged and not used, and where the aim lies beside it there is no time; so are steps
 *           of one time that differ by as much. Within that, such steps are evened out (least
 *           squares that do not fall), and a note says so. Where density falls for good after
 *           the darkest step, the strip is cut there.
 * White     the `base` row, 0 in readings relative to white, else D-min of the curve that fits five
 *           steps or more.
 * Next      Where the strip does not bracket the aim, there is no time; the next strip begins at
 *           the end that is nearest to it. Where it does so coarsely, the next is finer: 1/3 stop
 *           to find, 1/6 to settle, 1/12 to finish. None is planned where the time is settled to
 *           1/12 stop, where only the readings' own error is left, or where the paper gets no
 *           darker.
 *
 * Source    monotone cubic: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304; least
 *           squares that do not fall: pool adjacent violators (textbook); errors of reading and the
 *           ladder of steps: common practice
 * Given     readings      of a paper or print exposed in steps, column `time`
 *           aim           net density                                      [D]   0.005 to 2.7
 *           timer_step_s  for the next strip                               [s]   0.001 to 60
 * Returned  *strip  (release it). holds is false where there is no time.
 * Accuracy  on strips of seven pieces of simulated papers, read with an error of 0.01, the interval
 *           holds the truth in 93 to 98 of 100, in steps from 1/12 stop to 1 stop; on strips of two
 *           to four pieces, of papers of other shapes, in 1/3 stop to 1 stop, in 95 and more
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold, a time that is not > 0, times that
 *           are what each step was given in addition, over 1000 steps; WW_ENODATA no column
 *           `time`, no density, no step that was read, or paper white is not known; WW_EMISMATCH
 *           readings of something else than paper, or of reversal paper, or relative to white with
 *           a base row that is not 0; WW_EMEMORY
 */
ww_status ww_strip_read(const ww_readings *readings, double aim, double timer_step_s,
                        ww_strip *strip, ww_error *err);

/*
 * ww_strip_proof - the standard proof time: the least exposure at which clear film prints within
 *                  0.05 of maximum black.
 *
 *   Maximum black is the mean of the steps that differ from the darkest by no more than 0.02, or
 *   twice the error of that, up to the strip's end; it was reached where these span a stop or more.
 *   Its error holds what they still rise. The time is found as for an aim.
 *
 * Source    common practice of the standard proof, its 0.05 and the stop beyond among it
 * Given     readings      of a strip printed through clear film, column `time`
 *           timer_step_s                                                   [s]   0.001 to 60
 * Returned  *strip  (release it). holds is false where black was not reached, or where no step is
 *           lighter than black; the next strip is planned then.
 * Status    as ww_strip_read; paper white is not needed
 */
ww_status ww_strip_proof(const ww_readings *readings, double timer_step_s, ww_strip *strip,
                         ww_error *err);

/*
 * ww_strip_safelight - whether a safelight is safe, from paper that was exposed to a light grey and
 *                      then lay under it for stepped times.
 *
 *   A change is a difference from the covered piece of more than 0.02 D and more than twice the
 *   error of that difference.
 *
 * Source    common practice: paper makers' tests of safelights use pre-exposed paper
 * Given     readings  column `time`: seconds under the safelight; the row with step or tone
 *                     `covered`, without a time, is the piece that was never under it
 * Returned  *strip  (release it). best is the longest time that left no change, no shorter one
 *           having left one; absent where the shortest did, or where the grey is not between 0.15
 *           and 0.40 above paper, for then no change would have shown. holds says whether it is
 *           there.
 * Status    as ww_strip_read; WW_ENODATA also without a covered piece. Where paper white is not
 *           known, the grey cannot be checked: a note says so, and the verdict stands on it.
 */
ww_status ww_strip_safelight(const ww_readings *readings, ww_strip *strip, ww_error *err);

#endif
