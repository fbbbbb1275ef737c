/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_WINDOW_H
#define WW_IMAGE_MERGE_WINDOW_H

#include <math.h>
#include <stdbool.h>
#include <wedgework/picture.h>

/* Codes of one channel as shares of white; NAN where they tell nothing. */
typedef struct ww__merge_window {
    size_t width, height;
    float *value;
    double code;  /* one, as a value; 0 in floating point */
    double noise; /* variance, once it is smoothed */
    float held;   /* value that what lies beyond was held at; 0 where nothing was */
} ww__merge_window;

/* Two windows: that of b reaches further on all sides, as far as the picture does. */
typedef struct ww__merge_pair {
    ww__merge_window a, b;
    ptrdiff_t left, top; /* of a in b */
} ww__merge_pair;

/* NAN outside. */
static inline float ww__merge_window_at(const ww__merge_window *w, ptrdiff_t x, ptrdiff_t y) {
    const bool inside = x >= 0 && y >= 0 && x < (ptrdiff_t)w->width && y < (ptrdiff_t)w->height;
    return inside ? w->value[(size_t)y * w->width + (size_t)x] : NAN;
}

/* Where codes end, and what becomes of those beyond. */
typedef struct ww__merge_end {
    double clips; /* code */
    bool held;    /* they are taken for it, as those of the other scan are where that has as much
                     light; else NAN */
} ww__merge_end;

/* These are false where there is no memory; whoever has a window frees its values. */
bool ww__merge_window_new(size_t width, size_t height, ww__merge_window *w);
bool ww__merge_window_fill(const ww_picture *picture, ww_region region, size_t channel,
                           ww__merge_end end, const void *pixel, ww__merge_window *w);

/* Means of so many px in a square, from (left, top) on. */
enum { WW__MERGE_COARSE = 4 };
bool ww__merge_window_coarse(const ww__merge_window *from, size_t left, size_t top,
                             ww__merge_window *to);

/* The mean of 3 x 3 px with weights 1 2 1, twice. */
bool ww__merge_window_smooth(ww__merge_window *w);

/* A part of a window, from (x, y) on. */
bool ww__merge_window_cut(const ww__merge_window *from, size_t x, size_t y, size_t width,
                          size_t height, ww__merge_window *to);

/* Takes off the mean of 17 x 17 px: what is left tells nothing of lamps and smooth skies. So far
 * from an edge it is the mean of fewer. */
enum { WW__MERGE_FLAT = 8 };
bool ww__merge_window_flatten(ww__merge_window *w);

/* Holds what stands out of a flat one by more than 3 sd, so that specks and hairs do not outweigh
 * all else. */
bool ww__merge_window_hold(ww__merge_window *w);

/* Correlation of a with what lies so far right of and below it in b, and the number of pixels; -1
 * where less than a quarter of the window can be compared. */
double ww__merge_window_alike(const ww__merge_pair *p, ptrdiff_t right, ptrdiff_t down,
                              double *compared);

/* The same of a part of a. */
double ww__merge_window_alike_in(const ww__merge_pair *p, ww_region part, ptrdiff_t right,
                                 ptrdiff_t down, double *compared);

#endif
