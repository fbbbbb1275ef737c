/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_BALANCE_H
#define WEDGEWORK_BALANCE_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/pack.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>
#include <wedgework/response.h>

/*
 * Colour prints by optical enlargement: the filter pack and the time that bring a print's readings
 * to those of an approved one. Packs go in and come out in one unit: CC, or the dial units of a
 * head, of which `head_scale` make a CC.
 */
enum { WW_BALANCE_COLOURS = WW_RESPONSE_COLOURS, WW_BALANCE_BUDGET_MOST = 7 };

#define WW_BALANCE_TIME_LEAST 0.1 /* [s] */
#define WW_BALANCE_TIME_MOST 3600.0
#define WW_BALANCE_STEP_LEAST 0.1 /* [CC] between two settings of a filter */
#define WW_BALANCE_STEP_MOST 20.0
#define WW_BALANCE_HEAD_LEAST 0.1 /* [dial units per CC] */
#define WW_BALANCE_HEAD_MOST 10.0
#define WW_BALANCE_TIMER_LEAST 0.001 /* [s] */
#define WW_BALANCE_TIMER_MOST 60.0
#define WW_BALANCE_REPEATABILITY_MOST 0.2   /* [D] */
#define WW_BALANCE_REPEATABILITY_USUAL 0.01 /* [D] common practice */

/* A hand's tolerance, and where readings to 0.01 can no longer set 2.5 CC. */
#define WW_BALANCE_WITHIN 0.02     /* [D] common practice */
#define WW_BALANCE_WITHIN_CC 2.5   /* [CC] common practice */
#define WW_BALANCE_SLOPE_LEAST 0.4 /* [D per log H] 0.01 D are 2.5 CC there */
#define WW_BALANCE_CROSSOVER 5.0   /* [CC] packs of two greys further apart than this: crossover */

typedef enum ww_balance_kind {
    WW_BALANCE_PRINT,    /* from a test print */
    WW_BALANCE_NEGATIVE, /* from a negative against the standard negative */
    WW_BALANCE_CARRIED   /* a stored plan and the offset of another */
} ww_balance_kind;

/* "print", "negative", "carried". */
const char *ww_balance_kind_name(ww_balance_kind kind);

typedef struct ww_balance_setting {
    ww_pack pack;
    double time_s;
} ww_balance_setting;

typedef struct ww_balance_request {
    const ww_readings *print; /* of the test print; the standard negative */
    const ww_readings *aim;   /* of the approved print; the new negative */
    const ww_readings *ring;  /* prints with known changes, NULL for none */
    const ww_curve *paper;    /* NULL: of a negative alone, without ring */
    ww_balance_setting from;  /* that the test print, or the standard negative, was printed with */
    bool stored;              /* that is a stored plan's exact pack, of which the step was set */
    const char *tone;         /* the grey to solve for; NULL: all that were read */
    const char *burn; /* a tone that gets more light through a pack of its own; NULL: none */
    double filter_step;
    double head_scale;
    double timer_step_s;
    ww_optional repeatability; /* [D] standard deviation from print to print */
} ww_balance_request;

#define WW_BALANCE_REQUEST_INIT                                                                    \
    { .filter_step = 2.5, .head_scale = 1.0, .timer_step_s = 0.1 }

/* One grey. Arrays are for red, green and blue. */
typedef struct ww_balance_tone {
    char *tone;  /* owned, never NULL; "" where it has no name */
    bool solved; /* it has a say in the pack */
    bool burnt;
    double print[WW_BALANCE_COLOURS]; /* [D] */
    double aim[WW_BALANCE_COLOURS];
    double change[WW_BALANCE_COLOURS]; /* [log H] from the one to the other */
    double change_sd[WW_BALANCE_COLOURS];
    double slope[WW_BALANCE_COLOURS]; /* of the paper at the aim [D per log H]; 0 of negatives */
    bool foretold;
    double predicted[WW_BALANCE_COLOURS];      /* [D] of the next print, as set */
    double predicted_half[WW_BALANCE_COLOURS]; /* 95 % half-width */
    double left_cc[WW_BALANCE_COLOURS];        /* 100 log H still missing to the aim then */
    double left_half_cc[WW_BALANCE_COLOURS];   /* 95 % half-width of that */
    bool within; /* a hand's tolerance, in density and in CC, doubt and all */
} ww_balance_tone;

typedef struct ww_balance_part {
    const char *from;
    double cc; /* 95 % half-width, of the filter that doubt_cc is of: squares add up to its */
} ww_balance_part;

