/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/wedge_end.h"

#include "image/encoding.h"
#include <assert.h>
#include <math.h>
#include <wedgework/number.h>

/* What a step reads; beyond the scanner, the least that it can be. False: nothing is known. */
static bool find_read(const ww_scanner_channel *channel, const ww_cell *cell, double *read) {
    if (cell->state == WW_CELL_OVER && channel->n_points > 0)
        *read = channel->point[0].density;
    else if (cell->state == WW_CELL_VALUE)
        *read = cell->value;
    else
        return false;
    return true;
}

/* By how much the end reads denser than its file says; 0 where that is less than what it differs
 * from its neighbour by, or not known. */
static double off_by(const ww_measured *m, const ww_readings *wedge, const ww_scanner *scanner,
                     size_t end, size_t neighbour) {
    const ww_channel channel = m->has[WW_VISUAL] ? WW_VISUAL : WW_GREEN;
    const ww_cell *read = &m->patch[end].channel[channel].density;
    const ww_cell *beside = &m->patch[neighbour].channel[channel].density;
    const ww_cell *known = ww__encoding_known(wedge, m->patch[end].step, channel);
    const ww_cell *known_beside = ww__encoding_known(wedge, m->patch[neighbour].step, channel);
    double density;
    if (!known || known->state != WW_CELL_VALUE || !known_beside ||
        known_beside->state != WW_CELL_VALUE || beside->state != WW_CELL_VALUE ||
        !find_read(&scanner->channel[channel], read, &density))
        return 0.0;
    const double off = density - known->value - (beside->value - known_beside->value);
    if (read->state == WW_CELL_OVER && off < 0.0)
        return 0.0;
    return fabs(off) > fabs(known->value - known_beside->value) ? off : 0.0;
}

static ww_status refuse(const ww_measured *m, const ww_readings *wedge, size_t end, double off,
                        ww_error *err) {
    char by[32];
    ww_number_format(fabs(off), 2, by, sizeof by);
    return ww_error_set_at(err, WW_EMISMATCH, m->file, 0,
                           "%zu steps are seen where %.200s holds %zu: what lies in the place of "
                           "step '%.40s' reads at least %s D %s than that, as what lies beside the "
                           "wedge may; give the file of the wedge on the glass, or clean that step",
                           m->n - 1, wedge->file ? wedge->file : "the wedge file", m->n,
                           m->patch[end].step, by, off > 0.0 ? "denser" : "thinner");
}

ww_status ww__wedge_end_check(const ww_measured *measured, const ww_readings *wedge,
                              const ww_scanner *scanner, ww_error *err) {
    assert(measured && measured->calibrated && wedge && scanner);
    const size_t last = measured->n - 1;
    if (!measured->end_assumed || measured->n < 2)
        return WW_OK;
    const double dense = off_by(measured, wedge, scanner, last, last - 1);
    if (dense != 0.0)
        return refuse(measured, wedge, last, dense, err);
    const double thin = off_by(measured, wedge, scanner, 0, 1);
    return thin != 0.0 ? refuse(measured, wedge, 0, thin, err) : WW_OK;
}
