/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_OUTCOME_H
#define WW_CORE_OUTCOME_H

#include <wedgework/curve.h>

/*
 * ww__outcome_check - whether anything was had of the readings: a curve, or at least a base, in any
 *                     channel. Whichever way the readings failed, the message says why and what to
 *                     read.
 *
 * Given     readings  pooled
 *           curve     made of them, with its notes
 * Status    WW_OK; WW_ENODATA nothing was had
 */
ww_status ww__outcome_check(const ww_readings *readings, const ww_curve *curve, ww_error *err);

#endif
