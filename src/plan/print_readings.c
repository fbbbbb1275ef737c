/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>

ww_status ww__print_readings_check(const ww_readings *readings, const char *what, ww_error *err) {
    const ww_meta *meta = &readings->meta;
    const bool paper = meta->material == WW_MATERIAL_UNKNOWN ||
                       meta->material == WW_MATERIAL_PAPER || meta->material == WW_MATERIAL_PRINT ||
                       meta->material == WW_MATERIAL_STRIP;
    if (paper && meta->density != WW_DENSITY_TRANSMISSION && meta->relative != WW_RELATIVE_BASE)
        return WW_OK;
    return ww_error_set_at(
        err, WW_EMISMATCH, readings->file, 0,
        "%s is paper, read by reflection, absolute or relative to white; these "
        "readings are %s",
        what, paper ? "of a film base or through one" : ww_material_name(meta->material));
}

bool ww__print_readings_white(const ww_readings *pooled, ww_channel channel, double *white,
                              double *error) {
    double sum = 0.0, squares = 0.0, n = 0.0;
    *white = *error = 0.0;
    if (pooled->meta.relative == WW_RELATIVE_WHITE)
        return true;
    for (size_t i = 0; i < pooled->n; i++) {
        const ww_cell *cell = &pooled->row[i].cell[channel];
        if (!pooled->row[i].is_base || cell->state != WW_CELL_VALUE)
            continue;
        sum += cell->value;
        squares += ww_readings_error(cell) * ww_readings_error(cell);
        n += 1.0;
    }
    if (!(n > 0.0))
        return false;
    *white = sum / n;
    *error = sqrt(squares) / n;
    return true;
}
