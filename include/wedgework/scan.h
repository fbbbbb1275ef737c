/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_H
#define WEDGEWORK_SCAN_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>
#include <wedgework/scan_pass.h>

/* The exposure of a scan: from a negative's densities and a calibrated scanner. */

#define WW_SCAN_BASE 0.95     /* of full scale as light: film base, just under clipping */
#define WW_SCAN_SEPARATE 0.01 /* [D] that is to be told apart where nothing else is asked for */
#define WW_SCAN_SEPARATE_LEAST 0.001
#define WW_SCAN_SEPARATE_MOST 1.0
#define WW_SCAN_PASSES 16     /* scans that anyone would make of one negative: common practice */
#define WW_SCAN_APART 0.1     /* [stops] less is one exposure for all channels */
#define WW_SCAN_SECOND_MOST 4 /* [stops] that a second exposure may have more: common practice */

/* Pixels over which it is to be told apart: 3 x 3. Noise of 0.01 D in a pixel, which the trade
 * works to, then tells 0.0093 D. */
#define WW_SCAN_PATCH 9.0

/* Bits whose codes are compared. */
enum { WW_SCAN_BITS = 5 };
extern const unsigned ww_scan_bits[WW_SCAN_BITS]; /* 8, 10, 12, 14, 16 */

typedef struct ww_scan_request {
    const ww_readings *negative; /* tones of one negative */
    const ww_scanner *scanner;
    const char *const *keep; /* tones whose detail is to be kept; none: the densest */
    size_t n_keep;
    double separate; /* [D] */
} ww_scan_request;

#define WW_SCAN_REQUEST_INIT                                                                       \
    { .separate = WW_SCAN_SEPARATE }

/* What it takes to tell the asked-for difference apart in the densest tone to be kept. */
typedef enum ww_scan_way {
    WW_SCAN_ONE,     /* one scan */
    WW_SCAN_SECOND,  /* a second one with more light, merged with the first */
    WW_SCAN_AVERAGE, /* several alike, averaged */
    WW_SCAN_BOTH,    /* a second exposure, and one of the two or both averaged */
    WW_SCAN_NO_WAY
} ww_scan_way;

/* "one scan", "second scan", "average", "both", "none" */
const char *ww_scan_way_name(ww_scan_way way);

/* ww_scan_trust - half-width of stops as it is shown: in tenths (ww_doubt_shown). */
double ww_scan_trust(ww_quantity stops);

/* ww_scan_asked - a difference that may well be asked for where `least` is told: two figures of it,
 *                 rounded up. */
double ww_scan_asked(double least);

/* A tone in one channel, at the plan's exposure. Densities are absolute. */
typedef struct ww_scan_tone {
    char *tone; /* owned */
    bool base, kept;
    bool over;        /* denser than the instrument that read it sees: nothing else is known */
    double density;   /* of its dense end where its ends were read */
    ww_optional thin; /* its thin end, where both were read */
    double code;      /* mean */
    double snr;       /* of a pixel */
    double noise;     /* of a pixel, 1 sd [D] */
} ww_scan_tone;

typedef struct ww_scan_channel {
    bool present;
    ww_channel read;   /* column of the negative that was taken */
    ww_quantity stops; /* to the scan that calibrated the scanner; + more light */
    ww_scan_doubt doubt;
    ww_scan_tone *tone; /* owned */
    size_t n_tones;
    size_t base;                    /* the tone that stands at 95 % */
    bool stands_in;                 /* it is not the film's base but the thinnest tone */
    double base_density, base_code; /* of its thin end where its ends were read */
    double ends;                    /* code at which the codes end: white, or less */
    size_t highlight;               /* the densest tone to be kept */
    bool seen;                      /* the sight of one scan there is 1 or more */
    bool beyond;                    /* denser than the wedge that calibrated the scanner */
    ww_quantity sees; /* the density where the sight of one scan falls to 1, extrapolated where
                         that is beyond the wedge; absent: there is no such density up to D 8 */
    double light;     /* more than the channel that needs least, a ratio: colour of the light that
                         would do for all at one exposure */

    /* At the highlight; without meaning where it is `over`. */
    ww_optional snr_before;    /* at the exposure of the scanner file */
    ww_optional snr_together;  /* at one exposure for all channels, that of the least stops */
    double separable;          /* told apart at one pixel [D] */
    double told;               /* over WW_SCAN_PATCH pixels [D] */
    double contrast;           /* share of the film's that flare leaves */
    double step[WW_SCAN_BITS]; /* one code at so many bits [D] */
    double own_step;           /* at the scanner's own; 0 for floating point [D] */

    /* As the plan has it; where second_stops > 0. */
    double second_stops; /* of the second exposure, beyond the first; 0 where it needs none */
    double switch_at;    /* density from which the first alone would not do, clear of what clips */
    double second_told;  /* what all scans tell over the patch at the highlight, merged */
    double gain;         /* noise at the highlight in one first scan over that of all, merged */
    double between;      /* told over the patch of any tone from the base to the highlight, merged:
                            the most, which may lie beside what clips in the second */

    unsigned average; /* scans alike that would do, 1 where one does; 0: not 16 either */
} ww_scan_channel;

