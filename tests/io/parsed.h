/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_IO_PARSED_H
#define WEDGEWORK_TESTS_IO_PARSED_H

#include "support/support.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/readings_file.h>

/* The text as a file of exactly that length, so that sanitizers see a step beyond its end. */
static inline ww_status parse_bytes(const char *text, size_t n, ww_readings *readings,
                                    ww_error *err) {
    char *exact = malloc(n > 0 ? n : 1);
    ww_status status;
    if (!exact)
        fail_msg("no memory for the test");
    memcpy(exact, text, n);
    status = ww_readings_file_parse("film.csv", exact, n, readings, err);
    free(exact);
    return status;
}

/* Readings of a text that must be good. */
static inline ww_readings parsed(const char *row, const char *text) {
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, parse_bytes(text, strlen(text), &readings, &err), WW_OK, &err);
    return readings;
}

/* One text that must be refused: in which line (0: none), and a word that the message must have. */
struct refusal {
    const char *name;
    const char *text;
    size_t line;
    const char *says;
};

static inline void check_refusal(const struct refusal *row, size_t n) {
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row->name, parse_bytes(row->text, n, &readings, &err), WW_EINPUT, &err);
    if (err.line != row->line)
        fail_msg("%s: line %zu, want %zu: %s", row->name, err.line, row->line, err.msg);
    if (strstr(err.msg, row->says) == NULL)
        fail_msg("%s: '%s' is not in: %s", row->name, row->says, err.msg);
    if (strpbrk(err.msg, ";:") == NULL)
        fail_msg("%s: no remedy in: %s", row->name, err.msg);
    test_text(row->name, err.file, "film.csv");
    test_true("untouched", readings.n == 0 && readings.row == NULL && readings.file == NULL);
}

static inline void check_refusals(const struct refusal rows[], size_t n) {
    for (size_t i = 0; i < n; i++)
        check_refusal(&rows[i], strlen(rows[i].text));
}

/* Whether a note holds a word. */
static inline bool noted(const ww_readings *readings, const char *word) {
    for (size_t i = 0; i < readings->notes.n; i++)
        if (strstr(readings->notes.text[i], word))
            return true;
    return false;
}

static inline void test_cell(const char *row, const ww_readings *readings, size_t i,
                             ww_column column, double want) {
    if (i >= readings->n || readings->row[i].cell[column].state != WW_CELL_VALUE)
        fail_msg("%s: row %zu has no %s", row, i, ww_column_name(column));
    test_close(row, readings->row[i].cell[column].value, want, 0.0);
}

#define ROWS(rows) (sizeof(rows) / sizeof((rows)[0]))

#endif
