/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MATCH_H
#define WEDGEWORK_MATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/curve.h>
#include <wedgework/tone_response.h>
#include <wedgework/viewing.h>

/* The tone curve that makes one output print, or show, what another prints: a correction. */

enum { WW_MATCH_CHANNELS = 3, WW_MATCH_POINTS = 256 };

#define WW_MATCH_TOLD 0.02 /* [D] a difference that the trade works to: common practice */
#define WW_MATCH_KEPT 1.0  /* [D] above paper, where the light half of a scale ends: the same */
#define WW_MATCH_BAND                                                                              \
    1.0 /* CIE lightness between neighbouring codes, which the eye tells: the same */

typedef struct ww_match_request {
    const ww_readings *aim;    /* readings of the output to be matched, */
    const ww_curve *aim_curve; /* or a curve; neither: equal steps of lightness */
    const ww_readings *print;
    const ww_readings *const *refine; /* of prints made with the correction, pass after pass */
    size_t n_refine;
    bool absolute; /* densities themselves; else those above each paper's own white */
} ww_match_request;

#define WW_MATCH_REQUEST_INIT                                                                      \
    { .aim = NULL }

/* Print less aim where that is greatest, of either sign; the half-width that holds the misses of
 * all these tones at once in 95 of 100. */
typedef struct ww_match_miss {
    bool any;       /* the aim has such tones */
    double density; /* [D] */
    double doubt;
    double drive; /* of the aim */
} ww_match_miss;

/* What whole codes of 8 bits make of the curve. */
typedef struct ww_match_codes {
    size_t merged;   /* codes in that go where the one before them went */
    size_t left_out; /* codes out, between the least and the greatest, that nothing goes to */
    double lightness, density; /* greatest step between neighbours, as CIE lightness and in D */
    double drive;              /* where */
} ww_match_codes;

typedef struct ww_match_channel {
    const char *name;            /* "gray", "red", "green", "blue" */
    ww_column read;              /* column of the print's densities */
    ww_tone_response aim, print; /* `print` with all that later prints taught */
    ww_tone_response first;      /* before they did */
    double out[WW_MATCH_POINTS]; /* drives to send, for drives from 0 to 1 in equal steps */
    double wanted
        [WW_TONE_RESPONSE_POINTS]; /* the aim's densities on this paper, within reach or not */
    double target[WW_TONE_RESPONSE_POINTS]; /* the same led into this paper's black */
    double white, black;                    /* the print's */
    double kept;                            /* drive up to which it is not led; 1: all the way */
    double kept_from;        /* drive from which on; 0 but where paper is darker than the aim */
    double kept_density;     /* above paper, at `kept` */
    ww_match_miss kept_miss; /* of the tones that are not led */
    ww_match_miss region[WW_REGION_COUNT];
    ww_match_miss worst;
    ww_match_codes codes;
    double gain; /* of the last print that taught it; 0: none */
} ww_match_channel;

typedef struct ww_match {
    bool holds; /* false: readings were moved by a step, or absolute densities are out of reach */
    bool absolute;
    bool lightness;    /* the aim is equal steps of it */
    bool above_white;  /* densities of one of the two begin at its own white */
    bool display;      /* the output is one, which previews the aim */
    ww_ramp ramp;      /* of the print: what `in` and `out` are */
    char *aim, *print; /* names, NULL where none */
    ww_match_channel channel[WW_MATCH_CHANNELS];
    size_t n;                                                /* channels: 1 for gray */
    size_t passes;                                           /* later prints that taught it */
    ww_match_miss worst, kept_miss, region[WW_REGION_COUNT]; /* of the channel that has most */
    size_t worst_channel;
    ww_tone_slip slip; /* the surest of all readings' */
    char *slip_in;     /* file or name of these, NULL where none */
    ww_notes notes;
} ww_match;

#define WW_MATCH_INIT                                                                              \
    { .holds = false }

void ww_match_release(ww_match *match);

/*
 * ww_match_make - the correction.
 *
 *   print(out) = target(in)
 *   wanted = aim(in) - its white + the print's white   (absolute: aim(in))
 *   target = wanted through the light half: up to 1.00 D above paper, or two thirds of the smaller
 *            range where that is less; from there a hyperbola, of slope 1 at its beginning, leads
 *            to the print's own black. Absolute, it is led only where the black is out of reach,
 *            and at the light end in the same way where paper is darker than the aim's. A display's
 *            black, too, is led to only where it is lighter: a preview shows the aim's, no deeper.
 *
 *   Where a side has no visual density, that of its luminance or L* stands in (readings_light.h).
 *   A later print, made with the correction so far, is a response read at the drives that were
 *   really sent, and teaches as far as its noise allows (ww_tone_response_learn). Readings that
 *   were moved by a step are no sound ground, however likely: `holds` is false.
 *
 * Source    definition; the light half kept, deep tones led: common practice
 * Given     aim        with the same kind of control as the print; a curve runs over its measured
 *                      range, equal steps of log H for equal steps of control, its least density at
 *                      white; equal steps of L* run from the print's own white to its own black
 *           print, refine  of the same kind of control; values for red, green and blue, or cyan,
 *                      magenta and yellow, have a channel each, others one
 * Returned  match  (release it)
 * Status    WW_OK, also where blacks do not match; WW_ENODATA no control, no density that both
 *           have; WW_EMISMATCH statuses differ, controls differ, densities above white where
 *           absolute ones are asked for, equal steps of L* for single colours, less than 0.10 D
 *           that both can print, a later print four times as near to the output without the curve
 *           as to what the curve makes of it (root mean square), or whose black is over 0.10 D
 *           denser than the output's; as ww_tone_response_fit
 * Accuracy  printers of known response, each read once at 21 greys: with an error of 0.005 D (1 sd)
 *           within 0.02 D; with 0.01 D within 0.03 D, and within 0.02 D at 96 of 100 drives
 *           (tests/plan/test_match.c)
 */
ww_status ww_match_make(const ww_match_request *request, ww_match *match, ww_error *err);

/*
 * ww_match_out   - drive to send for a drive, by straight lines between the curve's points.
 * ww_match_value - the same as pictures have it: 0 black to 1 white, of red, green or blue (0 to
 *                  2), for which gray's stands where there is one curve.
 */
double ww_match_out(const ww_match_channel *channel, double drive);
double ww_match_value(const ww_match *match, size_t channel, double value);

#endif
