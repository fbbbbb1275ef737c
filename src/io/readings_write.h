/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_READINGS_WRITE_H
#define WEDGEWORK_IO_READINGS_WRITE_H

#include "base/text.h"
#include <stdbool.h>
#include <wedgework/readings.h>

/* Which columns a table needs so that nothing of it is lost. */
typedef struct ww__write_plan {
    bool step, tone, part, pack, width;
    bool n_all;              /* one number of readings a row */
    bool n[WW_COLUMN_COUNT]; /* else one for each of these */
    bool sd[WW_COLUMN_COUNT];
} ww__write_plan;

ww__write_plan ww__write_plan_for(const ww_readings *readings);

/* Number of readings behind a row, 0 where it has none. */
size_t ww__write_count(const ww_readings *readings, const ww_row *row);

void ww__write_cell(ww__text *text, const ww_cell *cell);
void ww__write_optional(ww__text *text, ww_optional optional);
void ww__write_size(ww__text *text, size_t n); /* "-" for 0 */

/* WW_EDOMAIN where the table holds what no file of ours could give back. */
ww_status ww__write_check(const ww_readings *readings, ww_error *err);

/* The documents; ww__text_status tells whether they are whole. The table has been checked. */
void ww__write_csv(ww__text *text, const ww_readings *readings);
void ww__write_cgats(ww__text *text, const ww_readings *readings);

#endif
