/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_ENCODING_H
#define WW_IMAGE_ENCODING_H

#include <wedgework/measure.h>

/* A known wedge that reads by so much less, or more, steep than it is was scanned otherwise: flare
 * makes no more than a fifth, gamma 1.8 or 2.2 and sRGB make half. */
#define WW__ENCODING_LEAST (2.0 / 3.0)
#define WW__ENCODING_MOST 1.5

/*
 * ww__encoding_check - whether the codes of a scan are encoded as those of the scan that calibrated
 *                      the scanner: the densities of a known wedge, read through the calibration,
 *                      rise with its own one to one.
 *
 *   The slope is the median of those of all pairs of steps 0.3 D apart.
 *
 * Given     measured  calibrated, labels of the wedge
 *           wedge     on the glass; without repeats
 * Status    WW_OK, also where fewer than 4 steps can be compared; WW_EMISMATCH the slope is beyond
 *           the limits above; WW_EMEMORY
 */
ww_status ww__encoding_check(const ww_measured *measured, const ww_readings *wedge,
                             const ww_scanner *scanner, ww_error *err);

/* ww__encoding_known - a wedge's own density of a step, in the column that serves for a channel;
 *                      NULL where it has no such step. */
const ww_cell *ww__encoding_known(const ww_readings *wedge, const char *step, ww_channel channel);

#endif
