/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PRINT_H
#define WEDGEWORK_PRINT_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

/* A tone that is to print at a density above paper white; `aim` is net. */
typedef struct ww_print_place {
    const char *tone;
    double aim;
} ww_print_place;

/* One test print: this time gave this tone that density above paper white. Two lie either side of
 * the aim at best, and the time between them hangs on the paper's curve no more. */
typedef struct ww_print_test {
    double time_s;
    const char *tone;
    double density; /* net */
} ww_print_test;
enum { WW_PRINT_TESTS_MOST = 2 };

/* What a request may hold; beyond lies a slip of typing. */
#define WW_PRINT_AIM_LEAST 0.005 /* [net D] */
#define WW_PRINT_AIM_MOST 6.0
#define WW_PRINT_TEST_LEAST 0.01 /* [s] */
#define WW_PRINT_TEST_MOST 100000.0
#define WW_PRINT_CALLIER_LEAST 0.5 /* [1] */
#define WW_PRINT_CALLIER_MOST 3.0
#define WW_PRINT_DRY_DOWN_MOST 50.0 /* [%] */
#define WW_PRINT_SCALE_LEAST 0.01   /* [1] */
#define WW_PRINT_SCALE_MOST 1000.0
#define WW_PRINT_APERTURE_LEAST 0.5 /* [f-number] */
#define WW_PRINT_APERTURE_MOST 256.0
#define WW_PRINT_STEP_LEAST 0.001 /* [s] */
#define WW_PRINT_STEP_MOST 60.0
#define WW_PRINT_REPEATABILITY_MOST 1.0 /* [D] */
#define WW_PRINT_LIFT_MOST 10.0         /* [D] */
#define WW_PRINT_RECIPROCITY_LEAST 1.0  /* [1] */
#define WW_PRINT_RECIPROCITY_MOST 2.0
#define WW_PRINT_MOVE_MOST 4.0 /* [stops] either way */

/* Local work that a hand gives besides what the plan asks for; stops are relative to the base time,
 * and several moves on one tone add in seconds. */
typedef struct ww_print_move {
    const char *tone;
    double stops; /* + burning, - dodging */
} ww_print_move;

/*
 * What earlier prints taught about one paper at one size. Empty texts (or NULL) and unset numbers
 * match anything; of several that match the closest counts, of those the one with most prints
 * behind it.
 */
typedef struct ww_print_offset {
    char *paper;    /* name, owned */
    char *contrast; /* label, owned */
    char *lot;      /* owned */
    ww_optional scale;
    bool tested;   /* learned of plans that went by a test print: counts for such plans alone. One
                      that was not counts for those without: a test print has in it what they lack,
                      and is set against it; its range holds beside a test as well */
    double log_h;  /* that the paper gets beyond what curve and time say, at the tone that sets the
                      time; + prints darker than foretold */
    double range;  /* log H that the paper's range, from the first tone (net 0.04) to 90 % of net
                      D-max, is shorter by (+ harder); 0 where not learned */
    double sd;     /* of log_h */
    size_t prints; /* behind it */
    /* The last of them stands for a test print where the tone that set its time was read on it: */
    char *tone;               /* that tone, owned; NULL or "" where it was not */
    double negative;          /* its density on the negative, as read */
    double density;           /* and on the print, net */
    ww_optional test_s;       /* the test print that its own plan went by */
    ww_optional test_density; /* [net D] */
} ww_print_offset;

#define WW_PRINT_OFFSET_MOST 2.0 /* [log H] either way, and of its sd */

typedef struct ww_print_request {
    const ww_readings *negative;  /* tones of one negative */
    const ww_curve *const *paper; /* measured papers; none: nominal grades 0 to 5 */
    size_t n_papers;
    const char *const *paper_file; /* their files, for messages; NULL where none are known */
    const ww_print_place *place;   /* the first sets the time */
    size_t n_places;
    ww_print_test test[WW_PRINT_TESTS_MOST];
    size_t n_tests;
    double callier;                      /* 1: readings are what the paper sees */
    double enlarger_flare;               /* fraction of open light */
    double dry_down_percent;             /* for plans made from wet readings */
    ww_optional from_scale, scale;       /* magnifications, both or neither */
    ww_optional from_aperture, aperture; /* f-numbers, both or neither */
    ww_optional reciprocity;             /* P: a time n times as long must be n^P times as long */
    double timer_step_s;
    ww_optional repeatability; /* of the process, 1 sd [D]; absent: not in the budget */
    const ww_readings *flash;  /* flash strip: densities of bare paper by seconds of flash */
    const ww_readings *split;  /* prints of a wedge through two filters, by seconds of each */
    const ww_print_move *move; /* by hand, besides the plan's */
    size_t n_moves;
    const ww_print_offset *offset; /* learned from earlier prints */
    size_t n_offsets;
    ww_optional lift; /* [D] fog or flare brought up the lightest tone of the last print by that */
} ww_print_request;

