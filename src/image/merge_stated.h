/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_STATED_H
#define WW_IMAGE_MERGE_STATED_H

#include "image/merge_noise.h"
#include <wedgework/quantity.h>

/*
 * What two scans differ by, against the noise that a scanner file states for them.
 *
 *   times = sqrt(var(y - ratio x) / v),  v = ratio^2 noise(x) + noise(y)
 *   power: var(y - ratio x) / v ~ light^power
 *
 * Scans as the file holds them have 1 and 0; those of n passes averaged 1 / sqrt(n) and 0. Codes
 * that are light^(1/g), taken for light where photons make the noise, have 1 - g. Either holds, by
 * its interval, what rounding adds and what detail that lies displaced may.
 */
typedef struct ww__merge_stated {
    ww_quantity times, power; /* WW_ABSENT: not known */
} ww__merge_stated;

/*
 * Source    definition; codes of a power: dc = c^(1 - g) dL / g
 * Given     blocks  in any order, which is changed; y the longer
 *           off     95 % half-width of the ratio
 *           apart   px that the scans are displaced by, negative: not known, up to 1
 */
ww__merge_stated ww__merge_stated_find(ww__merge_blocks *blocks, const ww__merge_light *light,
                                       const ww__merge_noise *noise, double ratio, double off,
                                       double dark, double apart);

/* What that says of the file. */
typedef enum ww__merge_verdict {
    WW__MERGE_STATED_OPEN,  /* nothing for it or against it */
    WW__MERGE_STATED_RIGHT, /* its noise, at all levels: codes are light as it holds it */
    WW__MERGE_STATED_LESS,  /* the scans have less noise */
    WW__MERGE_STATED_MORE,
    WW__MERGE_STATED_OTHER /* theirs grows less with light: encoded, or of other settings */
} ww__merge_verdict;

/* Whether the file may be right, for all that. */
bool ww__merge_stated_allows(const ww__merge_stated *stated);

ww__merge_verdict ww__merge_stated_says(const ww__merge_stated *stated);

/*
 * Whether it bears out that codes are a power of light, as a file decodes them. Light of photons
 * that was decoded by a power of g has 1 - 1/g for power, and of reading noise 2 (1 - 1/g).
 *
 * Source    as above, light L' = L^g: dL' = g L'^(1 - 1/g) dL
 * Given     gamma  the file's g  [1]  > 1
 */
bool ww__merge_stated_bears_out(const ww__merge_stated *stated, double gamma);

#endif
