/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_build.h"
#include "base/escape.h"
#include "core/readings.h"
#include <stdlib.h>
#include <string.h>

ww__build ww__build_begin(const char *file) {
    ww__build build = {.file = file, .rules = {.file = file}};
    return build;
}

void ww__build_release(ww__build *build) {
    ww_readings_release(&build->made);
    free(build->field);
    *build = (ww__build){.file = NULL};
}

/* ---- columns ---- */

static bool repeats(const ww__field *a, const ww__field *b) {
    return a->role == b->role && a->role > WW__ROLE_UNNAMED &&
           (a->role == WW__ROLE_EXPOSURE || a->which == b->which);
}

ww_status ww__build_field(ww__build *build, const ww__field *field, size_t line, ww_error *err) {
    ww__field *grown;
    for (size_t i = 0; i < build->n_fields; i++) {
        const ww__field *other = &build->field[i];
        if (!repeats(other, field))
            continue;
        if (field->role == WW__ROLE_EXPOSURE && other->which != field->which)
            return ww_error_set_at(err, WW_EINPUT, build->file, line,
                                   "the exposure is given twice, by '%s' and by '%s'; keep one of "
                                   "the two columns",
                                   other->name, field->name);
        return ww_error_set_at(err, WW_EINPUT, build->file, line,
                               "column '%s' is there twice; take one out, or rename it",
                               field->name);
    }
    if (build->n_fields == WW__FIELDS_MOST)
        return ww_error_set_at(err, WW_EINPUT, build->file, line,
                               "more than %d columns; this is no table of readings",
                               (int)WW__FIELDS_MOST);
    grown = realloc(build->field, (build->n_fields + 1) * sizeof *grown);
    if (!grown)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu columns", build->n_fields + 1);
    build->field = grown;
    build->field[build->n_fields++] = *field;
    if (field->role == WW__ROLE_EXPOSURE)
        build->made.exposure = (ww_exposure_column)field->which;
    if (field->role == WW__ROLE_CELL)
        build->made.has[field->which] = true;
    return WW_OK;
}

/* ---- rows ---- */

static bool is_missing(const char *text) {
    return text[0] == '\0' || strcmp(text, "-") == 0;
}

/* What holds for the whole row until its cells are known. */
typedef struct spread {
    ww_optional sd_all;
    ww_optional sd[WW_COLUMN_COUNT];
    size_t n_all;
    size_t n[WW_COLUMN_COUNT];
    const ww__field *sd_field[WW_COLUMN_COUNT];
} spread;

static ww_status parse_text(const ww__build *build, const ww__field *field, const char *text,
                            size_t line, char **copy, ww_error *err) {
    const char *problem = ww__lines_text_problem(text);
    if (problem)
        return ww__number_refuse(build->file, field, "text", text, line, problem, err);
    free(*copy);
    *copy = NULL;
    return ww__readings_text_copy(text, copy, err);
}

static ww_status parse_part(const ww__build *build, const ww__field *field, const char *text,
                            size_t line, ww_part *part, ww_error *err) {
    *part = WW_PART_WHOLE;
    if (is_missing(text))
        return WW_OK;
    for (int i = WW_PART_WHOLE; i <= WW_PART_DENSE; i++) {
        if (ww__words_equal(text, ww_part_name((ww_part)i))) {
            *part = (ww_part)i;
            return WW_OK;
        }
    }
    return ww__number_refuse(build->file, field, "part", text, line,
                             "is not known; write thin, dense or nothing", err);
}

static ww_status parse_cell(ww__build *build, const ww__field *field, const char *text, size_t line,
                            ww_cell *cell, ww_error *err) {
    ww_status status;
    if (is_missing(text))
        return WW_OK;
    if (ww__words_equal(text, "over") && !ww__readings_is_control((ww_column)field->which)) {
        cell->state = WW_CELL_OVER;
        return WW_OK;
    }
    status = ww__number_read(&build->rules, field, text, line, &cell->value, err);
    if (status == WW_OK)
        cell->state = WW_CELL_VALUE;
    return status;
}

static ww_status parse_optional(ww__build *build, const ww__field *field, const char *text,
                                size_t line, ww_optional *optional, ww_error *err) {
    double value;
    ww_status status;
    if (is_missing(text))
        return WW_OK;
    status = ww__number_read(&build->rules, field, text, line, &value, err);
    if (status == WW_OK)
        *optional = (ww_optional){true, value};
    return status;
}