#define WW_PRINT_REQUEST_INIT                                                                      \
    { .callier = 1.0, .timer_step_s = 0.1 }

typedef enum ww_verdict {
    WW_VERDICT_PRINTS,
    WW_VERDICT_BURN,    /* needs more (or, negative stops, less: dodging) than the base time */
    WW_VERDICT_BLOCKED, /* no detail on the film: nothing there to print */
    WW_VERDICT_LOST     /* detail on the film that this paper cannot separate at the aim */
} ww_verdict;

const char *ww_verdict_name(ww_verdict verdict);

/* Where a tone without two ends falls after local work, as no verdict counts for it. */
typedef enum ww_print_falls {
    WW_FALLS_ON_PAPER, /* between white and black, or on its aim */
    WW_FALLS_WHITE,    /* under 0.02 above paper white */
    WW_FALLS_LIGHTER,  /* lighter than the paper was measured: known no closer */
    WW_FALLS_DARKER,   /* darker than it was measured */
    WW_FALLS_BLACK,    /* within 0.05 of D-max */
    WW_FALLS_GLINT     /* over 4 stops beyond the first tone, net 0.04: white on any paper */
} ww_print_falls;

typedef struct ww_print_tone {
    char *tone;      /* owned */
    bool base;       /* film base+fog: placed nowhere, no verdict counts */
    double negative; /* density read, mean of the two ends where both are there */
    ww_optional negative_thin, negative_dense;
    ww_optional print; /* net print density, straight, at the mean of the ends */
    ww_optional print_thin, print_dense;
    ww_optional aim;        /* where it was placed, net */
    ww_optional separation; /* between its ends after local work */
    ww_optional separation_straight;
    ww_verdict verdict;
    ww_print_falls falls;
    ww_optional burn_stops; /* negative: dodging */
    ww_optional burn_seconds;
    ww_optional refused_stops; /* what its aim asks for and the plan leaves out: more than a print
                                  takes, or for a place without detail, which would only grey */
    bool beyond;               /* straight, it or an end falls outside the paper's measured
                                      range: known only to be lighter, or darker, than that */
    ww_optional hand_stops;    /* moves by hand, summed in seconds; print_after has them in it */
    ww_optional hand_seconds;
    ww_optional print_after; /* net print density at the mean of the ends after all local work */
    ww_optional flash_print; /* the same with the plan's flash and no local work */
    ww_optional flash_separation; /* between its ends then */
    ww_optional flash_burn_stops; /* what still has to be burned in then */
    ww_optional soft_seconds;     /* burning through the softer filter of the split table instead:
                                      seconds that bring it to where the burn does */
    ww_optional soft_separation;  /* between its ends then */
} ww_print_tone;

/* A flash of the whole sheet, from a measured flash strip; H adds to H. */
typedef struct ww_print_flash {
    bool set;
    double time_s;     /* the longest that leaves paper white without a visible grey */
    ww_quantity log_h; /* of that, on the paper's own scale */
    ww_quantity white; /* net density that it leaves on paper white, by the strip's readings */
    double lift;       /* log H by which the threshold of the first tone (net 0.04) moves down */
} ww_print_flash;

/* Two exposures through a soft and a hard filter, from a measured table; together they are the
 * paper's time, and set where there is one. */
typedef struct ww_print_split {
    bool set;
    double soft_s, hard_s; /* 0 where one of them alone was measured so */
} ww_print_split;

typedef struct ww_budget_line {
    const char *from; /* constant: "readings", "wedge", "log h0", "paper fit", "nominal curve",
                         "process", "timer", "test against curve", "tests apart",
                         "earlier prints", "moved steps" */
    double stops;     /* 95 % half-width of the time */
} ww_budget_line;

