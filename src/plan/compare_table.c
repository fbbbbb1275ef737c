/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/readings.h"
#include "plan/compare_parts.h"
#include "plan/print_parts.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/readings_light.h>

static const double most_chroma = 10.0; /* of a grey on warm or blue paper, off its white */

static bool is_value(const ww_row *row, ww_column column) {
    return row->cell[column].state == WW_CELL_VALUE;
}

static double value_or(const ww_row *row, ww_column column, double otherwise) {
    return is_value(row, column) ? row->cell[column].value : otherwise;
}

/* --- what was sent ---------------------------------------------------------------------------- */

static bool is_coloured(const ww_row *row) {
    return value_or(row, WW_COLUMN_CYAN, 0.0) != 0.0 ||
           value_or(row, WW_COLUMN_MAGENTA, 0.0) != 0.0 ||
           value_or(row, WW_COLUMN_YELLOW, 0.0) != 0.0;
}

static void take_sent(const ww_readings *table, size_t i, const ww_compare_print *print,
                      ww_compare_tone *tone) {
    switch (print->control) {
    case WW_COMPARE_RAMP:
        tone->sent = ww_ramp_drive(table, print->ramp, i);
        tone->neutral = tone->sent.set;
        return;
    case WW_COMPARE_LOG_H:
        tone->sent.set = ww_readings_log_h(table, i, &tone->sent.value, NULL) == WW_OK;
        break;
    case WW_COMPARE_LABEL:
        break;
    }
    tone->neutral = tone->base || !is_coloured(&table->row[i]);
}

static ww_status name_tone(const ww_readings *table, size_t i, ww_ramp ramp, ww_compare_tone *tone,
                           ww_error *err) {
    const ww_row *row = &table->row[i];
    char made[600];
    const char *label = row->step[0] ? row->step : row->tone;
    if (label[0])
        snprintf(made, sizeof made, "%s%s%s", label, row->part == WW_PART_WHOLE ? "" : "/",
                 row->part == WW_PART_WHOLE ? "" : ww_part_name(row->part));
    else if (tone->sent.set)
        ww__print_format(made, sizeof made, "%.4g",
                         ramp == WW_RAMP_NONE ? tone->sent.value
                                              : ww_ramp_control(ramp, tone->sent.value));
    else
        snprintf(made, sizeof made, "row %zu", i + 1);
    return ww__readings_text_copy(made, &tone->label, err);
}

/* --- what was read ---------------------------------------------------------------------------- */

static void take_densities(const ww_row *row, ww_compare_print *print, ww_compare_tone *tone) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (row->cell[c].state != WW_CELL_VALUE)
            continue;
        print->has[c] = true;
        tone->density[c] = (ww_optional){true, row->cell[c].value};
        tone->error[c] = ww_readings_error(&row->cell[c]);
    }
}

static double repeats_to(const ww_cell *cell, double otherwise) {
    const double root = sqrt((double)(cell->n > 0 ? cell->n : 1));
    return (cell->sd.set ? cell->sd.value : otherwise) / root;
}

static ww_status take_colour(const ww_readings *table, size_t i, double white,
                             ww_compare_tone *tone, ww_error *err) {
    const ww_row *row = &table->row[i];
    ww_error why = WW_ERROR_INIT;
    if (is_value(row, WW_COLUMN_LAB_L) && is_value(row, WW_COLUMN_LAB_A) &&
        is_value(row, WW_COLUMN_LAB_B)) {
        tone->has_lab = true;
        tone->lab = (ww_lab){row->cell[WW_COLUMN_LAB_L].value, row->cell[WW_COLUMN_LAB_A].value,
                             row->cell[WW_COLUMN_LAB_B].value};
        tone->lab_error = repeats_to(&row->cell[WW_COLUMN_LAB_A], WW_LIGHTNESS_SD);
    } else if (white > 0.0 && is_value(row, WW_COLUMN_LUMINANCE) &&
               is_value(row, WW_COLUMN_CHROMATICITY_X) && is_value(row, WW_COLUMN_CHROMATICITY_Y)) {
        const ww_status status = ww_colour_of_screen(
            row->cell[WW_COLUMN_LUMINANCE].value, white, row->cell[WW_COLUMN_CHROMATICITY_X].value,
            row->cell[WW_COLUMN_CHROMATICITY_Y].value, &tone->lab, &why);
        if (status != WW_OK)
            return ww_error_set_at(err, status, table->file, row->line, "%s", why.msg);
        tone->has_lab = true;
        tone->lab_error = WW_LIGHTNESS_SD;
    }
    return WW_OK;
}

/* A display: its white's and black's light, and how warm the white is. */
static void take_screen(const ww_readings *table, ww_compare_print *print) {
    const ww_row *lightest = NULL;
    for (size_t i = 0; i < table->n; i++) {
        const ww_row *row = &table->row[i];
        if (!is_value(row, WW_COLUMN_LUMINANCE))
            continue;
        const double here = row->cell[WW_COLUMN_LUMINANCE].value;
        if (!print->white_luminance.set || here > print->white_luminance.value) {
            print->white_luminance = (ww_optional){true, here};
            lightest = row;
        }
        if (!print->black_luminance.set || here < print->black_luminance.value)
            print->black_luminance = (ww_optional){true, here};
    }
    if (lightest && is_value(lightest, WW_COLUMN_CHROMATICITY_X) &&
        is_value(lightest, WW_COLUMN_CHROMATICITY_Y))
        print->temperature.set =
            ww_colour_temperature(lightest->cell[WW_COLUMN_CHROMATICITY_X].value,
                                  lightest->cell[WW_COLUMN_CHROMATICITY_Y].value,
                                  &print->temperature.value, NULL) == WW_OK;
}

