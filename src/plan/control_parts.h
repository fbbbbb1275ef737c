/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_CONTROL_PARTS_H
#define WEDGEWORK_PLAN_CONTROL_PARTS_H

#include <wedgework/control.h>

/* Densities written to 0.001 differ by no less: what is less is rounding of doubles [D]. */
#define WW__CONTROL_SAME 1e-9

/* The role that a word names; WW_CONTROL_ROLES: none. */
ww_control_role ww__control_role_of(const char *word);

/* --- control_measure.c: what is charted --- */

/* The lot's roles and charts, with their aims and the user's limits, and a point a strip. */
ww_status ww__control_measure(ww_control_lot *lot, const ww_control_limits *limits, ww_error *err);
void ww__control_chart_release(ww_control_chart *chart);

/* --- control_limits.c: what is broken --- */

/* History's limits, runs and slow drift of every chart of a lot; its baseline is marked. */
ww_status ww__control_break(ww_control_lot *lot, ww_control_slow_kind slow, ww_error *err);

/* --- control_cause.c, control_notes.c: what is said of it --- */
ww_status ww__control_causes(ww_control *control, ww_error *err);
ww_status ww__control_notes(ww_control *control, ww_error *err);

#endif
