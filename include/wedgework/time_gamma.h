/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TIME_GAMMA_H
#define WEDGEWORK_TIME_GAMMA_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/quantity.h>

/*
 * Contrast against development time. What is called contrast here is gamma, or an average gradient,
 * or a contrast index: the law is the same.
 */
enum { WW_TIME_GAMMA_MOST = 48 };

/* How far past the measured times an answer goes: a quarter of the time at that end. */
#define WW_TIME_GAMMA_PAST 0.25

/* The contrast of one curve. */
typedef struct ww_time_gamma_point {
    double time_min;
    double contrast;
    double sd; /* standard error of it, > 0 */
} ww_time_gamma_point;

/* contrast = level + growth * (1 - e^(-rate (t - first))) / rate; a straight line where the rate is
 * 0. Between two times: level + growth ln(t / first). */
typedef struct ww_time_gamma_line {
    double level;  /* contrast at the first time */
    double growth; /* slope there [1/min]; of two times, by ln t */
    double rate;   /* [1/min] */
} ww_time_gamma_line;

/* What the measured times carry. */
typedef enum ww_time_gamma_form {
    WW_TIME_GAMMA_BETWEEN, /* two times: straight against log time between them */
    WW_TIME_GAMMA_AT_ONCE, /* three, and they go with t0 = 0 */
    WW_TIME_GAMMA_FREE     /* three that do not, or more: t0 as the curves have it */
} ww_time_gamma_form;

typedef struct ww_time_gamma {
    ww_time_gamma_form form;
    ww_time_gamma_line line;                       /* the answer goes by it */
    ww_time_gamma_line free;                       /* the middle of its doubt */
    ww_time_gamma_point point[WW_TIME_GAMMA_MOST]; /* in order of time */
    size_t n;
    size_t n_times;        /* different ones */
    double chi_squared;    /* of the free law, by the points' own errors */
    size_t freedom;        /* its degrees of freedom */
    double scatter;        /* relative, 1 sd: what curves scatter by besides their own errors, as
                              given or more */
    bool scattered;        /* more than chance allows (5 %) */
    double at_once;        /* by how much t0 = 0 leaves more chi-squared than the free law */
    bool rises;            /* contrast grows with time */
    bool even;             /* no t0 >= 0 goes with the curves: contrast grows more evenly */
    double rate_most;      /* rates up to this are in the doubt */
    double least, allowed; /* chi-squared of the free law with that scatter; how much more is in the
                              95 % interval */
    ww_quantity gamma_infinity;
    ww_quantity rate;  /* k [1/min] */
    ww_quantity start; /* t0 [min] */
} ww_time_gamma;

/*
 * ww_time_gamma_two - gamma-infinity and rate of development from the contrasts at two times, if
 *                     development began at once (t0 = 0).
 *
 *   gamma = gamma_inf (1 - e^(-k t)); of t and 2 t, with contrasts g and h:
 *   gamma_inf = g^2 / (2 g - h),  k = -ln(h / g - 1) / t
 *
 * Source    the law after Nietz, Theory of Development (1922), from memory; its closed form
 * Given     a, b  the earlier and the later; sd plays no part
 * Returned  *gamma_infinity, *rate
 * Status    WW_OK; WW_EDOMAIN a time or contrast not finite or not > 0, times that do not rise, or
 *           contrasts whose ratio is not between 1 and that of the times
 * Accuracy  1e-10 relative, less where the ratio is within 1e-3 of that of the times
 */
ww_status ww_time_gamma_two(const ww_time_gamma_point *a, const ww_time_gamma_point *b,
                            double *gamma_infinity, double *rate, ww_error *err);

