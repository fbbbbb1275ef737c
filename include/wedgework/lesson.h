/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_LESSON_H
#define WEDGEWORK_LESSON_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/readings.h>

/*
 * Practice readings of a film or paper that does not exist, whose curve is hidden; on request with
 * a fault to find; and how each figure comes of them by hand.
 */

/* The hidden curve: a toe, a straight line and a shoulder. */
typedef struct ww_lesson_curve {
    double base_fog;      /* [D] */
    double gamma;         /* of the straight line */
    double toe;           /* log H where that line meets base+fog */
    double toe_half;      /* the toe reaches so far to either side [log H] */
    double shoulder;      /* log H where it meets D-max */
    double shoulder_half; /* [log H] */
} ww_lesson_curve;

/*
 * ww_lesson_density - density of the hidden curve.
 *
 *   D = base_fog + gamma [r(log_h - toe, toe_half) - r(log_h - shoulder, shoulder_half)]
 *   r(u, w) = 0 below -w, u above w, between them 2w (s^3 - s^4 / 2), s = (u + w) / 2w
 *
 *   Only sums, products and quotients, which IEEE 754 rounds alike on every machine: no function
 *   of a library whose last digit may differ.
 *
 * Source    definition: the slope goes up and down by s^2 (3 - 2s); none of the models of `fit`
 * Given     curve; log_h  finite
 * Returned  density; *slope dD/dlogH (NULL allowed)
 * Accuracy  1e-14
 */
double ww_lesson_density(const ww_lesson_curve *curve, double log_h, double *slope);

/* What was spoilt on purpose. Words for --fault are their names. */
typedef enum ww_lesson_fault {
    WW_LESSON_SOUND,          /* "none" */
    WW_LESSON_SWAPPED_ROWS,   /* densities of two neighbouring steps exchanged */
    WW_LESSON_MISSED_STEP,    /* a step was passed over: what follows stands a row too early */
    WW_LESSON_FLARE,          /* stray light in the densitometer */
    WW_LESSON_DECIMAL_COMMA,  /* one density with a comma, in a table parted by commas */
    WW_LESSON_WRONG_ZERO,     /* the densitometer was set to zero on the base, and not on no film */
    WW_LESSON_REVERSED_WEDGE, /* the wedge's densities written down from the other end */
    WW_LESSON_FAULTS
} ww_lesson_fault;

/* "none", "swapped-rows", "missed-step", "flare", "decimal-comma", "wrong-zero", "reversed-wedge";
 * NULL after the last. */
const char *ww_lesson_fault_name(size_t fault);

enum { WW_LESSON_STEPS = 21 };

/* A step of the strip, or its base. */
typedef struct ww_lesson_row {
    double wedge;  /* density that exposed it, as it truly was [D]; unused for the base */
    double log_h;  /* true log exposure; unused for the base */
    double hidden; /* true density [D] */
    double read;   /* as the student read it, before anything was spoilt [D], to 0.01 */
} ww_lesson_row;

/* One strip, as it is and as a student read it. Rows: the base, then the steps from 1 on. */
typedef struct ww_lesson_strip {
    unsigned long seed;
    unsigned long student;
    bool paper;
    double log_h0;     /* log exposure at wedge density 0; lux seconds, paper seconds */
    double wedge_step; /* [D] */
    double sd;         /* of one reading of this student [D] */
    ww_lesson_curve curve;
    ww_lesson_row row[WW_LESSON_STEPS + 1];
} ww_lesson_strip;

enum { WW_LESSON_FILM, WW_LESSON_PAPER, WW_LESSON_EITHER };

/*
 * ww_lesson_draw - a strip and its readings.
 *
 *   The strip depends on the seed alone, a student's errors on seed and student: a class reads one
 *   strip. Parameters are whole hundredths (of D, of log H; halves of toe and shoulder are shares
 *   of the rise on paper); the reading is floor(100 (D + sd z) + 1/2) / 100, z the sum of 12
 *   uniform numbers of 32 bits less 6, sd 0.010 to 0.020 D. All of it is exact in whole numbers or
 *   rounded as IEEE 754 wants it, so a seed gives the same readings, ties included, on every
 *   machine.
 *
 * Source    generator MT19937 (Matsumoto and Nishimura, ACM Trans. Model. Comput. Simul. 8 (1998)
 *           3); ranges of parameters: common practice
 * Given     seed, student  1 to 4294967295
 *           kind           WW_LESSON_FILM, _PAPER; _EITHER: by seed
 * Returned  *strip
 * Status    WW_OK; WW_EDOMAIN seed or student out of range; WW_EMEMORY
 */
ww_status ww_lesson_draw(unsigned long seed, unsigned long student, int kind,
                         ww_lesson_strip *strip, ww_error *err);

/* --- by hand ---------------------------------------------------------------------------------- */

typedef enum ww_lesson_figure {
    WW_LESSON_BASE,        /* base+fog, or paper white */
    WW_LESSON_BLACK,       /* paper: D-max */
    WW_LESSON_SPEED_POINT, /* net 0.10, on paper net 0.60 */
    WW_LESSON_SPEED,       /* film: 0.8 / Hm */
    WW_LESSON_GAMMA,
    WW_LESSON_GRADIENT,
    WW_LESSON_INDEX, /* film */
    WW_LESSON_RANGE, /* paper: R */
    WW_LESSON_FIGURES
} ww_lesson_figure;

