/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "over.h"
#include "base/text.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

enum { NAMED_MOST = 4 }; /* of the steps; the others are counted */

/* Log exposure towards the dense end. */
static ww_status towards_dense(const ww_readings *readings, size_t row, double *u, ww_error *err) {
    const ww_status status = ww_readings_log_h(readings, row, u, err);
    if (status == WW_OK && readings->meta.process == WW_PROCESS_REVERSAL)
        *u = -*u;
    return status;
}

/* The row that was read nearest the dense end; `u` -HUGE_VAL where none was. */
static ww_status last_read(const ww_readings *readings, size_t channel, size_t *row, double *u,
                           ww_error *err) {
    *u = -HUGE_VAL;
    for (size_t i = 0; i < readings->n; i++) {
        double here;
        if (readings->row[i].is_base || readings->row[i].cell[channel].state != WW_CELL_VALUE)
            continue;
        const ww_status status = towards_dense(readings, i, &here, err);
        if (status != WW_OK)
            return status;
        if (here > *u) {
            *u = here;
            *row = i;
        }
    }
    return WW_OK;
}

/* Takes back each `over` short of `end`; their labels, as "4, 7 and 2 more". */
static ww_status take_back(ww_readings *pooled, size_t channel, double end, ww__text *labels,
                           size_t *n, ww_error *err) {
    *n = 0;
    for (size_t i = 0; i < pooled->n; i++) {
        ww_cell *cell = &pooled->row[i].cell[channel];
        double here;
        if (pooled->row[i].is_base || cell->state != WW_CELL_OVER)
            continue;
        const ww_status status = towards_dense(pooled, i, &here, err);
        if (status != WW_OK)
            return status;
        if (!(here < end))
            continue;
        cell->state = WW_CELL_MISSING;
        if ((*n)++ < NAMED_MOST)
            ww__text_add_format(labels, "%s%s", *n > 1 ? ", " : "", pooled->row[i].step);
    }
    if (*n > NAMED_MOST)
        ww__text_add_format(labels, " and %zu more", *n - NAMED_MOST);
    return ww__text_status(labels, err);
}

static ww_status check_channel(ww_readings *pooled, size_t channel, const char *of, ww_notes *notes,
                               ww_error *err) {
    ww__text labels = WW__TEXT_INIT;
    size_t last = 0, n = 0;
    double end;
    ww_status status = last_read(pooled, channel, &last, &end, err);
    if (status == WW_OK)
        status = take_back(pooled, channel, end, &labels, &n, err);
    if (status == WW_OK && n > 0)
        status = ww_notes_add(notes, err,
                              "step%s %s%s %s said to be beyond the instrument, but step %s, which "
                              "should be denser, was read at %.2f: read these steps again",
                              n > 1 ? "s" : "", ww__text_string(&labels), of, n > 1 ? "are" : "is",
                              pooled->row[last].step, pooled->row[last].cell[channel].value);
    ww__text_release(&labels);
    return status;
}

ww_status ww__over_check(ww_readings *pooled, ww_notes *notes, ww_error *err) {
    assert(pooled && notes);
    size_t channels = 0;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        channels += pooled->has[c];
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        char of[24] = "";
        if (!pooled->has[c])
            continue;
        if (channels > 1)
            snprintf(of, sizeof of, " (%s)", ww_channel_name((ww_channel)c));
        const ww_status status = check_channel(pooled, c, of, notes, err);
        if (status != WW_OK)
            return status;
    }
    return WW_OK;
}
