/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_PLAN_SCAN_END_H
#define WW_PLAN_SCAN_END_H

#include <wedgework/scan.h>

/*
 * ww__scan_end_note - where the scanner's codes end, if below full scale, or may end there: in a
 *                     file of 16 bits no code of the wedge's scan needs more than 10, 12 or 14,
 *                     and the plan has the base beyond.
 *
 * Source    2^bits - 1, the greatest code
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__scan_end_note(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err);

#endif