/* Where nobody says what was sent, a colour is known by its own look. */
static void part_colours(ww_compare_print *print) {
    const ww_compare_tone *white = NULL;
    if (print->control == WW_COMPARE_RAMP)
        return;
    for (size_t i = 0; i < print->n; i++)
        if (print->tone[i].has_lab && (!white || print->tone[i].lab.l > white->lab.l))
            white = &print->tone[i];
    for (size_t i = 0; i < print->n; i++)
        if (print->tone[i].has_lab && !print->tone[i].base)
            print->tone[i].neutral =
                print->tone[i].neutral && hypot(print->tone[i].lab.a - white->lab.a,
                                                print->tone[i].lab.b - white->lab.b) <= most_chroma;
}

/* --- the table -------------------------------------------------------------------------------- */

static void take_head(const ww_readings *table, ww_compare_print *print) {
    const ww_meta *meta = &table->meta;
    print->ramp = ww_ramp_find(table);
    print->control = print->ramp != WW_RAMP_NONE           ? WW_COMPARE_RAMP
                     : table->exposure != WW_EXPOSURE_NONE ? WW_COMPARE_LOG_H
                                                           : WW_COMPARE_LABEL;
    print->screen = meta->material == WW_MATERIAL_SCREEN || table->has[WW_COLUMN_LUMINANCE];
    print->above_white =
        print->screen || meta->relative == WW_RELATIVE_WHITE || meta->relative == WW_RELATIVE_BASE;
    print->status = meta->status;
    print->density = meta->density;
}

static ww_status take_rows(const ww_readings *table, ww_compare_print *print, ww_error *err) {
    const double luminance = print->white_luminance.set ? print->white_luminance.value : 0.0;
    ww_status status = ww__compare_reserve(print, table->n, err);
    for (size_t i = 0; i < table->n && status == WW_OK; i++) {
        ww_compare_tone *tone = &print->tone[print->n];
        tone->base = table->row[i].is_base;
        take_sent(table, i, print, tone);
        take_densities(&table->row[i], print, tone);
        status = take_colour(table, i, luminance, tone, err);
        if (status == WW_OK)
            status = name_tone(table, i, print->ramp, tone, err);
        if (status == WW_OK)
            print->n++;
    }
    return status;
}

static ww_status tell(const ww_readings *table, const ww_compare_print *print, ww_light light,
                      ww_notes *notes, ww_error *err) {
    char shown[200];
    size_t over = 0;
    ww_status status = WW_OK;
    ww__escape_message(print->name, shown, sizeof shown);
    for (size_t i = 0; i < table->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            over += table->row[i].cell[c].state == WW_CELL_OVER;
    if (over > 0)
        status = ww_notes_add(notes, err,
                              "'%s' has %zu reading%s beyond the instrument, which play%s no part: "
                              "its black may be deeper.",
                              shown, over, over == 1 ? "" : "s", over == 1 ? "s" : "");
    if (status == WW_OK && print->from_light)
        status = ww_notes_add(notes, err,
                              "'%s' has no visual density: it is made of %s, which is the same for "
                              "greys and not for colours.",
                              shown,
                              light == WW_LIGHT_LUMINANCE ? "luminance over that of its white"
                                                          : "lightness, -log10 Y");
    if (status == WW_OK && print->control == WW_COMPARE_LABEL)
        status = ww_notes_add(notes, err,
                              "'%s' does not say what was sent for its tones: those that look no "
                              "colour are taken for greys.",
                              shown);
    return status;
}

/* What the file's reader found worth saying. */
static ww_status tell_reading(const ww_readings *table, const ww_compare_print *print,
                              ww_notes *notes, ww_error *err) {
    char shown[200];
    ww_status status = WW_OK;
    ww__escape_message(print->name, shown, sizeof shown);
    for (size_t i = 0; i < table->notes.n && status == WW_OK; i++)
        status = ww_notes_add(notes, err, "'%s': %s", shown, table->notes.text[i]);
    return status;
}

ww_status ww__compare_table(const ww_compare_input *input, ww_compare_print *print, ww_notes *notes,
                            ww_error *err) {
    ww_readings table = WW_READINGS_INIT;
    ww_status status = ww__compare_name(input->readings->meta.name, input->file, print, err);
    if (status == WW_OK)
        status = ww_readings_pool(input->readings, &table, err);
    const ww_light light = status == WW_OK ? ww_readings_light(&table) : WW_LIGHT_NONE;
    if (status == WW_OK) {
        take_head(&table, print);
        take_screen(&table, print);
        status = ww_ramp_check(&table, print->ramp, err);
    }
    if (status == WW_OK)
        status = take_rows(&table, print, err);
    if (status == WW_OK) {
        part_colours(print);
        print->from_light = light != WW_LIGHT_NONE && print->has[WW_VISUAL];
        status = tell(&table, print, light, notes, err);
        if (status == WW_OK)
            status = tell_reading(input->readings, print, notes, err);
    }
    ww_readings_release(&table);
    return status;
}
