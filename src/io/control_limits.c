/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/control_log.h"
#include "core/readings.h"
#include "io/input.h"
#include "io/lines.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/control_file.h>
#include <wedgework/number.h>

enum { FILE_MOST = 1 << 20, SHOWN = 200 };
static const double highest = 2.0; /* [D] no process is in control so far off */

typedef enum column { MEASURE, CHANNEL, ACTION, CONTROL, COLUMNS } column;

/* The table on its way. */
typedef struct table {
    const char *file;
    char mark;       /* between cells */
    int at[COLUMNS]; /* where each column stands; -1: it is not there */
    ww__cells cells;
    ww_control_limits made;
} table;

static ww_status cut(table *t, const char *start, size_t n, ww_error *err) {
    ww_status status = WW_OK;
    const char *end = start + n;
    ww__cells_clear(&t->cells);
    while (status == WW_OK) {
        const char *next = memchr(start, t->mark, (size_t)(end - start));
        const char *from = start;
        size_t length = (size_t)((next ? next : end) - start);
        ww__lines_trim(&from, &length);
        status = ww__cells_add(&t->cells, from, length, err);
        if (!next)
            break;
        start = next + 1;
    }
    return status;
}

/* --- the header ------------------------------------------------------------------------------ */

static ww_status no_table(const char *file, size_t line, ww_error *err) {
    return ww_error_set_at(err, WW_EINPUT, file, line,
                           "this is no table of limits; its first line is "
                           "measure,channel,action,control and each other one names a limit, as "
                           "LD,green,0.06,0.08");
}

static ww_status take_header(table *t, size_t line, ww_error *err) {
    static const char *const name[COLUMNS] = {"measure", "channel", "action", "control"};
    for (int c = 0; c < COLUMNS; c++)
        t->at[c] = -1;
    for (size_t i = 0; i < t->cells.n; i++) {
        int c = 0;
        while (c < COLUMNS && !ww__words_equal(ww__cells_at(&t->cells, i), name[c]))
            c++;
        if (c == COLUMNS || t->at[c] >= 0)
            return no_table(t->file, line, err);
        t->at[c] = (int)i;
    }
    return t->at[MEASURE] >= 0 && t->at[CONTROL] >= 0 ? WW_OK : no_table(t->file, line, err);
}

/* The comma, unless another mark stands there: with that go decimal commas. */
static char mark_of(const char *start, size_t n) {
    return memchr(start, '\t', n) ? '\t' : memchr(start, ';', n) ? ';' : ',';
}

/* --- limits ---------------------------------------------------------------------------------- */

static const char *cell(const table *t, column c) {
    return t->at[c] >= 0 && (size_t)t->at[c] < t->cells.n
               ? ww__cells_at(&t->cells, (size_t)t->at[c])
               : "";
}

/* "+0.05" above alone, "-0.05" below alone, "0.05" both. */
static ww_status take_size(const table *t, size_t line, const char *text, ww_optional *below,
                           ww_optional *above, ww_error *err) {
    const char mark = t->mark != ',' && strchr(text, ',') ? ',' : '.';
    char shown[SHOWN];
    ww_error why = WW_ERROR_INIT;
    double size;
    if (!*text || strcmp(text, "-") == 0)
        return WW_OK;
    if (ww_number_parse(text, mark, &size, &why) != WW_OK)
        return ww_error_set_at(err, WW_EINPUT, t->file, line, "limit of %s: %s",
                               ww__escape_message(cell(t, MEASURE), shown, sizeof shown), why.msg);
    if (!(fabs(size) > 0.0 && fabs(size) <= highest))
        return ww_error_set_at(err, WW_EINPUT, t->file, line,
                               "limit '%s'; give a deviation from the aim in D, up to 2, as 0.08, "
                               "or with a sign for one side",
                               ww__escape_message(text, shown, sizeof shown));
    if (*text != '+')
        *below = (ww_optional){true, -fabs(size)};
    if (*text != '-')
        *above = (ww_optional){true, fabs(size)};
    return WW_OK;
}

static ww_status take_channel(const table *t, size_t line, ww_channel *channel, ww_error *err) {
    const char *text = cell(t, CHANNEL);
    char shown[SHOWN];
    int c = 0;
    *channel = WW_CHANNEL_COUNT;
    if (!*text || strcmp(text, "-") == 0 || ww__words_equal(text, "colours"))
        return WW_OK;
    while (c < WW_CHANNEL_COUNT && !ww__words_equal(text, ww_channel_name((ww_channel)c)))
        c++;
    if (c == WW_CHANNEL_COUNT)
        return ww_error_set_at(err, WW_EINPUT, t->file, line,
                               "'%s' is no channel; write red, green, blue, visual, or nothing "
                               "for all",
                               ww__escape_message(text, shown, sizeof shown));
    *channel = (ww_channel)c;
    return WW_OK;
}

