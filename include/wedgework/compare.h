/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_COMPARE_H
#define WEDGEWORK_COMPARE_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/colour.h>
#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/ramp.h>
#include <wedgework/readings.h>
#include <wedgework/viewing.h>

/*
 * Prints, papers' curves and displays beside each other: what each has, tone by tone what differs,
 * and which of it no tone curve takes away.
 */

/* What was sent to the output for a tone. */
typedef enum ww_compare_control {
    WW_COMPARE_LABEL, /* nothing that is a number: tones are told by their names */
    WW_COMPARE_RAMP,  /* a scale of greys (ramp.h) */
    WW_COMPARE_LOG_H  /* an exposure; of a curve: above its speed point */
} ww_compare_control;

/* One tone of a print. */
typedef struct ww_compare_tone {
    char *label; /* owned, never NULL */
    bool base;
    bool neutral;     /* nothing coloured was sent for it */
    ww_optional sent; /* drive (ramp.h), or log H */
    ww_optional density[WW_CHANNEL_COUNT];
    double error[WW_CHANNEL_COUNT]; /* of it, 1 sd [D] */
    bool has_lab;
    ww_lab lab;
    double lab_error; /* of a coordinate, 1 sd */
} ww_compare_tone;

/* How far greys leave the hue of their own white, at the tone where they do most. */
typedef struct ww_compare_drift {
    bool there;
    double value; /* red less green, or blue less green, above that of white [D]; or a*, b* less
                     white's, dimmed as far as the tone is: (L* + 16) / (white's L* + 16) */
    double half;  /* 95 % half-width of it; in CIELAB for the greatest of some 20 tones */
    size_t at;    /* tone */
} ww_compare_drift;

/* Of densities, and from WW_COMPARE_A on of CIELAB. */
enum { WW_COMPARE_RED_GREEN, WW_COMPARE_BLUE_GREEN, WW_COMPARE_A, WW_COMPARE_B, WW_COMPARE_DRIFTS };
const char *ww_compare_drift_name(size_t drift); /* as in JSON */

/* What a print looks to have with the light of a room upon it. */
typedef struct ww_compare_seen {
    double veil; /* share of white */
    double white, black, range;
} ww_compare_seen;

/* A print (a curve, a display) as it is compared. */
typedef struct ww_compare_print {
    char *name; /* as it says itself, else its file; owned, never NULL */
    bool curve, screen;
    bool above_white; /* its densities begin at its own white: a display's do */
    bool from_light;  /* visual densities are made of its lightness or luminance */
    ww_density_status status;
    ww_density_kind density;
    ww_compare_control control;
    ww_ramp ramp; /* that was sent; WW_RAMP_NONE where none was */
    bool has[WW_CHANNEL_COUNT];
    ww_channel main; /* that it is judged by */
    ww_compare_tone *tone;
    size_t n;
    ww_optional white_at, black_at; /* tones that are white and black; of a curve none need be */
    bool white_known, black_known;  /* these are the ends of what it prints; else only of what was
                                       read of it */
    ww_optional white_of[WW_CHANNEL_COUNT]; /* white in each channel [D] */
    double white_error[WW_CHANNEL_COUNT];   /* 1 sd */
    ww_quantity white, black, range;        /* of the main channel [D] */
    ww_quantity gradient; /* D per unit of what was sent (of gray: per 100 %), from a
                                        quarter to three quarters of the range */
    ww_compare_drift drift[WW_COMPARE_DRIFTS];
    bool has_lab;
    ww_lab white_lab;
    ww_compare_seen seen[WW_VIEWING_VEILS];
    ww_optional white_luminance, black_luminance; /* [cd/m2], of a display */
    ww_optional temperature;                      /* [K], of a display's white */
} ww_compare_print;

/* "tone", the ramp's name, or "log H". */
const char *ww_compare_control_name(const ww_compare_print *print);

/* B less A at one tone. */
typedef struct ww_compare_difference {
    size_t a, b;           /* tones of either; b is the nearer where B is read between two */
    bool between;          /* B has no such tone: its density lies on a straight line between two */
    bool reached;          /* B's white and black hold A's density, within doubt */
    ww_region_name region; /* that A's density belongs to */
    ww_optional density[WW_CHANNEL_COUNT];
    double half[WW_CHANNEL_COUNT]; /* 95 % half-width [D] */
    ww_optional de2000;
    double de2000_half;
} ww_compare_difference;

/* The largest of some differences, with its sign. */
typedef struct ww_compare_worst {
    bool there;
    double value, half;
    ww_channel channel;
    size_t at; /* of the pair's differences */
} ww_compare_worst;

typedef struct ww_compare_region {
    size_t n; /* tones in it */
    ww_compare_worst worst;
    double mean, half; /* of the main channel [D] */
    size_t n_reached;  /* those of them that B can print, and the same of these */
    double reached_mean, reached_half;
} ww_compare_region;

/* What an agreement can limit. */
typedef enum ww_compare_limit {
    WW_LIMIT_WHITE,
    WW_LIMIT_BLACK,
    WW_LIMIT_LIGHT,
    WW_LIMIT_MIDDLE,
    WW_LIMIT_DARK,
    WW_LIMIT_DRIFT,
    WW_LIMIT_DE2000_MEAN,
    WW_LIMIT_DE2000_MAX,
    WW_LIMIT_NEUTRAL_AB,
    WW_LIMIT_COUNT
} ww_compare_limit;

