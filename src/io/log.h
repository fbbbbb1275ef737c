/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_LOG_H
#define WEDGEWORK_IO_LOG_H

#include <sqlite3.h>
#include <stdbool.h>
#include <wedgework/control_log_file.h>

/* A log that is open. */
typedef struct ww__log {
    sqlite3 *db;
    const char *name; /* as messages call it */
    bool writes;
    bool empty; /* no tables yet */
} ww__log;

#define WW__LOG_INIT                                                                               \
    { .db = NULL }

/*
 * ww__log_open   - for reading, in a transaction: what is read is of one moment.
 * ww__log_begin  - for writing, in a transaction; `make` a log that is not there.
 * ww__log_commit - keeps what was written, where `status` is WW_OK, and closes; else all is as
 *                  before. Returns `status`, or that of keeping it.
 * ww__log_close  - without keeping anything.
 */
ww_status ww__log_open(const char *path, ww__log *log, ww_error *err);
ww_status ww__log_begin(const char *path, bool make, ww__log *log, ww_error *err);
ww_status ww__log_commit(ww__log *log, ww_status status, ww_error *err);
void ww__log_close(ww__log *log);

/* What SQLite refused, as a status with its message. */
ww_status ww__log_refuse(const ww__log *log, int code, ww_error *err);

/* The log holds what no program of ours writes. */
ww_status ww__log_damaged(const ww__log *log, const char *what, ww_error *err);

/*
 * ww__log_do - one statement that gives no rows.
 *
 * Given     kinds   a letter a value: 't' a text, 'n' a text that is NULL where it is "", 'c' one
 *                   of any length and characters, 'i' a long, 'd' a double, 'o' a ww_optional, NULL
 *                   where it is not set
 * Status    WW_OK; WW_EINPUT also a text over 255 bytes, not UTF-8, or with control characters
 */
ww_status ww__log_do(ww__log *log, ww_error *err, const char *sql, const char *kinds, ...);

/* ww__log_rows - a statement's rows, one after the other. Its values as above, in `values`. */
typedef ww_status ww__log_row(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err);
ww_status ww__log_rows(ww__log *log, ww__log_row *take, void *of, ww_error *err, const char *sql,
                       const char *kinds, ...);

/* Takes a row of one number into a long. */
ww_status ww__log_take_number(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err);

/* The number of the row that was entered last. */
long ww__log_number(const ww__log *log);

/* A cell: a text to own, a number, one that may be missing. WW_EINPUT it is none of ours. */
ww_status ww__log_text(ww__log *log, sqlite3_stmt *row, int column, char **text, ww_error *err);
ww_status ww__log_real(ww__log *log, sqlite3_stmt *row, int column, ww_optional *value,
                       ww_error *err);
ww_status ww__log_channel(ww__log *log, sqlite3_stmt *row, int column, ww_channel *channel,
                          ww_error *err);

#endif
