/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TEXTURE_SCAN_H
#define WEDGEWORK_TEXTURE_SCAN_H

#include <wedgework/edge.h>
#include <wedgework/measure.h>
#include <wedgework/texture.h>

/* Grain and texture of an even place in a scan. */
typedef struct ww_texture_spot {
    char *name;         /* owned */
    size_t n;           /* pixels kept */
    double left_out;    /* share of pixels: dust, and what has no density */
    double density;     /* mean [D] */
    double sd;          /* of a pixel, less an even slope [D] */
    double scanner;     /* what the scanner's own noise makes of that [D] */
    size_t block;       /* px along a side of the squares that are averaged to come near 48 um */
    size_t blocks;      /* how many of them */
    ww_quantity rms;    /* 1000 sd through a disc of 48 um */
    double scanner_rms; /* what the scanner's noise makes of it */
    ww_quantity selwyn; /* G [um D] */
} ww_texture_spot;

/* What was read of one scan. */
typedef struct ww_texture_scan {
    char *file; /* owned */
    double px_um;
    ww_channel channel; /* that was read: visual, or green of a colour scan */
    ww_texture_spot *spot;
    size_t n;
    bool has_edge;
    ww_edge edge;
    ww_quantity width_um;     /* from 10 to 90 % */
    ww_quantity mtf50_per_mm; /* [cycles/mm]; absent as in ww_edge */
    ww_notes notes;
} ww_texture_scan;

#define WW_TEXTURE_SCAN_INIT                                                                       \
    { .file = NULL }

void ww_texture_scan_release(ww_texture_scan *scan);

/*
 * ww_texture_scan_read - spread of density in discs, and sharpness of an edge in a rectangle.
 *
 *   Pixels become densities by the scanner file; a plane through them is taken off, and pixels
 *   further from it than 4 robust deviations are left out. Squares of pixels that come nearest to a
 *   disc of 48 um are averaged, and their spread is scaled to that disc by Selwyn's law: from
 *   pixels that are larger, that law is all there is. Interval: that of the standard deviation of
 *   so many squares, 1.96 sd / sqrt(2 (n - 1)), of which those count less that are like their
 *   neighbours: n / sum r^2, r their correlations up to three squares apart.
 *
 *   The scanner's own noise is in it, and told beside it.
 *
 * Source    RMS granularity and Selwyn's law: texture.h; interval: textbook, for a normal
 *           distribution, and Bartlett's variance of the variance of a series
 * Given     picture   whose file says its resolution
 *           scanner   that it was made on
 *           spot, n   discs, each of 30 such squares at least and up to 4 million px
 *           edge      rectangle, up to 4 million px; width 0: none
 * Returned  *scan     (release it)
 * Status    WW_OK; WW_ENODATA the file does not say its resolution, a disc of which over 2 %
 *           has no density, an edge of whose rectangle over 2 % clips, no edge; WW_EDOMAIN a disc
 *           or rectangle that is too large, too small or outside, an edge as of ww_edge_measure;
 *           WW_EMISMATCH the scan was made otherwise than the one that calibrated the scanner;
 *           WW_EMEMORY; what the picture's reader returns
 */
ww_status ww_texture_scan_read(const ww_picture *picture, const ww_scanner *scanner,
                               const ww_spot spot[], size_t n, const ww_region *edge,
                               ww_texture_scan *scan, ww_error *err);

#endif
