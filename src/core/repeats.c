/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "repeats.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>

static const double false_alarm = 0.01;  /* over all steps of a channel */
static const double least_spread = 0.02; /* D: less moves no curve */
static const double rounding = 0.005;    /* D: spread that readings may hide */
enum { LEAST_STEPS = 3 };

/* Squares and degrees of freedom of all repeats in a channel. */
typedef struct spread {
    size_t steps;
    double squares, freedom;
} spread;

static double freedom_of(const ww_cell *cell) {
    const bool repeated = cell->state == WW_CELL_VALUE && cell->sd.set && cell->n > 1;
    return repeated ? (double)(cell->n - 1) : 0.0;
}

static spread spread_of(const ww_readings *pooled, size_t channel) {
    spread all = {0, 0.0, 0.0};
    for (size_t i = 0; i < pooled->n; i++) {
        const ww_cell *cell = &pooled->row[i].cell[channel];
        const double freedom = freedom_of(cell);
        if (!(freedom > 0.0))
            continue;
        all.steps++;
        all.squares += freedom * cell->sd.value * cell->sd.value;
        all.freedom += freedom;
    }
    return all;
}

/* Spread of the other steps' repeats, where this one's is beyond it; else 0. */
static double beyond(const ww_cell *cell, spread all) {
    const double freedom = freedom_of(cell), sd = cell->sd.value;
    if (!(freedom > 0.0) || !(sd > least_spread) || all.steps < LEAST_STEPS)
        return 0.0;
    const double rest = all.freedom - freedom;
    const double others = fmax(sqrt(fmax(0.0, all.squares - freedom * sd * sd) / rest), rounding);
    const double limit = gsl_cdf_fdist_Qinv(false_alarm / (double)all.steps, freedom, rest);
    return sd * sd > limit * others * others ? others : 0.0;
}

static ww_status tell(const ww_row *row, const ww_cell *cell, double others, const char *of,
                      ww_notes *notes, ww_error *err) {
    const char *label = row->step[0] ? row->step : row->tone;
    if (cell->n > 2)
        return ww_notes_add(notes, err,
                            "step %s%s: its %zu readings differ (standard deviation %.3f) by far "
                            "more than those of the other steps (%.3f); one of them may be off, "
                            "read the step again",
                            label, of, cell->n, cell->sd.value, others);
    const double half = cell->sd.value / sqrt(2.0); /* two lie so far to either side */
    return ww_notes_add(notes, err,
                        "step %s%s: its two readings, %.2f and %.2f, differ by far more than those "
                        "of the other steps; one of them may be off, read the step again",
                        label, of, cell->value - half, cell->value + half);
}

ww_status ww__repeats_note(const ww_readings *pooled, ww_notes *notes, ww_error *err) {
    assert(pooled && notes);
    size_t channels = 0;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        channels += pooled->has[c];
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!pooled->has[c])
            continue;
        char of[24] = "";
        if (channels > 1)
            snprintf(of, sizeof of, " (%s)", ww_channel_name((ww_channel)c));
        const spread all = spread_of(pooled, c);
        for (size_t i = 0; i < pooled->n; i++) {
            const ww_cell *cell = &pooled->row[i].cell[c];
            const double others = beyond(cell, all);
            const ww_status status =
                others > 0.0 ? tell(&pooled->row[i], cell, others, of, notes, err) : WW_OK;
            if (status != WW_OK)
                return status;
        }
    }
    return WW_OK;
}
