/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <wedgework/readings.h>

#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The first row that is a step and has a width, or has none; NULL where there is no such row. */
static const ww_row *first_with(const ww_readings *readings, bool width) {
    for (size_t i = 0; i < readings->n; i++)
        if (!readings->row[i].is_base && readings->row[i].width.set == width)
            return &readings->row[i];
    return NULL;
}

static ww_status check_row(const ww_readings *readings, const ww_row *row, const ww_row *step,
                           ww_error *err) {
    if (!(row->width.value > 0.0 && row->width.value <= 1e300))
        return ww_error_set_at(err, WW_EDOMAIN, readings->file, row->line,
                               "the width of step '%.40s' is %g, not above 0; give it in any unit",
                               row->step, row->width.value);
    if (step->width.value != row->width.value)
        return ww_error_set_at(err, WW_EMISMATCH, readings->file, row->line,
                               "step '%.40s' is %g wide here and %g further up; make them agree",
                               row->step, row->width.value, step->width.value);
    return WW_OK;
}

static int by_label(const void *a, const void *b) {
    const ww_row *const *left = a, *const *right = b;
    const int order = strcmp((*left)->step, (*right)->step);
    if (order != 0)
        return order;
    return *left < *right ? -1 : *left > *right; /* as they stand in the table */
}

/* Equal labels lie beside each other once they are sorted. */
static ww_status check_rows(const ww_readings *readings, ww_error *err) {
    const ww_row **row =
        readings->n <= SIZE_MAX / sizeof *row ? malloc(readings->n * sizeof *row) : NULL;
    const ww_row *step = NULL;
    ww_status status = WW_OK;
    size_t n = 0;
    if (!row)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu widths", readings->n);
    for (size_t i = 0; i < readings->n; i++)
        if (!readings->row[i].is_base)
            row[n++] = &readings->row[i];
    qsort((void *)row, n, sizeof *row, by_label);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        const bool repeat = step && step->step[0] != '\0' && strcmp(step->step, row[i]->step) == 0;
        step = repeat ? step : row[i];
        status = check_row(readings, row[i], step, err);
    }
    free((void *)row);
    return status;
}

/* Repeats are what ww_readings_pool takes for them, as whoever looks for the wedge does. */
static ww_status gather(const ww_readings *readings, double **width, size_t *n, ww_error *err) {
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = ww_readings_pool(readings, &pooled, err);
    double *made = NULL;
    size_t steps = 0;
    if (status == WW_OK && !(made = calloc(pooled.n, sizeof *made)))
        status = ww_error_set(err, WW_EMEMORY, "no memory for %zu widths", pooled.n);
    for (size_t i = 0; i < pooled.n && status == WW_OK; i++)
        if (!pooled.row[i].is_base)
            made[steps++] = pooled.row[i].width.value;
    ww_readings_release(&pooled);
    if (status == WW_OK) {
        *width = made;
        *n = steps;
    }
    return status;
}

ww_status ww_readings_widths(const ww_readings *readings, double **width, size_t *n,
                             ww_error *err) {
    assert(readings && width && n);
    const ww_row *given = first_with(readings, true), *missing = first_with(readings, false);
    if (!given) {
        *width = NULL;
        *n = 0;
        return WW_OK;
    }
    if (missing)
        return ww_error_set_at(err, WW_EMISMATCH, readings->file, missing->line,
                               "step '%.40s' has no width, but step '%.40s' has one; give that of "
                               "every step, or of none",
                               missing->step, given->step);
    const ww_status status = check_rows(readings, err);
    return status == WW_OK ? gather(readings, width, n, err) : status;
}
