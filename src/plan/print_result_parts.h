/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_PRINT_RESULT_PARTS_H
#define WEDGEWORK_PLAN_PRINT_RESULT_PARTS_H

#include "plan/print_parts.h"
#include <wedgework/print_result.h>

/*
 * How a print came out is explained in this order: its readings are checked against the plan
 * (print_result.c) and set beside what was foretold of them, with their errors
 * (print_result_points.c); what is plain is told at once (print_result_plain.c), two readings that
 * were exchanged among it (print_result_swapped.c); the causes are fitted (print_result_cause.c),
 * one tone alone is tried (print_result_one.c), and all are judged (print_result_judge.c); where
 * one tone is off, the rest is asked (print_result_rest.c); what it teaches is weighed with what
 * was known (print_result_learn.c); print_result_words.c says it. What counts is in the doc block
 * of ww_print_result_explain; the rest:
 */
#define WW__RESULT_HAND 1.0           /* [s] of one burn or dodge, 1 sd: common practice */
#define WW__RESULT_ALIKE 0.15         /* [log H] nearer than that places of a curve share errors */
#define WW__RESULT_WHITE 0.03         /* [D] a paper white so far from the curve's is remarked on */
#define WW__RESULT_STANDS (1.0 / 3.0) /* [of the lift] dark tones off by less stand */
#define WW__RESULT_LEVEL 0.05         /* [D in log H] a flatter curve says nothing of log H */
#define WW__RESULT_APART 0.10         /* [D] tones foretold nearer may change places */
#define WW__RESULT_TELLS 0.03         /* [D] causes so far apart at a tone are told apart by it */
#define WW__RESULT_RARE 0.005         /* chance under which a cause does not fit */
#define WW__RESULT_ODD 0.05           /* chance under which a tone is remarked on as odd */
#define WW__RESULT_BETTER 7.88        /* chi-square of one freedom at that chance */
#define WW__RESULT_BETTER_TWO 10.60   /* of two */
#define WW__RESULT_BOTH 10.83 /* of one, at 0.1 %: a curve that is a little off looks like it */
#define WW__RESULT_HINT 3.0   /* by so much both better fog before they are named beside it */
/* Chi-squares so near are alike: of two causes that are 6^1/2 sd apart, the wrong one is ahead by
 * that in 0.7 %. */
#define WW__RESULT_NEAR 6.0

/* One reading of the print beside what was foretold. */
typedef struct ww__result_point {
    const ww__print_spot *spot;
    ww_part part;
    double log_h; /* on the sheet, local work and the print's own time in it */
    double came;  /* net */
    double sd;    /* of its reading */
    double foretold;
    bool beyond;
} ww__result_point;

typedef struct ww__result {
    const ww_print_request *request;
    const ww__print_negative *negative;
    const ww__print_candidate *candidate;
    const ww_readings *print; /* replicates averaged */
    ww_channel channel;
    double white;    /* of the print, in its own densities */
    double white_sd; /* of that; 0 where the curve's stands in */
    double time_s;   /* that the print got */
    double range;    /* of the sheet, as ww__print_offset_range has it; 0 for none */
    double moved;    /* log H by which all tones fell elsewhere on the curve than foretold, where
                        that is so far that its errors there are others */
    ww__result_point *point;
    size_t n;
    double *shared, *own; /* n x n covariances of came less foretold: what the next print of this
                             negative on this paper shares, and what it does not */
    double *factor;       /* of their sum */
} ww__result;

void ww__result_release(ww__result *result);

/* Readings beside what was foretold, and the covariance. Channel, white and time are set. */
ww_status ww__result_points_set(ww__result *result, ww_error *err);

/* The covariance anew, where every tone fell so much log H from where it was foretold. */
ww_status ww__result_points_move(ww__result *result, double log_h, ww_error *err);

/* Log H at which a point fell on the curve, and the slope there; 0 where it was not measured. */
double ww__result_place(const ww__result *result, size_t i);
double ww__result_slope(const ww__result *result, size_t i);

/* 1 sd [D] of the paper's curve at a log H, where its slope is `slope`. */
double ww__result_curve_sd(const ww__result *result, double log_h, double slope);

/* Log H on the sheet of a tone with all its local work, in the time that the print got; -HUGE_VAL
 * where no light is left. */
double ww__result_log_h(const ww__result *result, const ww__print_spot *spot, double seen);

/* What a hypothesis with these parameters makes of a log H; false where it cannot be. `end` tells
 * that the paper was not measured so far, -1 on the light side, +1 on the dark one, else 0. */
enum { WW__RESULT_PARAMETERS = 2 };
bool ww__result_foretell(const ww__result *result, ww_miss_cause cause, bool fog,
                         const double parameter[], double log_h, double *net, int *end);

/* miss->sight, and the tones that it is about. */
ww_status ww__result_plain_find(const ww__result *result, ww_print_miss *miss, ww_error *err);

