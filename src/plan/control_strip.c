/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/control_log.h"
#include "core/readings.h"
#include "plan/control_parts.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { SHOWN = 200 };

ww_control_role ww__control_role_of(const char *word) {
    static const struct {
        const char *word;
        ww_control_role role;
    } words[] = {
        {"base", WW_CONTROL_D_MIN},  {"D-min", WW_CONTROL_D_MIN}, {"Dmin", WW_CONTROL_D_MIN},
        {"D min", WW_CONTROL_D_MIN}, {"LD", WW_CONTROL_LD},       {"HD", WW_CONTROL_HD},
        {"D-max", WW_CONTROL_D_MAX}, {"Dmax", WW_CONTROL_D_MAX},  {"D max", WW_CONTROL_D_MAX}};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcasecmp(word, words[i].word) == 0)
            return words[i].role;
    return WW_CONTROL_ROLES;
}

static const char *label_of(const ww_row *row) {
    return row->is_base ? "base" : row->step[0] ? row->step : row->tone;
}

static ww_status check_zero(const ww_readings *readings, const char *what, ww_error *err) {
    const ww_relative relative = readings->meta.relative;
    if (relative != WW_RELATIVE_BASE && relative != WW_RELATIVE_WHITE)
        return WW_OK;
    return ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                           "the %s is read relative to %s; D-min is charted too, so give densities "
                           "that were read absolute",
                           what, ww_relative_name(relative));
}

static ww_status twice(const ww_readings *readings, const ww_row *row, const char *what,
                       ww_error *err) {
    char shown[SHOWN];
    return ww_error_set_at(err, WW_EMISMATCH, readings->file, row->line,
                           "'%s' stands on two rows of this %s; give each step its own label",
                           ww__escape_message(label_of(row), shown, sizeof shown), what);
}

/* --- the reference --------------------------------------------------------------------------- */

static bool has_density(const ww_row *row) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (row->cell[c].state == WW_CELL_VALUE)
            return true;
    return false;
}

static ww_status add_reference_row(const ww_readings *readings, const ww_row *row,
                                   ww_control_reference *made, ww_error *err) {
    ww_control_role role = ww__control_role_of(row->tone);
    ww_control_patch *patch;
    ww_status status;
    if (role == WW_CONTROL_ROLES)
        role = ww__control_role_of(label_of(row));
    if (!has_density(row))
        return WW_OK;
    if (ww__control_patch_find(&made->patches, label_of(row)))
        return twice(readings, row, "reference", err);
    for (size_t i = 0; i < made->patches.n && role != WW_CONTROL_ROLES; i++)
        if (strcmp(made->patches.patch[i].tone, ww_control_role_name(role)) == 0)
            return ww_error_set_at(err, WW_EMISMATCH, readings->file, row->line,
                                   "two steps of this reference are %s; name one alone so, in the "
                                   "column tone",
                                   ww_control_role_name(role));
    status = ww__control_patch_add(&made->patches, label_of(row),
                                   role == WW_CONTROL_ROLES ? "" : ww_control_role_name(role),
                                   &patch, err);
    for (int c = 0; status == WW_OK && c < WW_CHANNEL_COUNT; c++) {
        const ww_cell *correction = &row->cell[WW_COLUMN_CORRECTION_RED + c];
        if (row->cell[c].state != WW_CELL_VALUE)
            continue;
        patch->state[c] = WW_CELL_VALUE;
        patch->density[c] = row->cell[c].value;
        patch->correction[c] = correction->state == WW_CELL_VALUE ? correction->value : 0.0;
    }
    return status;
}

static ww_status fill_reference(const ww_readings *pooled, const char *lot, const char *entered,
                                ww_control_reference *made, ww_error *err) {
    const char *own = pooled->meta.lot ? pooled->meta.lot : "";
    ww_status status = check_zero(pooled, "reference", err);
    made->status = pooled->meta.status;
    made->density = pooled->meta.density;
    made->reversal = pooled->meta.process == WW_PROCESS_REVERSAL;
    if (status == WW_OK)
        status = ww__readings_text_copy(lot ? lot : own, &made->lot, err);
    if (status == WW_OK)
        status = ww__readings_text_copy(entered, &made->entered, err);
    for (size_t i = 0; i < pooled->n && status == WW_OK; i++)
        status = add_reference_row(pooled, &pooled->row[i], made, err);
    if (status == WW_OK && made->patches.n == 0)
        status = ww_error_set_at(err, WW_ENODATA, pooled->file, 0,
                                 "the reference has no density; give the steps of a reference "
                                 "strip, with visual, or red, green and blue");
    return status;
}

ww_status ww_control_reference_make(const ww_readings *readings, const char *lot,
                                    const char *entered, ww_control_reference *reference,
                                    ww_error *err) {
    ww_control_reference made = WW_CONTROL_REFERENCE_INIT;
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = ww_readings_pool(readings, &pooled, err);
    assert(reference && entered);
    if (status == WW_OK)
        status = fill_reference(&pooled, lot, entered, &made, err);
    if (status == WW_OK)
        *reference = made;
    else
        ww_control_reference_release(&made);
    ww_readings_release(&pooled);
    return status;
}

