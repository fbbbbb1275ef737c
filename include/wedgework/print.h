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

typedef struct ww_print_request {
    const ww_readings *negative;      /* tones of one negative */
    const ww_curve *const *paper;     /* measured papers; none: nominal grades 0 to 5 */
    size_t n_papers;
    const ww_print_place *place;      /* the first sets the time */
    size_t n_places;
    bool test_given;                  /* one test print: this time gave this tone that density */
    double test_time_s;
    ww_print_place test;
    double callier;                   /* 1: readings are what the paper sees */
    double enlarger_flare;            /* fraction of open light */
    double dry_down_percent;          /* for plans made from wet readings */
    ww_optional from_scale, scale;    /* magnifications, both or neither */
    ww_optional from_aperture, aperture; /* f-numbers, both or neither */
    double timer_step_s;
    ww_optional repeatability;        /* process repeatability, 1 sd [D]; absent: not in the budget */
} ww_print_request;

#define WW_PRINT_REQUEST_INIT                                                                      \
    {                                                                                              \
        .callier = 1.0, .timer_step_s = 0.1                                                        \
    }

typedef enum ww_verdict {
    WW_VERDICT_PRINTS,
    WW_VERDICT_BURN,   /* needs more (or, negative stops, less: dodging) than the base time */
    WW_VERDICT_BLOCKED, /* no detail on the film: nothing there to print */
    WW_VERDICT_LOST    /* detail on the film that this paper cannot separate at the aim */
} ww_verdict;

const char *ww_verdict_name(ww_verdict verdict);

typedef struct ww_print_tone {
    char *tone;                    /* owned */
    bool base;                     /* film base+fog: placed nowhere, no verdict counts */
    double negative;               /* density read, mean of the two ends where both are there */
    ww_optional negative_thin, negative_dense;
    ww_optional print;             /* net print density in the straight print, mean of ends */
    ww_optional print_thin, print_dense;
    ww_optional aim;               /* where it was placed, net */
    ww_optional separation;        /* between its ends after local work */
    ww_optional separation_straight;
    ww_verdict verdict;
    ww_optional burn_stops;        /* negative: dodging */
    ww_optional burn_seconds;
    bool beyond;                   /* some end falls outside the paper's measured range */
} ww_print_tone;

typedef struct ww_budget_line {
    const char *from; /* constant: "readings", "wedge", "log h0", "paper fit", "process", "timer" */
    double stops;     /* one standard deviation's 95 % half-width, in stops */
} ww_budget_line;

enum { WW_BUDGET_MAX = 8 };

/* What one paper would do with the negative. */
typedef struct ww_print_paper {
    char *paper;                 /* name, owned */
    char *contrast;              /* grade or filter label, owned */
    bool nominal;
    bool holds;                  /* every placed tone and every tone's detail is held */
    char *why;                   /* one sentence: why this is the choice, or what it loses; owned */
    ww_optional time_s;
    ww_optional doubt_stops;     /* 95 % half-width of the time; absent where there is no time */
    ww_quantity paper_range;     /* log H over which its end-points lie */
    double mismatch;             /* log H by which it misses the contrast aim, + too soft */
    ww_print_tone *tone;
    size_t n_tones;
    ww_budget_line budget[WW_BUDGET_MAX];
    size_t n_budget;
} ww_print_paper;

typedef struct ww_print_plan {
    bool holds;                  /* the best paper holds everything asked for */
    ww_print_paper *paper;       /* best first */
    size_t n_papers;
    ww_quantity negative_range;  /* between the tones that set time and contrast, as the paper sees */
    char *dense_tone;            /* end-points that were used, owned */
    char *thin_tone;
    ww_notes notes;
} ww_print_plan;

#define WW_PRINT_PLAN_INIT                                                                         \
    {                                                                                              \
        .paper = NULL                                                                              \
    }

void ww_print_plan_release(ww_print_plan *plan);

/*
 * ww_print_plan_make - paper, contrast, time, predicted densities and the fate of each tone's
 *                      detail, for one negative on several papers.
 *
 *   log H on the paper = log H at the first placed tone's aim - (D_seen - D_seen of that tone),
 *   D_seen = -log10((10^(-Q D) + f) / (1 + f))
 *
 * Source    placing rules, verdicts and budget: interface conventions; Callier: facts §5; flare:
 *           facts §13; size (m+1)^2: Clerc; dry-down: common practice.
 * Status    WW_OK; WW_EDOMAIN an option outside its domain; WW_EMISMATCH readings or papers that may
 *           not be combined; WW_ENODATA no tone with a density, a placed tone that is not there, no
 *           paper with a curve; WW_EMEMORY
 */
ww_status ww_print_plan_make(const ww_print_request *request, ww_print_plan *plan, ww_error *err);

#endif
