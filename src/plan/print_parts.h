/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_PRINT_PARTS_H
#define WEDGEWORK_PLAN_PRINT_PARTS_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/print.h>

/*
 * A print plan is made in this order: the negative's tones (print_tones.c) and
 * what they are to become (print_placing.c), the papers (print_papers.c), then for each paper what
 * the tones come out as (print_fate.c), its time (print_time.c) and the doubt of that
 * (print_budget.c); print.c puts them in order, print_words.c and print_remarks.c say it. The
 * numbers that the plan rests on:
 */
#define WW__PRINT_DENSE_AIM 0.08   /* [net D] densest tone where nothing is placed; interface */
#define WW__PRINT_BLACK 0.90       /* [of net D-max] thinnest tone; interface, ISO 6846 */
#define WW__PRINT_FIRST_TONE 0.04  /* [net D] first tone that shows; ISO 6846 as quoted */
#define WW__PRINT_FILM_DETAIL 0.03 /* [D] less is no detail on the film; interface */
#define WW__PRINT_DETAIL 0.02      /* [D] less is no detail in the print; interface */
#define WW__PRINT_MERGED 0.05      /* [D] this near to D-max is black; standard proof, practice */
#define WW__PRINT_NOMINAL_DOUBT                                                                    \
    0.10 /* [of log H] half a grade either side, from the table of grades */
#define WW__PRINT_NOMINAL_LEAST                                                                    \
    0.05 /* [log H] toes and shoulders of one grade differ by as much; common practice */
#define WW__PRINT_REPEATS_APART 0.05      /* [D], sd of repeats of one place */
#define WW__PRINT_MOST_MOVE 4.0           /* [stops] of burning or dodging: common practice */
#define WW__PRINT_LEAST_MOVE (1.0 / 24.0) /* [stops] half the finest step that a hand sets */
#define WW__PRINT_UNDER_BASE 0.03 /* [D] thinner than base+fog is misread; common practice */
#define WW__PRINT_BASE_LEAST 0.03 /* [D] no film's base is clearer, no reading of 0 is more */
#define WW__PRINT_BETWEEN 0.10    /* of the way from one paper to another; common practice */
#define WW__PRINT_LIKE_RANGE 0.05 /* [log H] a third of a grade: nobody sees which is nearer */
#define WW__PRINT_NEAR_RANGE 0.15 /* [log H] a grade: as near as that where tones are given up */
#define WW__PRINT_LIKE_WORK (1.0 / 12.0) /* [stops] the finest step that a hand sets */
#define WW__PRINT_BESIDE 0.05    /* [D] an aim this near to two test prints is between them */
#define WW__PRINT_MOST_DOUBT 2.0 /* [stops] a time that is known no better is none */
#define WW__PRINT_LOG_STOP 0.30102999566398119521 /* log10 2 */
#define WW__PRINT_95 1.959963984540054            /* half-width of 95 % of a normal, in sd */

/* One reading of a place in the picture, replicates averaged. */
typedef struct ww__print_end {
    ww_cell_state state;
    double density; /* as read */
    double error;   /* standard error [D] */
    double seen;    /* as the paper sees it, absolute where that is known */
    size_t rows;
    size_t line; /* of the first row, 0 where it has none */
} ww__print_end;

/* A tone on the negative: its whole, thin and dense readings (by ww_part), and its middle. */
typedef struct ww__print_spot {
    const char *name; /* the negative's */
    bool base;
    ww__print_end end[3];
    bool known;  /* has a middle: the mean of both ends, else the whole, else the one end */
    bool over;   /* read, but beyond the instrument where the middle would need it */
    bool judged; /* both ends known */
    double density;
    double error;
    double seen;
    double seen_slope; /* d seen / d density at the middle */
    ww_optional aim;
    ww_optional hand; /* stops of all moves by hand on it */
} ww__print_spot;