/* Two greys that part for sure, by the difference of two colours' changes. */
typedef struct ww_balance_parting {
    size_t tone, other;
    ww_channel of, less; /* red or blue less green, or blue less red */
    double cc, half_cc;  /* of tone against other; 95 % half-width */
} ww_balance_parting;

/* Where the packs that single greys want part. */
typedef struct ww_balance_crossover {
    bool known;                /* two greys or more */
    bool found;                /* two of them want packs over 5 CC apart, and beyond doubt */
    ww_balance_parting surest; /* of these, where found */
    double worst_cc;           /* against the middle grey, red or blue less green */
    double doubt_cc;           /* 95 % half-width of it */
    double would_tell_cc;      /* between the lightest and the darkest grey, in 95 of 100 prints */
    size_t tone;               /* the grey where that is */
    size_t middle;
    ww_channel channel; /* red or blue */
} ww_balance_crossover;

/* 95 % half-widths of a pack [its unit], the worse filter, and of a time [stops]. */
typedef struct ww_balance_doubt {
    bool known;
    double filter, stops;
} ww_balance_doubt;

typedef struct ww_balance_burn {
    bool set; /* it was asked for */
    bool possible;
    size_t tone;                        /* where possible */
    ww_balance_setting exact, settable; /* of the second exposure, through a pack of its own */
    double stops;                       /* that all light of the tone comes to, against the first */
    ww_balance_doubt doubt;             /* of exact */
} ww_balance_burn;

/* What a stored plan says of its grey: what it shall come to, and how doubtful that is [D]. */
typedef struct ww_balance_grey {
    bool known;
    double aim[WW_BALANCE_COLOURS], half[WW_BALANCE_COLOURS]; /* 95 % half-widths */
} ww_balance_grey;

/* What carries a stored plan to another lot or size. */
typedef struct ww_balance_offset {
    ww_pack change;               /* of pack, in the unit of the packs */
    double stops;                 /* of time */
    double factor;                /* of time by size besides */
    ww_balance_doubt recipe, lot; /* of the stored plan, of change and stops */
    ww_balance_grey grey, lot_grey;
} ww_balance_offset;

#define WW_BALANCE_OFFSET_INIT                                                                     \
    {                                                                                              \
        .factor = 1.0, .lot = {.known = true}, .lot_grey = {.known = true }                        \
    }

/* The columns of those rows. */
#define WW_BALANCE_RING_COLUMNS "pack,time,tone,n,sd,red,green,blue"

typedef struct ww_balance {
    ww_balance_kind kind;
    bool holds; /* neither crossover nor a pack or time that cannot be given */
    double head_scale, filter_step, timer_step_s;
    ww_balance_setting from, exact, settable;
    bool stored;                          /* from is of a stored plan, of which the step was set */
    ww_pack change;                       /* exact less from */
    double stops;                         /* of exact against from */
    double excess_cc[WW_BALANCE_COLOURS]; /* what the print has over its aim, as 100 log H of dye */
    bool reversal;
    bool left_alone;       /* the print is right, and pack and time stay as they are */
    bool untold;           /* filters change by less than the doubt that readings leave of them */
    ww_channel least_sure; /* whose reading, of print or aim, leaves most of it open */
    bool doubt_known;      /* not of a plan carried from one that had none */
    double doubt_cc;       /* 95 % half-widths of pack, the worse filter, and time */
    double doubt_stops;
    ww_balance_tone *tone; /* owned */
    size_t n_tones;
    size_t solved_for; /* the tone whose prediction stands for the print */
    ww_balance_crossover crossover;
    ww_balance_burn burn;
    ww_balance_part budget[WW_BALANCE_BUDGET_MOST];
    size_t n_budget;
    ww_response response;
    size_t ring_rows;            /* of the ring-around that were used */
    bool told[WW_RESPONSE_ACTS]; /* what the ring-around tells of time and filters */
    ww_balance_offset carried;   /* what a stored plan was carried by */
    ww_notes ring_row;           /* the print's greys as rows of the next ring-around */
    ww_notes first; /* what is to be said before any advice, as that the process is out of control;
                       the caller's to add: a plan is made with none */
    ww_notes notes;
} ww_balance;

#define WW_BALANCE_INIT                                                                            \
    { .kind = WW_BALANCE_PRINT }

void ww_balance_release(ww_balance *balance);