static ww_status parse_one(ww__build *build, const ww__field *field, const char *text, ww_row *row,
                           spread *more, ww_error *err) {
    switch (field->role) {
    case WW__ROLE_STEP:
        return parse_text(build, field, text, row->line, &row->step, err);
    case WW__ROLE_TONE:
        return parse_text(build, field, text, row->line, &row->tone, err);
    case WW__ROLE_PACK:
        return parse_text(build, field, text, row->line, &row->pack, err);
    case WW__ROLE_PART:
        return parse_part(build, field, text, row->line, &row->part, err);
    case WW__ROLE_EXPOSURE:
        return parse_optional(build, field, text, row->line, &row->exposure, err);
    case WW__ROLE_WIDTH:
        return parse_optional(build, field, text, row->line, &row->width, err);
    case WW__ROLE_CELL:
        return parse_cell(build, field, text, row->line, &row->cell[field->which], err);
    case WW__ROLE_SD:
        more->sd_field[field->which] = field;
        return parse_optional(build, field, text, row->line, &more->sd[field->which], err);
    case WW__ROLE_SD_ALL:
        return parse_optional(build, field, text, row->line, &more->sd_all, err);
    case WW__ROLE_N:
        return is_missing(text) ? WW_OK
                                : ww__number_count(&build->rules, field, text, row->line,
                                                   &more->n[field->which], err);
    case WW__ROLE_N_ALL:
        return is_missing(text)
                   ? WW_OK
                   : ww__number_count(&build->rules, field, text, row->line, &more->n_all, err);
    case WW__ROLE_UNNAMED:
        return text[0] == '\0'
                   ? WW_OK
                   : ww__number_refuse(build->file, field, "value", text, row->line,
                                       "has no name above it; name it in the header line", err);
    default:
        return WW_OK;
    }
}

static bool has_density(const ww_readings *readings) {
    for (int c = WW_RED; c < WW_CHANNEL_COUNT; c++)
        if (readings->has[c])
            return true;
    return false;
}

/* `sd` and `n` of the row belong to what was read: `sd` to the densities where there are any. */
static ww_status apply_spread(const ww__build *build, ww_row *row, const spread *more,
                              ww_error *err) {
    bool density = has_density(&build->made);
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        ww_cell *cell = &row->cell[c];
        bool control = ww__readings_is_control((ww_column)c);
        bool shares_sd = !control && (c < WW_CHANNEL_COUNT || !density);
        if (cell->state == WW_CELL_MISSING) {
            if (more->sd[c].set)
                return ww_error_set_at(err, WW_EINPUT, build->file, row->line,
                                       "column '%s' has a value but '%s' has none; give both or "
                                       "neither",
                                       more->sd_field[c]->name, ww_column_name((ww_column)c));
            continue;
        }
        cell->n = more->n[c] > 0 ? more->n[c] : more->n_all > 0 && !control ? more->n_all : 1;
        if (cell->state == WW_CELL_VALUE)
            cell->sd = more->sd[c].set ? more->sd[c] : shares_sd ? more->sd_all : cell->sd;
    }
    return WW_OK;
}

static ww_status check_exposure(const ww__build *build, const ww_row *row, ww_error *err) {
    const char *column = ww_exposure_column_name(build->made.exposure);
    char shown[64];
    ww__escape_message(row->step[0] != '\0' ? row->step : row->tone, shown, sizeof shown);
    if (build->made.exposure == WW_EXPOSURE_NONE || row->is_base != row->exposure.set)
        return WW_OK;
    if (build->made.exposure == WW_EXPOSURE_TIME && !row->is_base && ww__readings_is_covered(row))
        return WW_OK;
    if (row->is_base)
        return ww_error_set_at(err, WW_EINPUT, build->file, row->line,
                               "the base row has a value in column '%s', but base is what was not "
                               "exposed; leave that cell empty, or give the row another label",
                               column);
    return ww_error_set_at(
        err, WW_EINPUT, build->file, row->line,
        "row '%s' has nothing in column '%s'; give its exposure, or call it base "
        "if it was not exposed",
        shown, column);
}

