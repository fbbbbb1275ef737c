/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_STAIRCASE_EDGE_H
#define WW_IMAGE_STAIRCASE_EDGE_H

#include "image/staircase_run.h"

#define WW__EDGE_OFFSET_MOST 0.2 /* steps, of an edge from its line */

/* ww__edge_loosened - the place near its line where an edge between two levels (log10, high before
 *                     low) leaves least misfit on both sides; `pitch` in places. */
double ww__edge_loosened(const ww__profile *profile, double line, double pitch, double high,
                         double low);

#endif
