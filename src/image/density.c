/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/density.h"

#include "core/scanner.h"
#include "core/scanner_steps.h"
#include "image/grain.h"
#include <assert.h>
#include <math.h>

/* Half of a 95 % interval of a normal distribution, in standard errors. */
static const double half_95 = 1.96;
static const double between_scans = 0.01 / 1.96; /* of the light, one sd */
static const double pieces = 100.0;              /* of the detail that a patch averages */
static const double nearby = 1e-3;               /* of a code, for the slope of the scale there */

/* Too light for the scale: what it is less than. A white code has lost how much lighter it was. */
static ww_cell less_than(const ww_scanner *scanner, ww_channel channel, double code) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    const double seen = fmin(code, nextafter(scanner->white, 0.0));
    ww_quantity q = WW_QUANTITY_INIT;
    if (ww_scanner_density(scanner, channel, seen, &q, NULL) == WW_OK)
        return (ww_cell){.state = WW_CELL_LESS, .value = q.high};
    return (ww_cell){.state = WW_CELL_LESS, .value = c->point[c->n_points - 1].density};
}

double ww__density_light(const ww_scanner *scanner, double white, double code) {
    return scanner ? ww_scanner_light(scanner, code) : code / white;
}

ww_reach ww__density_of_code(const ww_scanner *scanner, ww_channel channel, double code,
                             ww_cell *cell) {
    assert(scanner && scanner->channel[channel].present && cell);
    const bool thin = code > scanner->channel[channel].point[0].code;
    ww_quantity q = WW_QUANTITY_INIT;
    if (ww_scanner_density(scanner, channel, code, &q, NULL) != WW_OK) {
        *cell = thin ? less_than(scanner, channel, code) : (ww_cell){.state = WW_CELL_OVER};
        return thin ? WW_REACH_LIGHT : WW_REACH_DARK;
    }
    *cell = (ww_cell){.state = WW_CELL_VALUE,
                      .value = q.value,
                      .sd = {true, 0.5 * (q.high - q.low) / half_95},
                      .n = 1};
    if (q.how != WW_EXTRAPOLATED)
        return WW_REACH_WITHIN;
    return thin ? WW_REACH_THINNER : WW_REACH_DENSER;
}

/* Density a code, to the side where the scale has one. */
static double slope_at(const ww_scanner *scanner, ww_channel channel, double code, double density) {
    const double by = nearby * code;
    ww_quantity q = WW_QUANTITY_INIT;
    if (by > 0.0 && (ww_scanner_density(scanner, channel, code + by, &q, NULL) == WW_OK ||
                     ww_scanner_density(scanner, channel, code - by, &q, NULL) == WW_OK))
        return fabs(q.value - density) / by;
    return 0.0;
}

/* One sd of a density by light that is another than when the scanner was calibrated. */
static double level_at(const ww_scanner *scanner, double code, double slope) {
    const double lit = ww_scanner_light(scanner, code) * (1.0 + between_scans);
    return slope * (ww_scanner_code(scanner, lit) - code);
}

/* And by codes in coarse steps, which may have been cut off in place of rounded. */
static double cut_at(double step, double slope) {
    return step > WW__DENSITY_COARSE ? slope * 0.25 * step : 0.0;
}

void ww__density_of_pixel(const ww_scanner *scanner, ww_channel channel, double code, double step,
                          ww_cell *cell) {
    (void)ww__density_of_code(scanner, channel, code, cell);
    if (cell->state != WW_CELL_VALUE)
        return;
    const double slope = slope_at(scanner, channel, code, cell->value);
    const double rounding = slope * step / sqrt(12.0);
    cell->sd.value = hypot(hypot(cell->sd.value, level_at(scanner, code, slope)),
                           hypot(rounding, cut_at(step, slope)));
}

/* What would be read if nothing had been left out, less what was read. */
static double left_out(const ww_scanner *scanner, ww_channel channel, const ww_patch_channel *p,
                       double slope) {
    ww_quantity q = WW_QUANTITY_INIT;
    if (ww_scanner_density(scanner, channel, p->all, &q, NULL) == WW_OK)
        return q.value - p->density.value;
    return slope * (p->all - p->code);
}

