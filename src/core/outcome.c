/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "outcome.h"

#include <assert.h>
#include <string.h>

static const char no_curve[] = "no curve"; /* so a channel's note on it begins */

static bool has_any(const ww_channel_curve *channel) {
    bool any = channel->fitted;
    for (size_t f = 0; f < WW_FIGURE_COUNT && !any; f++)
        any = ww_quantity_present(channel->figure[f]);
    return any;
}

/* Cells of exposed steps that were read, and those beyond the instrument. */
static void count_cells(const ww_readings *readings, size_t *read, size_t *over) {
    *read = *over = 0;
    for (size_t i = 0; i < readings->n; i++)
        for (size_t c = 0; c < WW_CHANNEL_COUNT && !readings->row[i].is_base; c++) {
            *read += readings->row[i].cell[c].state == WW_CELL_VALUE;
            *over += readings->row[i].cell[c].state == WW_CELL_OVER;
        }
}

/* The note of the last channel without a curve: its own reason and remedy. */
static const char *noted(const ww_curve *curve) {
    for (size_t i = curve->notes.n; i-- > 0;)
        if (strncmp(curve->notes.text[i], no_curve, strlen(no_curve)) == 0)
            return curve->notes.text[i];
    return "no curve follows from these readings; read more steps";
}

static const char *reason(const ww_readings *readings, const ww_curve *curve) {
    size_t read, over;
    count_cells(readings, &read, &over);
    if (read > 0)
        return noted(curve);
    return over > 0 ? "no curve: every exposed step is beyond the instrument; read at least 5 "
                      "thinner steps, or take an instrument that reads them"
                    : "no curve: no exposed step has a density; read at least 5 of them (10 or "
                      "more make a good one)";
}

ww_status ww__outcome_check(const ww_readings *readings, const ww_curve *curve, ww_error *err) {
    assert(readings && curve);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        if (has_any(&curve->channel[c]))
            return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, readings->file, 0, "%s", reason(readings, curve));
}
