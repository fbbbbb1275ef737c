/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_OVER_H
#define WW_CORE_OVER_H

#include <wedgework/notes.h>
#include <wedgework/readings.h>

/*
 * ww__over_check - name what can't be: a step beyond the instrument although one that is denser by
 *                  its exposure was read. It counts as not read, for it bounds nothing.
 *
 * Source    definition: density rises with exposure, on reversal material it falls
 * Given     pooled    a contradicted `over` becomes an empty cell
 * Returned  notes     a sentence a channel: the steps, and the densest by exposure that was read
 * Status    WW_OK; WW_ENODATA, WW_EDOMAIN as ww_readings_log_h; WW_EMEMORY
 */
ww_status ww__over_check(ww_readings *pooled, ww_notes *notes, ww_error *err);

#endif
