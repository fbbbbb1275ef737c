/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/no_light.h"
#include "core/picture.h"
#include "image/density.h"
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

/* Encodings end at 0; below, they are taken as the same the other way round. */
bool ww__no_light_is(const ww_scanner *scanner, double white, double code, double least) {
    const double light = ww__density_light(scanner, white, fabs(code));
    return !isfinite(code) || code > WW__PICTURE_BEYOND * white ||
           (code < 0.0 ? -light : light) < least;
}

void ww__no_light_add(ww__no_light *samples, size_t pixel, double code, bool is_nan) {
    if (samples->n == 0 || pixel < samples->first) {
        samples->first = pixel;
        samples->code = code;
    }
    samples->n++;
    samples->nans += is_nan;
}

void ww__no_light_join(ww__no_light *all, const ww__no_light *some) {
    if (some->n > 0 && (all->n == 0 || some->first < all->first)) {
        all->first = some->first;
        all->code = some->code;
    }
    all->n += some->n;
    all->nans += some->nans;
}

const char *ww__no_light_words(const ww__no_light *samples, const ww_picture *picture,
                               const char *where, char words[WW__NO_LIGHT_WORDS]) {
    char code[32];
    if (isfinite(samples->code))
        ww_number_format(samples->code, 4, code, sizeof code);
    else
        snprintf(code, sizeof code, "%s",
                 isnan(samples->code)  ? "NaN"
                 : samples->code > 0.0 ? "infinite"
                                       : "-infinite");
    snprintf(words, WW__NO_LIGHT_WORDS,
             "%zu sample%s no light%s (no number, over %.0f times white, or further below black "
             "than noise goes; the first at %zu,%zu: %s)",
             samples->n, samples->n == 1 ? " is" : "s are", where, WW__PICTURE_BEYOND,
             samples->first % picture->width, samples->first / picture->width, code);
    return words;
}