typedef struct ww__print_negative {
    ww_readings pooled; /* owns the names */
    ww_channel channel;
    bool absolute; /* seen densities count from open light: seconds can be had */
    double base;   /* added to readings relative to the base, 0 where none is known */
    ww__print_spot *spot;
    size_t n;
    size_t first;  /* sets the time */
    bool contrast; /* there is another end: */
    size_t other;  /* sets the contrast, with its aim or at 90 % of net D-max where unset */
    ww_optional other_aim;
    double first_aim;
} ww__print_negative;

#define WW__PRINT_NEGATIVE_INIT                                                                    \
    { .pooled = WW_READINGS_INIT }

void ww__print_negative_release(ww__print_negative *negative);

/* The tones, their middles, and which of them set time and contrast. Notes what was assumed. */
ww_status ww__print_tones_read(const ww_print_request *request, ww__print_negative *negative,
                               ww_notes *notes, ww_error *err);

/* Whether readings are those of a negative. Status WW_OK; WW_EMISMATCH */
ww_status ww__print_tones_check(const ww_readings *readings, ww_error *err);

/*
 * The tones in one channel and their middles, as read; those of a wedge, which have no tone, are
 * left out. What pooling noted stands in negative->pooled. For ww__print_negative_release, also on
 * failure.
 *
 * Status    WW_OK; WW_EMISMATCH ends the wrong way round, a tone thinner than the base; WW_EMEMORY
 */
ww_status ww__print_tones_gather(const ww_readings *readings, ww_channel channel,
                                 ww__print_negative *negative, ww_error *err);

/* The film's base+fog, NULL where none was read. */
const ww__print_spot *ww__print_tones_base(const ww__print_negative *negative);

/* A reading into the mean of a place. Rows of one tone and part with different steps are places
 * inside it: each counts once. */
void ww__print_tones_add(ww__print_end *end, const ww_cell *cell, size_t line);

/* The tone that sets the time. */
const ww__print_spot *ww__print_tones_first(const ww__print_negative *negative);

/* 95 % half-width of the negative's range, between the ends that set time and contrast [log H]. */
double ww__print_tones_range_width(const ww__print_negative *negative);

/* Whether it was read as a whole, neither end of its detail: then it may have none. */
bool ww__print_tones_whole(const ww__print_spot *spot);

/* The tone of that name, NULL where there is none. */
const ww__print_spot *ww__print_tones_named(const ww__print_negative *negative, const char *name);

/* Of tones that were read: the aims, and which tones set time and contrast. */
ww_status ww__print_placing_set(const ww_print_request *request, ww__print_negative *negative,
                                ww_notes *notes, ww_error *err);

/* "cloud, face, shadow": the tones with a middle, as many as the text has room for. */
void ww__print_placing_names(const ww__print_negative *negative, char text[], size_t size);

/* The tone of that name with a middle; the message says what is wrong with it otherwise. `act` is
 * what was asked for: "place", "test". */
ww_status ww__print_placing_find(const ww__print_negative *negative, const char *name,
                                 const char *act, size_t *index, ww_error *err);

/* Of tones that were read: what hands give them besides, several moves on one summed in seconds. */
ww_status ww__print_moves_set(const ww_print_request *request, ww__print_negative *negative,
                              ww_error *err);

/* Log H of all local work on a tone, the plan's and that by hand; -HUGE_VAL where together they
 * hold back the whole time. */
double ww__print_moves_sum(ww_optional burn_stops, ww_optional hand_stops);