static ww_status check_split(const ww__build *build, const ww_row *row, ww_error *err) {
    if (row->is_base || !ww__readings_is_dark(row))
        return WW_OK;
    return ww_error_set_at(err, WW_EINPUT, build->file, row->line,
                           "soft and hard are both 0, which exposes nothing; give the seconds of "
                           "one at least, or call the row base if it was not exposed");
}

static ww_status fill_row(ww__build *build, const ww__cells *cells, ww_row *row, ww_error *err) {
    spread more = {.n_all = 0};
    ww_status status = ww__readings_text_copy("", &row->step, err);
    if (status == WW_OK)
        status = ww__readings_text_copy("", &row->tone, err);
    if (status == WW_OK)
        status = ww__readings_text_copy("", &row->pack, err);
    for (size_t i = 0; i < build->n_fields && status == WW_OK; i++)
        status = parse_one(build, &build->field[i], ww__cells_at(cells, i), row, &more, err);
    if (status != WW_OK)
        return status;
    row->is_base = ww__readings_is_base_word(row->step) || ww__readings_is_base_word(row->tone);
    status = check_exposure(build, row, err);
    if (status == WW_OK)
        status = check_split(build, row, err);
    return status == WW_OK ? apply_spread(build, row, &more, err) : status;
}

ww_status ww__build_row(ww__build *build, const ww__cells *cells, size_t line, ww_error *err) {
    ww_row row = {.line = line};
    ww_status status;
    if (build->made.n == WW__ROWS_MOST)
        return ww_error_set_at(err, WW_EINPUT, build->file, line,
                               "more than %d rows; split the file", (int)WW__ROWS_MOST);
    status = ww__readings_reserve(&build->made, &build->capacity, err);
    if (status == WW_OK)
        status = fill_row(build, cells, &row, err);
    if (status != WW_OK) {
        ww__readings_row_release(&row);
        return status;
    }
    build->made.row[build->made.n++] = row;
    return WW_OK;
}

static bool has_reading(const ww_readings *readings) {
    for (size_t i = 0; i < readings->n; i++)
        for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
            if (!ww__readings_is_control((ww_column)c) &&
                readings->row[i].cell[c].state != WW_CELL_MISSING)
                return true;
    return false;
}

/* What is given and plays no part, as the definition of log exposure has it. */
static ww_status note_idle(ww_readings *made, ww_error *err) {
    const char *column = ww_exposure_column_name(made->exposure);
    ww_status status = WW_OK;
    if (made->exposure == WW_EXPOSURE_LOG_H && made->meta.log_h0.set)
        status =
            ww_notes_add(&made->notes, err, "log h0 plays no part beside the column %s", column);
    if (status == WW_OK && made->exposure > WW_EXPOSURE_WEDGE && made->meta.exposure_time_s.set)
        status = ww_notes_add(&made->notes, err, "exposure time plays no part beside the column %s",
                              column);
    return status;
}

/* To whoever wrote the file, all that is wrong with widths is what stands there. */
static ww_status check_widths(const ww__build *build, ww_error *err) {
    double *width = NULL;
    size_t n;
    ww_error why = WW_ERROR_INIT;
    const ww_status status = ww_readings_widths(&build->made, &width, &n, &why);
    free(width);
    if (status != WW_EMISMATCH && status != WW_EDOMAIN)
        return status == WW_OK ? WW_OK : ww_error_set(err, status, "%s", why.msg);
    return ww_error_set_at(err, WW_EINPUT, build->file, why.line, "%s", why.msg);
}

ww_status ww__build_finish(ww__build *build, ww_readings *readings, ww_error *err) {
    ww_status status;
    if (build->made.n == 0)
        return ww_error_set_at(
            err, WW_EINPUT, build->file, 0,
            "there are no rows of readings; add one line a step under the header");
    status = ww__number_finish(&build->rules, err);
    if (status == WW_OK)
        status = check_widths(build, err);
    if (status != WW_OK)
        return status;
    status = note_idle(&build->made, err);
    if (status == WW_OK && !has_reading(&build->made))
        status = ww_notes_add(&build->made.notes, err, "no row has a reading in it");
    if (status == WW_OK && build->file)
        status = ww__readings_text_copy(build->file, &build->made.file, err);
    if (status != WW_OK)
        return status;
    *readings = build->made;
    build->made = (ww_readings)WW_READINGS_INIT;
    return WW_OK;
}
