/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats.h"
#include "base/escape.h"
#include "core/readings.h"
#include "io/cgats_densities.h"
#include "io/cgats_fields.h"
#include "io/cgats_keywords.h"
#include "io/cgats_spectra.h"
#include "io/cgats_tokens.h"
#include "io/lines.h"
#include "io/readings_build.h"
#include "io/readings_meta.h"
#include <string.h>
#include <wedgework/number.h>

/* Caps beside those of lines.h: no measured sheet comes near them. */
enum { NO_TABLE = -1, TABLES_MOST = 1000, DECLARED_MOST = 256 };

/* Where in a table the reader is. */
typedef enum place { IN_PREAMBLE, IN_FORMAT, IN_DATA } place;

/* The text is walked twice: first to see which table to take, then to take it. */
typedef struct sheet {
    const char *file;
    ww__cells tokens;   /* of the line at hand */
    ww__cells format;   /* field names of the table at hand */
    ww__cells declared; /* names made known by KEYWORD */
    place place;
    int table; /* number of tables begun so far, less one */
    int wanted;
    int best;
    int best_rank;
    size_t fields_stated, fields_line; /* counts that the file gives, 0 lines where it does not */
    size_t sets_stated, sets_line;
    size_t sets;
    size_t data_line;
    size_t others; /* tables that are not read, and the line of the first */
    size_t others_line;
    ww__build build;
    ww__cgats_spectra spectra;
    ww__meta_reader meta;
} sheet;

/* ---- preamble ---- */

static const char *token(const sheet *at, size_t i) {
    return i < at->tokens.n ? ww__cells_at(&at->tokens, i) : "";
}

static bool token_is(const sheet *at, const char *word) {
    return at->tokens.n > 0 && ww__words_equal(token(at, 0), word);
}

static ww_status read_count(const sheet *at, size_t line, size_t *count, size_t *stated_in,
                            ww_error *err) {
    double value = -1.0;
    char shown[64];
    ww__escape_message(token(at, 1), shown, sizeof shown);
    if (ww_number_parse(token(at, 1), '.', &value, NULL) != WW_OK || value < 0.0 || value > 1e9 ||
        value > (double)(size_t)value)
        return ww_error_set_at(err, WW_EINPUT, at->file, line,
                               "%s '%s' is not a whole number; correct it, or take the line out",
                               token(at, 0), shown);
    *count = (size_t)value;
    *stated_in = line;
    return WW_OK;
}

/* Keywords that come before the wanted table, and that mean something here. */
static ww_status read_keyword(sheet *at, size_t line, ww_error *err) {
    if (token_is(at, "NUMBER_OF_FIELDS"))
        return read_count(at, line, &at->fields_stated, &at->fields_line, err);
    if (token_is(at, "NUMBER_OF_SETS"))
        return read_count(at, line, &at->sets_stated, &at->sets_line, err);
    if (token_is(at, "KEYWORD") && at->declared.n == DECLARED_MOST)
        return ww_error_set_at(err, WW_EINPUT, at->file, line,
                               "more than %d KEYWORD lines; take out those that are not used",
                               (int)DECLARED_MOST);
    if (token_is(at, "KEYWORD"))
        return ww__cells_add(&at->declared, token(at, 1), strlen(token(at, 1)), err);
    if (at->wanted == NO_TABLE || at->table >= at->wanted)
        return WW_OK;
    return ww__cgats_keyword(at->file, line, token(at, 0), token(at, 1), &at->build.made, err);
}

/* ---- format ---- */

static bool is_declared(const sheet *at, const char *name) {
    for (size_t i = 0; i < at->declared.n; i++)
        if (ww__words_equal(name, ww__cells_at(&at->declared, i)))
            return true;
    return false;
}

static ww__field field_of(const sheet *at, const char *name) {
    ww__field field = {WW__ROLE_SKIP, 0, name};
    if (!ww__cgats_field_find(name, &field) && is_declared(at, name))
        ww__columns_find(name, &field);
    return field;
}

static ww_status note_others(sheet *at, size_t others, const char *first, ww_error *err) {
    char shown[64];
    ww__escape_message(first, shown, sizeof shown);
    if (others == 0)
        return WW_OK;
    return ww_notes_add(&at->build.made.notes, err, "%zu field%s not read, '%s' %s", others,
                        others == 1 ? " is" : "s are", shown,
                        others == 1 ? "by name" : "the first of them");
}

static ww_status add_fields(sheet *at, ww_error *err) {
    size_t others = 0;
    const char *first = "";
    for (size_t i = 0; i < at->format.n; i++) {
        const char *name = ww__cells_at(&at->format, i);
        const ww__field skip = {WW__ROLE_SKIP, 0, name}, field = field_of(at, name);
        const bool spectral = field.role >= WW__ROLE_WAVELENGTH;
        ww_status status =
            ww__build_field(&at->build, spectral ? &skip : &field, at->data_line, err);
        if (status == WW_OK)
            status = ww__cgats_spectra_field(&at->spectra, &field, i, at->file, at->data_line, err);
        if (status != WW_OK)
            return status;
        if (field.role == WW__ROLE_SKIP && others++ == 0)
            first = name;
    }
    return note_others(at, others, first, err);
}

