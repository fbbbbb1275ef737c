/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_LOG_MADE_H
#define WEDGEWORK_TESTS_LOG_MADE_H

#include "support/control_case.h"
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/control_file.h>
#include <wedgework/control_log_file.h>

/* A folder with a place for a log in it. */
typedef struct log_place {
    char *folder, *path;
} log_place;

static inline log_place log_place_new(void) {
    log_place place = {.folder = test_folder_new()};
    place.path = test_path(place.folder, "control.db");
    return place;
}

static inline void log_place_remove(log_place *place) {
    free(place->path);
    test_folder_remove(place->folder);
}

/* Enters the last strip of a log in memory, against its reference. */
static inline ww_status log_enter(const char *path, const ww_control_log *made, long *number,
                                  ww_error *err) {
    const ww_control_strip *strip = &made->strip[made->n_strips - 1];
    const ww_control_entry entry = {.strip = strip,
                                    .reference = &made->reference[strip->reference]};
    return ww_control_log_add(path, &entry, number, err);
}

/* A log of n strips of one reference; memory is released by the caller. */
static inline ww_control_log log_made(const char *path, size_t n) {
    ww_control_log made = WW_CONTROL_LOG_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("reference",
                control_case_reference(&made, "# lot: 4127\n# status: M\n" CONTROL_WORKED, &err),
                WW_OK, &err);
    for (size_t i = 0; i < n; i++) {
        long number = 0;
        control_case_strip(&made, "film", "left", "2026-11-05", CONTROL_WORKED);
        test_status("add", log_enter(path, &made, &number, &err), WW_OK, &err);
        test_close("number", (double)number, (double)(i + 1), 0.0);
    }
    return made;
}

/* What another program does to the file. */
static inline void log_sql(const char *path, const char *sql) {
    sqlite3 *db = NULL;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
}

#endif
