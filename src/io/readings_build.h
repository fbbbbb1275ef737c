/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_READINGS_BUILD_H
#define WEDGEWORK_IO_READINGS_BUILD_H

#include "io/lines.h"
#include "io/readings_columns.h"
#include "io/readings_number.h"
#include <stdbool.h>
#include <wedgework/readings.h>

/*
 * Makes a readings table out of named columns and rows of cells, whatever the file's format:
 * everything that makes a cell impossible or ambiguous is refused here.
 */
typedef struct ww__build {
    const char *file;
    ww__number_rules rules;
    ww__field *field;
    size_t n_fields;
    ww_readings made;
    size_t capacity;
} ww__build;

ww__build ww__build_begin(const char *file);

/* Appends a column; refuses a second one of the same kind. field->name must outlive the build. */
ww_status ww__build_field(ww__build *build, const ww__field *field, size_t line, ww_error *err);

/* Appends a row of exactly n_fields cells. */
ww_status ww__build_row(ww__build *build, const ww__cells *cells, size_t line, ww_error *err);

/* Refuses a table without rows; else gives it away. */
ww_status ww__build_finish(ww__build *build, ww_readings *readings, ww_error *err);

void ww__build_release(ww__build *build);

#endif