/* One paper as the plan uses it. */
typedef struct ww__print_sheet {
    const ww_curve *curve; /* for its meta */
    ww_curve *own;         /* that, where no file holds it: nominal, interpolated, split; the plan
                              takes it over */
    const ww_channel_curve *channel;
    const char *name;
    char label[48]; /* stands in where the curve has no name */
    bool nominal;
    int grade;                               /* where nominal */
    const struct ww__print_sheet *beside[2]; /* where it was interpolated: softer, harder */
    const struct ww__print_sheet *splits;    /* measured pairs of its split table, softest first;
                                                NULL where it is not of one */
    size_t n_splits;
    double soft;                    /* of a split: the soft filter's share of its seconds */
    double white;                   /* density of paper white, in the curve's own densities */
    double white_sd;                /* of that, where it was read; 0 otherwise */
    double dmax;                    /* net */
    bool black_measured;            /* false: the darkest step stands in for D-max */
    double lightest, darkest;       /* net, at the ends of the measured range */
    const ww_print_offset *offset;  /* what earlier prints taught of it; NULL for nothing */
    const ww_print_offset *witness; /* of a plan by a test print: what prints without one taught,
                                       which the test is set against; NULL for nothing */
    double taught_range;            /* log H that its range is shorter by, by those */
    double pivot, stretch;          /* log H of the sheet = pivot + stretch (the curve's - pivot) */
    double low, high;               /* log H of the sheet, the measured range */
} ww__print_sheet;

typedef struct ww__print_sheets {
    ww__print_sheet *sheet;
    size_t n;
} ww__print_sheets;

#define WW__PRINT_SHEETS_INIT                                                                      \
    { NULL, 0 }

void ww__print_sheets_release(ww__print_sheets *sheets);

/* The papers that can be planned for; those that can't are named in a note. */
ww_status ww__print_papers_read(const ww_print_request *request, ww__print_sheets *sheets,
                                ww_notes *notes, ww_error *err);

/* Readings of paper that are given beside curves (print_readings.c): WW_EMISMATCH where they are
 * of something else, `what` it should have been. */
ww_status ww__print_readings_check(const ww_readings *readings, const char *what, ww_error *err);

/* Paper's base row in a set relative to white or base is 0, but for 0.03 or twice its error: else
 * WW_EMISMATCH, for densities that count from white already would have it taken off twice. */
ww_status ww__print_readings_check_zero(const ww_readings *readings, ww_error *err);

/* Paper white of pooled readings, 0 where they count from it, else the mean of the base rows,
 * and the standard error of that; false where it was not read. */
bool ww__print_readings_white(const ww_readings *pooled, ww_channel channel, double *white,
                              double *error);

/* What a sheet needs to know of its curve: white, black and the measured range. */
ww_status ww__print_papers_measure(ww__print_sheet *sheet, ww_error *err);

/* A paper between two that were measured, so far on the way from the first, 0, to the second, 1. */
typedef struct ww__print_between {
    const ww__print_sheet *one, *two;
    double way;
    /* Log H at which it reaches a share of its net D-max; false where that is not known. */
    bool (*log_h)(const struct ww__print_between *between, double share, double *log_h);
} ww__print_between;

/* Its curve (print_between.c): made is false where the two share no range, or no curve follows what
 * lies between. Names are the caller's to give. */
ww_status ww__print_between_fit(const ww__print_between *between, ww_curve *curve, bool *made,
                                ww_error *err);

/* Shares of net D-max over which both were measured; false where there are none. */
bool ww__print_between_shares(const ww__print_sheet *a, const ww__print_sheet *b, double *low,
                              double *high);

/* 95 % half-width in log H of a paper between two others, at a place on its curve. */
double ww__print_between_width(const ww__print_sheet *sheet, double log_h);

/* The same of one that was measured; 0 where its fit does not say. */
double ww__print_papers_width(const ww__print_sheet *sheet, double log_h);

/* Adds what lies half-way between neighbours that were measured (print_halves.c); a note says where
 * that can't be had. The sheets have room for as many again. */
ww_status ww__print_halves_add(ww__print_sheets *sheets, ww_notes *notes, ww_error *err);

/* 95 % half-width in log H of a half, at a place on its curve. */
double ww__print_halves_width(const ww__print_sheet *sheet, double log_h);

/* The number of a contrast label, 00 being -1; false where it has none. `word` is what stands
 * before it, without spaces at its end. */
bool ww__print_halves_number(const char *label, char word[], size_t size, double *number);

