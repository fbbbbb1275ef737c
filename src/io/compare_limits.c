/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "io/input.h"
#include "io/lines.h"
#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/compare_file.h>
#include <wedgework/number.h>

enum { FILE_MOST = 1 << 20, CELL_MOST = 64 };
static const double highest = 100.0; /* no difference of a print's D or of CIEDE2000 is more */

/* A line of the table in its two cells; what was between them is in `mark`. */
typedef struct table_line {
    char name[CELL_MOST], number[CELL_MOST];
    char mark;
} table_line;

static bool take_cell(const char *start, size_t n, char cell[CELL_MOST]) {
    ww__lines_trim(&start, &n);
    if (n >= CELL_MOST || memchr(start, '\0', n))
        return false;
    memcpy(cell, start, n);
    cell[n] = '\0';
    return true;
}

static bool split(const char *start, size_t n, table_line *line) {
    static const char marks[] = {'\t', ';', ','};
    for (size_t i = 0; i < sizeof marks; i++) {
        const char *at = memchr(start, marks[i], n);
        if (!at)
            continue;
        line->mark = marks[i];
        return take_cell(start, (size_t)(at - start), line->name) &&
               take_cell(at + 1, n - (size_t)(at - start) - 1, line->number);
    }
    return false;
}

static ww_status take_limit(const char *file, size_t at, const table_line *line,
                            ww_compare_limits *limits, ww_error *err) {
    char shown[200];
    ww_error why = WW_ERROR_INIT;
    const char mark = line->mark != ',' && strchr(line->number, ',') ? ',' : '.';
    int k = 0;
    double most;
    while (k < WW_LIMIT_COUNT &&
           !ww__words_equal(line->name, ww_compare_limit_name((ww_compare_limit)k)))
        k++;
    if (k == WW_LIMIT_COUNT)
        return ww_error_set_at(err, WW_EINPUT, file, at,
                               "'%s' is no limit; limits are white, black, light, middle, dark, "
                               "drift, de2000_mean, de2000_max and neutral_ab",
                               ww__escape_message(line->name, shown, sizeof shown));
    if (limits->most[k].set)
        return ww_error_set_at(err, WW_EINPUT, file, at,
                               "the limit %s stands here a second time; leave one of them out",
                               ww_compare_limit_name((ww_compare_limit)k));
    if (ww_number_parse(line->number, mark, &most, &why) != WW_OK)
        return ww_error_set_at(err, WW_EINPUT, file, at, "limit %s: %s",
                               ww_compare_limit_name((ww_compare_limit)k), why.msg);
    if (!(most > 0.0 && most <= highest))
        return ww_error_set_at(err, WW_EINPUT, file, at,
                               "limit %s is '%s'; give the size of a difference, above 0 and up "
                               "to 100",
                               ww_compare_limit_name((ww_compare_limit)k),
                               ww__escape_message(line->number, shown, sizeof shown));
    limits->most[k] = (ww_optional){true, most};
    return WW_OK;
}

static ww_status take_header(const char *file, size_t at, const table_line *line, bool good,
                             ww_error *err) {
    if (good && ww__words_equal(line->name, "limit") && ww__words_equal(line->number, "most"))
        return WW_OK;
    return ww_error_set_at(err, WW_EINPUT, file, at,
                           "this is no table of limits; its first line is limit,most and each "
                           "other one names a limit, as white,0.02");
}

ww_status ww_compare_limits_parse(const char *name, const char bytes[], size_t n,
                                  ww_compare_limits *limits, ww_error *err) {
    static const char mark[] = "\xEF\xBB\xBF";
    const size_t skip = n >= 3 && memcmp(bytes, mark, 3) == 0 ? 3 : 0;
    ww__lines lines = ww__lines_of(bytes + skip, n - skip);
    ww_compare_limits made = WW_COMPARE_LIMITS_INIT;
    ww_status status = WW_OK;
    bool headed = false, any = false;
    const char *start;
    size_t length;
    assert(limits);
    while (status == WW_OK && ww__lines_next(&lines, &start, &length)) {
        table_line line = {"", "", ','};
        ww__lines_trim(&start, &length);
        if (length == 0 || start[0] == '#')
            continue;
        const bool good = split(start, length, &line);
        if (!headed)
            status = take_header(name, lines.line, &line, good, err);
        else if (!good)
            status = ww_error_set_at(err, WW_EINPUT, name, lines.line,
                                     "this line is not a limit and its size; write for instance "
                                     "white,0.02");
        else
            status = take_limit(name, lines.line, &line, &made, err);
        any = any || headed;
        headed = true;
    }
    if (status == WW_OK && !any)
        status = ww_error_set_at(err, WW_EINPUT, name, 0,
                                 "no limit stands here; write limit,most and below it for instance "
                                 "white,0.02");
    if (status == WW_OK)
        *limits = made;
    return status;
}

ww_status ww_compare_limits_read(const char *path, ww_compare_limits *limits, ww_error *err) {
    char *bytes = NULL;
    size_t n = 0;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status == WW_OK)
        status = ww_compare_limits_parse(ww__input_name(path), bytes, n, limits, err);
    free(bytes);
    return status;
}
