/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int compare_numbers(double a, double b) {
    return (a > b) - (a < b);
}

/* What was sent to the output is part of what a row is, not of what was read. */
static int compare_controls(const ww_row *a, const ww_row *b) {
    for (int c = WW_COLUMN_VALUE; c <= WW_COLUMN_HARD; c++) {
        int order = (int)a->cell[c].state - (int)b->cell[c].state;
        if (order == 0 && a->cell[c].state == WW_CELL_VALUE)
            order = compare_numbers(a->cell[c].value, b->cell[c].value);
        if (order != 0)
            return order;
    }
    return 0;
}

/* Base rows are alike however `base` is written, if the rest agrees. */
static int compare_labels(const char *a, const char *b) {
    if (ww__readings_is_base_word(a) && ww__readings_is_base_word(b))
        return 0;
    return strcmp(a, b);
}

static int compare_keys(const ww_row *a, const ww_row *b) {
    int order = compare_labels(a->step, b->step);
    if (order == 0)
        order = compare_labels(a->tone, b->tone);
    if (order == 0)
        order = (int)a->part - (int)b->part;
    if (order == 0)
        order = strcmp(a->pack, b->pack);
    if (order == 0)
        order = (int)a->exposure.set - (int)b->exposure.set;
    if (order == 0 && a->exposure.set)
        order = compare_numbers(a->exposure.value, b->exposure.value);
    return order != 0 ? order : compare_controls(a, b);
}

/* A row with nothing to know it by is a replicate of no other. */
static bool has_key(const ww_row *row) {
    if (row->step[0] != '\0' || row->tone[0] != '\0' || row->pack[0] != '\0' || row->exposure.set)
        return true;
    for (int c = WW_COLUMN_VALUE; c <= WW_COLUMN_HARD; c++)
        if (row->cell[c].state == WW_CELL_VALUE)
            return true;
    return false;
}

static int by_key_then_place(const void *left, const void *right) {
    const ww_row *a = *(const ww_row *const *)left;
    const ww_row *b = *(const ww_row *const *)right;
    bool keyed = has_key(a);
    int order = (int)keyed - (int)has_key(b);
    if (order == 0 && keyed)
        order = compare_keys(a, b);
    return order != 0 ? order : (a > b) - (a < b);
}

/* The label to name a row by in a note. */
static const char *label_of(const ww_row *row) {
    return row->step[0] != '\0' ? row->step : row->tone;
}

/* A value counts once even where a caller left n at 0. */
static double count_of(const ww_cell *cell) {
    return cell->n > 0 ? (double)cell->n : 1.0;
}

/*
 * One-way analysis of variance about the common mean: within rows (as stated, n - 1 degrees each; a
 * stated sd without a count is given one) and between rows (rows - 1). Where every row is one
 * reading this is the sample standard deviation; where every row states its sd, that of all
 * single readings. Sums run about the first value so that large equal parts cancel beforehand.
 */
static ww_cell pool_values(const ww_row *const row[], size_t n, size_t column) {
    double origin = 0.0;
    double weight = 0.0;
    double sum = 0.0;
    double squares = 0.0;
    double degrees = 0.0;
    size_t rows = 0;
    ww_cell pooled = {.state = WW_CELL_VALUE};
    for (size_t i = 0; i < n; i++) {
        const ww_cell *cell = &row[i]->cell[column];
        if (cell->state != WW_CELL_VALUE)
            continue;
        if (rows++ == 0)
            origin = cell->value;
        weight += count_of(cell);
        sum += count_of(cell) * (cell->value - origin);
        pooled.n += cell->n > 0 ? cell->n : 1;
    }
    double shift = sum / weight;
    for (size_t i = 0; i < n; i++) {
        const ww_cell *cell = &row[i]->cell[column];
        if (cell->state != WW_CELL_VALUE)
            continue;
        double away = cell->value - origin - shift;
        squares += count_of(cell) * away * away;
        if (cell->sd.set) {
            double within = cell->n > 1 ? (double)(cell->n - 1) : 1.0;
            squares += within * cell->sd.value * cell->sd.value;
            degrees += within;
        }
    }
    degrees += (double)(rows - 1);
    pooled.value = origin + shift;
    if (degrees > 0.0)
        pooled.sd = (ww_optional){true, sqrt(squares / degrees)};
    return pooled;
}

