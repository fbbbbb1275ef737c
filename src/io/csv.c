/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/csv.h"
#include "base/escape.h"
#include "base/text.h"
#include "io/lines.h"
#include "io/readings_build.h"
#include "io/readings_meta.h"
#include <csv.h>
#include <string.h>
#include <wedgework/number.h>

/* One file on its way to a table. */
typedef struct table {
    const char *file;
    char separator;
    struct csv_parser parser;
    ww__cells header;
    ww__cells cells; /* of the line at hand */
    bool ended;      /* the parser met the end of that line */
    ww_error *err;   /* where the parser's callbacks report, and what */
    ww_status status;
    bool has_header;
    size_t hidden; /* comments that look like rows, and the line of the first */
    size_t hidden_line;
    ww__build build;
    ww__meta_reader meta;
} table;

/* ---- lines ---- */

static bool is_blank(const char *line, size_t n) {
    ww__lines_trim(&line, &n);
    return n == 0;
}

/*
 * The text after '#', where the line is a comment. Spreadsheets write comments back as cells:
 * quoted, and followed by empty ones; such a line is a comment too.
 */
static bool comment_of(const char *line, size_t n, ww__text *comment) {
    size_t i;
    comment->n = 0;
    ww__lines_trim(&line, &n);
    if (n > 0 && line[0] == '#') {
        ww__text_add_bytes(comment, line + 1, n - 1);
        return true;
    }
    if (n < 2 || line[0] != '"' || line[1] != '#')
        return false;
    for (i = 2; i < n; i++) {
        bool quote = line[i] == '"';
        if (quote && (i + 1 == n || line[i + 1] != '"'))
            break;
        i += quote;
        ww__text_add_bytes(comment, line + i, 1);
    }
    i++; /* past the closing quote */
    while (i < n && (line[i] == ',' || line[i] == ';' || line[i] == '\t' || line[i] == ' '))
        i++;
    return i >= n;
}

/* Separators do not occur in column names: a tab settles it, then a semicolon. */
static char find_separator(const char *line, size_t n) {
    if (memchr(line, '\t', n))
        return '\t';
    return memchr(line, ';', n) ? ';' : ',';
}

static void add_cell(void *bytes, size_t n, void *context) {
    table *at = context;
    if (at->status == WW_OK)
        at->status = ww__cells_add(&at->cells, bytes, n, at->err);
}

static void end_line(int end, void *context) {
    table *at = context;
    (void)end;
    at->ended = true;
}

/* Every line is parsed by itself, so that an open quote cannot swallow the rest of the file. */
static ww_status split(table *at, const char *line, size_t n, size_t number, ww_error *err) {
    ww__cells_clear(&at->cells);
    at->ended = false;
    at->status = WW_OK;
    at->err = err;
    if (n > WW__LINE_MOST)
        return ww_error_set_at(err, WW_EINPUT, at->file, number,
                               "line longer than %d bytes; this is no table of readings",
                               (int)WW__LINE_MOST);
    if (csv_parse(&at->parser, line, n, add_cell, end_line, at) != n ||
        csv_parse(&at->parser, "\n", 1, add_cell, end_line, at) != 1) {
        if (csv_error(&at->parser) != CSV_EPARSE)
            return ww_error_set_at(err, WW_EMEMORY, at->file, number, "no memory for this line");
        return ww_error_set_at(err, WW_EINPUT, at->file, number,
                               "a quote in the middle of a cell; put the whole cell in quotes and "
                               "double those inside");
    }
    if (at->status == WW_OK && !at->ended)
        return ww_error_set_at(
            err, WW_EINPUT, at->file, number,
            "a quote is opened and not closed in this line; close it, or put the "
            "cell on one line");
    return at->status;
}

/* ---- header ---- */

static ww_status refuse_name(const table *at, const char *name, size_t line, ww_error *err) {
    const char *meant = ww__columns_suggest(name);
    char shown[64];
    ww__escape_message(name, shown, sizeof shown);
    if (meant)
        return ww_error_set_at(err, WW_EINPUT, at->file, line,
                               "column '%s' is not known; write %s if that is meant, or take the "
                               "column out",
                               shown, meant);
    return ww_error_set_at(
        err, WW_EINPUT, at->file, line,
        "column '%s' is not known; the names are step, wedge, logh, stop, time, "
        "red, green, blue, visual, value, gray, cyan, magenta, yellow, soft, "
        "hard, L, a, b, Y, x, y, tone, part, pack, width, n, sd, between commas, semicolons or "
        "tabs",
        shown);
}

/* A heading that is a number is a row of data. */
static bool is_number(const char *text) {
    double value;
    return ww_number_parse(text, '.', &value, NULL) == WW_OK ||
           ww_number_parse(text, ',', &value, NULL) == WW_OK;
}

static ww_status check_header(const table *at, size_t line, ww_error *err) {
    bool any = false;
    for (size_t i = 0; i < at->header.n; i++)
        if (is_number(ww__cells_at(&at->header, i)))
            return ww_error_set_at(err, WW_EINPUT, at->file, line,
                                   "the first line must name the columns, but it holds a number; "
                                   "put a line such as step,wedge,visual above it");
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
        any = any || at->build.made.has[c];
    if (!any)
        return ww_error_set_at(err, WW_EINPUT, at->file, line,
                               "no column of readings; add visual, or red, green and blue");
    return WW_OK;
}

