/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_MERGE_H
#define WEDGEWORK_SCAN_MERGE_H

#include <wedgework/picture_write.h>
#include <wedgework/scanner.h>

/*
 * Two scans of one negative at two exposures become one: dense tones from the longer, where it
 * counted more light, and what is clipped there from the shorter.
 *
 *   longer = ratio * shorter + offset                     as light, full scale = 1
 *   merged = shorter + w ((longer - offset) / ratio - shorter)
 *   w = fade * v_s / (v_s + v_l)
 *   v_s = read^2 + shot^2 L_s + flicker^2 L_s^2
 *   v_l = (read^2 + shot^2 L_l + flicker^2 L_l^2) / ratio^2
 *   v_l = v_s  where the longer one was amplified after its light was counted
 *
 * The fade falls from 1 to 0 over the last 0.1 D below where the longer one clips (98 % of full
 * scale, or of the last code where codes end below it with a heap of pixels). Noise that stays
 * where it is on the sensor is the same share of light in both, and moves no weight; both noises of
 * a gain hold it where the scanner file does. The result is in the shorter scan's scale and
 * encoding, so that its profile holds.
 */

enum { WW_SCAN_MERGE_GAINS = 41 };

/* Noise of one pixel in density, one sd, so far below the shorter scan's full scale. */
typedef struct ww_scan_merge_gain {
    double below;           /* D: 0, 0.1, ... 4 */
    double shorter, merged; /* D */
} ww_scan_merge_gain;

/* What tells against a merge, though it can be made: the result does not hold. */
typedef enum ww_scan_merge_flaw {
    WW_SCAN_MERGE_SOUND,
    WW_SCAN_MERGE_AMPLIFIED, /* the longer scan's noise is as much of its light as the shorter's */
    WW_SCAN_MERGE_DECODED,   /* noise or black is not that of light, as the scanner file decodes */
    WW_SCAN_MERGE_UNEVEN,    /* not in one proportion at all levels */
    WW_SCAN_MERGE_SHARPENED, /* the longer scan has more noise than its light or a gain makes */
    WW_SCAN_MERGE_NOISIER    /* both have more noise than the scanner file holds */
} ww_scan_merge_flaw;

typedef struct ww_scan_merge_channel {
    bool present;
    ww_scan_merge_flaw flaw;
    bool quieter;                    /* both have less noise than the scanner file holds, and what
                                        is told of noise is the file's */
    bool black_taken;                /* tones are too alike to tell the scans' black: the ratio and
                                        its doubt rest on the scanner file's */
    bool borne_out;                  /* noise grows with light as the scanner file holds, which it
                                        would not if codes that it decodes were light */
    ww_quantity ratio, stops;        /* of light, 95 %, and log2 of it; what levels are off by the
                                        line is in the doubt */
    double offset;                   /* share of full scale */
    double darkest;                  /* D below full scale, in tenths: so dark or darker is a
                                        hundredth of the places that both hold */
    size_t places;                   /* of 8 x 8 px, that both scans hold and the ratio rests on */
    double read, shot, flicker;      /* noise of one pixel as light: variance
                                        read^2 + shot^2 L + flicker^2 L^2 */
    double longer, blended, shorter; /* shares of pixels: by weights of noise, in the fade, from the
                                        shorter scan alone; 0 until rows are merged */
    ww_scan_merge_gain gain[WW_SCAN_MERGE_GAINS];
} ww_scan_merge_channel;

/* Where the longer scan shows what the shorter shows at (0, 0). */
typedef struct ww_scan_merge_shift {
    size_t places; /* that had enough to see, of 9 over the picture; 0: could not be checked */
    double x, y;   /* px, of the place that is furthest off: right and down */
    size_t unlike; /* places of the 9 where both hold detail that does not match */
    bool middle; /* only the middle was seen, where nothing that is turned or scaled is displaced */
} ww_scan_merge_shift;

/* Places of 64 x 64 px at which the scans differ by more than noise and the displacement of the
 * whole make, known when rows are merged. */
typedef struct ww_scan_merge_differ {
    size_t places, of; /* that differ; that were looked at */
    double x, y;       /* px, the middle of the one that differs most */
} ww_scan_merge_differ;

typedef struct ww_scan_merge {
    char *longer_file, *shorter_file; /* NULL: a picture without */
    bool longer_first;                /* of the two pictures as they were given */
    bool real;                        /* merged into floating point; else 16 bits */
    bool taken_as_light;              /* nothing says how codes are encoded, or bears out a scanner
                                         file that takes them so */
    bool noise_measured;              /* on the pair itself; else the scanner file's */
    ww_scan_merge_channel channel[WW_CHANNEL_COUNT];
    ww_scan_merge_shift shift;
    ww_scan_merge_differ differ;
    double clips; /* share of white from which on a code may be clipped */
    bool holds;   /* no channel has a flaw, and no place differs */
    ww_notes notes;
} ww_scan_merge;

#define WW_SCAN_MERGE_INIT                                                                         \
    { .longer_first = false }

void ww_scan_merge_release(ww_scan_merge *merge);

/*
 * ww_scan_merge_measure - ratio, noise and registration of two scans, given in any order.
 *
 *   The ratio is the slope of a line with errors in both, through means of places of 8 x 8 px that
 *   neither scan clips, with weights of their noise, places that do not fit left out (bisquare).
 *   Where the places' lights are too alike for a line with an offset, it goes through one black in
 *   both, and a note says so: the scanner file's, where that was measured, else any from 0 to 2 %
 *   of the scale that the tones allow, which is in the doubt. Without a scanner file noise is what
 *   the two scans differ by within places of little detail. The shift is that of the best
 *   correlation at 9 places, to a fraction of a pixel by its gradients. How noise grows with light
 *   tells whether the longer scan counted more, and whether codes are light at all; against a
 *   scanner file, whether that is of these scans.
 *
 * Source    line: York, Evensen, Martinez and Delgado, Am. J. Phys. 72 (2004) 367-375; bisquare:
 *           Beaton and Tukey, Technometrics 16 (1974) 147-185; weights: least variance; blending:
 *           common practice
 * Given     a, b     of one size, number of channels and bits
 *           scanner  tells encoding and noise; NULL: codes are light, which is refused where the
 *                    embedded profile says otherwise
 * Status    WW_OK; WW_EMISMATCH the pictures cannot be one negative's (size, channels, bits),
 *           neither is the longer in all channels, they are more than 1 px apart (err says how
 *           far, and whether as if turned or scaled), at 3 places or more, and more than match,
 *           their detail does not, their lights are not in one proportion, both have the same
 *           noise, the scanner file is for other settings; WW_EINPUT codes are encoded and no
 *           scanner file tells how;
 *           WW_EDOMAIN floating point with another white than 1;
 *           WW_ENODATA too little that both hold: which exposures would do; WW_EMEMORY; what
 *           reading returns
 */
ww_status ww_scan_merge_measure(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                                ww_scan_merge *merge, ww_error *err);

/*
 * ww_scan_merge_rows - the merged picture, row by row. Memory is less than 64 MiB with what reading
 *                      takes. Progress is told to the picture that has one.
 *
 * Given     a, b, scanner  as they were measured
 * Returned  merge          the shares of pixels, where the scans differ, and what is noted of it
 * Status    WW_OK; WW_EMISMATCH a part of the longer scan lies more than 1 px off, which is known
 *           when all rows have been taken: err says where and how far; WW_EMEMORY; what reading or
 *           the sink returns
 */
ww_status ww_scan_merge_rows(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                             ww_scan_merge *merge, ww_row_sink sink, ww_error *err);

#endif
