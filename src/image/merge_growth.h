/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_GROWTH_H
#define WW_IMAGE_MERGE_GROWTH_H

#include "image/merge_noise.h"
#include <wedgework/quantity.h>

/*
 * How noise grows with light, as a power of it: variance ~ L^power. Of light it is 0 where reading
 * makes all noise and 1 where photons do. Light multiplied after it was counted has 2, from the
 * shorter scan to the longer; codes that are a power 1 / g of light have from 2 - 2 g to 2 - g.
 */
typedef struct ww__merge_growth {
    bool same;          /* the noise of the shorter scan is in the longer, too */
    bool displaced;     /* detail may make half of what they differ by, which looks amplified */
    ww_quantity across; /* from the shorter scan to the longer; WW_ABSENT: not known */
    double least;       /* of `across`, where detail makes the most of what they differ by */
    ww_quantity within; /* from the dark to the light of both; WW_ABSENT: not known */
} ww__merge_growth;

/*
 * ww__merge_growth_find - by variances of places, u = ratio x - y and w = ratio x + y.
 *
 *   cov(u, w) / var(u) = e = (ratio^2 - q) / (ratio^2 + q),  q = ratio^across = noise of y / of x
 *
 *   Detail and grain are in both scans alike and cancel in u; each place weighs by the reciprocal
 *   of what is left of var(w) beside e u. Places whose detail may make a tenth of var(u), by what
 *   the scans are displaced, are left out for `across` where others are enough; beyond 0.6 px no
 *   place is without such detail, and `across` tells nothing of light. For `within` they do no
 *   harm, since detail makes noise grow. e = -1 is noise of the longer alone: all that the shorter
 *   one has is in both, if what they differ by is no more than rounding too; else the shorter one
 *   is a mean of many. So it is where var(u) is less than 10^9 counted photons at full scale
 *   would leave. Levels where rounding makes a third of var(u) tell neither power, and ratios
 *   below 1.1 not `across`.
 *
 * Source    definition; variance of a difference
 * Given     blocks  in any order, which is changed; y the longer
 *           off     95 % half-width of the ratio, which leaves as much of detail in u
 *           apart   px that the scans are displaced by, negative: not known
 */
ww__merge_growth ww__merge_growth_find(ww__merge_blocks *blocks, const ww__merge_light *light,
                                       double ratio, double off, double dark, double apart);

/* What that says of the scans. */
typedef enum ww__merge_kind {
    WW__MERGE_SOUND, /* nothing against light */
    WW__MERGE_SAME,
    WW__MERGE_AMPLIFIED, /* more code, no more photons */
    WW__MERGE_SHARPENED, /* more noise than codes multiplied have */
    WW__MERGE_DISPLACED, /* detail displaced or light amplified: it cannot be told */
    WW__MERGE_ENCODED,   /* codes taken as light are none */
    WW__MERGE_DECODED,   /* codes decoded were light, or otherwise encoded */
    WW__MERGE_BLACKER    /* so, too: darker than the black that the scanner file measured */
} ww__merge_kind;

/* `decoded`: by a scanner file that nothing in the scans confirms. */
ww__merge_kind ww__merge_growth_says(const ww__merge_growth *growth, bool encoded, bool decoded);

#endif
