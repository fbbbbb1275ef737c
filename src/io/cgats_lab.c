/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_lab.h"

static const ww_column columns[] = {WW_COLUMN_LAB_L, WW_COLUMN_LAB_A, WW_COLUMN_LAB_B};
enum { COORDINATES = sizeof columns / sizeof columns[0] };

/* Light through film has no colour that an eye under D50 is used to. */
static bool is_wanted(const ww_readings *made) {
    const ww_material material = made->meta.material;
    return !made->has[WW_COLUMN_LAB_L] && made->meta.density != WW_DENSITY_TRANSMISSION &&
           material != WW_MATERIAL_FILM && material != WW_MATERIAL_NEGATIVE &&
           material != WW_MATERIAL_WEDGE;
}

/* One spectrum without a colour leaves all of them without. */
static ww_status give_up(const ww__cgats_spectra *spectra, const char *why, ww_readings *made,
                         ww_error *err) {
    for (size_t i = 0; i < spectra->n; i++)
        for (size_t c = 0; c < COORDINATES; c++)
            made->row[spectra->row[i]].cell[columns[c]] = (ww_cell){.state = WW_CELL_MISSING};
    return ww_notes_add(&made->notes, err, "there is no CIELAB of these spectra: %s", why);
}

ww_status ww__cgats_lab_make(const ww__cgats_spectra *spectra, const char *file, ww_readings *made,
                             ww_error *err) {
    if (!is_wanted(made))
        return WW_OK;
    for (size_t i = 0; i < spectra->n; i++) {
        const ww_spectrum spectrum = {spectra->point + i * spectra->n_bands, spectra->n_bands, 0.0};
        ww_row *row = &made->row[spectra->row[i]];
        ww_error why = WW_ERROR_INIT;
        ww_lab lab;
        const ww_status status = ww_spectrum_lab(&spectrum, &lab, &why);
        if (status == WW_ENODATA)
            return give_up(spectra, why.msg, made, err);
        if (status != WW_OK)
            return ww_error_set_at(err, WW_EINPUT, file, row->line, "%s", why.msg);
        const double value[COORDINATES] = {lab.l, lab.a, lab.b};
        for (size_t c = 0; c < COORDINATES; c++)
            row->cell[columns[c]] = (ww_cell){.state = WW_CELL_VALUE, .value = value[c], .n = 1};
    }
    for (size_t c = 0; c < COORDINATES; c++)
        made->has[columns[c]] = true;
    return ww_notes_add(
        &made->notes, err,
        "L*, a*, b* (D50, 2 degrees) are made of spectra, by CIE's observer of 1931");
}
