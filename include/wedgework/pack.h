/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PACK_H
#define WEDGEWORK_PACK_H

#include <stdbool.h>
#include <wedgework/error.h>
#include <wedgework/readings.h>

/*
 * A filter pack of a colour enlarger: yellow, magenta and cyan in CC, hundredths of the density
 * that a filter has for the light it holds back, or in a head's own dial units.
 */
typedef enum ww_filter { WW_YELLOW, WW_MAGENTA, WW_CYAN, WW_FILTER_COUNT } ww_filter;

typedef struct ww_pack {
    double cc[WW_FILTER_COUNT];
} ww_pack;

#define WW_PACK_MOST 300.0 /* [CC] more is a slip of typing, and no head gives it */
enum { WW_PACK_TEXT_SIZE = 48 };

/* "yellow", "magenta", "cyan". */
const char *ww_filter_name(ww_filter filter);

/* The light that a filter holds back: blue, green, red. */
ww_channel ww_filter_channel(ww_filter filter);

/* What a print with too much density in a channel looks like, and with too little: "cyan" and
 * "red", "magenta" and "green", "yellow" and "blue". Of red, green and blue only. */
const char *ww_cast_name(ww_channel channel, bool much);

/*
 * ww_pack_parse - a pack as people write it: "60Y45M", "60Y + 45M", "20R"; "0" is no filter.
 *
 *   R = M + Y, G = C + Y, B = C + M, each of the same amount
 *
 * Source    pairs: Kodak, by a handbook; CC20Y + CC20M are 20R
 * Given     text     amount, then letter, in any order, upper or lower case
 * Returned  *pack    0 to 300 each
 * Status    WW_OK; WW_EINPUT no pack: a letter that is none of Y M C R G B, an amount that is
 *           missing, below 0 or over 300, a letter that stands twice, nothing at all
 */
ww_status ww_pack_parse(const char *text, ww_pack *pack, ww_error *err);

/*
 * ww_pack_format - the same written out: "60Y27.5M", amounts to 1/100; "0" without filters.
 *
 * Returned  text, which is also the return value
 */
char *ww_pack_format(const ww_pack *pack, char text[WW_PACK_TEXT_SIZE]);

/*
 * ww_pack_reduce - a pack of two filters at most, none below 0: the smallest of the three amounts
 *                  is neutral density, and is taken out of each (or added, where it is negative).
 *
 * Source    Army correspondence course SS0514: 46Y+38M+12C are 34Y+26M
 * Returned  what was taken out of each [CC]; it held back 10^(that / 100) of the light
 */
double ww_pack_reduce(ww_pack *pack);

/* ww_pack_round - each filter on the nearest whole number of steps, halves up. step > 0. */
void ww_pack_round(ww_pack *pack, double step);

/*
 * ww_pack_view - the pack after a print was judged through a viewing filter: half of the filter
 *                through which its lighter middle tones look right, taken out of the pack; paper
 *                that prints from negatives.
 *
 * Source    a Navy training manual for the half; Kodak E-142 for the direction: what looks right
 *           through green is too magenta, and magenta is added
 * Given     pack, viewing  [CC]
 * Returned  *changed       reduced to two filters at most
 */
void ww_pack_view(const ww_pack *pack, const ww_pack *viewing, ww_pack *changed);

#endif