/* Where nothing fits: an entry of the same paper, on another lot or at another size; else NULL. */
const ww_print_offset *ww__print_offset_elsewhere(const ww_print_request *request,
                                                  const ww__print_sheet *sheet);

/* An entry of the same paper in another contrast; else NULL. */
const ww_print_offset *ww__print_offset_sister(const ww_print_request *request,
                                               const ww__print_sheet *sheet);

/* Log H between the first tone and 90 % of black, or as much of that as was measured. */
bool ww__print_offset_range(const ww__print_sheet *sheet, double *range);

/* Applies that to the sheet, whose log H at the first tone's aim stays. WW_EDOMAIN where it is more
 * than prints can teach. */
ww_status ww__print_offset_apply(const ww_print_request *request, double first_log_h,
                                 ww__print_sheet *sheet, ww_error *err);

/* Log H that gives a net density; false where the paper was not measured there. */
bool ww__print_papers_log_h(const ww__print_sheet *sheet, double net, double *log_h);

/* Net density at a log H, and its slope unless NULL; false where it was not measured there. */
bool ww__print_papers_net(const ww__print_sheet *sheet, double log_h, double *net, double *slope);

/* Standard deviation of the net density there, by the fit; false where the fit does not say. */
bool ww__print_papers_sd(const ww__print_sheet *sheet, double log_h, double *sd);

/* Makes the sheet harder (stretch under 1) or softer about one log H, as earlier prints taught. */
void ww__print_papers_harden(ww__print_sheet *sheet, double pivot, double stretch);

/* What local work aims at and what a paper loses, kept for the sentence about it. */
typedef struct ww__print_fate {
    double first_log_h;    /* of the first tone's aim on this paper */
    bool contrast_reached; /* the end that sets contrast is on this paper */
    bool past_black;       /* the first aim is darker than the black that another tone goes to */
    size_t unreached;      /* placed tones whose aim this paper does not reach */
    size_t lost, blocked, merged;
    size_t bare;           /* the tone that sets the contrast unplaced, and falls to paper white */
    size_t given_up;       /* tones of all these that another paper might hold */
    size_t overworked;     /* tones that ask for more local work than a hand gives */
    size_t overdone;       /* that get more, with moves by hand */
    size_t held_back;      /* that get no light at all, with those */
    const char *lost_tone; /* the first of each */
    const char *blocked_tone;
    const char *merged_tone;
    const char *bare_tone;
    const char *unreached_tone;
    const char *overworked_tone;
    const char *overdone_tone;
    const char *held_back_tone;
} ww__print_fate;

/* Range, mismatch, tones, verdicts. paper->tone is allocated here. first_log_h is set already. */
ww_status ww__print_fate_tell(const ww__print_negative *negative, const ww__print_sheet *sheet,
                              ww__print_fate *fate, ww_print_paper *paper, ww_error *err);

/* Where test prints fell on this paper's curve: the nearer one to the aim is what doubt goes by,
 * a second one moves the time. */
typedef struct ww__print_test {
    size_t spot_of[WW_PRINT_TESTS_MOST]; /* of each test, as given */
    bool used;
    size_t which; /* the nearer one */
    size_t spot;  /* its tone */
    double log_h;
    double worth; /* log t less log H and density seen, by both: what a second is worth */
    bool both;
    double other_log_h;  /* of the other one; where both */
    double disagree;     /* log H between what the two say of a second */
    double tests_margin; /* 95 % half-width of that */
    double share;        /* of the other one in the time, 0 to 1/2 */
    bool outside;        /* the aim lies beside both, not between */
    bool compared;       /* the curve has seconds of its own: */
    bool put_right;      /* with what sheet->witness taught in them */
    double against;      /* log H of the test's seconds over those */
    double margin;       /* 95 % half-width of that */
} ww__print_test;

/* Log H, on this paper's curve, of the tone that set the time of the last print that taught of it;
 * false where it was not read or lies on no curve, or the plan goes by another test print now. */