static bool both(ww_optional a, ww_optional b) {
    return a.set && b.set;
}

static ww_status check_limit(const table *t, size_t line, const ww_control_limit *limit,
                             ww_error *err) {
    char shown[SHOWN];
    ww__escape_message(limit->measure, shown, sizeof shown);
    if (!limit->below.set && !limit->above.set)
        return ww_error_set_at(err, WW_EINPUT, t->file, line,
                               "%s has no control limit; give one, as 0.08", shown);
    if ((both(limit->action_above, limit->above) &&
         limit->action_above.value > limit->above.value) ||
        (both(limit->action_below, limit->below) && limit->action_below.value < limit->below.value))
        return ww_error_set_at(err, WW_EINPUT, t->file, line,
                               "the action limit of %s is beyond its control limit; it warns "
                               "before that, so give the smaller one as action",
                               shown);
    for (size_t i = 0; i < t->made.n; i++) {
        const ww_control_limit *other = &t->made.limit[i];
        if (ww__words_equal(other->measure, limit->measure) && other->channel == limit->channel &&
            (both(other->above, limit->above) || both(other->below, limit->below)))
            return ww_error_set_at(err, WW_EINPUT, t->file, line,
                                   "the limit of %s stands here a second time; leave one out",
                                   shown);
    }
    return WW_OK;
}

static ww_status take_limit(table *t, size_t line, ww_error *err) {
    ww_control_limit one = {.measure = NULL};
    void *list = t->made.limit;
    const char *problem = ww__lines_text_problem(cell(t, MEASURE));
    ww_status status;
    if (problem || !*cell(t, MEASURE))
        return ww_error_set_at(err, WW_EINPUT, t->file, line,
                               "a limit's measure %s; write for instance LD",
                               problem ? problem : "is missing");
    status = ww__readings_text_copy(cell(t, MEASURE), &one.measure, err);
    if (status == WW_OK)
        status = take_channel(t, line, &one.channel, err);
    if (status == WW_OK)
        status = take_size(t, line, cell(t, CONTROL), &one.below, &one.above, err);
    if (status == WW_OK)
        status = take_size(t, line, cell(t, ACTION), &one.action_below, &one.action_above, err);
    if (status == WW_OK)
        status = check_limit(t, line, &one, err);
    if (status == WW_OK && !ww__control_room(&list, t->made.n, sizeof one))
        status = ww_error_set(err, WW_EMEMORY, "no memory for limits");
    t->made.limit = list;
    if (status == WW_OK)
        t->made.limit[t->made.n++] = one;
    else
        free(one.measure);
    return status;
}

static ww_status take_lines(table *t, const char *bytes, size_t n, ww_error *err) {
    ww__lines lines = ww__lines_of(bytes, n);
    ww_status status = WW_OK;
    const char *start;
    size_t length;
    while (status == WW_OK && ww__lines_next(&lines, &start, &length)) {
        const char *whole = start;
        size_t all = length;
        ww__lines_trim(&start, &length);
        if (length == 0 || start[0] == '#')
            continue;
        if (memchr(start, '\0', length))
            return no_table(t->file, lines.line, err);
        if (!t->mark) {
            t->mark = mark_of(start, length);
            status = cut(t, whole, all, err);
            status = status == WW_OK ? take_header(t, lines.line, err) : status;
        } else {
            status = cut(t, whole, all, err);
            if (status == WW_OK && t->cells.n > COLUMNS)
                status = no_table(t->file, lines.line, err);
            status = status == WW_OK ? take_limit(t, lines.line, err) : status;
        }
    }
    if (status == WW_OK && t->made.n == 0)
        status = no_table(t->file, 0, err);
    return status;
}

ww_status ww_control_limits_parse(const char *name, const char bytes[], size_t n,
                                  const char *entered, ww_control_limits *limits, ww_error *err) {
    static const char mark[] = "\xEF\xBB\xBF";
    const size_t skip = n >= 3 && memcmp(bytes, mark, 3) == 0 ? 3 : 0;
    table t = {.file = name, .cells = WW__CELLS_INIT};
    ww_status status = ww__readings_text_copy("", &t.made.process, err);
    assert(limits && entered);
    if (status == WW_OK)
        status = ww__readings_text_copy(entered, &t.made.entered, err);
    if (status == WW_OK)
        status = take_lines(&t, bytes + skip, n - skip, err);
    ww__cells_release(&t.cells);
    if (status == WW_OK)
        *limits = t.made;
    else
        ww_control_limits_release(&t.made);
    return status;
}

ww_status ww_control_limits_read(const char *path, const char *entered, ww_control_limits *limits,
                                 ww_error *err) {
    char *bytes = NULL;
    size_t n = 0;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status == WW_OK)
        status = ww_control_limits_parse(ww__input_name(path), bytes, n, entered, limits, err);
    free(bytes);
    return status;
}
