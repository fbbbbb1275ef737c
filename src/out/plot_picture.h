/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PLOT_PICTURE_H
#define WEDGEWORK_OUT_PLOT_PICTURE_H

#include "out/plot_script.h"

/* What plots/curve.gp constructs; its line styles and marks go by these numbers. */
enum ww__construct {
    WW__DRAW_BASE_FOG = 1,
    WW__DRAW_SPEED_POINT,
    WW__DRAW_GAMMA,
    WW__DRAW_AVERAGE_GRADIENT,
    WW__DRAW_CONTRAST_INDEX,
    WW__DRAW_RANGE
};

/* A curve plot in the making. */
typedef struct ww__picture {
    const ww_curve *curve;
    ww__text *script;
    size_t n_channels;
    ww_channel main; /* the channel whose slopes are constructed */
    bool paper;
    double x_from, x_to, y_from, y_to;
    double residual_limit;
} ww__picture;

/* Tables $construct and $mark: what defines each figure, drawn where it lies on the curve. */
void ww__plot_construct(const ww__picture *picture);

/* The legend: channels, then the figures of the main channel with their intervals. */
void ww__plot_legend(const ww__picture *picture);

#endif
