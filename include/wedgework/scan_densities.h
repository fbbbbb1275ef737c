/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_DENSITIES_H
#define WEDGEWORK_SCAN_DENSITIES_H

#include <wedgework/picture_write.h>
#include <wedgework/scanner.h>

/*
 * A scan as a picture of densities, for those who invert it in densities: every sample is replaced
 * by what ww_scanner_density gives for its code.
 *
 *   Scans in       Densities in
 *   integers       16 bits: code = 10000 D + 5000, from -0.5 to 6.05 D in steps of 0.0001
 *   floating point floating point: D itself
 *
 * Codes beyond those of the calibration get the density of its end, and are counted; what is no
 * number stays none, and samples of floating point that mean no light are noted. The file's
 * description names the scale. Its profile is left out: densities are no colours of that space.
 */
#define WW_SCAN_DENSITIES_SCALE 10000.0
#define WW_SCAN_DENSITIES_ZERO 5000.0

/* Share of samples that are no light from which on the file holds only in part. */
#define WW_SCAN_DENSITIES_NO_LIGHT 0.01

typedef struct ww_scan_densities_channel {
    bool present;
    double thin, dense;             /* D, the ends of what the calibration tells */
    double wedge;                   /* D, its dense end: up to `dense` the model alone speaks */
    double thin_doubt, dense_doubt; /* D, 95 % half-widths there; a pixel's noise comes on top */
    double thinner, denser;         /* shares of pixels beyond them */
} ww_scan_densities_channel;

typedef struct ww_scan_densities {
    char *file;      /* that was read, NULL: a picture without */
    bool scaled;     /* 16 bits by the scale above; else D itself */
    bool off;        /* all densities are off, as a note says: by another exposure, say */
    double no_light; /* share of samples that are none, of the channel with most of them */
    ww_scan_densities_channel channel[WW_CHANNEL_COUNT];
    ww_notes notes;
} ww_scan_densities;

#define WW_SCAN_DENSITIES_INIT                                                                     \
    { .scaled = false }

void ww_scan_densities_release(ww_scan_densities *densities);

/* ww_scan_densities_form - what the file of densities holds: size, resolution, description. */
ww_picture_form ww_scan_densities_form(const ww_picture *picture);

/*
 * ww_scan_densities_rows - the densities, row by row. Memory is less than 64 MiB with what reading
 *                          takes; the picture's progress is told.
 *
 *   Where 0.1 % of pixels or more are lighter than open light was when the scanner was calibrated,
 *   beyond the scale's doubt and their own noise, the scan was exposed otherwise, or is another
 *   scanner's: all densities are off.
 *
 * Status    WW_OK; WW_EMISMATCH the scanner file is for other bits, channels or a profile of
 *           another name; WW_ENODATA a channel was not calibrated; WW_EDOMAIN floating point with
 *           another white than 1, and WW_ENODATA where none is light, which are known when all rows
 *           have been taken; WW_EMEMORY; what reading or the sink returns
 * Accuracy  half a code of 16 bits against ww_scanner_density
 */
ww_status ww_scan_densities_rows(const ww_picture *picture, const ww_scanner *scanner,
                                 ww_row_sink sink, ww_scan_densities *densities, ww_error *err);

#endif
