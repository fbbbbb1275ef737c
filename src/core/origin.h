/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_ORIGIN_H
#define WW_CORE_ORIGIN_H

#include <wedgework/curve.h>

/*
 * ww__origin_note - say what was taken for the zero of log H, where the readings do not give it or
 *                   give it twice: every second and every speed stands on it.
 *
 * Source    interface conventions: log h0, else log10 of the exposure time for a wedge, else 0
 * Given     curve  meta and exposure column set
 * Returned  curve  with one note more, or none
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__origin_note(ww_curve *curve, ww_error *err);

#endif