/* --- the strip ------------------------------------------------------------------------------- */

static ww_status check_kind(const ww_readings *readings, const ww_control_reference *reference,
                            const char *lot, ww_error *err) {
    const ww_meta *meta = &readings->meta;
    char strip_shown[SHOWN], reference_shown[SHOWN];
    if (meta->status && reference->status && meta->status != reference->status)
        return ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                               "the strip is read in status %s, the reference in status %s; read "
                               "both through the same filters",
                               ww_density_status_name(meta->status),
                               ww_density_status_name(reference->status));
    if (meta->density && reference->density && meta->density != reference->density)
        return ww_error_set_at(
            err, WW_EMISMATCH, readings->file, 0, "the strip is read by %s, the reference by %s",
            ww_density_kind_name(meta->density), ww_density_kind_name(reference->density));
    if (lot && *lot && *reference->lot && strcmp(lot, reference->lot) != 0)
        return ww_error_set_at(
            err, WW_EMISMATCH, readings->file, 0,
            "the strip is of lot '%s', the reference of lot '%s': all would be "
            "off alike; give --reference the readings of the reference strip "
            "that came with this lot",
            ww__escape_message(lot, strip_shown, sizeof strip_shown),
            ww__escape_message(reference->lot, reference_shown, sizeof reference_shown));
    return WW_OK;
}

static bool reference_has(const ww_control_reference *reference, int channel) {
    for (size_t i = 0; i < reference->patches.n; i++)
        if (reference->patches.patch[i].state[channel] == WW_CELL_VALUE)
            return true;
    return false;
}

static ww_status check_channels(const ww_readings *readings, const ww_control_reference *reference,
                                ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
        const bool wanted = reference_has(reference, c);
        if (wanted && !readings->has[c])
            return ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                                   "the reference is read in %s and the strip is not; give it the "
                                   "column %s",
                                   ww_channel_name((ww_channel)c), ww_channel_name((ww_channel)c));
        if (!wanted && readings->has[c])
            status = ww_notes_add(notes, err,
                                  "The strip's column %s is left out: the reference has none.",
                                  ww_channel_name((ww_channel)c));
    }
    return status;
}

static const ww_row *find_row(const ww_readings *readings, const char *step) {
    for (size_t i = 0; i < readings->n; i++)
        if (strcmp(label_of(&readings->row[i]), step) == 0)
            return &readings->row[i];
    return NULL;
}

static ww_status add_strip_row(const ww_readings *readings, const ww_control_patch *of,
                               ww_control_patches *made, ww_notes *notes, ww_error *err) {
    const ww_row *row = find_row(readings, of->step);
    char shown[SHOWN];
    ww_control_patch *patch;
    ww_status status;
    ww__escape_message(of->step, shown, sizeof shown);
    if (!row)
        return ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                               "step '%s' of the reference is not in the strip; read it, or write "
                               "it as - where it cannot be read",
                               shown);
    status = ww__control_patch_add(made, of->step, "", &patch, err);
    for (int c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
        const ww_cell *cell = &row->cell[c];
        if (of->state[c] != WW_CELL_VALUE)
            continue;
        patch->state[c] = cell->state == WW_CELL_LESS ? WW_CELL_MISSING : cell->state;
        patch->density[c] = cell->state == WW_CELL_VALUE ? cell->value : 0.0;
        if (cell->state != WW_CELL_VALUE)
            status = ww_notes_add(notes, err, "Step %s has no density in %s: it is not judged.",
                                  shown, ww_channel_name((ww_channel)c));
    }
    return status;
}

static ww_status check_steps(const ww_readings *readings, const ww_control_reference *reference,
                             ww_error *err) {
    char shown[SHOWN];
    for (size_t i = 0; i < readings->n; i++) {
        const ww_row *row = &readings->row[i];
        if (!ww__control_patch_find(&reference->patches, label_of(row)))
            return ww_error_set_at(err, WW_EMISMATCH, readings->file, row->line,
                                   "step '%s' is not in the reference; give both the same labels",
                                   ww__escape_message(label_of(row), shown, sizeof shown));
        if (find_row(readings, label_of(row)) != row)
            return twice(readings, row, "strip", err);
    }
    return WW_OK;
}

ww_status ww_control_strip_make(const ww_readings *readings, const ww_control_reference *reference,
                                const char *lot, ww_control_patches *patches, ww_notes *notes,
                                ww_error *err) {
    ww_control_patches made = {NULL, 0};
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = ww_readings_pool(readings, &pooled, err);
    assert(reference && patches && notes);
    if (status == WW_OK)
        status = check_zero(&pooled, "strip", err);
    if (status == WW_OK)
        status = check_kind(&pooled, reference, lot ? lot : pooled.meta.lot, err);
    if (status == WW_OK)
        status = check_channels(&pooled, reference, notes, err);
    if (status == WW_OK)
        status = check_steps(&pooled, reference, err);
    for (size_t i = 0; i < reference->patches.n && status == WW_OK; i++)
        status = add_strip_row(&pooled, &reference->patches.patch[i], &made, notes, err);
    if (status == WW_OK)
        *patches = made;
    else
        ww_control_patches_release(&made);
    ww_readings_release(&pooled);
    return status;
}