/* Key in files: "white", ..., "de2000_max", "neutral_ab"; unit: "D" or, of colours, "". */
const char *ww_compare_limit_name(ww_compare_limit limit);
const char *ww_compare_limit_unit(ww_compare_limit limit);

typedef struct ww_compare_limits {
    ww_optional most[WW_LIMIT_COUNT]; /* size of a difference that is allowed */
} ww_compare_limits;

#define WW_COMPARE_LIMITS_INIT                                                                     \
    {                                                                                              \
        .most = { {false, 0.0} }                                                                   \
    }

typedef enum ww_compare_verdict {
    WW_COMPARE_NOT_ASKED,
    WW_COMPARE_WITHIN,
    WW_COMPARE_BEYOND,
    WW_COMPARE_UNKNOWN /* these readings do not tell */
} ww_compare_verdict;

typedef struct ww_compare_check {
    ww_compare_verdict verdict;
    double limit;
    double value, half; /* the difference with its sign, where it has one */
    bool doubtful;      /* the limit lies within the doubt */
} ww_compare_check;

/* Two prints: B is compared with A. */
typedef struct ww_compare_pair {
    size_t a, b;      /* of the comparison's prints */
    bool above_white; /* densities count from each one's own white */
    bool has[WW_CHANNEL_COUNT];
    ww_channel main;
    ww_compare_difference *tone; /* in the order of A's tones */
    size_t n;
    size_t between;
    ww_compare_worst worst, reached; /* of all tones; of those that B can print */
    ww_compare_region region[WW_REGION_COUNT];
    ww_quantity white, black, range, gradient; /* B less A; gradient: B over A */
    ww_compare_drift drift[WW_COMPARE_DRIFTS]; /* at: of the pair's differences */
    size_t n_de2000;
    double de2000_mean, de2000_mean_half, de2000_max, de2000_max_half;
    size_t de2000_at;
    bool has_lab;                           /* of both whites */
    double white_a, white_b, white_ab_half; /* B's a*, b* less A's */
    double seen_black[WW_VIEWING_VEILS];    /* B less A */
    bool never_white;                       /* B's paper is denser than A's */
    bool never_black;                       /* B's black is lighter than A's: */
    double black_from; /* A's tones denser than this [D, on the pair's zero] are beyond it */
    bool never_drift, never_hue;
    ww_compare_check check[WW_LIMIT_COUNT];
    ww_compare_verdict within;
    ww_optional offset[WW_REGION_COUNT]; /* what the next run is to be given [D]; unset: no tone
                                            there, or nothing beyond doubt */
} ww_compare_pair;

typedef struct ww_comparison {
    ww_compare_print *print;
    size_t n;
    ww_compare_pair *pair; /* every print after the first, with the first */
    size_t n_pairs;
    bool holds; /* nothing asked for is beyond its limit or unknown */
    ww_notes notes;
} ww_comparison;

#define WW_COMPARISON_INIT                                                                         \
    { .print = NULL, .holds = true }

void ww_comparison_release(ww_comparison *comparison);

/* One of the two. */
typedef struct ww_compare_input {
    const ww_readings *readings;
    const ww_curve *curve;
    const char *file; /* that it came from */
} ww_compare_input;

enum { WW_COMPARE_MOST = 12 }; /* prints at once */

/*
 * ww_compare_make - compare prints, curves or displays with the first of them.
 *
 *   Replicates are averaged first. Of a table, white is the row `base`, else its lightest neutral
 *   tone, black its densest. Those are the ends of what it prints where the scale that was sent
 *   was read to its end (within a fiftieth), or of named tones where there is a row `base` or white
 *   is the zero of densities; else tones beyond them are not out of its reach, and ends are
 *   compared only where the same was sent for both. A tone is neutral where it is a step of the
 *   scale of greys that was sent (ramp.h), or where no colourant was and it does not look a colour.
 *   Tones are paired by their names where both tables have them with the same controls, else by
 *   what was sent, on a straight line between neighbours. Curves are laid over each other at their
 *   speed points, else the middle of their densities (each channel at its own), since exposure and
 *   filters take that up, and compared every 0.1 log H where both were measured.
 *
 *   Where a table has no visual density, it is made of L* or of luminance over the luminance of
 *   its lightest tone. A display's densities, and those that are relative to white, count from the
 *   white, and so do those that they are compared with.
 *
 *   A grey has the hue of its white where it lets the same share of each of X, Y, Z through: its a*
 *   and b* are then white's times (L* + 16) / (white's L* + 16), down to L* 8 (CIE 15: differences
 *   of cube roots). What they are besides is its drift.
 *
 *   difference = B - A;  half-width 1.96 sqrt(e_A^2 + e_B^2), e as of ww_readings_error. A reading
 *   of a colour repeats to 0.2 in each coordinate, one of luminance to 1 %, where no sd is given.
 *   A limit is kept by what was read; where it lies within the doubt, that is told.
 *
 * Source    definitions; repeats of colour and luminance: common practice
 * Given     input   2 to 12, all tables or all curves; statuses and kinds of density alike where
 *                   stated
 *           limits  what was agreed; NULL: nothing
 * Returned  *comparison  (release it)
 * Status    WW_OK; WW_EDOMAIN fewer than 2 or more than 12 of them; WW_EMISMATCH a table and a
 *           curve, densities of different statuses or kinds, no channel in common, no tone in
 *           common; WW_ENODATA a table without a neutral tone that was read, a curve that was not
 *           fitted; WW_EMEMORY
 */
ww_status ww_compare_make(const ww_compare_input input[], size_t n, const ww_compare_limits *limits,
                          ww_comparison *comparison, ww_error *err);

#endif
