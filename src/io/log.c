/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/log.h"
#include "base/escape.h"
#include "core/readings.h"
#include "io/lines.h"
#include "io/log_schema.h"
#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { BUSY_MS = 5000 };

/* --- what was refused ------------------------------------------------------------------------- */

static ww_status locked(const ww__log *log, ww_error *err) {
    return ww_error_set_at(err, WW_ESYSTEM, log->name, 0,
                           "another program has kept this log locked for %d s; end it, or wait, "
                           "and repeat. Nothing was written",
                           BUSY_MS / 1000);
}

static ww_status protected(const ww__log *log, ww_error *err) {
    return ww_error_set_at(err, WW_ESYSTEM, log->name, 0,
                           "this log, or the folder that it lies in, is write-protected; a log "
                           "needs to be written to, and a file beside it for the time of it. "
                           "Nothing was written");
}

ww_status ww__log_damaged(const ww__log *log, const char *what, ww_error *err) {
    return ww_error_set_at(err, WW_EINPUT, log->name, 0,
                           "this control log is damaged: %s; it was left as it is. Go on with a "
                           "copy that is whole, or with what `control export` wrote",
                           what);
}

ww_status ww__log_refuse(const ww__log *log, int code, ww_error *err) {
    const int sys = log->db ? sqlite3_system_errno(log->db) : 0;
    switch (code & 0xff) {
    case SQLITE_NOMEM:
        return ww_error_set(err, WW_EMEMORY, "no memory for a control log");
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return locked(log, err);
    case SQLITE_READONLY:
    case SQLITE_PERM:
        return protected(log, err);
    case SQLITE_FULL:
        return ww_error_set_at(err, WW_ESYSTEM, log->name, 0,
                               "the disk is full; make room and repeat. The log is as it was");
    case SQLITE_NOTADB:
        return ww_error_set_at(err, WW_EINPUT, log->name, 0,
                               "this is no control log but another kind of file; it was left as "
                               "it is. Give --log the log, or a new name to begin one");
    case SQLITE_CORRUPT:
    case SQLITE_CONSTRAINT:
    case SQLITE_MISMATCH:
        return ww__log_damaged(log, log->db ? sqlite3_errmsg(log->db) : "no log", err);
    case SQLITE_CANTOPEN:
        if (sys == 0 || sys == EACCES || sys == EROFS || sys == EPERM)
            return protected(log, err);
        break;
    case SQLITE_ERROR: /* a table or a column that is not there */
        return ww__log_damaged(log, sqlite3_errmsg(log->db), err);
    default:
        break;
    }
    if (sys == 0)
        return ww_error_set_at(err, WW_ESYSTEM, log->name, 0,
                               "the system refused to read or write this log (%s), which is as it "
                               "was; is there room for it, and may a file be so large?",
                               sqlite3_errstr(code));
    return ww_error_set_system(err, WW_ESYSTEM, sys, log->name,
                               "the system refused this log, which is as it was");
}

/* --- statements ------------------------------------------------------------------------------- */

static ww_status bad_text(const char *text, ww_error *err) {
    char shown[200];
    return ww_error_set(err, WW_EINPUT, "'%s' %s", ww__escape_message(text, shown, sizeof shown),
                        ww__lines_text_problem(text));
}

/* What would be damage when it is read is not written: *bad is such a text. */
static int bind(sqlite3_stmt *statement, const char *kinds, va_list *values, const char **bad) {
    int code = SQLITE_OK;
    for (int at = 1; *kinds && code == SQLITE_OK; at++, kinds++) {
        const char *text;
        ww_optional value;
        switch (*kinds) {
        case 't':
        case 'n':
        case 'c':
            text = va_arg(*values, const char *);
            if (*kinds != 'c' && ww__lines_text_problem(text))
                *bad = text;
            code = *kinds == 'n' && !*text
                       ? sqlite3_bind_null(statement, at)
                       : sqlite3_bind_text(statement, at, text, -1, SQLITE_STATIC);
            break;
        case 'i':
            code = sqlite3_bind_int64(statement, at, va_arg(*values, long));
            break;
        case 'd':
            code = sqlite3_bind_double(statement, at, va_arg(*values, double));
            break;
        default:
            assert(*kinds == 'o');
            value = va_arg(*values, ww_optional);
            code = value.set ? sqlite3_bind_double(statement, at, value.value)
                             : sqlite3_bind_null(statement, at);
        }
    }
    return code;
}

