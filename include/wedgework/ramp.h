/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_RAMP_H
#define WEDGEWORK_RAMP_H

#include <wedgework/readings.h>

/*
 * The scale of greys that was sent to an output. What is sent is told as drive, 0 for bare paper to
 * 1 for all that can be sent, whatever the readings call it:
 *
 *   drive = 1 - value        values, of which 1 is white
 *   drive = colourant / 100  per cent of gray, cyan, magenta, yellow
 */

/* The scale of greys that a table holds. */
typedef enum ww_ramp {
    WW_RAMP_NONE,
    WW_RAMP_VALUE,     /* column value */
    WW_RAMP_GRAY,      /* column gray, no other colourant in the row */
    WW_RAMP_VALUES,    /* value_red, value_green, value_blue, alike in a row */
    WW_RAMP_COLOURANTS /* cyan, magenta, yellow alike, and no gray in the row */
} ww_ramp;

/*
 * ww_ramp_find    - the scale of greys of a table, by its most rows.
 * ww_ramp_drive   - drive of a row; unset where the row is none of the scale. A `base` row is bare
 *                   paper, drive 0.
 * ww_ramp_control - what the table calls a drive: a value, or per cent.
 * ww_ramp_name    - the columns by name: "value", "gray", "value_red, value_green, value_blue", ...
 * ww_ramp_unit    - "%", or "" for values.
 */
ww_ramp ww_ramp_find(const ww_readings *readings);
ww_optional ww_ramp_drive(const ww_readings *readings, ww_ramp ramp, size_t row);
double ww_ramp_control(ww_ramp ramp, double drive);
const char *ww_ramp_name(ww_ramp ramp);
const char *ww_ramp_unit(ww_ramp ramp);

/*
 * ww_ramp_check - refuses a scale in per cent whose greys all stay at 1 % or under: those are
 * shares of 1, written where per cent belong. A scale of a single grey says too little of that.
 *
 * Status    WW_OK; WW_EDOMAIN shares of 1 where per cent belong: err says file and line of the most
 */
ww_status ww_ramp_check(const ww_readings *readings, ww_ramp ramp, ww_error *err);

#endif