enum { WW_BUDGET_MAX = 10 };

/* What one paper would do with the negative. */
typedef struct ww_print_paper {
    char *paper;    /* name, owned */
    char *contrast; /* grade or filter label, owned */
    bool nominal;
    bool interpolated;   /* lies between two measured neighbours */
    ww_curve *own_curve; /* where nominal, interpolated or split: the curve planned with,
                                    owned; else NULL, and it is the request's */
    ww_print_split split;
    ww_print_flash flash;
    double work_stops; /* sum of the local work, burns and dodges alike [stops] */
    bool holds;        /* see ww_print_plan_make */
    char *why;         /* one sentence: why this is the choice, or what it loses; owned */
    ww_optional time_s;
    char *no_time;           /* what stands against a time although all for it is there, and
                                    what to do: a clause without full stop; owned; else NULL */
    ww_optional doubt_stops; /* 95 % half-width of the time; absent where there is no time */
    ww_quantity paper_range; /* log H between the aims of both ends; absent where not on it */
    double mismatch;         /* paper_range less negative_range, + too soft [log H]; without
                                    meaning where either range is absent, and then 0 */
    ww_print_tone *tone;
    size_t n_tones;
    ww_budget_line budget[WW_BUDGET_MAX];
    size_t n_budget;
} ww_print_paper;

typedef struct ww_print_plan {
    bool holds;            /* the best paper holds everything asked for */
    ww_print_paper *paper; /* best first */
    size_t n_papers;
    ww_quantity negative_range; /* between the tones that set time and contrast, as the paper sees;
                                    absent where one tone alone could be used */
    char *dense_tone;           /* end-points that were used, owned; thin_tone is then "" */
    char *thin_tone;
    struct ww_print_miss *miss; /* how the last print came out, owned; NULL where none is known: see
                                   wedgework/print_result.h */
    ww_notes first; /* what is to be said before any advice, as that the process is out of control;
                       the caller's to add: a plan is made with none */
    ww_notes notes;
} ww_print_plan;

#define WW_PRINT_PLAN_INIT                                                                         \
    { .paper = NULL }

void ww_print_plan_release(ww_print_plan *plan);