/* Share of a patch that was left out and may have been meant: no line that was found across steps,
 * nor what a 95 % interval need not hold. */
static double meant(const ww_patch *patch) {
    return patch->line == 0 && patch->rejected > WW__DENSITY_DUST ? patch->rejected : 0.0;
}

/* One sd of what the patch itself adds: the last three terms of the formula. */
static double own_doubt(const ww_scanner *scanner, ww_channel channel, const ww_patch *patch,
                        double slope) {
    const ww_patch_channel *p = &patch->channel[channel];
    const double uneven = slope * p->uneven, spread = slope * p->sd;
    const double noise = ww_scanner_noise_at(&scanner->channel[channel], p->density.value);
    const double texture = fmax(spread * spread - noise * noise - uneven * uneven, 0.0);
    const double out = left_out(scanner, channel, p, slope);
    return sqrt(uneven * uneven + meant(patch) * out * out + texture / pieces);
}

/* More than that the patch itself may add, or seem to by the scanner's noise, is no one density. */
static double most_own(const ww_scanner *scanner, ww_channel channel, const ww_patch *patch) {
    const double noise =
        ww_scanner_noise_at(&scanner->channel[channel], patch->channel[channel].density.value);
    return hypot(WW__DENSITY_UNEVEN, WW__GRAIN_SURELY * noise / sqrt((double)patch->n));
}

/* Whether the mean itself is of clipped pixels; those that were left out are none of it. */
static bool is_clipped(double end, const ww_patch_channel *p, bool *light) {
    *light = p->code > 0.5 * end;
    return p->clipped > WW__DENSITY_CLIPPED && (*light ? p->high >= end : p->low <= 0.0);
}

double ww__density_clipped(const ww_measured *m, size_t i, bool *light) {
    double most = 0.0;
    bool end;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_patch_channel *p = &m->patch[i].channel[c];
        const double most_code = m->clips[c].set ? m->clips[c].value : m->white;
        if (m->has[c] && is_clipped(most_code, p, &end) && p->clipped > most)
            most = p->clipped, *light = end;
    }
    return most;
}

void ww__density_of_patch(const ww_scanner *scanner, ww_channel channel, ww_patch *patch) {
    ww_patch_channel *p = &patch->channel[channel];
    bool light;
    p->reach = ww__density_of_code(scanner, channel, p->code, &p->density);
    if (patch->rejected > WW__DENSITY_LEFT_OUT) {
        p->reach = WW_REACH_NONE;
    } else if (is_clipped(ww__scanner_end(scanner, channel), p, &light)) {
        p->reach = light ? WW_REACH_LIGHT : WW_REACH_DARK;
        p->density =
            light ? less_than(scanner, channel, p->code) : (ww_cell){.state = WW_CELL_OVER};
    } else if (p->density.state == WW_CELL_VALUE) {
        const double slope = slope_at(scanner, channel, p->code, p->density.value);
        const double mean =
            slope * scanner->white *
            ww__scanner_steps_mean_sd(p->code, p->sd, patch->n, p->step, scanner->white);
        const double cut = cut_at(p->step, slope);
        const double level = level_at(scanner, p->code, slope);
        const double own = own_doubt(scanner, channel, patch, slope);
        p->density.sd.value =
            hypot(hypot(p->density.sd.value, level), hypot(hypot(mean, cut), own));
        if (own > most_own(scanner, channel, patch))
            p->reach = WW_REACH_NONE;
    }
    if (p->reach == WW_REACH_NONE)
        p->density = (ww_cell){.state = WW_CELL_MISSING};
}

bool ww__density_is_none(const ww_measured *m, size_t i) {
    bool none = false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        none = none || (m->has[c] && m->patch[i].channel[c].reach == WW_REACH_NONE);
    return none;
}

bool ww__density_is_below_0(const ww_cell *cell) {
    const double doubt = cell->sd.set ? half_95 * cell->sd.value : 0.0;
    return (cell->state == WW_CELL_VALUE && cell->value + doubt < 0.0) ||
           (cell->state == WW_CELL_LESS && cell->value < 0.0);
}

void ww__density_put_off(ww_measured *m) {
    m->off = true;
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            m->patch[i].channel[c].density.sd = (ww_optional){false, 0.0};
}
