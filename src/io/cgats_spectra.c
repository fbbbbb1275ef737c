/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_spectra.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

void ww__cgats_spectra_release(ww__cgats_spectra *spectra) {
    free(spectra->band);
    free(spectra->point);
    free(spectra->row);
    *spectra = (ww__cgats_spectra){.n = 0};
}

/* ---- fields ---- */

ww_status ww__cgats_spectra_field(ww__cgats_spectra *spectra, const ww__field *field, size_t at,
                                  const char *file, size_t line, ww_error *err) {
    ww__band *grown, band = {*field, spectra->wavelength, at, spectra->wavelength_at};
    if (field->role < WW__ROLE_WAVELENGTH)
        return WW_OK;
    if (field->role == WW__ROLE_WAVELENGTH) {
        spectra->wavelength = *field;
        spectra->wavelength_at = at;
        return WW_OK;
    }
    if (field->which == 0 && spectra->wavelength.role != WW__ROLE_WAVELENGTH)
        return ww_error_set_at(err, WW_EINPUT, file, line,
                               "nothing tells the wavelength of field %zu, '%s'; put a "
                               "SPECTRAL_NM before it",
                               at + 1, field->name);
    if (spectra->n_bands > 0 && spectra->band[0].value.role != field->role)
        return ww_error_set_at(err, WW_EINPUT, file, line,
                               "spectral values of two units, '%s' and '%s'; keep one of them",
                               spectra->band[0].value.name, field->name);
    grown = realloc(spectra->band, (spectra->n_bands + 1) * sizeof *grown);
    if (!grown)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu spectral fields",
                            spectra->n_bands + 1);
    spectra->band = grown;
    spectra->band[spectra->n_bands++] = band;
    spectra->wavelength = (ww__field){WW__ROLE_SKIP, 0, NULL}; /* it is used up */
    return WW_OK;
}

/* ---- rows ---- */

static ww_status reserve(ww__cgats_spectra *spectra, ww_error *err) {
    const size_t wanted = spectra->capacity == 0 ? 32 : 2 * spectra->capacity;
    if (spectra->n < spectra->capacity)
        return WW_OK;
    ww_spectral_point *point =
        realloc(spectra->point, wanted * spectra->n_bands * sizeof *spectra->point);
    if (point)
        spectra->point = point;
    size_t *row = point ? realloc(spectra->row, wanted * sizeof *row) : NULL;
    if (!row)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu spectra", wanted);
    spectra->row = row;
    spectra->capacity = wanted;
    return WW_OK;
}

/* Digits behind the decimal mark, which a negative exponent moves. */
static size_t decimals_of(const char *text) {
    const char *mark = text + strcspn(text, ".,"), *digit = text + strcspn(text, "eE");
    size_t n = *mark != '\0' ? strspn(mark + 1, "0123456789") : 0, exponent = 0;
    if (digit[0] == '\0' || digit[1] != '-')
        return n;
    for (digit += 2; *digit >= '0' && *digit <= '9' && exponent < 100; digit++)
        exponent = 10 * exponent + (size_t)(*digit - '0');
    return n + exponent;
}

static bool is_missing(const char *text) {
    return text[0] == '\0' || strcmp(text, "-") == 0;
}

static int by_wavelength(const void *a, const void *b) {
    const double x = ((const ww_spectral_point *)a)->nm, y = ((const ww_spectral_point *)b)->nm;
    return (x > y) - (x < y);
}

static ww_status read_band(ww__cgats_spectra *spectra, const ww__band *band,
                           ww__number_rules *rules, const ww__cells *cells, size_t line,
                           ww_spectral_point *point, ww_error *err) {
    const char *text = ww__cells_at(cells, band->value_at);
    size_t decimals = decimals_of(text);
    ww_status status;
    if (is_missing(text))
        return ww__number_refuse(rules->file, &band->value, "value", text, line,
                                 "leaves a gap in the spectrum; give all of its values or none",
                                 err);
    status = ww__number_read(rules, &band->value, text, line, &point->value, err);
    point->nm = band->value.which;
    if (status == WW_OK && band->value.which == 0)
        status = ww__number_read(rules, &band->wavelength, ww__cells_at(cells, band->wavelength_at),
                                 line, &point->nm, err);
    if (status != WW_OK)
        return status;
    spectra->greatest = fmax(spectra->greatest, point->value);
    spectra->decimals = decimals > spectra->decimals ? decimals : spectra->decimals;
    return WW_OK;
}

ww_status ww__cgats_spectra_row(ww__cgats_spectra *spectra, ww__number_rules *rules,
                                const ww__cells *cells, size_t row, size_t line, ww_error *err) {
    ww_spectral_point *point;
    size_t missing = 0;
    ww_status status;
    for (size_t b = 0; b < spectra->n_bands; b++)
        missing += is_missing(ww__cells_at(cells, spectra->band[b].value_at));
    if (missing == spectra->n_bands)
        return WW_OK;
    status = reserve(spectra, err);
    if (status != WW_OK)
        return status;
    point = spectra->point + spectra->n * spectra->n_bands;
    for (size_t b = 0; b < spectra->n_bands && status == WW_OK; b++)
        status = read_band(spectra, &spectra->band[b], rules, cells, line, &point[b], err);
    if (status != WW_OK)
        return status;
    qsort(point, spectra->n_bands, sizeof *point, by_wavelength);
    spectra->row[spectra->n++] = row;
    return WW_OK;
}
