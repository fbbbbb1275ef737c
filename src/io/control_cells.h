/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CONTROL_CELLS_H
#define WEDGEWORK_IO_CONTROL_CELLS_H

#include "io/control_table.h"
#include "io/lines.h"
#include <csv.h>
#include <wedgework/control_log.h>

/* The table of a control log on its way: a line in its cells, and where each column stands. */
typedef struct ww__control_cells {
    const char *file;
    size_t line;
    char mark; /* between cells; 0: no header yet */
    int at[WW__CONTROL_COLUMNS];
    struct csv_parser parser;
    ww__cells cells;
    bool ended;
    ww_status status; /* of the parser's callbacks */
    ww_error *err;
    ww_control_log made;
} ww__control_cells;

/* WW_EINPUT at the line at hand. */
ww_status ww__control_cells_refuse(const ww__control_cells *t, const char *what, ww_error *err);

/* A line into cells. Status WW_OK; WW_EINPUT; WW_EMEMORY */
ww_status ww__control_cells_split(ww__control_cells *t, const char *line, size_t n, ww_error *err);

/* The cell of a column, "" where there is none. */
const char *ww__control_cells_at(const ww__control_cells *t, int column);

/* The same as what it must be: a text to own, a number within limits, a whole number from `low` on
 * (an empty cell is 0 where that will do), a date to own. Status WW_OK; WW_EINPUT; WW_EMEMORY */
ww_status ww__control_cells_text(const ww__control_cells *t, int column, char **text,
                                 ww_error *err);
ww_status ww__control_cells_number(const ww__control_cells *t, int column, double low, double high,
                                   double *value, ww_error *err);
ww_status ww__control_cells_whole(const ww__control_cells *t, int column, long low, long *number,
                                  ww_error *err);
ww_status ww__control_cells_date(const ww__control_cells *t, char **date, ww_error *err);

#endif
