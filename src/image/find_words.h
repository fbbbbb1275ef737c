/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FIND_WORDS_H
#define WW_IMAGE_FIND_WORDS_H

#include "image/area.h"
#include "image/find_steps.h"

/* What a search for a strip has seen that is not what was asked for. */
typedef struct ww__find_seen {
    const ww_picture *picture;
    bool in_strip;     /* looked for where --strip said, not everywhere */
    size_t steps;      /* asked for */
    ww__steps there;   /* the clearest strip of another number of steps; seen = 0: none */
    double turned_deg; /* of a strip that is turned too far; 0: none */
    size_t parts;      /* of the longest flight anywhere; 0: none */
    double part_px;    /* width of one of them, median */
    double at[2];      /* px, their middle */
} ww__find_seen;

/*
 * ww__find_refuse - why no strip is taken, and what to do.
 *
 * Status    WW_EMISMATCH a strip of another number of steps, or of other widths; WW_ENODATA none
 */
ww_status ww__find_refuse(const ww__find_seen *seen, ww_error *err);

/* ww__find_refuse_two - two areas would do. Status WW_EMISMATCH */
ww_status ww__find_refuse_two(const ww__find_seen *seen, const ww__area *a, const ww__area *b,
                              ww_error *err);

/* ww__find_refuse_small - too few pixels. Status WW_ENODATA */
ww_status ww__find_refuse_small(const ww__find_seen *seen, const ww_region *where, ww_error *err);

#endif