/*
 * ww_balance_print - pack and time of the next print, in one solve, from one that was read.
 *
 *   Readings and aims become log exposures of the paper's layers, by its own curves
 *   (wedgework/layers.h); in these time and filters are linear (wedgework/response.h), so that pack
 *   and time that take the one to the other are solved for exactly, and the curves foretell the
 *   densities. Several greys are
 *   solved for together, each by the inverse square of its error, unless one is named or they part
 *   by over 5 CC, when the middle one decides. No factor of a filter is applied: the time was
 *   found with the filters in the light.
 *
 * Ring      Rows of the ring-around and the print teach the response. Where the print does not lie
 *           where the ring's rows of the same grey put it (chance under 1 in 1000), only what these
 *           have between them is used. A row that does not go with the others is named and left
 *           out. For both a print may scatter by repeatability, or by what is usual where none is
 *           given, besides its readings. Where none is given the doubt holds what the rows show of
 *           it (ww_response_scatter).
 * Set       Of the packs on filter_step around the exact one, each with its own time on
 *           timer_step_s, that with the least error in density is taken. A print whose
 *           density and cast are each within 1.25 CC of its aim's keeps a pack of three filters as
 *           it is; a note gives the same in two.
 * Crossover Where two greys want packs over 5 CC apart, in magenta, yellow or cyan, and errors
 *           would make that of a print without crossover in 1 of 200 (readings, dyes, 0.10 of a
 *           cast for what layers do to each other; all comparisons counted), no filtration cures
 *           it; holds is false.
 * Burn      The named tone gets a second exposure through a pack of its own:
 *           log10(10^(aim - base) - 1) in each channel, base being its log exposure in the print as
 *           set. Its doubt is the tone's, in light that the burn adds: (1 + 1 / burn) times its log
 *           exposure's, burn being that light against the base exposure's. A tone that the paper's
 *           curve has no slope for is left out with a note; holds is false.
 *
 * Source    dD = slope dlogH and a 3 x 3 response: common practice; half-widths: propagation of
 *           errors to first order
 * Given     request  print, aim, paper with red, green and blue; densities absolute, one status
 * Returned  *balance (release it)
 * Status    WW_OK; WW_EDOMAIN a number of the request beyond its limits, WW_EMISMATCH other
 *           material, status, zero, lot, or read wet where the curve is dry; WW_ENODATA no grey
 *           with all three densities, no aim of its name, no slope of the paper there (at white, at
 *           black), or a density beyond its curve; WW_EINPUT a row of the ring-around without pack
 *           or time; WW_EMEMORY
 * Accuracy  tests/plan/test_balance_trial.c prints how near simulated prints come
 */
ww_status ww_balance_print(const ww_balance_request *request, ww_balance *balance, ww_error *err);

/*
 * ww_balance_negative - pack and time of a new negative, from its densities against the standard
 *                       negative's: what it holds back more is given more.
 *
 *   change of log H = D(new) - D(standard) in each channel
 *
 * Given     request  print: the standard negative; aim: the new one; from: the standard's pack and
 *                    time; ring and paper or neither
 * Status    as above
 */
ww_status ww_balance_negative(const ww_balance_request *request, ww_balance *balance,
                              ww_error *err);

/*
 * ww_balance_carry - a stored plan for another paper lot or size: the change of another plan, which
 *                    brought the standard negative to its own aim there, applied to it.
 *
 *   pack + change of pack, neutral density taken out at 1 / 100 log H a CC; time 10^change
 *   doubt^2 = doubt of the stored plan ^2 + doubt of the offset ^2 + reciprocity ^2
 *
 *   reciprocity: what ww_response_usual leaves open of a size's other time in each colour, as
 *   filters and time; of densities at 3 D per log H.
 *
 *   The stored plan's grey is foretold at its aim, with that plan's doubt and the offset's in
 *   density likewise: as far as paper and size change light alone, and with the exact pack and
 *   time.
 *
 * Source    common practice: the slope; one offset of time, magenta and yellow carries every recipe
 * Given     request  from: the stored plan's exact pack and time; steps
 *           offset   what is applied
 * Returned  *balance  doubt_known where both plans' are; one grey, without print, where both
 *           plans foretold theirs
 * Status    WW_OK; WW_EDOMAIN; WW_EMEMORY
 * Accuracy  of 90 densities of 30 prints, simulated by hand on drawn spectra, all lay within that
 */
ww_status ww_balance_carry(const ww_balance_request *request, const ww_balance_offset *offset,
                           ww_balance *balance, ww_error *err);

#endif
