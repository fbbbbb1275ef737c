/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

ww_status ww__readings_text_copy(const char *text, char **copy, ww_error *err) {
    size_t size = strlen(text) + 1;
    char *made = malloc(size);
    if (made == NULL)
        return ww_error_set(err, WW_EMEMORY, "no memory for a text of %zu bytes", size);
    memcpy(made, text, size);
    *copy = made;
    return WW_OK;
}

void ww__readings_row_release(ww_row *row) {
    free(row->step);
    free(row->tone);
    free(row->pack);
    row->step = row->tone = row->pack = NULL;
}

ww_status ww__readings_row_copy(const ww_row *from, ww_row *to, ww_error *err) {
    ww_row row = *from;
    row.step = row.tone = row.pack = NULL;
    ww_status status = ww__readings_text_copy(from->step, &row.step, err);
    if (status == WW_OK)
        status = ww__readings_text_copy(from->tone, &row.tone, err);
    if (status == WW_OK)
        status = ww__readings_text_copy(from->pack, &row.pack, err);
    if (status != WW_OK) {
        ww__readings_row_release(&row);
        return status;
    }
    *to = row;
    return WW_OK;
}

ww_status ww__readings_reserve(ww_readings *readings, size_t *capacity, ww_error *err) {
    if (readings->n < *capacity)
        return WW_OK;
    size_t wanted = *capacity == 0 ? 32 : 2 * *capacity;
    ww_row *grown = NULL;
    if (wanted > *capacity && wanted <= SIZE_MAX / sizeof *grown)
        grown = realloc(readings->row, wanted * sizeof *grown);
    if (grown == NULL)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu rows of readings", wanted);
    readings->row = grown;
    *capacity = wanted;
    return WW_OK;
}

ww_status ww__readings_copy_head(const ww_readings *from, ww_readings *to, ww_error *err) {
    ww_readings head = WW_READINGS_INIT;
    ww_status status = WW_OK;
    if (from->file != NULL)
        status = ww__readings_text_copy(from->file, &head.file, err);
    if (status == WW_OK)
        status = ww_meta_copy(&from->meta, &head.meta, err);
    if (status == WW_OK)
        status = ww_notes_copy(&from->notes, &head.notes, err);
    if (status != WW_OK) {
        ww_readings_release(&head);
        return status;
    }
    head.exposure = from->exposure;
    memcpy(head.has, from->has, sizeof head.has);
    *to = head;
    return WW_OK;
}

void ww_readings_release(ww_readings *readings) {
    if (readings == NULL)
        return;
    for (size_t i = 0; i < readings->n; i++)
        ww__readings_row_release(&readings->row[i]);
    free(readings->row);
    free(readings->file);
    ww_meta_release(&readings->meta);
    ww_notes_release(&readings->notes);
    *readings = (ww_readings)WW_READINGS_INIT;
}

bool ww__readings_is_control(ww_column column) {
    return (column >= WW_COLUMN_VALUE && column <= WW_COLUMN_HARD) ||
           column >= WW_COLUMN_CORRECTION_RED;
}

bool ww__readings_is_dark(const ww_row *row) {
    const ww_cell *soft = &row->cell[WW_COLUMN_SOFT], *hard = &row->cell[WW_COLUMN_HARD];
    return soft->state == WW_CELL_VALUE && hard->state == WW_CELL_VALUE &&
           !(soft->value + hard->value > 0.0);
}

/* A word in small letters, in any mix of case. */
static bool is_word(const char *text, const char *word) {
    do {
        const char c = *text >= 'A' && *text <= 'Z' ? (char)(*text - 'A' + 'a') : *text;
        if (c != *word)
            return false;
        text++;
    } while (*word++ != '\0');
    return true;
}

bool ww__readings_is_base_word(const char *text) {
    return is_word(text, "base");
}

bool ww__readings_is_glass_word(const char *text) {
    return is_word(text, "glass");
}

bool ww__readings_is_covered(const ww_row *row) {
    return is_word(row->step, "covered") || is_word(row->tone, "covered");
}

double ww_readings_error(const ww_cell *cell) {
    assert(cell);
    const double root = sqrt((double)(cell->n > 0 ? cell->n : 1));
    const double sd = cell->sd.set ? cell->sd.value : WW_READING_SD;
    return fmax(sd / root, WW_ROUNDING_SD);
}

ww_status ww_readings_log_h(const ww_readings *readings, size_t row, double *log_h, ww_error *err) {
    assert(readings != NULL && log_h != NULL && row < readings->n);
    const ww_meta *meta = &readings->meta;
    const ww_row *at = &readings->row[row];
    double exposure = at->exposure.value;
    double log_h0 = meta->log_h0.set ? meta->log_h0.value : 0.0;
    if (readings->exposure == WW_EXPOSURE_NONE || !at->exposure.set)
        return ww_error_set_at(err, WW_ENODATA, readings->file, at->line,
                               "row '%.40s' has no exposure; give it in the column wedge, logh, "
                               "stop or time",
                               at->step);
    switch (readings->exposure) {
    case WW_EXPOSURE_WEDGE:
        if (!meta->log_h0.set && meta->exposure_time_s.set) {
            if (!(meta->exposure_time_s.value > 0.0))
                return ww_error_set_at(err, WW_EDOMAIN, readings->file, 0,
                                       "exposure time %g s is not above 0; correct it",
                                       meta->exposure_time_s.value);
            log_h0 = log10(meta->exposure_time_s.value);
        }
        *log_h = log_h0 - exposure;
        return WW_OK;
    case WW_EXPOSURE_STOP:
        *log_h = log_h0 + exposure * log10(2.0);
        return WW_OK;
    case WW_EXPOSURE_TIME:
        if (!(exposure > 0.0))
            return ww_error_set_at(err, WW_EDOMAIN, readings->file, at->line,
                                   "time %g s of row '%.40s' is not above 0; give the total time "
                                   "that the patch received",
                                   exposure, at->step);
        *log_h = log_h0 + log10(exposure);
        return WW_OK;
    default:
        *log_h = exposure;
        return WW_OK;
    }
}

ww_status ww_readings_black_and_white_channel(const ww_readings *readings, ww_channel *channel,
                                              ww_error *err) {
    assert(readings != NULL && channel != NULL);
    ww_channel printing = readings->meta.grain == WW_GRAIN_STAINED ? WW_BLUE : WW_GREEN;
    ww_channel only = WW_VISUAL;
    size_t n = 0;
    for (int c = WW_RED; c < WW_CHANNEL_COUNT; c++) {
        if (readings->has[c]) {
            only = (ww_channel)c;
            n++;
        }
    }
    if (readings->has[WW_VISUAL]) {
        *channel = WW_VISUAL;
        return WW_OK;
    }
    if (readings->has[printing]) {
        *channel = printing;
        return WW_OK;
    }
    if (n == 1) {
        *channel = only;
        return WW_OK;
    }
    return ww_error_set_at(err, WW_ENODATA, readings->file, 0,
                           n == 0 ? "no density column; give visual, or red, green and blue"
                                  : "neither visual nor %s density is there, by which a "
                                    "black-and-white material is judged; add that column",
                           ww_channel_name(printing));
}
