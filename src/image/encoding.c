/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/encoding.h"
#include "image/order.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

enum { STEPS_LEAST = 4 };
static const double apart = 0.3; /* D */

typedef struct pair {
    double wedge, read;
} pair;

const ww_cell *ww__encoding_known(const ww_readings *wedge, const char *step, ww_channel channel) {
    const ww_channel column = wedge->has[channel] ? channel : WW_VISUAL;
    for (size_t i = 0; i < wedge->n; i++)
        if (!wedge->row[i].is_base && strcmp(wedge->row[i].step, step) == 0)
            return &wedge->row[i].cell[column];
    return NULL;
}

/* Steps that have a density in both. */
static size_t collect(const ww_measured *m, const ww_readings *wedge, pair step[]) {
    const ww_channel channel = m->has[WW_VISUAL] ? WW_VISUAL : WW_GREEN;
    size_t n = 0;
    for (size_t i = 0; i < m->n; i++) {
        const ww_patch_channel *read = &m->patch[i].channel[channel];
        const ww_cell *known = ww__encoding_known(wedge, m->patch[i].step, channel);
        if (known && known->state == WW_CELL_VALUE && read->density.state == WW_CELL_VALUE &&
            read->reach == WW_REACH_WITHIN)
            step[n++] = (pair){known->value, read->density.value};
    }
    return n;
}

/* 1 where nothing can be said. */
static double slope_of(const pair step[], size_t n, double slope[]) {
    size_t pairs = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            if (fabs(step[k].wedge - step[i].wedge) >= apart)
                slope[pairs++] = (step[k].read - step[i].read) / (step[k].wedge - step[i].wedge);
    if (n < STEPS_LEAST || pairs == 0)
        return 1.0;
    return ww__order_nth(slope, pairs, pairs / 2);
}

static ww_status refuse(const ww_measured *m, const ww_readings *wedge, const ww_scanner *scanner,
                        double slope, ww_error *err) {
    char shown[32];
    ww_number_format(slope, 2, shown, sizeof shown);
    return ww_error_set_at(err, WW_EMISMATCH, m->file, 0,
                           "%.100s reads %s times as steep as it is: either the strip on the glass "
                           "is not that wedge (then give --steps), or the codes of this scan are "
                           "encoded otherwise (gamma, sRGB) than those of '%.100s', from which the "
                           "scanner file was made; then scan both with the same settings",
                           wedge->file ? wedge->file : "the wedge", shown,
                           scanner->name ? scanner->name : "");
}

ww_status ww__encoding_check(const ww_measured *measured, const ww_readings *wedge,
                             const ww_scanner *scanner, ww_error *err) {
    assert(measured && measured->calibrated && wedge && scanner);
    const size_t n = measured->n > 0 ? measured->n : 1;
    pair *step = calloc(n, sizeof *step);
    double *slope = n < SIZE_MAX / n / sizeof *slope ? calloc(n * n, sizeof *slope) : NULL;
    ww_status status = WW_OK;
    if (!step || !slope) {
        status = ww_error_set(err, WW_EMEMORY, "no memory to compare %zu steps", measured->n);
    } else {
        const double found = slope_of(step, collect(measured, wedge, step), slope);
        if (!(found >= WW__ENCODING_LEAST && found <= WW__ENCODING_MOST))
            status = refuse(measured, wedge, scanner, found, err);
    }
    free(slope);
    free(step);
    return status;
}
