/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OVERLAY_H
#define WEDGEWORK_OVERLAY_H

#include <stddef.h>
#include <stdint.h>
#include <wedgework/error.h>
#include <wedgework/measure.h>
#include <wedgework/picture.h>

/*
 * What was read where: a small copy of the scan for the eye, with outlines, labels and the pixels
 * that were left out, so that a person sees at a glance whether it is right.
 */
typedef struct ww_overlay {
    size_t width, height;        /* px of the copy */
    size_t factor;               /* px of the scan, along and down, in one of the copy */
    unsigned char *rgb;          /* 3 * width * height, row by row from the top, for the eye */
    unsigned char *rejected;     /* width * height: 1 where a pixel inside a patch was left out */
    const ww_measured *measured; /* not owned */
} ww_overlay;

#define WW_OVERLAY_INIT                                                                            \
    { .rgb = NULL }

void ww_overlay_release(ww_overlay *overlay);

typedef struct ww_overlay_request {
    size_t longest_px; /* longer side of the copy, at most */
    double gamma;      /* of the scan: code = light^(1/gamma); 1 where it is not known */
    size_t threads;    /* 0: one a processor */
} ww_overlay_request;

#define WW_OVERLAY_REQUEST_INIT                                                                    \
    { .longest_px = 1600, .gamma = 1.0 }

/* ww_overlay_memory - bytes that making and drawing the copy takes at most at a time, about;
 * gnuplot, a program of its own, not counted. */
uint64_t ww_overlay_memory(const ww_picture *picture, const ww_overlay_request *request);

/*
 * ww_overlay_preview - the small copy. It sees every pixel of the picture once; the same for any
 *                      number of threads.
 *
 *   A pixel of the copy is the mean of factor x factor pixels of the scan (of what is there, at the
 *   right and at the bottom), each as a display of gamma 2.2 wants it. A pixel was left out where
 *   it was read, its centre lying inside a patch, and a code of it is outside the patch's low to
 *   high.
 *
 * Given     measured  what was read from this picture; the overlay keeps the pointer
 * Status    WW_OK; WW_EDOMAIN longest_px 0, a gamma not > 0, or a picture 4096 times as long as the
 *           copy or longer; what the picture's reader returns; WW_EMEMORY
 */
ww_status ww_overlay_preview(const ww_picture *picture, const ww_measured *measured,
                             const ww_overlay_request *request, ww_overlay *overlay, ww_error *err);

/*
 * ww_overlay_check - whether a file name ends in .png, in either case: overlays are PNG only.
 *
 * Status    WW_OK; WW_EUSAGE
 */
ww_status ww_overlay_check(const char *path, ww_error *err);

/*
 * ww_overlay_draw - the copy with outlines and labels, as PNG by gnuplot; along the edges are the
 *                   scan's own pixels. Outlines lie just outside of the pixels that were read.
 *                   Pixels left out are red where the scan is light and yellow where it is dark.
 *                   Where labels of steps would run into each other, every second, third ... is
 *                   left away; labels of spots are moved, and a line leads to them, or
 *                   left away in a crowd.
 *
 * Returned  *png  n bytes, a file as a whole; free() it
 * Status    WW_OK; WW_ETOOL gnuplot is not installed, failed, or took longer than 60 s; WW_ESYSTEM;
 *           WW_EMEMORY
 */
ww_status ww_overlay_draw(const ww_overlay *overlay, char **png, size_t *n, ww_error *err);

#endif