typedef struct ww_scan_plan {
    bool holds; /* what was asked for can be told apart, one way or another, and nothing is off */
    bool off;   /* a tone is clearer than open light, so densities are another exposure's */
    ww_scan_way way;
    unsigned passes; /* scans in all: */
    unsigned first;  /* with the channels' stops, averaged where they are more than one */
    unsigned second; /* with the second stops on top; 0 or more */
    double separate; /* asked for [D] */
    double least;    /* that WW_SCAN_PASSES scans would tell in all channels; no way [D] */
    unsigned throughout_first, throughout_second; /* as many as would tell it of all tones from the
                                                     base to the highlight; 0: these do, or none */
    double throughout_stops;                      /* of its second exposure, beyond the first */
    double stops;                                 /* least of the channels': one exposure for all */
    double second_stops;                          /* greatest of the channels'; where second > 0 */
    unsigned bits;                                /* of the scanner's codes */
    unsigned held; /* that they hold: fewer where the codes come in steps */
    double white;
    bool encoded;       /* the scanner's codes are not light */
    ww_channel weakest; /* that tells least */
    ww_scan_channel channel[WW_CHANNEL_COUNT];
    ww_notes notes;
} ww_scan_plan;

#define WW_SCAN_PLAN_INIT                                                                          \
    { .holds = false }

void ww_scan_plan_release(ww_scan_plan *plan);

/* ww_scan_plan_trust - of the channel that is least sure.
 * ww_scan_plan_apart - whether a channel wants over WW_SCAN_APART more than the plan's `stops`. */
double ww_scan_plan_trust(const ww_scan_plan *plan);
bool ww_scan_plan_apart(const ww_scan_plan *plan);

/*
 * ww_scan_plan_make - stops, codes, noise, and how many scans it takes.
 *
 *   stops of a channel: film base at 95 % of full scale, as light (ww_scan_pass_stops_to)
 *   told at a tone over 3 x 3 pixels: ww_scan_pass_told, and of two exposures ww_scan_pair_noise
 *
 * Way       The least number of scans, up to 16, that tell the difference in all channels at the
 *           tones to be kept: m of the first exposure and n of a second, each averaged, then
 *           merged; of as many, the most of the second.
 * Second    The least of thirds of a stop, up to 4, that do; where the most of the channels' serves
 *           another, too, that.
 * Between   Tones that nobody asked for may be told less, where the second exposure clips and the
 *           first is alone: how much, and what would tell them, too, by the same search.
 *
 * Source    95 %, second scan, averaging: common practice; the rest: definition
 * Given     negative  tones, of a negative, in transmission. A row `base` is the film's base; else
 *                     the thinnest tone stands in. A channel that was not read takes `visual`, of a
 *                     film that is not said to be in colour; a grey scanner takes the channel of a
 *                     black-and-white negative. Readings relative to the base need a base row with
 *                     the base's own density
 *           scanner   of transmission, where it says
 *           keep      names of tones; separate  0.001 to 1 D
 * Returned  plan      (release it)
 * Status    WW_OK, also where nothing holds; WW_EDOMAIN separate; WW_EMISMATCH not a negative, a
 *           scanner of reflected light, a tone that is not there, ends the wrong way round, a tone
 *           thinner than the base; WW_ENODATA no tones, a
 *           base row without a density, no base density of relative readings, no column for a
 *           channel; WW_EMEMORY
 */
ww_status ww_scan_plan_make(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err);

#endif