static ww_status pool_column(const ww_row *const row[], size_t n, size_t column, ww_cell *cell,
                             ww_notes *notes, ww_error *err) {
    size_t values = 0;
    size_t overs = 0;
    size_t over_readings = 0;
    const ww_cell *only = NULL;
    for (size_t i = 0; i < n; i++) {
        const ww_cell *at = &row[i]->cell[column];
        if (at->state == WW_CELL_VALUE) {
            values++;
            only = at;
        } else if (at->state == WW_CELL_OVER) {
            overs++;
            over_readings += at->n;
        }
    }
    if (values == 0) {
        *cell = (ww_cell){.state = overs > 0 ? WW_CELL_OVER : WW_CELL_MISSING, .n = over_readings};
        return WW_OK;
    }
    if (values == 1 || ww__readings_is_control((ww_column)column))
        *cell = *only;
    else
        *cell = pool_values(row, n, column);
    if (overs == 0)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "%s of '%.40s': %zu of %zu repeats lay beyond the instrument and do not "
                        "count in the mean, which may be too low",
                        ww_column_name((ww_column)column), label_of(row[0]), overs, overs + values);
}

static ww_status pool_group(const ww_row *const row[], size_t n, ww_readings *pooled,
                            ww_error *err) {
    ww_row made;
    ww_status status = ww__readings_row_copy(row[0], &made, err);
    if (status != WW_OK)
        return status;
    for (size_t c = 0; c < WW_COLUMN_COUNT && n > 1 && status == WW_OK; c++)
        status = pool_column(row, n, c, &made.cell[c], &pooled->notes, err);
    if (status != WW_OK) {
        ww__readings_row_release(&made);
        return status;
    }
    pooled->row[pooled->n++] = made;
    return WW_OK;
}

/* One group of replicates: a run in the sorted list. */
typedef struct group {
    const ww_row **row;
    size_t n;
} group;

static int by_place(const void *left, const void *right) {
    const ww_row *a = ((const group *)left)->row[0];
    const ww_row *b = ((const group *)right)->row[0];
    return (a > b) - (a < b);
}

/* Groups stand in the order of their first rows: sorting is for finding, never for the result. */
static size_t find_groups(const ww_row **sorted, size_t n, group groups[]) {
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        bool joins = i > 0 && has_key(sorted[i]) && has_key(sorted[i - 1]) &&
                     compare_keys(sorted[i - 1], sorted[i]) == 0;
        if (joins)
            groups[count - 1].n++;
        else
            groups[count++] = (group){&sorted[i], 1};
    }
    qsort(groups, count, sizeof *groups, by_place);
    return count;
}

ww_status ww_readings_pool(const ww_readings *readings, ww_readings *pooled, ww_error *err) {
    assert(readings != NULL && pooled != NULL);
    ww_readings made = WW_READINGS_INIT;
    ww_status status = ww__readings_copy_head(readings, &made, err);
    if (status != WW_OK)
        return status;
    size_t n = readings->n;
    const ww_row **sorted = calloc(n + 1, sizeof *sorted);
    group *groups = calloc(n + 1, sizeof *groups);
    made.row = calloc(n + 1, sizeof *made.row);
    if (sorted == NULL || groups == NULL || made.row == NULL)
        status = ww_error_set(err, WW_EMEMORY, "no memory to average %zu rows", n);
    if (status == WW_OK) {
        for (size_t i = 0; i < n; i++)
            sorted[i] = &readings->row[i];
        qsort(sorted, n, sizeof *sorted, by_key_then_place);
        size_t count = find_groups(sorted, n, groups);
        for (size_t i = 0; i < count && status == WW_OK; i++)
            status = pool_group(groups[i].row, groups[i].n, &made, err);
    }
    free(groups);
    free(sorted);
    if (status != WW_OK) {
        ww_readings_release(&made);
        return status;
    }
    *pooled = made;
    return WW_OK;
}
