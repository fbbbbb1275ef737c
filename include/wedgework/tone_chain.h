/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TONE_CHAIN_H
#define WEDGEWORK_TONE_CHAIN_H

#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/quantity.h>

/*
 * One tone's way from the scene through film and paper to the eye, link by link.
 *
 *   camera    x = white_log_h - flare(-L, F)           log H on the film
 *   film      D = F(x)                                 density as read
 *   enlarger  S = flare(Q D, f)                        density that the paper sees
 *   paper     P = G(print_log_h - S)                   density of the print
 *   viewing   V = flare(P, v)                          density that the print looks to have
 *
 *   flare(D, f) = -log10((10^-D + f) / (1 + f)), L = log10 of luminance over the scene's white.
 *
 * The gradient of a link is what it makes of a small difference; that of the whole chain, -dV/dL,
 * is their product: print contrast for each unit of scene contrast, 1 where both are alike.
 *
 * Source    chain of characteristic curves as taught (Jones' tone reproduction); flare by its
 *           definition; a film of 0.60 on a paper of 2.50 gives 1.50 (common practice)
 */
typedef enum ww_tone_link {
    WW_TONE_CAMERA,
    WW_TONE_FILM,
    WW_TONE_ENLARGER,
    WW_TONE_PAPER,
    WW_TONE_VIEWING,
    WW_TONE_LINKS
} ww_tone_link;

const char *ww_tone_link_name(ww_tone_link link); /* "camera", "film", ... */

typedef struct ww_tone_chain {
    const ww_channel_curve *film, *paper;
    double white_log_h;    /* film log H of the scene's white */
    double print_log_h;    /* paper log H behind a film of density 0 */
    double flare;          /* of the camera, fraction of the light of the scene's white */
    double callier;        /* density that the enlarger sees over the density read */
    double enlarger_flare; /* fraction of open light */
    double viewing_flare;  /* fraction of the light of a perfect white */
} ww_tone_chain;

/* What became of one tone. Unset is what lies beyond a curve's measured range, and all that comes
 * after it. */
typedef struct ww_tone_point {
    double scene; /* log10 luminance over white */
    double film_log_h;
    ww_optional negative; /* [D] as read */
    ww_optional seen;     /* [D] by the paper */
    ww_optional paper_log_h;
    ww_optional print;                /* [D] */
    ww_optional viewed;               /* [D] */
    ww_optional slope[WW_TONE_LINKS]; /* gradient of each link */
    ww_optional gradient;             /* of all */
} ww_tone_point;

/*
 * ww_tone_chain_follow - a tone of the scene, as far as the measured ranges of both curves go.
 *
 * Given     chain  curves fitted; flares 0 or more, under 1; callier > 0
 *           scene  log10 luminance over white                      [log10]  finite
 * Returned  *point
 * Accuracy  as ww_curve_density
 */
void ww_tone_chain_follow(const ww_tone_chain *chain, double scene, ww_tone_point *point);

/*
 * ww_tone_chain_place - the exposure of the print that gives a tone of the scene a density.
 *
 * Given     chain    as above; print_log_h plays no part
 *           scene
 *           density  of the print, on the paper's own zero         [D]
 * Returned  *print_log_h
 * Status    WW_OK; WW_ENODATA the tone lies beyond what was measured of the film, or the paper does
 *           not reach that density within its measured range
 */
ww_status ww_tone_chain_place(const ww_tone_chain *chain, double scene, double density,
                              double *print_log_h, ww_error *err);

/*
 * ww_tone_chain_expose - the paper log H behind which a print looks to have a density.
 * ww_tone_chain_unseen - the film density, as read, of which the paper sees a density.
 *
 * Status    WW_OK; WW_ENODATA nothing looks as dense through the flare, or the paper does not reach
 *           that density within its measured range
 */
ww_status ww_tone_chain_expose(const ww_tone_chain *chain, double viewed, double *paper_log_h,
                               ww_error *err);
ww_status ww_tone_chain_unseen(const ww_tone_chain *chain, double seen, double *negative,
                               ww_error *err);

/*
 * ww_tone_chain_steepest - where a curve is steepest within its measured range.
 *
 * Returned  *slope  without its sign                               [D / log H]
 *           *density  there: thinner lies its toe, denser its shoulder
 * Accuracy  1e-6 of the slope (the steepest of 2001 places, evenly spaced)
 */
void ww_tone_chain_steepest(const ww_channel_curve *curve, double *slope, double *density);

#endif
