/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_FIGURE_H
#define WEDGEWORK_FIGURE_H

#include <stdbool.h>
#include <wedgework/error.h>
#include <wedgework/model.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

/* The figures that follow from one channel's curve. All end-points are part of the result. */
typedef enum ww_figure {
    WW_FIGURE_BASE_FOG,         /* D-min of a paper */
    WW_FIGURE_DMAX,
    WW_FIGURE_GAMMA,
    WW_FIGURE_AVERAGE_GRADIENT,
    WW_FIGURE_CONTRAST_INDEX,
    WW_FIGURE_DENSITY_RANGE,
    WW_FIGURE_EXPOSURE_RANGE,
    WW_FIGURE_SPEED_POINT,
    WW_FIGURE_ISO_RANGE,        /* papers: R */
    WW_FIGURE_PAPER_SPEED,      /* papers in lux seconds: P */
    WW_FIGURE_TOE,              /* log H where the straight line meets base+fog */
    WW_FIGURE_SHOULDER,         /* log H where the straight line meets D-max */
    WW_FIGURE_COUNT
} ww_figure;

/* Key in files ("base_fog", ...), heading for people ("base+fog", "gamma", ...) and unit ("D",
 * "log H", "" for pure numbers). `paper` chooses the paper's word where it has one ("D-min"). */
const char *ww_figure_key(ww_figure figure);
const char *ww_figure_heading(ww_figure figure, bool paper);
const char *ww_figure_unit(ww_figure figure);

/* What decides which definitions apply. */
typedef struct ww_figure_rules {
    bool paper;                   /* paper (or print) rather than film */
    bool reversal;                /* the shape falls; density is least where exposure is greatest */
    ww_emulsion emulsion;
    ww_exposure_unit exposure_unit;
    bool bends; /* the readings bend away from the straight part with which they begin: no gamma */
} ww_figure_rules;

/* ww_figure_applies - whether a figure belongs to such a material at all (an ISO range to a film
 *                     does not): what does not apply needs no note where it is absent. */
bool ww_figure_applies(ww_figure figure, const ww_figure_rules *rules);

/* One channel's shape with its measured range of log H and its base+fog: what speeds and the
 * crossover are made of. `shape` NULL: no such channel. */
typedef struct ww_channel_shape {
    const ww_shape *shape;
    double low, high;
    double base_fog;
    ww_optional speed_point; /* log H from ww_figure_compute; where not set it is looked up again */
} ww_channel_shape;

/* Figures of one shape, with the points that define them; `how` WW_ABSENT where there is none, and
 * then `reason` says why and which reading would give it (a constant string). A figure that is
 * there has one only where it may lie elsewhere: D-max while the curve still rises. Else NULL.
 * Ends run from thin to dense: on falling shapes `from` is the greater log H. Ends of an absent
 * figure are 0. */
typedef struct ww_figure_set {
    double value[WW_FIGURE_COUNT];
    ww_how how[WW_FIGURE_COUNT];
    const char *reason[WW_FIGURE_COUNT];
    double gradient_from, gradient_to;     /* log H ends of the average gradient */
    double run_from, run_to;               /* log H ends of the straight run behind gamma */
    double run_density_from;               /* density at run_from: the gamma line goes through it */
    double index_centre;                   /* log H of the centre of the contrast-index arcs */
    double index_from, index_to;           /* log H where the arcs meet the curve */
    double range_from, range_to;           /* log H ends of exposure_range and density_range */
    double iso_from, iso_to;               /* log H at net 0.04 and at 90 % of net D-max */
} ww_figure_set;

/*
 * ww_figure_compute - every figure of a shape over its measured range.
 *
 *   net = density - base_fog. Gradients are positive on falling shapes too.
 *   gamma             slope of the straight line that joins the ends of the run around the steepest
 *                     point in which the local slope is at least 0.95 of the steepest. Absent where
 *                     the slope is steepest at the first or last step and that run is shorter than
 *                     0.30 log H (paper 0.10), since it may be steeper still beyond, and where
 *                     density rises by less than 0.02 in all.
 *   toe, shoulder     where that line, drawn on, meets base+fog (the inertia point of Hurter and
 *                     Driffield) and D-max
 *   average gradient  film: from net 0.10 over 1.50 log H; paper: from net 0.04 to 90 % of net
 *                     D-max; reversal film: between 0.20 and 2.00 over D-min
 *   contrast index    negatives: slope of the line from a centre on the base+fog line that meets
 *                     the curve at distances 0.2 and 2.2 from it, log10 units on both axes
 *   exposure range    from net 0.10 (reversal film 0.20) to the shoulder point where the slope has
 *                     fallen to a fifth of gamma (WW_FITTED), or the last measured step
 *                     (WW_MEASURED)
 *   density range     the densities over that range
 *   D-max             the shape's density at the last measured step, where the slope there has
 *                     fallen to a fifth of gamma; absent otherwise
 *   speed point       log H at net 0.10 (0.15 a layer of colour negative, 0.20 reversal film, the
 *                     thin one of the two points of ISO 2240; 0.60 paper)
 *   ISO range         R = 100 (log H at 90 % of net D-max - log H at net 0.04), papers
 *   paper speed       P = 1000 / H at net 0.60, papers in lux seconds
 *
 * Source    ISO 6:1993, ISO 6846:1992 (criteria from secondary texts; that 90 % is of the net D-max
 *           from memory); ISO 5800:1987, ISO 2240:2003 (from memory); contrast index: three-point
 *           rule as published by its maker, from secondary texts; the rest definitions.
 * Given     shape
 *           low, high   measured range of log H, low < high
 *           base_fog    absolute density of base+fog (D-min, paper white)
 *           rules
 * Returned  *set; nothing is taken from outside [low, high]. base_fog is handed through as
 *           WW_FITTED: the caller knows better how it was come by.
 * Status    WW_OK; WW_EDOMAIN limits or base_fog not finite, low >= high
 * Accuracy  1e-9 in log H and D against the shape
 */
ww_status ww_figure_compute(const ww_shape *shape, double low, double high, double base_fog,
                            const ww_figure_rules *rules, ww_figure_set *set, ww_error *err);

#endif