enum { WW_LESSON_NUMBERS = 8 };

/* How a figure comes about: its rule, its formula, what goes into that. Constant texts. */
typedef struct ww_lesson_rule {
    const char *key;     /* in files */
    const char *heading; /* for people */
    const char *unit;
    int decimals;
    const char *rule;                      /* one sentence without full stop */
    const char *formula;                   /* names of `number` and the result */
    const char *number[WW_LESSON_NUMBERS]; /* names, NULL after the last */
    const char *source;
    double trust; /* a class's readings agree so far: less is no departure */
} ww_lesson_rule;

/* NULL where such a material has no such figure. */
const ww_lesson_rule *ww_lesson_rule_of(ww_lesson_figure figure, bool paper);

typedef struct ww_lesson_result {
    bool there;
    double value;
    double number[WW_LESSON_NUMBERS];
    const char *why_not; /* constant; NULL where there is a value */
} ww_lesson_result;

typedef struct ww_lesson_working {
    ww_lesson_result result[WW_LESSON_FIGURES];
} ww_lesson_working;

/* Points to work from, in rising log H; a base beside them. */
typedef struct ww_lesson_points {
    const double *log_h;
    const double *density;
    size_t n;
    ww_optional base;
} ww_lesson_points;

/*
 * ww_lesson_work - every figure as it is worked out by hand from a table of readings.
 *
 *   Between readings lie straight lines. A density is looked up where they first rise through it.
 *   gamma             the local slope at a step is the least-squares slope of it and `beside`
 *                     steps on either side; of the longest run of steps about the steepest whose
 *                     local slope is no more than 5 % less (and `doubt`), the least-squares slope
 *   average gradient  film: from the speed point over 1.50 log H; paper: from net 0.04 to 90 % of
 *                     net D-max
 *   contrast index    of a centre on the base+fog line, so that it and the crossings of arcs with
 *                     radius 0.2 and 2.2 about it lie on one line: that line's slope
 *   R                 100 (log H at 90 % of net D-max - log H at net 0.04)
 *
 * Source    as ww_figure_compute; longest run within 5 %: common practice of the trade's teaching
 * Given     points  n >= 2, log_h rising
 *           paper
 *           beside  steps on either side of a local slope, >= 1
 *           doubt   of a local slope, >= 0
 * Returned  *working
 * Accuracy  1e-9 against straight lines between the points
 */
void ww_lesson_work(const ww_lesson_points *points, bool paper, size_t beside, double doubt,
                    ww_lesson_working *working);

/* ww_lesson_work_hidden - the same of the hidden curve, from points 0.001 log H apart.
 *                         Status WW_OK; WW_EMEMORY. Accuracy 1e-5 against the curve */
ww_status ww_lesson_work_hidden(const ww_lesson_strip *strip, ww_lesson_working *working,
                                ww_error *err);

/* --- the lesson ------------------------------------------------------------------------------- */

/* A row of the table that is handed out. */
typedef struct ww_lesson_given {
    bool base;
    double wedge;
    double density;
} ww_lesson_given;

typedef struct ww_lesson {
    ww_lesson_strip strip;
    ww_lesson_fault fault;
    size_t at;   /* step of the fault, 0: all of them */
    double size; /* flare as a share of open light; shift of the zero [D]; else 0 */
    ww_lesson_given given[WW_LESSON_STEPS + 1];
    size_t n;                 /* rows that are handed out */
    ww_lesson_working hidden; /* of the curve itself */
    ww_lesson_working sound;  /* of the readings before anything was spoilt */
    ww_lesson_working spoilt; /* of the readings as they are handed out */
} ww_lesson;

typedef struct ww_lesson_request {
    unsigned long seed;
    unsigned long student;
    int kind;
    bool any_fault; /* one of them by seed */
    ww_lesson_fault fault;
} ww_lesson_request;

#define WW_LESSON_REQUEST_INIT                                                                     \
    { .seed = 1, .student = 1, .kind = WW_LESSON_EITHER }

/*
 * ww_lesson_make - a lesson with its fault and the answers.
 *
 *   Faults: rows are swapped, and a step is missed, where densities of neighbours are 0.08 D apart
 *   or more, film 0.06; flare 0.5 to 2.0 %, D' = -log10((10^-D + f) / (1 + f)), by a table of
 *   10^(-n / 100) from products, so that it rounds alike everywhere; the zero is off by the base as
 *   it was read. The steps and sizes go by seed, not by student.
 *
 * Status    as ww_lesson_draw
 */
ww_status ww_lesson_make(const ww_lesson_request *request, ww_lesson *lesson, ww_error *err);

/* What the fault is, what it does, and what gives it away: sentences without full stop. */
const char *ww_lesson_fault_what(ww_lesson_fault fault);
const char *ww_lesson_fault_sign(ww_lesson_fault fault);

/*
 * ww_lesson_table - what is handed out, as a table of readings: nothing in it tells the curve, the
 *                   seed or the fault.
 *
 * Returned  table  (release it)
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_lesson_table(const ww_lesson *lesson, ww_readings *table, ww_error *err);

#endif