static ww_status walk(ww__log *log, ww__log_row *take, void *of, ww_error *err, const char *sql,
                      const char *kinds, va_list *values) {
    sqlite3_stmt *statement = NULL;
    const char *bad = NULL;
    ww_status status = WW_OK;
    int code = sqlite3_prepare_v2(log->db, sql, -1, &statement, NULL);
    if (code == SQLITE_OK)
        code = bind(statement, kinds, values, &bad);
    if (bad)
        status = bad_text(bad, err);
    while (code == SQLITE_OK && status == WW_OK) {
        code = sqlite3_step(statement);
        if (code == SQLITE_ROW) {
            code = SQLITE_OK;
            status = take ? take(log, statement, of, err) : WW_OK;
        }
    }
    if (status == WW_OK && code != SQLITE_DONE)
        status = ww__log_refuse(log, code, err);
    sqlite3_finalize(statement);
    return status;
}

ww_status ww__log_do(ww__log *log, ww_error *err, const char *sql, const char *kinds, ...) {
    va_list values;
    ww_status status;
    va_start(values, kinds);
    status = walk(log, NULL, NULL, err, sql, kinds, &values);
    va_end(values);
    return status;
}

ww_status ww__log_rows(ww__log *log, ww__log_row *take, void *of, ww_error *err, const char *sql,
                       const char *kinds, ...) {
    va_list values;
    ww_status status;
    va_start(values, kinds);
    status = walk(log, take, of, err, sql, kinds, &values);
    va_end(values);
    return status;
}

long ww__log_number(const ww__log *log) {
    return (long)sqlite3_last_insert_rowid(log->db);
}

/* --- cells ------------------------------------------------------------------------------------ */

ww_status ww__log_text(ww__log *log, sqlite3_stmt *row, int column, char **text, ww_error *err) {
    const char *found = (const char *)sqlite3_column_text(row, column);
    if (!found)
        return sqlite3_errcode(log->db) == SQLITE_NOMEM
                   ? ww__log_refuse(log, SQLITE_NOMEM, err)
                   : ww__log_damaged(log, "a text is missing", err);
    if (strlen(found) != (size_t)sqlite3_column_bytes(row, column) || ww__lines_text_problem(found))
        return ww__log_damaged(log, "a text in it is too long, or holds what is no text", err);
    return ww__readings_text_copy(found, text, err);
}

ww_status ww__log_real(ww__log *log, sqlite3_stmt *row, int column, ww_optional *value,
                       ww_error *err) {
    *value = (ww_optional){false, 0.0};
    if (sqlite3_column_type(row, column) == SQLITE_NULL)
        return WW_OK;
    *value = (ww_optional){true, sqlite3_column_double(row, column)};
    return isfinite(value->value) ? WW_OK : ww__log_damaged(log, "a number is not finite", err);
}

ww_status ww__log_take_number(ww__log *log, sqlite3_stmt *row, void *of, ww_error *err) {
    (void)log;
    (void)err;
    *(long *)of = (long)sqlite3_column_int64(row, 0);
    return WW_OK;
}

ww_status ww__log_channel(ww__log *log, sqlite3_stmt *row, int column, ww_channel *channel,
                          ww_error *err) {
    const char *found = (const char *)sqlite3_column_text(row, column);
    for (int c = 0; found && c < WW_CHANNEL_COUNT; c++)
        if (strcmp(found, ww_channel_name((ww_channel)c)) == 0) {
            *channel = (ww_channel)c;
            return WW_OK;
        }
    return ww__log_damaged(log, "a channel has no name of ours", err);
}

/* --- opening ---------------------------------------------------------------------------------- */

static ww_status check_file(const ww__log *log, bool make, ww_error *err) {
    struct stat found;
    if (stat(log->name, &found) != 0) {
        if (errno != ENOENT)
            return ww_error_set_system(err, WW_ESYSTEM, errno, log->name, "cannot be looked at");
        return make ? WW_OK
                    : ww_error_set_at(err, WW_EINPUT, log->name, 0,
                                      "there is no such log; `control add` begins one");
    }
    if (S_ISDIR(found.st_mode))
        return ww_error_set_at(err, WW_EINPUT, log->name, 0,
                               "this is a folder; give --log the name of a file in it");
    if (!S_ISREG(found.st_mode))
        return ww_error_set_at(err, WW_EINPUT, log->name, 0,
                               "a control log is a file on a disk; this is none");
    return WW_OK;
}

