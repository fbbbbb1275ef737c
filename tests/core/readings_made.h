/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_CORE_READINGS_MADE_H
#define WEDGEWORK_TESTS_CORE_READINGS_MADE_H

#include "support/support.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/readings.h>

/* Makes tables of readings by hand, without a file. */
static inline char *made_text(const char *text) {
    char *copy = malloc(strlen(text) + 1);
    if (!copy)
        fail_msg("no memory for the test");
    strcpy(copy, text);
    return copy;
}

/* Appends a row; the pointer holds until the next. */
static inline ww_row *made_row(ww_readings *readings, const char *step, const char *tone) {
    ww_row *grown = realloc(readings->row, (readings->n + 1) * sizeof *grown);
    ww_row *row;
    if (!grown)
        fail_msg("no memory for the test");
    readings->row = grown;
    row = &grown[readings->n++];
    *row = (ww_row){.step = made_text(step), .tone = made_text(tone), .pack = made_text("")};
    row->is_base = strcmp(step, "base") == 0 || strcmp(tone, "base") == 0;
    row->line = readings->n + 1;
    return row;
}

static inline void made_value(ww_readings *readings, ww_row *row, ww_column column, double value) {
    readings->has[column] = true;
    row->cell[column] = (ww_cell){.state = WW_CELL_VALUE, .value = value, .n = 1};
}

/* One row with a step label and one number. */
static inline ww_row *made_step(ww_readings *readings, const char *step, ww_column column,
                                double value) {
    ww_row *row = made_row(readings, step, "");
    made_value(readings, row, column, value);
    return row;
}

#endif
