/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_SLIP_H
#define WW_CORE_SCANNER_SLIP_H

#include "scanner_model.h"

/* A table of densities that slipped by a row: from one step on, each has its neighbour's. */
typedef struct ww__scanner_slip {
    const char *label;   /* the first step that has another's, borrowed; NULL: none slipped */
    bool next;           /* it has the next row's, one being left out; else the row's before it */
    double before, left; /* D, rms, that the model leaves of the table as it is, and put right */
} ww__scanner_slip;

/*
 * ww__scanner_slip_find - whether the wedge's densities explain its codes far better when those of
 *                         one end are moved by a row.
 *
 *   Each step is tried as the first that has another's, both ways; the step that then has no
 *   density plays no part. A slip is told where the model leaves over 0.01 D of the table as it
 *   stands, with no step left out, and less than a third of that of the other. A table that slipped
 *   from its first row on shows only where its steps are not all alike: there less than a third is
 *   left of what it leaves without both ends, too.
 *
 * Given     strips  suspects count here as all others do
 * Returned  *slip   label NULL where there is none; labels are borrowed from `strips`
 * Status    WW_OK, also where no model fits; WW_EMEMORY
 */
ww_status ww__scanner_slip_find(const ww__scanner_strips *strips, ww__scanner_slip *slip,
                                ww_error *err);

/* ww__scanner_slip_note - says so first, and that it is a misfit. Status WW_OK; WW_EMEMORY */
ww_status ww__scanner_slip_note(const ww__scanner_slip *slip, const ww_readings *wedge,
                                ww_scanner *scanner, ww_error *err);

#endif
