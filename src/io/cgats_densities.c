/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_densities.h"
#include "base/escape.h"
#include "core/spectrum_odd.h"
#include "io/cgats_lab.h"
#include <math.h>
#include <stdbool.h>

static const double percent_from = 2.0; /* a greater value is no part of 1 */
static const double most = 6.0;         /* D, of any reading */
/* Parts of white or open light: common practice; papers with brighteners come to about 1.1, and
 * an instrument's own noise in the dark to a little below 0. */
static const double brightest = 1.2, darkest = -0.005;
static const double products_end = 4.0; /* D: they are tabulated to 0.01 % of their peak */

/* ---- unit and status ---- */

static ww_status note_unit(const ww__cgats_spectra *spectra, bool percent, ww_notes *notes,
                           ww_error *err) {
    if (spectra->band[0].value.role != WW__ROLE_SPECTRAL)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "the file does not say whether spectral values are percent or parts of 1; "
                        "the greatest is %g, and they are taken for %s: %s. Bare paper or clear "
                        "film among the samples would tell; name the fields SPECTRAL_PCT or "
                        "SPECTRAL_DEC",
                        spectra->greatest, percent ? "percent" : "parts of 1",
                        percent ? "were they of 255, densities would be 0.41 higher"
                                : "were they percent, densities would be 2.00 higher");
}

static ww_status settle_unit(ww__cgats_spectra *spectra, double *white, ww_notes *notes,
                             ww_error *err) {
    const ww__role role = spectra->band[0].value.role;
    const bool percent = role == WW__ROLE_SPECTRAL_PERCENT ||
                         (role == WW__ROLE_SPECTRAL && spectra->greatest > percent_from);
    *white = percent ? 100.0 : 1.0;
    for (size_t i = 0; percent && i < spectra->n * spectra->n_bands; i++)
        spectra->point[i].value /= 100.0;
    return note_unit(spectra, percent, notes, err);
}

/* The status by which such a material is read, where the file gives none; *why is the word that
 * tells it, NULL where none does. Source: common practice (A for prints and slides, M for masked
 * negatives). */
static ww_density_status suitable(const ww_meta *meta, const char **why) {
    const bool print = meta->material == WW_MATERIAL_PAPER || meta->material == WW_MATERIAL_PRINT ||
                       meta->material == WW_MATERIAL_STRIP;
    *why = ww_emulsion_name(meta->emulsion);
    if (meta->emulsion == WW_EMULSION_BLACK_AND_WHITE)
        return WW_STATUS_VISUAL;
    if (meta->emulsion == WW_EMULSION_COLOUR_REVERSAL)
        return WW_STATUS_A;
    *why = print ? ww_material_name(meta->material) : *why;
    if (print)
        return WW_STATUS_A;
    if (meta->emulsion == WW_EMULSION_COLOUR_NEGATIVE)
        return WW_STATUS_M;
    *why = NULL;
    return WW_STATUS_VISUAL;
}

static ww_status settle_status(const char *file, ww_readings *made, ww_error *err) {
    ww_meta *const meta = &made->meta;
    const char *why;
    if (meta->status == WW_STATUS_PRINTING || meta->status == WW_STATUS_SCANNER)
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "densities of status %s cannot be made of spectra; give status A, "
                               "M, T, E or visual",
                               ww_density_status_name(meta->status));
    if (meta->status != WW_STATUS_UNKNOWN)
        return WW_OK;
    meta->status = suitable(meta, &why);
    if (!why)
        return ww_notes_add(&made->notes, err,
                            "no density status is given, so that spectra become visual densities "
                            "alone, which all statuses share; for red, green and blue add a line "
                            "'# status: M' (masked negatives), 'A' (prints, slides), 'T' or 'E'");
    return ww_notes_add(&made->notes, err,
                        "no density status is given; %s is taken, the usual one for '%s': if it "
                        "was another, add a line '# status: ...'",
                        ww_density_status_name(meta->status), why);
}

/* ---- bands ---- */

static ww_spectrum spectrum_of(const ww__cgats_spectra *spectra, size_t i, double resolution) {
    return (ww_spectrum){spectra->point + i * spectra->n_bands, spectra->n_bands, resolution};
}

typedef struct label {
    char text[64];
} label;

static label label_of(const ww_readings *made, size_t row) {
    const ww_row *const at = &made->row[row];
    label shown;
    ww__escape_message(at->step[0] != '\0' ? at->step : at->tone, shown.text, sizeof shown.text);
    return shown;
}

