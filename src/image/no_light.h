/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_NO_LIGHT_H
#define WW_IMAGE_NO_LIGHT_H

#include <wedgework/picture.h>
#include <wedgework/scanner.h>

/*
 * Samples of floating point that mean no light: no number, infinite, over 8 times white
 * (WW__PICTURE_BEYOND), or further below black than noise goes. Programs leave them where they
 * divided by nothing or took off too much.
 */
typedef struct ww__no_light {
    size_t n, nans; /* of them, and those for which the output has no number either */
    size_t first;   /* px, counted along the rows */
    double code;    /* what stands there */
} ww__no_light;

/* Further below black, in sd of the noise there, no noise goes. */
enum { WW__NO_LIGHT_BELOW = 10 };

/* Whether a code is one. `least`: the darkest light that noise makes of black, which may lie below
 * 0. `scanner`: NULL where codes are light. */
bool ww__no_light_is(const ww_scanner *scanner, double white, double code, double least);

void ww__no_light_add(ww__no_light *samples, size_t pixel, double code, bool is_nan);
void ww__no_light_join(ww__no_light *all, const ww__no_light *some);

/*
 * What a note says of one or more, before what stands there instead: "3 samples are no light in one
 * scan (no number, over 8 times white, or further below black than noise goes; the first at
 * 200,100: NaN)".
 */
enum { WW__NO_LIGHT_WORDS = 192 };
const char *ww__no_light_words(const ww__no_light *samples, const ww_picture *picture,
                               const char *where, char words[WW__NO_LIGHT_WORDS]);

#endif
