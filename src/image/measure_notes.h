/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MEASURE_NOTES_H
#define WW_IMAGE_MEASURE_NOTES_H

#include <wedgework/measure.h>

/* From where on a patch is worth a note. */
#define WW__NOTES_PIXELS 25     /* fewer */
#define WW__NOTES_REJECTED 0.05 /* share of pixels */
#define WW__NOTES_CLIPPED 0.001 /* share of pixels */
#define WW__NOTES_UNEVEN 0.01   /* D of light (2.3 %), where grain cannot be it */
#define WW__NOTES_WIDTH 0.1     /* root mean square departure, shares of a step of mean width */
#define WW__NOTES_ORDER 0.02    /* D, beyond the noise of both steps (6 sd) and a code */
#define WW__NOTES_BASE 0.02     /* D between a scan and the one that calibrated the scanner */

/*
 * ww__measure_notes - what a person should know before the patches are used: one sentence a fault,
 *                     which names the patch that has it worst and how many others have it.
 *
 * Given     what     they are, "step" or "spot"
 *           request  scanner, calibrates
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__measure_notes(ww_measured *measured, const char *what,
                            const ww_measure_request *request, ww_error *err);

/*
 * ww__measure_step_note - whether the codes come in coarse steps: in one of over 16 codes that all
 *                         lie on, or in uneven ones, as a curve or levels leave them.
 *
 * Given     who    has the widest of uneven ones
 *           least  step that all codes lie on
 *           most   the widest
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__measure_step_note(const char *who, unsigned bits, double white, double least,
                                double most, ww_notes *notes, ww_error *err);

/*
 * ww__measure_dim_note - whether all light keeps to a sixteenth of a 16 bit scale: 12 bits that
 *                        were stored as they are, whose greatest code is clipped and not seen as
 *                        such, or an exposure that wastes as much.
 *
 * Given     most  the greatest code of what was read, with what lies beside it
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__measure_dim_note(unsigned bits, double white, double most, ww_notes *notes,
                               ww_error *err);

/*
 * ww__measure_width_note - whether the steps lie the other way round than the widths that were
 *                          given for them: then labels, or the widths, are turned.
 *
 * Given     width  relative, of each patch
 *           known  a wedge's densities decided the direction, not whoever numbered the steps
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__measure_width_note(ww_measured *measured, const double width[], bool known,
                                 ww_error *err);

/*
 * ww__measure_order_note - whether a step is out of order with the one before it: lighter where the
 *                          strip grows darker, or the other way round.
 *
 * Given     scanner  NULL: codes pass for light
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__measure_order_note(ww_measured *measured, const ww_scanner *scanner, ww_error *err);

/*
 * ww__measure_base_note - whether the wedge that calibrated the scanner reads today as it did then:
 *                         its thinnest step that was not clipped. Says nothing of another wedge.
 *
 * Given     wedge  on the glass
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__measure_base_note(ww_measured *measured, const ww_readings *wedge,
                                const ww_scanner *scanner, ww_error *err);

#endif