bool ww__print_offset_place(const ww_print_request *request, const ww__print_sheet *sheet,
                            const ww__print_test *test, double *log_h);

/* Two tests of which the one with more light printed lighter, by more than readings are off by, are
 * WW_EMISMATCH: no paper does that. spot_of is set already. */
ww_status ww__print_tests_check(const ww_print_request *request, const ww__print_negative *negative,
                                const ww__print_test *test, ww_error *err);

/* Finds the tests on a paper's curve; false where none of them lies on it (print_tests.c). */
bool ww__print_tests_place(const ww_print_request *request, const ww__print_negative *negative,
                           const ww__print_sheet *sheet, ww__print_test *test);

/*
 * 95 % half-width of the log H between two places of a curve that nobody measured (without a test
 * print there is no time). Nearby hardly any of the curve is used: the doubt is no more than the
 * way itself.
 */
double ww__print_budget_nominal_width(double apart);

/* Two places of one curve share their errors when they coincide; the usual wedge step apart [log H]
 * they are taken as independent, in proportion between. */
#define WW__PRINT_APART 0.15

/* 95 % half-width in log H, at one place, of the wedge that a paper was exposed through. */
double ww__print_budget_wedge(const ww__print_sheet *sheet, double log_h);

/* Whether that is a tolerance: such a wedge is off all along, so that between two places only the
 * difference counts. */
bool ww__print_budget_wedge_nominal(const ww__print_sheet *sheet);

/* Whether two tests differ by more than their doubts explain: on a curve that was measured. */
bool ww__print_budget_tests_apart(const ww__print_test *test);

/* Whether test and curve differ by more than their doubts explain. */
bool ww__print_budget_at_odds(const ww__print_test *test);

/* Whether it is then the test that stands: on the one paper that was given, and where a second test
 * does not contradict it. */
bool ww__print_budget_test_stands(const ww_print_request *request, const ww__print_test *test);

/* The time of the exposure that a plan goes by: the test print's, else that of the curve. */
ww_optional ww__print_time_reference(const ww_print_request *request, const ww__print_sheet *sheet,
                                     const ww__print_fate *fate, const ww__print_test *test);

/* Time, and the seconds of every burn. Leaves time unset where there is none, and says why in
 * paper->no_time where no further test print is what is missing. */
ww_status ww__print_time_set(const ww_print_request *request, const ww__print_negative *negative,
                             const ww__print_sheet *sheet, const ww__print_fate *fate,
                             ww__print_test *test, ww_print_paper *paper, ww_error *err);

/* P of reciprocity; 1 where none is measured, or nothing says from which time it counts. */
double ww__print_time_exponent(const ww_print_request *request, ww_optional reference);

/* Long and dim does less than short and bright: t = t0 (t'/t0)^P, t' by the exposure alone. */
double ww__print_time_reciprocal(double exponent, ww_optional reference, double time_s);

/* Takes the time and what hangs on it away again, and says why: a clause without full stop. */
ww_status ww__print_time_refuse(ww_print_paper *paper, const char *why, ww_error *err);

/* Budget lines and the doubt, where there is a time; a test print is set against the curve. A time
 * in too much doubt is taken away. */
ww_status ww__print_budget_set(const ww_print_request *request, const ww__print_negative *negative,
                               const ww__print_sheet *sheet, const ww__print_fate *fate,
                               ww__print_test *test, ww_print_paper *paper, ww_error *err);

/* The largest line, NULL where there is none. */
const ww_budget_line *ww__print_budget_largest(const ww_print_paper *paper);

/* printf into a text of fixed size, numbers with '.' whatever the locale; returns text. */
char *ww__print_format(char text[], size_t size, const char *format, ...) WW_PRINTF(3, 4);
enum { WW__PRINT_TEXT_SIZE = 1024 };

/* The unit of a number of stops written to a tenth: "1.3 stop", "2.0 stops". */
const char *ww__print_stops(double stops);

/* A density above white for a sentence: what fits a hair under white is white. */
double ww__print_net(double net);

