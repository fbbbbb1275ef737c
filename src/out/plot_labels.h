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
    bool shown;           /* false: there is no place for it */
} ww__plot_label;

/*
 * ww__plot_labels_place - put each label beside its disc, at the right if it may be, or away from
 *                         it where there is no room, so that none lies on another, on a disc, or
 *                         over the edge; lines cross other discs only where they must, and not
 *                         many. In a crowd, labels without such a place are left away.
 *
 * Given     label          n, of which what is placed need not be set; behind them `fixed` more
 *                          that stand: labels and other rectangles, without a disc (radius 0)
 *           width, height  of the picture
 */
void ww__plot_labels_place(ww__plot_label label[], size_t n, size_t fixed, double width,
                           double height);

#endif
