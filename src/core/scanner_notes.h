/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_NOTES_H
#define WW_CORE_SCANNER_NOTES_H

#include "scanner_model.h"
#include "scanner_slip.h"
#include "scanner_steps.h"

/* What became of the scan made in the dark. */
typedef enum ww__scanner_dark {
    WW__SCANNER_DARK_NONE, /* there was none */
    WW__SCANNER_DARK_TAKEN,
    WW__SCANNER_DARK_LIGHT /* lighter than the wedge's densest steps allow: set aside */
} ww__scanner_dark;

/* What the fit knows and the result does not show; members by channel. */
typedef struct ww__scanner_story {
    const ww__scanner_strips *strips;
    const ww__scanner_model *model;
    ww__scanner_slip slip; /* what else is said then has no ground */
    double apart;          /* D, the most by which rivals of the model read otherwise */
    ww__scanner_dark dark;
    double scatter[WW_CHANNEL_COUNT];    /* D, sd of the wedge's densities beyond the stated one */
    double correction[WW_CHANNEL_COUNT]; /* D, the largest, signed; 0: none */
} ww__scanner_story;

/* ww__scanner_notes_add - a sentence on all that was assumed, left out or is doubtful. Status
 *                         WW_OK; WW_EMEMORY */
ww_status ww__scanner_notes_add(const ww__scanner_story *story, const ww_readings *wedge,
                                ww_scanner *scanner, ww_error *err);

#endif
