/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TONE_RESPONSE_H
#define WEDGEWORK_TONE_RESPONSE_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/ramp.h>

/* How dense an output prints what is sent to it, which is told as drive (ramp.h). */
enum { WW_TONE_RESPONSE_POINTS = 1025 };

/* A row of a scale that was skipped, or read twice, so that all after it stand a step off. */
typedef struct ww_tone_slip {
    int moved;      /* steps that they belong further: 1, -1; 0: none slipped */
    bool taken;     /* they are taken there; else as they stand, as it is not sure */
    double drive;   /* that was sent for the first of them, as the table has it */
    double control; /* the same as its column has it (ww_ramp_control) */
} ww_tone_slip;

typedef struct ww_tone_response {
    double density[WW_TONE_RESPONSE_POINTS]; /* at drives 0 to 1 in equal steps, never falling */
    double error[WW_TONE_RESPONSE_POINTS];   /* of it, 1 sd */
    double missed[WW_TONE_RESPONSE_POINTS];  /* what readings are denser than it; straight lines
                                                between them */
    double to;                               /* drive from which on no density is won: 1, or less */
    size_t n;                                /* readings that counted */
    double noise;                            /* sd of a reading about it */
    ww_tone_slip slip;
} ww_tone_response;

/*
 * ww_tone_response_fit - a smooth, rising response through readings that are noisy.
 *
 *   A monotone penalised spline of density against drive, or against the density of light of
 *   (1 - drive)^2.2 over a veil of 0.5 %; AICc chooses, and how stiff it
 *   is. Where density falls again with more ink (by 0.05 D, over two readings at least), readings
 *   beyond its greatest are left out. Where the scale reads as if a step had been skipped or
 *   read twice (AICc lower by over 24), all readings from there on are taken a step on or back;
 *   where it may be so (over 10), as they stand; and either way the error holds what the other
 *   story says, as a bound of 95 %. A step slipped within two greys of either end is not looked
 *   for. So is a reading that no rising curve explains, but for the two at either end, where a
 *   scale may bend. `to` is 1, or the drive that comes within 0.01 D of the greatest density
 *   where that spares a fiftieth of the scale: a plateau.
 *
 * Source    spline, AICc, suspects: as for characteristic curves (fit.h); 0.01 D: what readings
 *           repeat to, common practice
 * Given     readings  pooled
 *           ramp      of them
 *           density   a density column
 *           sent      drives that were really sent where the table says so much, in equal steps
 *                     from 0 to 1, WW_TONE_RESPONSE_POINTS of them; NULL: what the table says
 *           of        " (red)" where there are several channels, else ""
 * Returned  response
 *           notes     what was left out and why
 * Status    WW_OK; WW_ENODATA fewer than 6 readings, or none within a fiftieth of either end;
 *           WW_EMISMATCH density falls with what is sent, or is flat (within 0.01 D); WW_EDOMAIN a
 *           control that is beyond its scale, over 1000 readings; WW_ECONVERGE; WW_EMEMORY
 * Accuracy  printers of known response read at 21 drives to 0.01 D (1 sd): within 0.02 D
 *           in 95 % of drives and more, and its intervals hold the truth in 93 % and more
 *           (tests/core/test_tone_response.c)
 */
ww_status ww_tone_response_fit(const ww_readings *readings, ww_ramp ramp, ww_column density,
                               const double sent[], const char *of, ww_tone_response *response,
                               ww_notes *notes, ww_error *err);

/*
 * ww_tone_response_density - density at a drive from 0 to 1.
 * ww_tone_response_error   - of it, 1 sd.
 * ww_tone_response_drive   - the least drive that gives a density, up to `to`; the end that is
 *                            nearer where none does.
 *
 * Accuracy  1e-5 D against the fitted spline: straight lines between 1025 points
 */
double ww_tone_response_density(const ww_tone_response *response, double drive);
double ww_tone_response_error(const ww_tone_response *response, double drive);
double ww_tone_response_drive(const ww_tone_response *response, double density);

/* ww_tone_response_at - the same straight lines for any WW_TONE_RESPONSE_POINTS values from drive
 *                       0 to 1. */
double ww_tone_response_at(const double values[], double drive);

/*
 * ww_tone_response_learn - what a later print teaches, as far as its noise allows.
 *
 *   response += gain (later - response),  gain = (e1^2 + t^2) / (e1^2 + t^2 + e2^2)
 *
 *   e1, e2 are the mean errors of both, t^2 what their mean squared difference is beyond e1^2 +
 *   e2^2 (0 where it is less): two of one mind are averaged by their errors; where the output has
 *   moved the later counts. `missed` is then what the later readings miss the result by, and the
 *   error holds it, as a bound of 95 %: none of what was read is in less doubt than it is off.
 *
 * Source    best linear estimate (textbook)
 * Returned  the gain
 */
double ww_tone_response_learn(ww_tone_response *response, const ww_tone_response *later);

#endif