/* A table begins: its format must be whole. */
static ww_status begin_data(sheet *at, size_t line, ww_error *err) {
    int rank = 0;
    if (++at->table == TABLES_MOST)
        return ww_error_set_at(err, WW_EINPUT, at->file, line,
                               "more than %d tables; split the file", (int)TABLES_MOST);
    at->sets = 0;
    at->data_line = line;
    at->place = IN_DATA;
    if (at->format.n == 0)
        return ww_error_set_at(
            err, WW_EINPUT, at->file, line,
            "BEGIN_DATA without field names before it; add BEGIN_DATA_FORMAT, the "
            "names, END_DATA_FORMAT");
    if (at->fields_line > 0 && at->fields_stated != at->format.n)
        return ww_error_set_at(err, WW_EINPUT, at->file, at->fields_line,
                               "NUMBER_OF_FIELDS is %zu, but %zu are named; correct the number, or "
                               "complete the names",
                               at->fields_stated, at->format.n);
    for (size_t i = 0; i < at->format.n; i++) {
        ww__field field = field_of(at, ww__cells_at(&at->format, i));
        int worth = ww__cgats_field_rank(&field);
        rank = worth > rank ? worth : rank;
    }
    if (rank > at->best_rank) {
        at->best_rank = rank;
        at->best = at->table;
    }
    return at->table == at->wanted ? add_fields(at, err) : WW_OK;
}

/* ---- data ---- */

static ww_status read_set(sheet *at, const char *line, size_t n, size_t number, ww_error *err) {
    ww_status status = WW_OK;
    bool tabs = memchr(line, '\t', n) != NULL;
    at->sets++;
    if (at->table != at->wanted)
        return WW_OK;
    if (tabs)
        status = ww__cgats_split_tabs(&at->tokens, line, n, err);
    if (status == WW_OK && (!tabs || at->tokens.n != at->format.n))
        status = ww__cgats_split_blanks(&at->tokens, at->file, line, n, number, err);
    if (status != WW_OK)
        return status;
    if (at->tokens.n != at->format.n)
        return ww_error_set_at(
            err, WW_EINPUT, at->file, number,
            "%zu values where %zu fields are named; give one line a sample, texts "
            "with spaces in quotes",
            at->tokens.n, at->format.n);
    at->build.rules.decimal_comma = tabs;
    status = ww__build_row(&at->build, &at->tokens, number, err);
    return status == WW_OK ? ww__cgats_spectra_row(&at->spectra, &at->build.rules, &at->tokens,
                                                   at->build.made.n - 1, number, err)
                           : status;
}

static ww_status end_data(sheet *at, size_t line, ww_error *err) {
    bool counted = at->sets_line > 0;
    size_t stated_in = at->sets_line;
    at->place = IN_PREAMBLE;
    at->fields_line = 0;
    at->sets_line = 0;
    if (counted && at->sets != at->sets_stated)
        return ww_error_set_at(
            err, WW_EINPUT, at->file, line,
            "%zu rows of data, but NUMBER_OF_SETS in line %zu is %zu; complete the "
            "rows, or correct the number",
            at->sets, stated_in, at->sets_stated);
    if (at->wanted != NO_TABLE && at->table != at->wanted && at->others++ == 0)
        at->others_line = at->data_line;
    return WW_OK;
}

/* ---- the walk ---- */

static ww_status add_names(sheet *at, size_t from, size_t line, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = from; i < at->tokens.n && status == WW_OK; i++) {
        if (ww__words_equal(token(at, i), "END_DATA_FORMAT")) {
            at->place = IN_PREAMBLE;
            break;
        }
        if (at->format.n == WW__FIELDS_MOST)
            return ww_error_set_at(err, WW_EINPUT, at->file, line,
                                   "more than %d fields; this is no table of readings",
                                   (int)WW__FIELDS_MOST);
        status = ww__cells_add(&at->format, token(at, i), strlen(token(at, i)), err);
    }
    return status;
}

static ww_status read_line(sheet *at, const char *line, size_t n, size_t number, ww_error *err) {
    ww_status status;
    if (at->place == IN_DATA && !(n >= 8 && strncmp(line, "END_DATA", 8) == 0))
        return read_set(at, line, n, number, err);
    status = ww__cgats_split_blanks(&at->tokens, at->file, line, n, number, err);
    if (status != WW_OK)
        return status;
    if (at->place == IN_DATA)
        return end_data(at, number, err);
    if (at->place == IN_FORMAT)
        return add_names(at, 0, number, err);
    if (token_is(at, "BEGIN_DATA_FORMAT")) {
        at->place = IN_FORMAT;
        ww__cells_clear(&at->format);
        return add_names(at, 1, number, err);
    }
    if (token_is(at, "BEGIN_DATA") && at->tokens.n == 1)
        return begin_data(at, number, err);
    if (token_is(at, "BEGIN_DATA"))
        return ww_error_set_at(err, WW_EINPUT, at->file, number,
                               "text after BEGIN_DATA in the same line; begin a new line for it");
    return number == 1 ? WW_OK : read_keyword(at, number, err);
}

