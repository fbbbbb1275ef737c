/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>

ww_status ww__print_readings_check(const ww_readings *readings, const char *what, ww_error *err) {
    const ww_meta *meta = &readings->meta;
    const bool paper = meta->material == WW_MATERIAL_UNKNOWN ||
                       meta->material == WW_MATERIAL_PAPER || meta->material == WW_MATERIAL_PRINT ||
                       meta->material == WW_MATERIAL_STRIP;
    if (paper && meta->density != WW_DENSITY_TRANSMISSION && meta->relative != WW_RELATIVE_BASE)
        return ww__print_readings_check_zero(readings, err);
    return ww_error_set_at(
        err, WW_EMISMATCH, readings->file, 0,
        "%s is paper, read by reflection, absolute or relative to white; these "
        "readings are %s",
        what, paper ? "of a film base or through one" : ww_material_name(meta->material));
}

/* Which of the two is wrong, the row or the line, only who read it can say. */
ww_status ww__print_readings_check_zero(const ww_readings *readings, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    if (readings->meta.relative != WW_RELATIVE_WHITE && readings->meta.relative != WW_RELATIVE_BASE)
        return WW_OK;
    for (size_t i = 0; i < readings->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_cell *cell = &readings->row[i].cell[c];
            if (!readings->row[i].is_base || cell->state != WW_CELL_VALUE ||
                fabs(cell->value) < fmax(WW__PRINT_BASE_LEAST, 2.0 * ww_readings_error(cell)))
                continue;
            ww__print_format(text, sizeof text,
                             "in densities relative to %s this base row is 0, and it reads %.2f; "
                             "take the line 'relative to' out if they are absolute, else the row",
                             ww_relative_name(readings->meta.relative), cell->value);
            return ww_error_set_at(err, WW_EMISMATCH, readings->file, readings->row[i].line, "%s",
                                   text);
        }
    return WW_OK;
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
