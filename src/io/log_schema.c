/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/log_schema.h"
#include "base/text.h"
#include <stdio.h>

/*
 * Strict tables: a number cannot come back as a text. Rows are entered and never changed or
 * removed, which makes a deletion an entry of its own. Channels are words, so that the file can be
 * read by whoever has SQLite alone.
 */
static const char schema[] =
    "CREATE TABLE reference (number INTEGER PRIMARY KEY AUTOINCREMENT, lot TEXT NOT NULL,"
    " entered TEXT NOT NULL, status TEXT NOT NULL, density TEXT NOT NULL, process TEXT NOT NULL,"
    " content TEXT NOT NULL UNIQUE) STRICT;"
    "CREATE TABLE reference_step (reference INTEGER NOT NULL REFERENCES reference (number),"
    " place INTEGER NOT NULL, channel TEXT NOT NULL, step TEXT NOT NULL, tone TEXT NOT NULL,"
    " density REAL NOT NULL, correction REAL NOT NULL,"
    " PRIMARY KEY (reference, place, channel)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE strip (number INTEGER PRIMARY KEY AUTOINCREMENT, process TEXT NOT NULL,"
    " machine TEXT NOT NULL, lot TEXT NOT NULL, date TEXT NOT NULL, entered TEXT NOT NULL,"
    " reference INTEGER NOT NULL REFERENCES reference (number)) STRICT;"
    /* No density: beyond the instrument. */
    "CREATE TABLE strip_step (strip INTEGER NOT NULL REFERENCES strip (number),"
    " place INTEGER NOT NULL, channel TEXT NOT NULL, step TEXT NOT NULL, density REAL,"
    " PRIMARY KEY (strip, place, channel)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE deletion (strip INTEGER PRIMARY KEY REFERENCES strip (number),"
    " entered TEXT NOT NULL, why TEXT NOT NULL) STRICT;"
    "CREATE TABLE note (number INTEGER PRIMARY KEY AUTOINCREMENT,"
    " strip INTEGER REFERENCES strip (number), process TEXT NOT NULL, machine TEXT NOT NULL,"
    " date TEXT NOT NULL, text TEXT NOT NULL, entered TEXT NOT NULL) STRICT;"
    "CREATE TABLE baseline (number INTEGER PRIMARY KEY AUTOINCREMENT, process TEXT NOT NULL,"
    " machine TEXT NOT NULL, reference INTEGER NOT NULL REFERENCES reference (number),"
    " first INTEGER NOT NULL CHECK (first >= 0),"
    " strips INTEGER NOT NULL CHECK (strips BETWEEN 10 AND 20),"
    " why TEXT NOT NULL, entered TEXT NOT NULL) STRICT;"
    "CREATE TABLE limits (number INTEGER PRIMARY KEY AUTOINCREMENT, process TEXT NOT NULL,"
    " entered TEXT NOT NULL) STRICT;"
    "CREATE TABLE limit_line (limits INTEGER NOT NULL REFERENCES limits (number),"
    " place INTEGER NOT NULL, measure TEXT NOT NULL, channel TEXT, below REAL, above REAL,"
    " action_below REAL, action_above REAL, PRIMARY KEY (limits, place)) STRICT, WITHOUT ROWID;";

ww_status ww__log_make_schema(ww__log *log, ww_error *err) {
    char marks[120];
    int code = sqlite3_exec(log->db, schema, NULL, NULL, NULL);
    snprintf(marks, sizeof marks, "PRAGMA application_id = %d; PRAGMA user_version = %d",
             (int)WW__LOG_APPLICATION, (int)WW__LOG_VERSION);
    if (code == SQLITE_OK)
        code = sqlite3_exec(log->db, marks, NULL, NULL, NULL);
    log->empty = false;
    return code == SQLITE_OK ? WW_OK : ww__log_refuse(log, code, err);
}

static ww_status take_check(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    const char *said = (const char *)sqlite3_column_text(row, 0);
    (void)of;
    return ww__text_same(said, "ok") ? WW_OK : ww__log_damaged(log, said ? said : "no check", err);
}

/* Triggers and views are not ours: what is entered must be what is read. */
static const char odd[] = "SELECT count(*) FROM sqlite_schema WHERE type IN ('trigger', 'view')";

static ww_status check_own(ww__log *log, long application, long version, ww_error *err) {
    long strange = 0;
    ww_status status;
    if (application != WW__LOG_APPLICATION)
        return ww_error_set_at(err, WW_EINPUT, log->name, 0,
                               "this is an SQLite file of another program, no control log; it was "
                               "left as it is. Give --log the log, or a new name to begin one");
    if (version > WW__LOG_VERSION || version < 1)
        return ww_error_set_at(err, WW_EINPUT, log->name, 0,
                               "this log was made by a newer version of the program (its tables "
                               "are version %ld, known here is %d); it was left as it is. Use that "
                               "version, or import what it exports",
                               version, (int)WW__LOG_VERSION);
    status = ww__log_rows(log, ww__log_take_number, &strange, err, odd, "");
    if (status == WW_OK && strange > 0)
        status =
            ww__log_damaged(log, "it holds triggers or views, which no program of ours makes", err);
    return status == WW_OK ? ww__log_rows(log, take_check, NULL, err, "PRAGMA quick_check(1)", "")
                           : status;
}

ww_status ww__log_check_schema(ww__log *log, ww_error *err) {
    long application = 0, version = 0, tables = 0;
    ww_status status = ww__log_rows(log, ww__log_take_number, &tables, err,
                                    "SELECT count(*) FROM sqlite_schema", "");
    if (status == WW_OK)
        status =
            ww__log_rows(log, ww__log_take_number, &application, err, "PRAGMA application_id", "");
    if (status == WW_OK)
        status = ww__log_rows(log, ww__log_take_number, &version, err, "PRAGMA user_version", "");
    if (status != WW_OK)
        return status;
    log->empty = tables == 0 && application == 0 && version == 0;
    return log->empty ? WW_OK : check_own(log, application, version, err);
}