static ww_status read_header(table *at, const char *line, size_t n, size_t number, ww_error *err) {
    ww_status status;
    at->separator = find_separator(line, n);
    csv_set_delim(&at->parser, (unsigned char)at->separator);
    at->build.rules.comma_separated = at->separator == ',';
    status = split(at, line, n, number, err);
    if (status != WW_OK)
        return status;
    at->header = at->cells;
    at->cells = (ww__cells)WW__CELLS_INIT;
    at->has_header = true;
    for (size_t i = 0; i < at->header.n; i++) {
        const char *name = ww__cells_at(&at->header, i);
        ww__field field = {WW__ROLE_UNNAMED, 0, name};
        if (is_number(name))
            break; /* check_header says it */
        if (name[0] != '\0' && !ww__columns_find(name, &field))
            return refuse_name(at, name, number, err);
        status = ww__build_field(&at->build, &field, number, err);
        if (status != WW_OK)
            return status;
    }
    return check_header(at, number, err);
}

/* ---- rows ---- */

static bool all_empty(const ww__cells *cells, size_t from) {
    for (size_t i = from; i < cells->n; i++)
        if (ww__cells_at(cells, i)[0] != '\0')
            return false;
    return true;
}

static ww_status read_row(table *at, const char *line, size_t n, size_t number, ww_error *err) {
    size_t wanted = at->header.n;
    ww_status status = split(at, line, n, number, err);
    if (status != WW_OK)
        return status;
    if (all_empty(&at->cells, 0))
        return WW_OK;
    if (at->cells.n < wanted)
        return ww_error_set_at(
            err, WW_EINPUT, at->file, number,
            "%zu cells where the header names %zu columns; write - for a missing "
            "reading",
            at->cells.n, wanted);
    if (at->cells.n > wanted && !all_empty(&at->cells, wanted))
        return ww_error_set_at(
            err, WW_EINPUT, at->file, number, "%zu cells where the header names %zu columns; %s",
            at->cells.n, wanted,
            at->separator == ',' ? "if the commas are decimal ones, write points, or separate the "
                                   "columns by semicolons or tabs"
                                 : "take out what is too much");
    return ww__build_row(&at->build, &at->cells, number, err);
}

/* A row with '#' before it is out of the table; that deserves a word at the end. */
static void count_hidden_row(table *at, const ww__text *comment, size_t number) {
    size_t separators = 0;
    if (!at->has_header || at->header.n < 2)
        return;
    for (size_t i = 0; i < comment->n; i++)
        separators += comment->bytes[i] == at->separator;
    if (separators + 1 == at->header.n && at->hidden++ == 0)
        at->hidden_line = number;
}

static ww_status note_hidden_rows(table *at, ww_error *err) {
    if (at->hidden == 0)
        return WW_OK;
    return ww_notes_add(&at->build.made.notes, err,
                        "%zu line%s with # before what looks like a row, the first in line %zu, %s "
                        "left out",
                        at->hidden, at->hidden == 1 ? "" : "s", at->hidden_line,
                        at->hidden == 1 ? "is" : "are");
}

static ww_status read_comment(table *at, const ww__text *comment, size_t number, ww_error *err) {
    bool taken = false;
    ww_status status = ww__text_status(comment, err);
    if (status == WW_OK && comment->n > 0)
        status = ww__readings_meta_line(&at->meta, comment->bytes, comment->n, number, &taken, err);
    if (status == WW_OK && !taken)
        count_hidden_row(at, comment, number);
    return status;
}

/* The separator tells whether metadata may have decimal commas, so it is looked up first. */
static void look_ahead(table *at, const char *bytes, size_t n, ww__text *comment) {
    ww__lines lines = ww__lines_of(bytes, n);
    const char *line;
    size_t length;
    bool comma = false;
    while (ww__lines_next(&lines, &line, &length)) {
        if (is_blank(line, length) || comment_of(line, length, comment))
            continue;
        comma = find_separator(line, length) != ',';
        break;
    }
    at->build.rules.decimal_comma = comma;
    at->meta.decimal_comma = comma;
}

static ww_status read_lines(table *at, const char *bytes, size_t n, ww__text *comment,
                            ww_error *err) {
    ww__lines lines = ww__lines_of(bytes, n);
    ww_status status = WW_OK;
    const char *line;
    size_t length;
    while (status == WW_OK && ww__lines_next(&lines, &line, &length)) {
        if (is_blank(line, length))
            continue;
        if (comment_of(line, length, comment))
            status = read_comment(at, comment, lines.line, err);
        else if (!at->has_header)
            status = read_header(at, line, length, lines.line, err);
        else
            status = read_row(at, line, length, lines.line, err);
    }
    if (status == WW_OK && !at->has_header)
        status =
            ww_error_set_at(err, WW_EINPUT, at->file, 0,
                            "there is no table in it; give a line with the names of the columns "
                            "and one line a step");
    return status;
}

ww_status ww__csv_parse(const char *file, const char *bytes, size_t n, ww_readings *readings,
                        ww_error *err) {
    table at = {.file = file, .header = WW__CELLS_INIT, .cells = WW__CELLS_INIT};
    ww__text comment = WW__TEXT_INIT;
    ww_status status;
    if (csv_init(&at.parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return ww_error_set(err, WW_EMEMORY, "no memory to read a table");
    at.build = ww__build_begin(file);
    at.meta =
        (ww__meta_reader){.file = file, .meta = &at.build.made.meta, .notes = &at.build.made.notes};
    look_ahead(&at, bytes, n, &comment);
    status = read_lines(&at, bytes, n, &comment, err);
    if (status == WW_OK)
        status = note_hidden_rows(&at, err);
    if (status == WW_OK)
        status = ww__build_finish(&at.build, readings, err);
    ww__build_release(&at.build);
    ww__cells_release(&at.header);
    ww__cells_release(&at.cells);
    ww__text_release(&comment);
    csv_free(&at.parser);
    return status;
}
