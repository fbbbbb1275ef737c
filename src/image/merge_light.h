/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_LIGHT_H
#define WW_IMAGE_MERGE_LIGHT_H

#include "core/merged.h"
#include <stdbool.h>
#include <wedgework/picture.h>
#include <wedgework/scanner.h>

/* How the codes of both scans are light, full scale = 1, dark not taken out. */
typedef struct ww__merge_light {
    const ww_scanner *scanner; /* NULL: codes are light */
    ww_sample kind;
    double white;
    double clips; /* the code from which on one may be clipped */
    float *light; /* by code; NULL for floating point */
    size_t codes;
} ww__merge_light;

#define WW__MERGE_LIGHT_INIT                                                                       \
    { .scanner = NULL }

/* Status WW_OK; WW_EMEMORY */
ww_status ww__merge_light_new(const ww_picture *picture, const ww_scanner *scanner,
                              ww__merge_light *light, ww_error *err);
void ww__merge_light_release(ww__merge_light *light);

/* Light of a code, and the share of white that stands for a light: not below 0, nor rounded. */
double ww__merge_light_of(const ww__merge_light *light, double code);
double ww__merge_light_share(const ww__merge_light *light, double value);

/* One code's step at a light; 0 in floating point. */
double ww__merge_light_step(const ww__merge_light *light, double value);

/* The code of the sample, whatever its kind. */
double ww__merge_light_code(const ww__merge_light *light, const void *sample, size_t at);

/* Whether both ends of the scale are far enough: above 0 and below `clips`. */
bool ww__merge_light_holds(const ww__merge_light *light, double code);

#endif