/* A name that SQLite takes for a file, whatever it begins with. */
static char *plain_name(const char *path) {
    const size_t n = strlen(path) + 3;
    char *name = malloc(n);
    if (name) {
        strcpy(name, path[0] == '/' ? "" : "./");
        strcat(name, path);
    }
    return name;
}

static int open_file(ww__log *log, const char *path, int flags) {
    char *name = plain_name(path);
    int code =
        name ? sqlite3_open_v2(name, &log->db, flags | SQLITE_OPEN_EXRESCODE, NULL) : SQLITE_NOMEM;
    free(name);
    if (code == SQLITE_OK)
        code = sqlite3_db_config(log->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_db_config(log->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_db_config(log->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_db_config(log->db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_busy_timeout(log->db, BUSY_MS);
    return code;
}

/* What a killed writer has left must be rolled back before anything is read, by who may write. */
static bool wants_rollback(int code) {
    return code == SQLITE_READONLY_ROLLBACK || code == SQLITE_READONLY_RECOVERY ||
           code == SQLITE_READONLY_CANTINIT;
}

static int start(ww__log *log, const char *path, int flags, const char *begin) {
    int code = open_file(log, path, flags);
    if (code == SQLITE_OK)
        code = sqlite3_exec(log->db,
                            "PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL;"
                            "PRAGMA cell_size_check = ON; PRAGMA temp_store = MEMORY",
                            NULL, NULL, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_exec(log->db, begin, NULL, NULL, NULL);
    /* The first look at the file itself. */
    if (code == SQLITE_OK)
        code = sqlite3_exec(log->db, "SELECT count(*) FROM sqlite_schema", NULL, NULL, NULL);
    return code;
}

static ww_status refuse(ww__log *log, int code, ww_error *err) {
    const ww_status status = ww__log_refuse(log, code, err);
    ww__log_close(log);
    return status;
}

ww_status ww__log_open(const char *path, ww__log *log, ww_error *err) {
    ww__log made = {.name = path};
    ww_status status = check_file(&made, false, err);
    int code;
    if (status != WW_OK)
        return status;
    code = start(&made, path, SQLITE_OPEN_READONLY, "BEGIN");
    if (wants_rollback(code)) {
        ww__log_close(&made);
        made = (ww__log){.name = path};
        code = start(&made, path, SQLITE_OPEN_READWRITE, "BEGIN");
    }
    if (code != SQLITE_OK)
        return refuse(&made, code, err);
    status = ww__log_check_schema(&made, err);
    if (status == WW_OK)
        *log = made;
    else
        ww__log_close(&made);
    return status;
}

ww_status ww__log_begin(const char *path, bool make, ww__log *log, ww_error *err) {
    ww__log made = {.name = path, .writes = true};
    const int flags = SQLITE_OPEN_READWRITE | (make ? SQLITE_OPEN_CREATE : 0);
    ww_status status = check_file(&made, make, err);
    int code;
    if (status != WW_OK)
        return status;
    code = start(&made, path, flags, "PRAGMA journal_mode = DELETE; BEGIN IMMEDIATE");
    /* A protected file is opened for reading all the same. */
    if (code == SQLITE_OK && sqlite3_db_readonly(made.db, "main") == 1)
        code = SQLITE_READONLY;
    if (code != SQLITE_OK)
        return refuse(&made, code, err);
    status = ww__log_check_schema(&made, err);
    if (status == WW_OK && made.empty)
        status = ww__log_make_schema(&made, err);
    if (status == WW_OK)
        *log = made;
    else
        ww__log_close(&made);
    return status;
}

ww_status ww__log_commit(ww__log *log, ww_status status, ww_error *err) {
    if (status == WW_OK)
        status = ww__log_do(log, err, "COMMIT", "");
    ww__log_close(log);
    return status;
}

void ww__log_close(ww__log *log) {
    sqlite3_close(log->db); /* rolls back what was not kept */
    *log = (ww__log)WW__LOG_INIT;
}
