/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MEASURE_H
#define WEDGEWORK_MEASURE_H

#include <stdbool.h>
#include <wedgework/picture.h>
#include <wedgework/readings.h>
#include <wedgework/scanner.h>

/* Where a patch lies on the scale of the scanner file. */
typedef enum ww_reach {
    WW_REACH_WITHIN,  /* the wedge's, or beyond its end by less than that may be off by: measured */
    WW_REACH_THINNER, /* a little thinner than the wedge (0.1 D): density is the model's */
    WW_REACH_DENSER,  /* a little denser than the wedge, hardly over its doubt: the model's */
    WW_REACH_LIGHT,   /* clipped in the light, or lighter than the model reaches: density is only
                         known to be less than what the cell says */
    WW_REACH_DARK,    /* clipped at code 0, or denser than the wedge: density is `over` */
    WW_REACH_NONE     /* the patch has no one density: it is uneven, or too much was left out */
} ww_reach;

/* One channel of a patch. */
typedef struct ww_patch_channel {
    double code;      /* mean of the kept pixels as light, back as a code */
    double all;       /* the same of all pixels, with what was left out */
    double sd;        /* of one kept pixel, in codes */
    double step;      /* of the codes, the same in the whole picture: 1, or 257 in an 8 bit scan
                         that was saved in 16 bit; their mean distance here where a curve or levels
                         made that uneven; 0 in floating point */
    double low, high; /* codes outside were rejected (dust, hairs, scratches) */
    double drift;     /* codes: by how much a plane through the kept pixels rises along the longer
                         way of the patch; on a spot, the way that it rises most */
    double along;     /* the same along the strip, whichever way is longer; 0 on a spot */
    double across;    /* and across it: downwards, or to the right of an upright strip */
    double uneven;    /* codes: by how much light differs over the patch, one sd, as the means of
                         its quarters tell: a plane and what it leaves, less their noise */
    double grain;     /* square by which means of quarters are off a plane, over what that would be
                         if pixels knew nothing of their neighbours: 1 on average then, more where
                         grain makes them alike; 0 where codes do not differ */
    double clipped;   /* share of pixels at code 0 or at the greatest code */
    size_t no_number; /* pixels that are NaN or infinite: rejected, too */
    ww_cell density;  /* where a scanner file is given; sd is its doubt, one standard error: see
                         ww_measure_strip */
    ww_reach reach;
} ww_patch_channel;

/* A piece of the scan that was read: the middle 60 % of a step, or a spot. */
typedef struct ww_patch {
    char *step;          /* label: the wedge's, a number, or the spot's name; never NULL */
    double corner[4][2]; /* px, x and y, round the measured area; all 0 for a spot */
    double centre_x, centre_y, radius; /* px; radius 0 for a step */
    double x, y, width, height;        /* px, the whole pixels around the measured area */
    size_t n;                          /* pixels kept, in the channel that kept least */
    double rejected; /* share of pixels rejected, in the channel that rejected most */
    unsigned line;   /* the line (scratch, hair) that runs across this step and its neighbours and
                        was left out, from 1; 0: none */
    ww_patch_channel channel[WW_CHANNEL_COUNT];
} ww_patch;

/* What lies beside a strip, in one channel: the lightest of the places that were looked at. */
typedef struct ww_surround {
    bool seen;
    double code;
    double clipped; /* share of its pixels at code 0 or at the greatest code */
    double sd;      /* of one kept pixel, in codes */
} ww_surround;

/* D by which the light falls over the whole picture, as the steps of a strip show it within
 * themselves: along it, from left to right or from top to bottom, and across it, downwards or, of
 * an upright strip, to the right; 0: none beyond noise. */
typedef struct ww_lamp {
    double along, across;
} ww_lamp;

/* What was read from one scan. */
typedef struct ww_measured {
    char *file;
    size_t width, height, page;
    unsigned bits;
    double white;
    ww_optional px_per_mm;
    char *profile;              /* NULL where none */
    bool has[WW_CHANNEL_COUNT]; /* grey scans are `visual` */
    size_t n_spots;  /* of the patches, the last so many; those before are the steps of a strip */
    bool calibrated; /* densities are there */
    bool off;        /* but all of them are off, as a note says, nobody knows by how much: none has
                        a doubt */
    ww_patch *patch; /* steps in the order of their labels, then spots in that of the request */
    size_t n;
    ww_surround surround[WW_CHANNEL_COUNT]; /* of a strip */
    ww_lamp lamp[WW_CHANNEL_COUNT];         /* over a strip */
    ww_optional clips[WW_CHANNEL_COUNT];    /* code below `white` at which the codes end, where a
                                               strip shows it */
    double angle_deg; /* of the strip's long side, + turned clockwise as seen; |angle| <= 45 */
    bool upright;     /* the strip stands */
    bool reversed;    /* step 1 lies at the right (at the bottom of an upright strip) */
    bool end_assumed; /* where the strip ends, only the number of steps asked for says */
    ww_notes notes;
} ww_measured;