/*
 * ww_print_plan_make - paper, contrast, time, predicted densities and the fate of each tone's
 *                      detail, for one negative on several papers.
 *
 *   log H on the paper = log H at the first placed tone's aim - (D_seen - D_seen of that tone),
 *   D_seen = -log10((10^(-Q D) + f) / (1 + f))
 *
 * Ends      The first placed tone sets the time; without any, the densest goes to 0.08. Contrast is
 *           set by the thinnest placed tone with another aim (where the first is the thinnest, by
 *           the densest); where one tone is placed, by the thinnest of the negative going to 90 %
 *           of net D-max (where that is the one placed, and darker than 0.08, by the densest going
 *           to 0.08). A tone's middle is the mean of its two ends, else its whole reading, else the
 *           one end that was read.
 * Time      Paper in seconds: log t = log H + D_seen, with D_seen from open light. With a test
 *           print log t = log t_test + (log H(aim) - log H(test)) + (D_seen - D_seen of the tested
 *           tone), on any paper. With two, log t_test - log H(test) - D_seen goes in a straight
 *           line of print density from one to the other, and stays that of the nearer one beside
 *           both: on a straight curve log t = log t1 + (aim - D1) (log t2 - log t1) / (D2 - D1),
 *           whatever its slope is taken for. What earlier prints taught of the paper
 *           (ww_print_offset) is taken off. Then size, aperture, and (1 - p) where the paper was
 *           read wet; then t = t0 (t'/t0)^P, t0 the time of the test print, else, of a strip
 *           exposed by time, that of the aim, else the paper's exposure time; without any, P is
 *           left out and a note says so. Less than half a timer step, more than 100000 s, or one
 *           in doubt by over 2 stops, is no time that can be set; neither is one from a test print
 *           that lies on no paper.
 * Halves    Between papers of one name and lot whose labels are numbers 1 apart, both measured,
 *           lies one that reaches each share of its net range at the mean of their log H. It is
 *           marked, and comes after a measured one that is as near. A paper given twice is listed
 *           once.
 * Splits    Each measured pair of seconds, soft and hard, is a paper, its exposures those of both
 *           together: what counts is the share of the soft filter. All of a table have one white
 *           and one D-max. Between two of them lies the share whose range is the negative's, unless
 *           a measured one is within 0.005 log H of that: for each density, 1 / T is drawn over the
 *           share through the measured pairs, T being the seconds that reach it. Straight where two
 *           pairs are there: t1 / T1 + t2 / T2 = 1, as H adds to H; else the cubic with the slope,
 *           at each pair, of the parabola through it and its neighbours. Nothing is taken from
 *           beyond the shares that were measured. A burn can go through the soft filter alone: its
 *           seconds move the share, and are those that bring the tone as far as the burn does.
 * Flash     The longest of the strip that leaves under 0.01 on paper white; its log H by the
 *           paper's own curve; H adds to H. What it leaves is read off the strip between two steps,
 *           and in doubt by their errors and that of its white. It is told beside the burns and
 *           changes no other figure.
 * Burns     log2 of the exposure that brings a placed tone from where it falls to its aim, or the
 *           dense end of an unplaced tone, read at both ends and not blocked, to 0.04. Moves under
 *           1/24 stop are none. A tone read as a whole is burned only where it was placed.
 * Verdicts  blocked: the film's ends differ by less than 0.03, or than twice the error of that;
 *           lost: less than 0.02 apart in the print after local work, an end beyond the measured
 *           range counting as the end of the range; else burn or prints.
 * Holds     A paper holds what is asked where (1) both ends that set time and contrast and every
 *           placed aim lie in its measured range, (2) no tone read at both ends is blocked or lost,
 *           (3) no other unplaced tone merges into black, that is falls within 0.05 of D-max
 *           straight, and the one that sets the contrast does not fall to paper white, (4) no tone
 *           asks for over 4 stops of burning or dodging, and (5) where all is there for a time, a
 *           test print or a paper in seconds, one can be set (see Time). So too soft a paper holds,
 *           with weak blacks, and one a little too hard does. A plan holds where its choice does.
 * Order     Those that hold; then the fewest tones given up (what is blocked is so on every paper
 *           and does not count); then of nominal papers the grade that the table gives the
 *           negative's range (ww_paper_grade_of_range; aims other than first tone and black take
 *           their share of it); then the nearest in range, in steps of 0.05 log H, or 0.15 where
 *           tones are given up; of those alike what was measured, the least local work in steps of
 *           1/12 stop, and the nearest; a split counts there as what was not measured. With nothing
 *           to tell them apart papers keep their order (nominal ones: from the normal grade
 *           outwards).
 * Doubt     Root sum of squares of the budget, all 95 % half-widths: "readings" (the first tone's
 *           on the negative, standard error from sd and n, else 0.01 D a reading; 0.01 D at the aim
 *           and at the test print by the paper's local slope), "wedge" (1.96 wedge sd; certified
 *           0.01; else a tolerance of 0.01 at the thin to 0.10 at the dense end), "log h0", "paper
 *           fit" (from its covariance, the error of its white where that was read, and half of what
 *           its steps are off by, by the local slope; of a half both neighbours' and a tenth of the
 *           way between them; of a split between two pairs theirs, and half of what each is missed
 *           by where its own neighbours alone draw it, or, where there are two pairs only, the way
 *           down to what either exposure does alone) or, of nominal papers, "nominal curve" (a
 *           tenth of the log H from test to aim, but no less than 0.05 or, nearer than that, the
 *           whole of it), "process" (repeatability by the local slope), "timer" (half a step; of
 *           each exposure of a split), "earlier prints" (1.96 sd of the offset) or, where such were
 *           made on another contrast of the paper alone, "another contrast" (all of their offset:
 *           the lamp, or that filter) and, of two tests
 *           that differ by more than their readings and the curve explain, "tests apart" (half of
 *           that; see Test). With a test print only what differs between test and aim counts, and
 *           log h0 drops out; so it does where earlier prints were made by it. The last of those is
 *           as good as a test print where the tone that set its time was read on it: only what
 *           differs between that place and the aim counts then, and the error of its readings is in
 *           "earlier prints". With a test print as well that holds for the one it was planned by;
 *           beside another one the readings of both count.
 * Test      A paper in seconds says itself how long the test print should have taken, put right by
 *           what earlier prints without a test taught of it. Where the two differ by more than the
 *           95 % half-width of their difference (fit, wedge, log h0, readings, process and timer at
 *           the test's density), `why` and a note say so and the test's time stands. A test is of
 *           today, and lamp, height and lot of paper change: on the one paper given the budget line
 *           "test against curve" is that of a nominal curve from test to aim. Between two tests
 *           that agree none of the curve is used, and the line is "tests apart", half of what they
 *           differ by. A slip of typing is in no doubt; the difference shows it. Where two tests do
 *           not agree, or with several papers, of which the test was made on one, nobody can tell
 *           from here what is wrong: all of the difference is then "test against curve".
 *
 * Source    placing, verdicts and budget: project conventions; 0.04 and 90 %: ISO 6846 as quoted
 *           in handbooks; within 0.05 of D-max is black: common practice of the standard proof;
 *           reading error: common practice; size (m+1)^2: Clerc; dry-down and two prints either
 *           side: common practice; grades: wedgework/paper.h; exponent P: makers' sheets, measured
 *           only; H adds to H: definition; the cubic: textbook (Hermite); 0.01 as the least visible
 *           grey: common practice.
 * Given     negative           film read in transmission, absolute or relative to its base (whose
 *                              own density a base row may give); no reversal material
 *           place[].aim        net print density                              [D]   0.005 to 6
 *           test               up to two: time_s      [s]   0.01 to 100000, density [D] 0.005 to 6
 *           flash              column time, a base row or relative to white
 *           split              columns wedge, soft and hard [s]; two shares of soft at least, with
 *                              5 steps each
 *           reciprocity        where it was measured                          [1]   1 to 2
 *           callier            density seen over density read                 [1]   0.5 to 3
 *           enlarger_flare     fraction of open light                         [1]   0 <= f < 1
 *           dry_down_percent                                                  [%]   0 to 50
 *           scales             both or neither                                [1]   0.01 to 1000
 *           apertures          both or neither                                [1]   0.5 to 256
 *           timer_step_s                                                      [s]   0.001 to 60
 *           repeatability      1 sd of the process                            [D]   0 to 1
 * Returned  *plan  (release it). Times and burns are exact, not rounded to the timer. Nothing is
 *           taken from outside a paper's measured range. Tones beyond the instrument are in a note
 *           and not in the table. A paper that was not measured at the first aim is left out, and
 *           a note says so. What was assumed, and the test print that would give a missing time,
 *           is in the notes.
 * Status    WW_OK, also where nothing holds: see plan->holds
 *           WW_EDOMAIN    an option outside its domain; tones placed the wrong way round, twice, at
 *                         or under paper white, or darker or lighter than any paper was measured;
 *                         base placed; a time that no clock has; an offset that no print teaches;
 *                         a flash or a split of no seconds
 *           WW_EMISMATCH  reversal material, no film, no paper, the wrong zero; papers of different
 *                         status; a flash strip or split table without its columns, or whose
 *                         density falls with exposure; thin and dense parts changed over; a tone
 *                         thinner than the film's base by more than 0.03, or twice the error of
 *                         that; two test prints of which the one with more light is lighter by more
 *                         than the 95 % error of their readings
 *           WW_EINPUT     a density of the negative that has no tone
 *           WW_ENODATA    no tone with a density; a placed or tested tone that is missing or beyond
 *                         the instrument; ends that read the same; no paper with a curve; a flash
 *                         strip without white or steps; a split table of one share, or with too few
 *                         steps or seconds missing
 *           WW_EMEMORY
 * Accuracy  1e-9 in log H against the papers' curves; what they are worth is in the doubt
 */
ww_status ww_print_plan_make(const ww_print_request *request, ww_print_plan *plan, ww_error *err);

/*
 * ww_print_tests_carry - whether the test prints of a stored request say anything of one that was
 *                        made from it with other papers, or another negative.
 *
 * Source    common practice: a test print holds for its paper, lot and negative
 * Given     stored       as it was
 *           request      made from it, with its test prints
 *           read_anew    its negative is not the stored one, but read again, or another
 * Returned  request      its tests stand, or there are none; why is in the notes
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_print_tests_carry(const ww_print_request *stored, bool read_anew,
                               ww_print_request *request, ww_notes *notes, ww_error *err);

#endif