/* Whether two readings lie the other way round than foretold, beyond their errors. */
bool ww__result_inverted(const ww__result *result, size_t i, size_t k);

/* Whether two readings look exchanged, and which. */
ww_status ww__result_swapped_find(const ww__result *result, bool *swapped, size_t *one,
                                  size_t *other, ww_error *err);

/* Log H of the plan's local work on a tone and of that by hand. */
double ww__result_work(const ww__result *result, const ww__print_spot *spot);

/* The tone that is oddest by a cause. */
typedef struct ww__result_odd {
    const ww__print_spot *spot; /* NULL where there is none */
    double gain;                /* chi-square that goes where its readings count for nothing */
    size_t freedom;             /* readings of it that bear on that */
    size_t choices;             /* tones that it was picked of */
} ww__result_odd;

/* Parameters and judgement of every hypothesis. */
typedef struct ww__result_fit {
    double parameter[WW_MISS_CAUSES][WW__RESULT_PARAMETERS];
    bool fog;                    /* of the light end: density was added, not exposure */
    bool dark_read, dark_stands; /* a tone that this leaves be was read; and came out so */
    ww__result_odd one;          /* by nothing: what is one tone alone */
    ww__result_odd odd;          /* by the cause that is told, or would be without it */
    bool one_worked; /* which has local work, that goes wrong more often than a reading */
} ww__result_fit;

ww__result_odd ww__result_odd_find(const ww__result *result, const ww__result_fit *fit,
                                   ww_miss_cause cause);

/* Chance that the oddest of so many tones is so odd. */
double ww__result_odd_chance(const ww__result_odd *odd);

/* The hypothesis that one tone alone is off; that of nothing is set. */
ww_status ww__result_one_try(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss,
                             ww_error *err);

/* fit->odd; where no cause is supported, miss->best becomes that which would fit best without a
 * tone. */
void ww__result_odd_mark(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss);

/* What the cause that leaves least does, by chi-square and Akaike's criterion: of those that fit,
 * or of all without the tone that is oddest by it. Where no reading is left to deny a cause it does
 * not count; HUGE_VAL where none does. */
double ww__result_left(const ww__result *result, const ww__result_fit *fit,
                       const ww_print_miss *miss, bool without_one);

/* Where no cause is supported: whether another tone would do about as well as fit->odd, by any. */
bool ww__result_odd_rivalled(const ww__result *result, const ww__result_fit *fit,
                             const ww_print_miss *miss);

/* Whitened (foretold - came out), and false where the cause cannot be. */
bool ww__result_residual(const ww__result *result, ww_miss_cause cause, bool fog,
                         const double parameter[], double r[]);

ww_status ww__result_causes_try(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss,
                                ww_error *err);

/* Which of the causes that were tried are supported, and the best (print_result_judge.c). */
void ww__result_causes_judge(const ww__result_fit *fit, ww_print_miss *miss);

/* Whether it may be the fog or flare that the print before was told to have. */
bool ww__result_lit_again(const ww__result *result, const ww_print_miss *miss);

/* A print without the one tone that is off. */
typedef struct ww__result_rest {
    bool used;         /* what is told or learned is by it */
    ww__result result; /* its points and their covariances; the rest is the whole print's */
    ww__result_fit fit;
    ww_print_miss miss;
} ww__result_rest;

/* Where one tone alone is told, whether the rest came out as foretold; where no cause is, whether
 * one explains all but one tone, and then that is told. Release the rest in any case. */
ww_status ww__result_rest_try(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss,
                              ww__result_rest *rest, ww_error *err);

/* ww__result_learn, by the rest where that is used. */
ww_status ww__result_rest_learn(const ww__result *result, ww__result_rest *rest,
                                const ww__result_fit *fit, ww_print_miss *miss, ww_error *err);

void ww__result_rest_release(ww__result_rest *rest);

/* By how much readings scatter more about a cause than their errors say; 1 at least. What is made
 * of them is in doubt by as much more. */
double ww__result_spread(const ww_miss_hypothesis *hypothesis);

/* Whitened derivatives of what a hypothesis foretells, one row a parameter; p of them. */
size_t ww__result_slopes(const ww__result *result, ww_miss_cause cause, bool fog,
                         const double parameter[], double *row[]);

/* The tone whose reading would tell, and the table of tones. */
ww_status ww__result_telling_find(const ww__result *result, const ww__result_fit *fit,
                                  ww_print_miss *miss, ww_error *err);

/* miss->offset and miss->learned. */
ww_status ww__result_learn(const ww__result *result, const ww__result_fit *fit, ww_print_miss *miss,
                           ww_error *err);

/* miss->why. */
ww_status ww__result_words(const ww__result *result, const ww__result_fit *fit, ww_print_miss *miss,
                           ww_error *err);

#endif