#define WW_MEASURED_INIT                                                                           \
    { .file = NULL }

void ww_measured_release(ww_measured *measured);

typedef struct ww_spot {
    const char *name;
    double x, y, radius; /* px, centre */
} ww_spot;

typedef struct ww_measure_request {
    const ww_readings *wedge;  /* on the glass: its densities decide the direction; NULL: none */
    size_t steps;              /* where there is no wedge: how many; numbered from left or top */
    const double *widths;      /* relative widths of the steps, in order; NULL: alike, or found */
    bool reverse;              /* number them from the other end; plays no part with a wedge */
    ww_region strip;           /* where to look; width 0: everywhere */
    const ww_spot *spot;       /* discs to be read beside a strip, n_spots of them */
    size_t n_spots;            /* 0: none; plays no part in ww_measure_spots */
    const ww_scanner *scanner; /* NULL: codes only */
    bool calibrates; /* the steps are for ww_scanner_fit, whose notes say which are clipped */
    ww_density_kind density; /* of what lies on the glass; plays no part with a wedge */
    size_t threads;          /* 0: one a processor */
} ww_measure_request;

/*
 * ww_measure_strip - find a stepped strip in a picture and read its steps.
 *
 *   Edges are those of a staircase fitted to the whole profile at once. Of each step the middle
 *   60 % along and across is read. Pixels further from the median than 4 robust deviations (1.4826
 *   times the median absolute deviation), and than 1.5 times the least distance of two codes that
 *   occur, are rejected; the rest is averaged as light (through the scanner's encoding where there
 *   is one). Every pixel that counts is seen once, those of soiled steps twice, and the result is
 *   the same bit for bit for any number of threads. A scratch or hair that runs across three steps
 *   or more is told as one. Notes name what is dirty, clipped, unevenly lit or beyond the scanner,
 *   and tell a scan that was exposed otherwise than the one that calibrated the scanner: its wedge
 *   reads otherwise, or what lies beside the strip is lighter than open light was.
 *
 *   The doubt of a density grows with what was seen of the patch. One standard error:
 *
 *     sd^2 = calibration^2 + level^2 + lamp^2 + flare^2 + mean^2 + uneven^2 + r (D_all - D)^2
 *            + texture^2 / 100
 *
 *   calibration   of the scanner file there
 *   level         by which the light is another than when the scanner was calibrated, from scan to
 *                 scan and from place to place on the glass: 1 % of it (95 %)
 *   lamp          what the steps show within themselves of a light that falls along the strip or
 *                 across it: either fall over the whole picture, over the root of 12
 *   flare         of what lies beside the strip, where that is lighter or darker than what lay
 *                 beside the wedge: 1 % of the difference (95 %)
 *   mean          of the pixels' noise, of what rounding to codes hides where there is little of
 *                 it, and of the light from place to place, 0.05 % (as for the wedge's own steps).
 *                 Codes that come in coarse steps, over 16, may have been cut off in place of
 *                 rounded, which is half a step: half of that is added, one sd
 *   uneven        as density. The mean stands for the middle of a patch, and nobody lays it just
 *                 there: any place on it is taken to be as likely meant
 *   r, D_all      the share of pixels left out, and the density if none had been: with a
 *                 probability of that share they were no dust but what was meant. Up to 5 %, which
 *                 an interval of 95 % need not hold, and of a line across steps it is 0
 *   texture       what the kept pixels differ by beyond the scanner's noise and `uneven`: detail is
 *                 taken to be a tenth of the patch wide, so that 100 pieces of it are averaged
 *
 *   Where more than a third was left out, or the last three terms alone make over 0.05 D (0.10 at
 *   95 %) and over what the scanner's noise may make of a mean there (6 sd; both as squares), it is
 *   no reading: there is no density.
 *
 * Source    common practice, the level too; the weights of the last three terms are this program's
 * Given     request  wedge (repeats of a step count once, base rows don't), or steps >= 3; spot: as
 *                    of ww_measure_spots, read beside the strip
 * Returned  measured  in the order of the wedge's rows, or numbered; then the spots
 * Status    WW_OK; WW_ENODATA no stepped strip there, a wedge without densities; WW_EMISMATCH
 *           another number of steps, both ends alike where a wedge must decide the direction, steps
 *           that do not grow darker with its densities either way, or a scan made with other
 *           settings than the scanner file (bits, greatest code, channels, embedded profile; by a
 *           known wedge: encoding); WW_EDOMAIN steps,
 *           widths or strip are none, a step has no pixel, or floating point is on another scale
 *           than 1 for white; WW_EMEMORY; what the picture's reader
 *           returns
 */
ww_status ww_measure_strip(const ww_picture *picture, const ww_measure_request *request,
                           ww_measured *measured, ww_error *err);

