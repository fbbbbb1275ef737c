/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_LINES_H
#define WEDGEWORK_IO_LINES_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>

/* Caps that keep a wrong file from eating the machine; each has its message. */
enum {
    WW__TEXT_MOST = 255,
    WW__LINE_MOST = 1 << 20,
    WW__ROWS_MOST = 100000,
    WW__FIELDS_MOST = 4096
};

/* Walks the lines of a text, whether they end in LF, CRLF or CR. */
typedef struct ww__lines {
    const char *at;
    const char *end;
    size_t line; /* number of the line that came last, from 1 */
} ww__lines;

ww__lines ww__lines_of(const char *bytes, size_t n);

/* The next line, without its end; false when there is none. */
bool ww__lines_next(ww__lines *lines, const char **start, size_t *n);

/* Takes white space off both ends. */
void ww__lines_trim(const char **start, size_t *n);

/* The cells of one line: NUL-terminated texts in one block. */
typedef struct ww__cells {
    char *bytes;
    size_t used;
    size_t room;
    size_t *start;
    size_t n;
    size_t capacity;
} ww__cells;

#define WW__CELLS_INIT                                                                             \
    { NULL, 0, 0, NULL, 0, 0 }

void ww__cells_clear(ww__cells *cells);
ww_status ww__cells_add(ww__cells *cells, const char *bytes, size_t n, ww_error *err);
const char *ww__cells_at(const ww__cells *cells, size_t i);
void ww__cells_release(ww__cells *cells);

/* Words are compared without case, in ASCII, whatever the locale. */
bool ww__words_equal(const char *a, const char *b);

/* Whether `a` looks like a slip for `b`: at most two letters off, and at most a third of it. */
bool ww__words_near(const char *a, const char *b);

/*
 * Why a text can't be a label or a note of the user's, with the remedy: too long, not UTF-8,
 * control characters. NULL where it can.
 */
const char *ww__lines_text_problem(const char *text);

#endif