/* A tone's or paper's name for a sentence: short, without control characters. */
typedef struct ww__print_name {
    char text[176];
} ww__print_name;
ww__print_name ww__print_show(const char *name);

/* One note, numbers with '.' whatever the locale. */
ww_status ww__print_say(ww_notes *notes, ww_error *err, const char *format, ...) WW_PRINTF(3, 4);

/* paper->why: the contrast against what is asked for, what is lost, and a test print that the curve
 * contradicts. */
ww_status ww__print_words_why(const ww__print_negative *negative, const ww__print_fate *fate,
                              const ww__print_test *test, ww_print_paper *paper, ww_error *err);

/* One paper on its way into the plan. */
typedef struct ww__print_candidate {
    ww__print_sheet *sheet;
    ww__print_fate fate;
    ww__print_test test;
    ww_print_paper paper;
    size_t order; /* as given */
} ww__print_candidate;

/* All that is planned for one request: the papers that have its first aim, best first. */
typedef struct ww__print_desk {
    ww__print_negative negative;
    ww__print_sheets sheets;
    ww__print_candidate *candidate;
    size_t n;
} ww__print_desk;

#define WW__PRINT_DESK_INIT                                                                        \
    { .negative = WW__PRINT_NEGATIVE_INIT }

/* Checks the request and plans it; the desk is released in any case. */
ww_status ww__print_desk_fill(const ww_print_request *request, ww__print_desk *desk,
                              ww_notes *notes, ww_error *err);
void ww__print_desk_release(ww__print_desk *desk);

/* What a flash does on each paper, from the flash strip, and notes about the first of them. */
ww_status ww__print_flash_add(const ww_print_request *request, const ww__print_negative *negative,
                              ww__print_candidate candidate[], size_t n, ww_notes *notes,
                              ww_error *err);

/* For qsort: the better candidate first. */
int ww__print_order(const void *left, const void *right);

/* Log H by which the readings of a paper near one place of its curve stand off their own exposures:
 * `fit` moves those after a step skipped or read twice (print_shifted.c). */
double ww__print_shifted(const ww__print_sheet *sheet, double log_h);

/* The same of the time for an aim at that log H, less what test prints or earlier ones take out. */
double ww__print_shifted_time(const ww_print_request *request, const ww__print_sheet *sheet,
                              double log_h, const ww__print_test *test);

/* What the remarks are about. */
typedef struct ww__print_subject {
    const ww_print_request *request;
    const ww__print_negative *negative;
    const ww__print_candidate *choice;
    const ww__print_candidate *next; /* second best, NULL where there is one paper */
    ww__print_name paper;
} ww__print_subject;

typedef ww_status (*ww__print_remark)(const ww__print_subject *s, ww_notes *notes, ww_error *err);

/* Which steps of the paper were moved, and the time without that. */
ww_status ww__print_shifted_say(const ww__print_subject *s, ww_notes *notes, ww_error *err);

/* Notes about the time: what it rests on, what is odd about it, its doubt, and what that of other
 * papers in the table lacks. The choice is the first of the candidates. */
ww_status ww__print_remarks_time(const ww__print_subject *s, const ww__print_candidate candidate[],
                                 size_t n, ww_notes *notes, ww_error *err);

/* Notes about the negative: what it sets that it should not, odd readings, fog, glints, too little
 * range (print_remarks_negative.c). The choice is the first of the candidates. */
ww_status ww__print_remarks_negative(const ww__print_subject *s,
                                     const ww__print_candidate candidate[], size_t n,
                                     ww_notes *notes, ww_error *err);

/* Notes about the choice, the first of the candidates: what it gives up, what lies beyond it, thin
 * highlights, time, doubt, what was assumed. */
ww_status ww__print_remarks_add(const ww_print_request *request, const ww__print_negative *negative,
                                const ww__print_candidate candidate[], size_t n, ww_notes *notes,
                                ww_error *err);

#endif
