/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CGATS_SPECTRA_H
#define WEDGEWORK_IO_CGATS_SPECTRA_H

#include "io/lines.h"
#include "io/readings_columns.h"
#include "io/readings_number.h"
#include <stddef.h>
#include <wedgework/readings.h>
#include <wedgework/spectrum.h>

/* One value of every spectrum, and where its wavelength stands unless its own name tells it. */
typedef struct ww__band {
    ww__field value, wavelength;
    size_t value_at, wavelength_at; /* cells of the row */
} ww__band;

/*
 * The spectra of a table, kept until the whole file is read: what status their densities are of may
 * stand in its last line.
 */
typedef struct ww__cgats_spectra {
    ww__band *band;
    size_t n_bands;
    ww__field wavelength; /* the last one, for the value that comes next */
    size_t wavelength_at;
    ww_spectral_point *point; /* n_bands a spectrum, as the file has them */
    size_t *row;              /* of the readings, a spectrum each */
    size_t n, capacity;
    double greatest; /* of all values */
    size_t decimals; /* most that a value is written with */
} ww__cgats_spectra;

/*
 * Takes the field of a spectrum, cell `at` of each row; other fields are left alone. Refuses a
 * value whose wavelength nothing tells, and percent beside parts of 1. The name must outlive the
 * spectra.
 */
ww_status ww__cgats_spectra_field(ww__cgats_spectra *spectra, const ww__field *field, size_t at,
                                  const char *file, size_t line, ww_error *err);

/* Takes the spectrum of a row of readings; one without any value has none. */
ww_status ww__cgats_spectra_row(ww__cgats_spectra *spectra, ww__number_rules *rules,
                                const ww__cells *cells, size_t row, size_t line, ww_error *err);

void ww__cgats_spectra_release(ww__cgats_spectra *spectra);

#endif
