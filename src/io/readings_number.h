/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_READINGS_NUMBER_H
#define WEDGEWORK_IO_READINGS_NUMBER_H

#include "io/readings_columns.h"
#include <stdbool.h>
#include <wedgework/error.h>

/* How the numbers of one file are written, as far as its cells have told. */
typedef struct ww__number_rules {
    const char *file;
    bool decimal_comma;   /* the separator leaves room for one */
    bool comma_separated; /* then a number such as "05" is half of "0,05" */
    size_t point_line;    /* where the first decimal point and the first decimal comma stood */
    size_t comma_line;
    size_t thousands_line; /* where a number first looked like 1,234 */
    char thousands[64];
    bool comma_proven; /* some comma can only be a decimal one */
} ww__number_rules;

/*
 * A cell that must be a number in the range of its column. Status WW_OK; WW_EINPUT no number, out
 * of range, or its mark means another thing than elsewhere in the file.
 */
ww_status ww__number_read(ww__number_rules *rules, const ww__field *field, const char *text,
                          size_t line, double *value, ww_error *err);

/* The same for a whole number of readings. */
ww_status ww__number_count(ww__number_rules *rules, const ww__field *field, const char *text,
                           size_t line, size_t *n, ww_error *err);

/* After the last row: refuses where commas could have been marks for thousands all along. */
ww_status ww__number_finish(const ww__number_rules *rules, ww_error *err);

/* The message about one cell: what it should have been, its text, its column, why not. */
ww_status ww__number_refuse(const char *file, const ww__field *field, const char *what,
                            const char *text, size_t line, const char *why, ww_error *err);

#endif