/* A comment may not change the status that a keyword has given, no more than a keyword may. */
static ww_status read_comment(sheet *at, const char *comment, size_t n, size_t number,
                              ww_error *err) {
    const ww_density_status before = at->build.made.meta.status;
    if (at->wanted == NO_TABLE)
        return WW_OK;
    const ww_status status = ww__readings_meta_line(&at->meta, comment, n, number, NULL, err);
    const ww_density_status now = at->build.made.meta.status;
    if (status != WW_OK || before == WW_STATUS_UNKNOWN || now == before)
        return status;
    return ww_error_set_at(err, WW_EINPUT, at->file, number,
                           "density status '%s' contradicts status %s given before; keep the true "
                           "one",
                           ww_density_status_name(now), ww_density_status_name(before));
}

static ww_status walk(sheet *at, const char *bytes, size_t n, ww_error *err) {
    ww__lines lines = ww__lines_of(bytes, n);
    const char *line;
    size_t length;
    ww_status status = WW_OK;
    while (status == WW_OK && ww__lines_next(&lines, &line, &length)) {
        size_t comment = ww__cgats_comment(line, length);
        const char *rest = line + comment;
        size_t rest_n = length - comment;
        if (length > WW__LINE_MOST)
            return ww_error_set_at(err, WW_EINPUT, at->file, lines.line,
                                   "line longer than %d bytes; this is no table of readings",
                                   (int)WW__LINE_MOST);
        length = comment;
        ww__lines_trim(&line, &length);
        if (length > 0)
            status = read_line(at, line, length, lines.line, err);
        else if (rest_n > 1)
            status = read_comment(at, rest + 1, rest_n - 1, lines.line, err);
    }
    if (status == WW_OK && at->place != IN_PREAMBLE)
        status = ww_error_set_at(err, WW_EINPUT, at->file, lines.line,
                                 "the file ends before %s; is it whole?",
                                 at->place == IN_DATA ? "END_DATA" : "END_DATA_FORMAT");
    return status;
}

/* One walk; the build keeps what it brought. */
static ww_status walk_for(sheet *at, int wanted, const char *bytes, size_t n, ww_error *err) {
    at->place = IN_PREAMBLE;
    at->table = NO_TABLE;
    at->wanted = wanted;
    at->fields_line = 0;
    at->sets_line = 0;
    ww__cells_clear(&at->format);
    ww__cells_clear(&at->declared);
    return walk(at, bytes, n, err);
}

bool ww__cgats_is(const char *bytes, size_t n) {
    static const char *const firsts[] = {"CGATS", "IT8", "ISO28178", "ISO 28178"};
    static const char format[] = "BEGIN_DATA_FORMAT";
    ww__lines lines = ww__lines_of(bytes, n);
    const char *line;
    size_t length;
    while (ww__lines_next(&lines, &line, &length)) {
        ww__lines_trim(&line, &length);
        for (size_t i = 0; lines.line == 1 && i < sizeof firsts / sizeof *firsts; i++)
            if (length >= strlen(firsts[i]) && strncmp(line, firsts[i], strlen(firsts[i])) == 0)
                return true;
        if (length >= sizeof format - 1 && strncmp(line, format, sizeof format - 1) == 0)
            return true;
    }
    return false;
}

ww_status ww__cgats_parse(const char *file, const char *bytes, size_t n, ww_readings *readings,
                          ww_error *err) {
    sheet at = {.file = file,
                .tokens = WW__CELLS_INIT,
                .format = WW__CELLS_INIT,
                .declared = WW__CELLS_INIT,
                .best = NO_TABLE};
    ww_status status;
    at.build = ww__build_begin(file);
    at.meta = (ww__meta_reader){
        .file = file, .meta = &at.build.made.meta, .notes = &at.build.made.notes, .foreign = true};
    status = walk_for(&at, NO_TABLE, bytes, n, err);
    if (status == WW_OK && at.best == NO_TABLE)
        status =
            ww_error_set_at(err, WW_EINPUT, file, 0,
                            "%s; export the fields D_RED, D_GREEN, D_BLUE and D_VIS, or spectra",
                            at.table == NO_TABLE ? "there is no BEGIN_DATA in it"
                                                 : "no table has densities or colours");
    if (status == WW_OK)
        status = walk_for(&at, at.best, bytes, n, err);
    if (status == WW_OK && at.others > 0)
        status = ww_notes_add(&at.build.made.notes, err,
                              "only table %d is read; %zu other%s, from line %zu, %s left out",
                              at.best + 1, at.others, at.others == 1 ? "" : "s", at.others_line,
                              at.others == 1 ? "is" : "are");
    if (status == WW_OK)
        status = ww__cgats_densities_make(&at.spectra, file, &at.build.made, err);
    if (status == WW_OK)
        status = ww__build_finish(&at.build, readings, err);
    ww__cgats_spectra_release(&at.spectra);
    ww__build_release(&at.build);
    ww__cells_release(&at.tokens);
    ww__cells_release(&at.format);
    ww__cells_release(&at.declared);
    return status;
}
