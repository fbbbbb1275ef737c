/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_WEDGE_H
#define WW_CORE_SCANNER_WEDGE_H

#include "scanner_model.h"
#include "scanner_steps.h"
#include <wedgework/measure.h>
#include <wedgework/scanner.h>

/* Whether the wedge on the glass is that of the file: nothing else can tell, and all that is read
 * by the calibration rests on it. */

/* ww__scanner_wedge_name - the file's name, escaped for a message; "the wedge file" without one. */
const char *ww__scanner_wedge_name(const ww_readings *wedge, char shown[], size_t size);

/* ww__scanner_wedge_check - refuses what no scan can be. Status WW_OK; WW_EMISMATCH */
ww_status ww__scanner_wedge_check(const ww__scanner_model *model, const ww_measured *measured,
                                  const ww_readings *wedge, ww_error *err);

/* ww__scanner_wedge_end - refuses an outermost step that the picture does not bear out and that is
 * off by more than it differs from its neighbour: glass or a mask beside the wedge, named as one
 * step too many. Status WW_OK; WW_EMISMATCH */
ww_status ww__scanner_wedge_end(const ww_scanner *scanner, const ww_measured *measured,
                                const ww_readings *wedge, ww_error *err);

/* ww__scanner_wedge_note - a first note, and `misfit`, where codes are encoded as no export does,
 * or the steps depart by far more than a wedge is off by: 0.05 D rms, or 4 sd of a certificate,
 * which are 0.02 at least; what a step's own noise explains is none of that. Status WW_OK;
 * WW_EMEMORY */
ww_status ww__scanner_wedge_note(const ww__scanner_strips *strips, const ww_readings *wedge,
                                 ww_scanner *scanner, ww_error *err);

#endif