/*
 * ww_measure_spots - read named discs, as the steps of a strip are read.
 *
 * Given     spot     a radius > 0, the whole disc inside the picture
 *           request  scanner, threads
 * Returned  measured  in the order of the spots
 * Status    WW_OK; WW_EDOMAIN a spot that reaches outside or has no pixel, floating point on
 *           another scale than 1 for white; WW_EMISMATCH other settings than the scanner file;
 *           WW_ENODATA a spot without a number in floating point; WW_EMEMORY; what the picture's
 *           reader returns
 */
ww_status ww_measure_spots(const ww_picture *picture, const ww_spot spot[], size_t n,
                           const ww_measure_request *request, ww_measured *measured, ww_error *err);

/*
 * ww_measured_readings - what was measured as readings, to be written or fitted.
 *
 *   Rows are steps (spots: tones; a spot called base is the base row, `cloud/thin` and
 *   `cloud/dense` are the two ends of the tone cloud, and one called glass, open light, is no row).
 *   Of spots beside a strip the base alone is a row: the others are neither steps nor tones of a
 *   picture. With a scanner file the columns are densities to 0.001 with `sd`, status scanner;
 *   without one there is nothing to write.
 *
 * Given     through  readings of the wedge that the strip was exposed through; NULL: none
 * Status    WW_OK; WW_ENODATA not calibrated, or glass alone; as ww_readings_through; WW_EMEMORY
 */
ww_status ww_measured_readings(const ww_measured *measured, const ww_readings *through,
                               ww_readings *readings, ww_error *err);

/* The percentiles of a whole scan that `whole` gives, in the order of rising light. */
enum {
    WW_WHOLE_MIN,
    WW_WHOLE_P0_1,
    WW_WHOLE_P1,
    WW_WHOLE_MEDIAN,
    WW_WHOLE_P99,
    WW_WHOLE_P99_9,
    WW_WHOLE_MAX,
    WW_WHOLE_COUNT
};

/*
 * Pixels by density; where the scan is not calibrated, by log10 of the greatest code over the code.
 * Bin i of a channel counts those from `from + i * width` up to the next. Clipped pixels and what
 * the wedge does not reach have no density: they are counted apart, so that all adds up to the
 * pixels that are numbers.
 */
enum { WW_WHOLE_BINS = 256 };
typedef struct ww_whole_bins {
    double from, width; /* [D], or log10 */
    size_t n;           /* bins up to the last that is not empty */
    size_t count[WW_CHANNEL_COUNT][WW_WHOLE_BINS];
    size_t lighter[WW_CHANNEL_COUNT]; /* than the first bin, or light and without a density */
    size_t darker[WW_CHANNEL_COUNT];
} ww_whole_bins;

/* A whole scan in one pass. */
typedef struct ww_whole {
    char *file;
    unsigned bits;
    double white;
    ww_optional px_per_mm;
    char *profile; /* NULL where none */
    size_t pixels;
    size_t left_out[WW_CHANNEL_COUNT]; /* of them: no numbers, NaN or infinite */
    bool has[WW_CHANNEL_COUNT];
    bool calibrated;
    bool off; /* as of ww_measured */
    double code[WW_CHANNEL_COUNT][WW_WHOLE_COUNT];
    double mean[WW_CHANNEL_COUNT]; /* of the codes themselves, not as light */
    /* Of those codes, so it falls: 99 % of the pixels do not exceed the density at WW_WHOLE_P1. */
    ww_cell density[WW_CHANNEL_COUNT][WW_WHOLE_COUNT];
    double clipped_low[WW_CHANNEL_COUNT], clipped_high[WW_CHANNEL_COUNT]; /* shares */
    ww_whole_bins bins;
    ww_notes notes;
} ww_whole;

#define WW_WHOLE_INIT                                                                              \
    { .file = NULL }

void ww_whole_release(ww_whole *whole);

/*
 * ww_measure_whole - count every pixel of a picture (of request->strip where it is given).
 *
 *   Percentile p is the least code that at least p % of the pixels do not exceed. The doubt of its
 *   density is that of a patch as far as it is no patch's own: calibration, level, and the step of
 *   the codes, as they show it about the percentile. The noise of single pixels is none of it: that
 *   is in the percentiles themselves, which it spreads.
 *
 * Source    definition
 * Given     request  strip, scanner, threads
 * Status    WW_OK; WW_EDOMAIN the strip lies outside of the picture, floating point on another
 *           scale than 1 for white; WW_EMISMATCH other settings than the scanner file; WW_ENODATA a
 *           channel without a number; WW_EMEMORY; what the picture's reader returns
 * Accuracy  exact for integers up to 16 bits; else within 1 part in 8192 of the code (0.0001 D),
 *           least and greatest exact
 */
ww_status ww_measure_whole(const ww_picture *picture, const ww_measure_request *request,
                           ww_whole *whole, ww_error *err);

#endif
