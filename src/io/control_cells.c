/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/control_cells.h"
#include "base/escape.h"
#include "core/readings.h"
#include <math.h>
#include <string.h>
#include <wedgework/number.h>

enum { SHOWN = 200 };

/* --- cells ------------------------------------------------------------ */

static void add_cell(void *bytes, size_t n, void *of) {
    ww__control_cells *t = of;
    if (t->status == WW_OK)
        t->status = ww__cells_add(&t->cells, bytes, n, t->err);
}

static void end_line(int end, void *of) {
    (void)end;
    ((ww__control_cells *)of)->ended = true;
}

ww_status ww__control_cells_refuse(const ww__control_cells *t, const char *what, ww_error *err) {
    return ww_error_set_at(err, WW_EINPUT, t->file, t->line,
                           "%s; this is no table of a control log, as `control export` writes it",
                           what);
}

ww_status ww__control_cells_split(ww__control_cells *t, const char *line, size_t n, ww_error *err) {
    ww__cells_clear(&t->cells);
    t->ended = false;
    t->status = WW_OK;
    t->err = err;
    if (n > WW__LINE_MOST || memchr(line, '\0', n))
        return ww__control_cells_refuse(t, "the line is too long, or holds what is no text", err);
    if (csv_parse(&t->parser, line, n, add_cell, end_line, t) != n ||
        csv_parse(&t->parser, "\n", 1, add_cell, end_line, t) != 1 || !t->ended)
        return ww__control_cells_refuse(t, "a quote stands alone", err);
    return t->status;
}

const char *ww__control_cells_at(const ww__control_cells *t, int column) {
    return t->at[column] >= 0 && (size_t)t->at[column] < t->cells.n
               ? ww__cells_at(&t->cells, (size_t)t->at[column])
               : "";
}

ww_status ww__control_cells_text(const ww__control_cells *t, int column, char **text,
                                 ww_error *err) {
    const char *problem = ww__lines_text_problem(ww__control_cells_at(t, column));
    char shown[SHOWN];
    if (problem)
        return ww_error_set_at(
            err, WW_EINPUT, t->file, t->line, "%s '%s' %s", ww__control_column[column],
            ww__escape_message(ww__control_cells_at(t, column), shown, sizeof shown), problem);
    return ww__readings_text_copy(ww__control_cells_at(t, column), text, err);
}

ww_status ww__control_cells_number(const ww__control_cells *t, int column, double low, double high,
                                   double *value, ww_error *err) {
    const char *text = ww__control_cells_at(t, column);
    const char mark = t->mark != ',' && strchr(text, ',') ? ',' : '.';
    ww_error why = WW_ERROR_INIT;
    char shown[SHOWN];
    if (ww_number_parse(text, mark, value, &why) != WW_OK)
        return ww_error_set_at(err, WW_EINPUT, t->file, t->line, "%s: %s",
                               ww__control_column[column], why.msg);
    if (!(*value >= low && *value <= high))
        return ww_error_set_at(err, WW_EINPUT, t->file, t->line, "%s '%s' is not within %g to %g",
                               ww__control_column[column],
                               ww__escape_message(text, shown, sizeof shown), low, high);
    return WW_OK;
}

/* A whole number from `low` on; an empty cell is 0 where that will do. */
ww_status ww__control_cells_whole(const ww__control_cells *t, int column, long low, long *number,
                                  ww_error *err) {
    double value = 0.0;
    ww_status status = WW_OK;
    if (*ww__control_cells_at(t, column) || low > 0)
        status = ww__control_cells_number(t, column, (double)low, 1e9, &value, err);
    if (status == WW_OK && trunc(value) != value)
        status = ww__control_cells_refuse(t, "a number that counts is not whole", err);
    if (status == WW_OK)
        *number = (long)value;
    return status;
}

ww_status ww__control_cells_date(const ww__control_cells *t, char **date, ww_error *err) {
    char checked[WW_CONTROL_DATE_SIZE];
    ww_error why = WW_ERROR_INIT;
    if (ww_control_date_check(ww__control_cells_at(t, WW__CONTROL_DATE), checked, &why) != WW_OK)
        return ww_error_set_at(err, WW_EINPUT, t->file, t->line, "date: %s", why.msg);
    return ww__readings_text_copy(checked, date, err);
}