static ww_status refuse_band(const char *file, size_t line, const ww_spectral_point *band,
                             double white, ww_error *err) {
    if (band->value < darkest)
        return ww_error_set_at(err, WW_EINPUT, file, line,
                               "the spectral value %g at %g nm is below 0 by more than an "
                               "instrument's noise (%g); correct it, or read the sample again",
                               white * band->value, band->nm, white * darkest);
    return ww_error_set_at(err, WW_EINPUT, file, line,
                           "the spectral value %g at %g nm is more than a surface or a film gives, "
                           "%g at most where white is %g; %s, or check the white they are parts of",
                           white * band->value, band->nm, white * brightest, white,
                           white > 1.0 ? "divide values that run to 255 by 2.55"
                                       : "name the fields SPECTRAL_PCT if they are percent");
}

/* Where light can't be as it stands, and, told in notes, where it hardly can. */
static ww_status check_bands(const ww__cgats_spectra *spectra, double white, const char *file,
                             ww_readings *made, ww_error *err) {
    size_t negative = 0, odd = 0, first = 0, at = 0, found;
    double between = 0.0, line;
    ww_status status = WW_OK;
    for (size_t i = 0; i < spectra->n; i++) {
        const ww_spectrum spectrum = spectrum_of(spectra, i, 0.0);
        for (size_t b = 0; b < spectrum.n; b++) {
            if (!(spectrum.point[b].value >= darkest && spectrum.point[b].value <= brightest))
                return refuse_band(file, made->row[spectra->row[i]].line, &spectrum.point[b], white,
                                   err);
            negative += spectrum.point[b].value < 0.0;
        }
        if (ww__spectrum_odd(&spectrum, &found, &line) > 0 && odd++ == 0) {
            first = i;
            at = found;
            between = line;
        }
    }
    if (negative > 0)
        status = ww_notes_add(&made->notes, err,
                              "%zu spectral values are a little below 0, as an instrument's noise "
                              "in the dark makes them; they count as they stand",
                              negative);
    if (status == WW_OK && odd > 0)
        status = ww_notes_add(
            &made->notes, err,
            "of %zu spectra one or two values do not go with their neighbours, the first in line "
            "%zu ('%s') at %g nm: %g, where they give %.3g; read that sample again, or correct the "
            "value",
            odd, made->row[spectra->row[first]].line, label_of(made, spectra->row[first]).text,
            spectrum_of(spectra, first, 0.0).point[at].nm,
            white * spectrum_of(spectra, first, 0.0).point[at].value, white * between);
    return status;
}

/* ---- densities ---- */

/* What is worth a word about the densities made. */
typedef struct tally {
    double doubt; /* the largest half-width [D] */
    size_t doubt_row;
    ww_channel doubt_channel;
    size_t over, dense;         /* cells */
    size_t over_row, dense_row; /* the first of each */
    double outside;             /* the largest share */
    ww_channel outside_channel;
} tally;

/* A reading as a cell; its sd is the half-width until the column is whole. */
static ww_cell cell_of(const ww_spectrum_reading *reading) {
    const ww_quantity *const d = &reading->density;
    if (d->how == WW_ABSENT || isinf(d->high) || d->value > most)
        return (ww_cell){.state = WW_CELL_OVER, .n = 1};
    return (ww_cell){.state = WW_CELL_VALUE,
                     .value = d->value,
                     .sd = {true, fmax(d->high - d->value, d->value - d->low)},
                     .n = 1};
}

static void count(tally *t, const ww_cell *cell, size_t row, ww_channel channel, double outside) {
    if (cell->state == WW_CELL_OVER && t->over++ == 0)
        t->over_row = row;
    if (cell->state == WW_CELL_VALUE && cell->value > products_end && t->dense++ == 0)
        t->dense_row = row;
    if (cell->state == WW_CELL_VALUE && cell->sd.value > t->doubt) {
        t->doubt = cell->sd.value;
        t->doubt_row = row;
        t->doubt_channel = channel;
    }
    if (outside > t->outside) {
        t->outside = outside;
        t->outside_channel = channel;
    }
}

/* Half-widths become standard deviations of a reading, where they count beside its own error. */
static void settle_doubt(const ww__cgats_spectra *spectra, ww_readings *made, ww_channel channel) {
    double worst = 0.0;
    for (size_t i = 0; i < spectra->n; i++)
        worst = fmax(worst, made->row[spectra->row[i]].cell[channel].sd.value);
    for (size_t i = 0; i < spectra->n; i++) {
        ww_cell *cell = &made->row[spectra->row[i]].cell[channel];
        const double sd = hypot(WW_READING_SD, cell->sd.value / 1.96);
        cell->sd = worst > WW_READING_SD && cell->state == WW_CELL_VALUE
                       ? (ww_optional){true, sd}
                       : (ww_optional){false, 0.0};
    }
}