/*
 * ww_time_gamma_fit - how contrast grows with the time of development.
 *
 *   gamma = gamma_inf (1 - e^(-k (t - t0)))
 *
 *   Two times leave k and t0 open. Between them contrast is taken straight against log t, which the
 *   law is nearly where t0 = 0; the doubt holds every law through them from the straight line to
 *   one whose t0 is half the first time. Three times give k and gamma_inf with t0 = 0, where that
 *   leaves no more than 3.84 of chi-squared over the law with t0 free; the doubt holds the latter.
 *   From four on t0 is free; below 0 it is no time, but says that contrast grows more evenly.
 *
 *   Weighted least squares, errors being those of the points and, in quadrature, a relative scatter
 *   of developments: `repeatability`, or more where chi-squared would else exceed its degrees of
 *   freedom.
 *   Intervals by profile: all values with which the best law leaves no more than 3.84 over the
 *   least chi-squared; where the scatter is more than chance allows, Student's t squared of its
 *   degrees of freedom in place of 3.84, but no more than a scatter of 5 % would make of it.
 *
 *   gamma_infinity and rate are absent of two times, where the interval of gamma_infinity is open
 *   or its upper end is over 1.5 times its lower, and where no t0 from 0 to the first time goes
 *   with the curves. start is absent then, and of fewer than four times, or where its interval is
 *   wider than half the first time.
 *
 * Source    law: Nietz (1922), from memory; scatter: Paule and Mandel, J. Res. Nat. Bur. Stand. 87
 *           (1982) 377-385, from memory; profile intervals: textbook; 5 %, 1.5 and the half: choice
 * Given     point  in any order; time_min, contrast, sd finite and > 0
 *           n      2 to 48
 *           repeatability  what one development differs from the next by, relative, 1 sd: 0 to 100
 * Returned  *law
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold; WW_ENODATA all times are the same.
 *           Where contrast does not grow, rises is false.
 * Accuracy  on families simulated by the law intervals hold the truth in 93 to 99 of 100
 */
ww_status ww_time_gamma_fit(const ww_time_gamma_point point[], size_t n, double repeatability,
                            ww_time_gamma *law, ww_error *err);

/*
 * ww_time_gamma_contrast - contrast at a time, with its 95 % interval.
 *
 * Given     time_min  from 3/4 of the first time to 5/4 of the last
 * Returned  *contrast  WW_FITTED; WW_EXTRAPOLATED outside the measured times
 * Status    WW_OK; WW_EDOMAIN a time beyond
 */
ww_status ww_time_gamma_contrast(const ww_time_gamma *law, double time_min, ww_quantity *contrast,
                                 ww_error *err);

/* Where the time for a contrast lies. */
typedef enum ww_time_gamma_place {
    WW_TIME_GAMMA_INSIDE,  /* it is told */
    WW_TIME_GAMMA_SHORTER, /* under 3/4 of the first time */
    WW_TIME_GAMMA_LONGER,  /* over 5/4 of the last */
    WW_TIME_GAMMA_NEVER,   /* the law levels off below it */
    WW_TIME_GAMMA_LEVEL    /* contrast does not grow */
} ww_time_gamma_place;

typedef struct ww_time_gamma_answer {
    ww_time_gamma_place place;
    ww_quantity time;     /* [min]; absent unless inside */
    bool low_open;        /* the interval ends at half the first time; it may go on */
    bool high_open;       /* the same at 3/2 of the last */
    ww_optional foreseen; /* where the law, drawn on, puts it [min]; not set for NEVER, LEVEL */
    double slope;         /* of contrast by time, there [1/min] */
    double curves_half;   /* what the points' own errors have in the interval [min] */
    double scatter_half;  /* the same of scatter */
} ww_time_gamma_answer;

/*
 * ww_time_gamma_time - the time for a contrast, with its 95 % interval.
 *
 * Given     contrast  finite, > 0
 * Returned  *answer
 * Status    WW_OK; WW_EDOMAIN
 */
ww_status ww_time_gamma_time(const ww_time_gamma *law, double contrast,
                             ww_time_gamma_answer *answer, ww_error *err);

#endif
