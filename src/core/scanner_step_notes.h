/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_STEP_NOTES_H
#define WW_CORE_SCANNER_STEP_NOTES_H

#include <wedgework/scanner.h>

/* ww__scanner_step_notes_add - a sentence on the steps of a channel that are clipped at either end,
 *                              one on those that are compressed, and one on each that was left out
 *                              as not what the wedge file says. Status WW_OK; WW_EMEMORY */
ww_status ww__scanner_step_notes_add(ww_scanner *scanner, ww_channel channel, ww_error *err);

#endif
