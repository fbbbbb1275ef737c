/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PLOT_LABELS_H
#define WEDGEWORK_OUT_PLOT_LABELS_H

#include <stdbool.h>
#include <stddef.h>

/* A label that names a disc; all in px from the upper left corner of a picture. */
typedef struct ww__plot_label {
    double x, y, radius;  /* of the disc */
    double width, height; /* of the label, with the room that it wants around */
    double at_x, at_y;    /* where its middle is put */
    bool led;             /* away from its disc: a line is to lead to it */
} ww__plot_label;

/*
 * ww__plot_labels_place - put each label beside its disc, at the right if it may be, or away from
 *                         it where there is no room, so that none lies on another, on a disc, or
 *                         over the edge, and no line that leads to one crosses another disc. Where
 *                         all places that are tried are bad, a label gets the least bad.
 *
 * Given     label          at_x, at_y and led need not be set
 *           width, height  of the picture
 */
void ww__plot_labels_place(ww__plot_label label[], size_t n, double width, double height);

#endif
