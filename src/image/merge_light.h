/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_LIGHT_H
#define WW_IMAGE_MERGE_LIGHT_H

#include "core/merged.h"
#include <stdbool.h>
#include <stdint.h>
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

/* Light of a sample: by the table, where there is one. The picture's kind is given so that a loop
 * that knows it need not ask each time. */
static inline float ww__merge_light_at(const ww__merge_light *light, ww_sample kind,
                                       const void *sample, size_t at) {
    if (kind == WW_SAMPLE_FLOAT)
        return (float)ww__merge_light_of(light, (double)((const float *)sample)[at]);
    return light->light[kind == WW_SAMPLE_16 ? ((const uint16_t *)sample)[at]
                                             : ((const uint8_t *)sample)[at]];
}

/* One code's step at a light; 0 in floating point. */
double ww__merge_light_step(const ww__merge_light *light, double value);

/* The code of the sample, whatever its kind. */
double ww__merge_light_code(const ww__merge_light *light, const void *sample, size_t at);

/* Whether both ends of the scale are far enough: above 0 and below `clips`. */
bool ww__merge_light_holds(const ww__merge_light *light, double code);

#endif