/* One channel of all spectra. A product that does not lie within them leaves it out, noted. */
static ww_status make_channel(const ww__cgats_spectra *spectra, double resolution,
                              ww_channel channel, const char *file, ww_readings *made, tally *t,
                              ww_error *err) {
    for (size_t i = 0; i < spectra->n; i++) {
        ww_row *row = &made->row[spectra->row[i]];
        const ww_spectrum spectrum = spectrum_of(spectra, i, resolution);
        ww_spectrum_reading reading;
        ww_error why = WW_ERROR_INIT;
        ww_status status =
            ww_spectrum_density(&spectrum, made->meta.status, channel, &reading, &why);
        if (status == WW_ENODATA) {
            for (size_t k = 0; k < i; k++)
                made->row[spectra->row[k]].cell[channel] = (ww_cell){.state = WW_CELL_MISSING};
            return ww_notes_add(&made->notes, err, "there are no %s densities: %s",
                                ww_channel_name(channel), why.msg);
        }
        if (status != WW_OK)
            return ww_error_set_at(err, WW_EINPUT, file, row->line, "%s", why.msg);
        row->cell[channel] = cell_of(&reading);
        count(t, &row->cell[channel], spectra->row[i], channel, reading.outside);
    }
    settle_doubt(spectra, made, channel);
    made->has[channel] = true;
    return WW_OK;
}

/* ---- notes ---- */

static ww_status note_source(const ww__cgats_spectra *spectra, const tally *t, ww_readings *made,
                             ww_error *err) {
    const ww_spectral_point *const p = spectra->point;
    return ww_notes_add(
        &made->notes, err,
        "densities of status %s are made of spectra, %zu values from %g to %g nm, "
        "by the products of ISO 5-3 at 10 nm; of a product at most %.2g %% (%s) lies "
        "outside, where the nearest value stands",
        ww_density_status_name(made->meta.status), spectra->n_bands, p[0].nm,
        p[spectra->n_bands - 1].nm, 100.0 * t->outside, ww_channel_name(t->outside_channel));
}

static ww_status note_doubts(const tally *t, ww_readings *made, ww_error *err) {
    ww_notes *const notes = &made->notes;
    ww_status status = WW_OK;
    if (t->doubt > WW_READING_SD)
        status = ww_notes_add(
            notes, err,
            "densities made of spectra are in doubt by up to %.2f D (%s of '%s'), "
            "by what lies between and outside the values and by their last "
            "digits; it is in their sd",
            t->doubt, ww_channel_name(t->doubt_channel), label_of(made, t->doubt_row).text);
    if (status == WW_OK && t->over > 0)
        status = ww_notes_add(notes, err,
                              "%zu densities made of spectra are over, the first of '%s': no light "
                              "is left that their digits could show",
                              t->over, label_of(made, t->over_row).text);
    if (status == WW_OK && t->dense > 0)
        status = ww_notes_add(notes, err,
                              "%zu densities made of spectra are above %g, the first of '%s': they "
                              "hang by the ends of the products, which are tabulated to 0.01 %% of "
                              "the peak",
                              t->dense, products_end, label_of(made, t->dense_row).text);
    return status;
}

/* ---- all together ---- */

static bool has_cells(const ww_readings *made, unsigned columns) {
    for (unsigned c = 0; c < columns; c++)
        if (made->has[c])
            return true;
    return false;
}

static ww_status make_all(ww__cgats_spectra *spectra, const char *file, ww_readings *made,
                          ww_error *err) {
    tally t = {.doubt = 0.0};
    double white = 1.0, resolution;
    ww_status status = settle_status(file, made, err);
    if (status == WW_OK)
        status = settle_unit(spectra, &white, &made->notes, err);
    if (status == WW_OK)
        status = check_bands(spectra, white, file, made, err);
    resolution = pow(10.0, -(double)spectra->decimals) / white;
    for (int c = WW_RED; c < WW_CHANNEL_COUNT && status == WW_OK; c++)
        if (c == WW_VISUAL || made->meta.status != WW_STATUS_VISUAL)
            status = make_channel(spectra, resolution, (ww_channel)c, file, made, &t, err);
    if (status != WW_OK)
        return status;
    if (!has_cells(made, WW_COLUMN_COUNT))
        return ww_error_set_at(err, WW_EINPUT, file, 0, "no density can be made of the spectra: %s",
                               made->notes.text[made->notes.n - 1]);
    if (!has_cells(made, WW_CHANNEL_COUNT))
        return WW_OK;
    status = note_source(spectra, &t, made, err);
    if (status == WW_OK)
        status = note_doubts(&t, made, err);
    return status == WW_OK ? ww__cgats_lab_make(spectra, file, made, err) : status;
}

ww_status ww__cgats_densities_make(ww__cgats_spectra *spectra, const char *file, ww_readings *made,
                                   ww_error *err) {
    if (spectra->n_bands > 0 && has_cells(made, WW_CHANNEL_COUNT))
        return ww_notes_add(&made->notes, err,
                            "%zu spectral field%s not read: the densities themselves stand in "
                            "the file",
                            spectra->n_bands, spectra->n_bands == 1 ? " is" : "s are");
    return spectra->n > 0 ? make_all(spectra, file, made, err) : WW_OK;
}
