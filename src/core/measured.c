/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/measure.h>

void ww_measured_release(ww_measured *measured) {
    if (!measured)
        return;
    for (size_t i = 0; measured->patch && i < measured->n; i++)
        free(measured->patch[i].step);
    free(measured->patch);
    free(measured->file);
    free(measured->profile);
    ww_notes_release(&measured->notes);
    *measured = (ww_measured)WW_MEASURED_INIT;
}

void ww_whole_release(ww_whole *whole) {
    if (!whole)
        return;
    free(whole->file);
    free(whole->profile);
    ww_notes_release(&whole->notes);
    *whole = (ww_whole)WW_WHOLE_INIT;
}

/* "cloud/thin" is a part of the tone cloud. */
static void take_part(ww_row *row) {
    char *mark = strrchr(row->tone, '/');
    for (int part = WW_PART_THIN; part <= WW_PART_DENSE && mark && mark != row->tone; part++)
        if (strcmp(mark + 1, ww_part_name((ww_part)part)) == 0) {
            *mark = '\0';
            row->part = (ww_part)part;
            return;
        }
}

/* Files have densities to 0.001. What rounding adds, evenly spread over that, is in the error,
 * which is rounded to a hundredth of it. */
static ww_cell to_file(ww_cell cell) {
    static const double unit = 1e-3;
    if (cell.state == WW_CELL_VALUE)
        cell.value = round(cell.value / unit) / (1.0 / unit);
    if (cell.sd.set)
        cell.sd.value = round(hypot(cell.sd.value, unit / sqrt(12.0)) * 1e5) / 1e5;
    return cell;
}

/* A spot is a tone of the picture, and beside a strip a row among its steps. "Less than" is no
 * density, and not `over` either, which is dense. */
static ww_status make_row(const ww_measured *measured, const ww_patch *patch, ww_row *row,
                          ww_error *err) {
    const bool tones = measured->n_spots == measured->n;
    const ww_row plain = {.step = tones ? (char *)"" : patch->step,
                          .tone = tones ? patch->step : (char *)"",
                          .pack = (char *)"",
                          .is_base = ww__readings_is_base_word(patch->step)};
    const ww_status status = ww__readings_row_copy(&plain, row, err);
    if (status == WW_OK && tones)
        take_part(row);
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++)
        if (measured->has[c] && patch->channel[c].density.state != WW_CELL_LESS)
            row->cell[c] = to_file(patch->channel[c].density);
    return status;
}

/* Of what lies beside a strip, its table has a row for the base; bare glass is no tone. */
static bool has_row(const ww_measured *measured, size_t i) {
    const size_t steps = measured->n - measured->n_spots;
    if (steps == 0)
        return !ww__readings_is_glass_word(measured->patch[i].step);
    return i < steps || ww__readings_is_base_word(measured->patch[i].step);
}

static ww_status fill(const ww_measured *measured, ww_readings *readings, ww_error *err) {
    size_t room = 0;
    ww_status status = WW_OK;
    readings->meta.status = WW_STATUS_SCANNER;
    readings->meta.relative = WW_RELATIVE_ABSOLUTE;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        readings->has[c] = measured->has[c];
    if (measured->file)
        status = ww__readings_text_copy(measured->file, &readings->file, err);
    if (status == WW_OK)
        status = ww_notes_copy(&measured->notes, &readings->notes, err);
    for (size_t i = 0; i < measured->n && status == WW_OK; i++) {
        if (!has_row(measured, i))
            continue;
        status = ww__readings_reserve(readings, &room, err);
        if (status == WW_OK)
            status = make_row(measured, &measured->patch[i], &readings->row[readings->n], err);
        if (status == WW_OK)
            readings->n++;
    }
    return status;
}

ww_status ww_measured_readings(const ww_measured *measured, const ww_readings *through,
                               ww_readings *readings, ww_error *err) {
    ww_readings made = WW_READINGS_INIT;
    assert(measured && readings);
    if (!measured->calibrated)
        return ww_error_set_at(err, WW_ENODATA, measured->file, 0,
                               "codes are no densities; give the scanner file with --scanner, made "
                               "by the command scanner from a scan of a known wedge");
    ww_status status = fill(measured, &made, err);
    if (status == WW_OK && made.n == 0)
        status = ww_error_set_at(err, WW_ENODATA, measured->file, 0,
                                 "nothing but bare glass was read, which is no tone and no row of "
                                 "readings; add a --spot on the base, or on a tone");
    if (status == WW_OK && through)
        status = ww_readings_through(&made, through, err);
    if (status == WW_OK)
        *readings = made;
    else
        ww_readings_release(&made);
    return status;
}
