/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_END_NOTES_H
#define WW_CORE_SCANNER_END_NOTES_H

#include "scanner_steps.h"

/*
 * ww__scanner_end_notes_add - how a calibration ends towards black, one sentence for all channels
 *                             that it holds for: where one code is over 0.02 D, and where the wedge
 *                             ends before the scanner does.
 *
 * Given     strips   the scanner's channels, in the order in which they are named
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__scanner_end_notes_add(const ww__scanner_strips *strips, ww_scanner *scanner,
                                    ww_error *err);

#endif
