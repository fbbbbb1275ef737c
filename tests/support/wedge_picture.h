/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_WEDGE_PICTURE_H
#define WEDGEWORK_TESTS_WEDGE_PICTURE_H

#include "support/emulsion.h"
#include <wedgework/picture.h>

/*
 * Scans of known truth, in memory: a stepped strip somewhere on the glass, or things that are none.
 * Everything is invented and comes from the seed alone.
 */
typedef enum wedge_surround {
    WEDGE_ON_BRIGHT,   /* open light */
    WEDGE_ON_DARK,     /* a black mask */
    WEDGE_ON_CLUTTER,  /* other objects, writing, a film strip, on open light */
    WEDGE_ON_GRADIENT, /* uneven light, across the whole glass */
    WEDGE_ON_GREY,     /* a sheet of density 0.6 */
    WEDGE_SURROUNDS
} wedge_surround;

typedef struct wedge_scene {
    size_t width, height; /* px */
    unsigned bits;        /* 8, 16, or 32: floating point */
    size_t channels;      /* 1 or 3 */
    double gamma;         /* code = light^(1/gamma) */
    size_t steps;
    const double *density; /* of the steps; NULL: first + k * gap */
    double first, gap;
    const double *base;     /* densities that the film's base adds, of each channel; NULL: none */
    const double *widths;   /* relative; NULL: alike */
    double x, y;            /* px, middle of the strip */
    double length, breadth; /* px; length of the whole strip, before an end is cut off */
    double angle_deg;       /* turned clockwise as seen */
    bool upright, reversed; /* reversed: the thinnest step lies at the right (bottom) */
    double cut;             /* share of the strip's length that is cut off at its dense end */
    wedge_surround surround;
    double read_noise;             /* sd, share of full scale */
    double shot_noise;             /* sd at full scale, share of it */
    double flare;                  /* share of open light */
    double blur;                   /* px, half width over which one step runs into the next */
    double wobble;                 /* share of a step by which its edges bend and stray */
    double line, line_density;     /* lines between steps: width as a share of a step; density */
    double shade, fall;            /* density difference across the strip, and along it */
    double grain;                  /* density, one sd of a pixel on film */
    size_t grain_px;               /* pixels that are alike: 1 or more, where there is grain */
    double margin, margin_density; /* of the sheet around the strip: px; density */
    size_t dust, hairs, scratches;
    uint64_t seed;
} wedge_scene;

/* 21 steps of 0.15 from 0.05, 640 x 420 px, 16 bit grey, linear, no noise, on open light. */
wedge_scene wedge_scene_plain(void);

/* The scan of it; release it with ww_picture_release. Blocks are tiles of odd sizes. */
ww_picture wedge_picture_new(const wedge_scene *scene);

/* Truth: light of a step (mean of channels, with flare, as a share of full scale), and the edges
 * along the strip, counted from the left or top, px from its middle. */
double wedge_scene_light(const wedge_scene *scene, size_t step);
void wedge_scene_edges(const wedge_scene *scene, double edge[]);
size_t wedge_scene_step_at(const wedge_scene *scene, size_t place); /* from left or top */

/* Pictures in which there is no stepped strip, of WEDGE_NONE_KINDS kinds. */
enum { WEDGE_NONE_KINDS = 14 };
const char *wedge_none_name(size_t kind);
ww_picture wedge_none_new(size_t kind, uint64_t seed);

/* Code of pixel (x, y), channel c, as a share of full scale. */
double wedge_picture_code(const ww_picture *picture, size_t x, size_t y, size_t channel);

#endif
