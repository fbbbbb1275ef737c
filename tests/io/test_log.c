/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/log.h"
#include "log_made.h"
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

/* Each way in which a file is no log, and what is said of it. Status: the interface. */
static void what_is_no_log(void **state) {
    static const struct {
        const char *row, *text, *says;
    } rows[] = {
        {"a text", "step,visual\nLD,0.7\nthis is a long enough text to look like a whole page\n",
         "no control log but another kind of file"},
        {"half a header", "SQLite format 3", "no control log but another kind of file"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        log_place place = log_place_new();
        ww_control_log log = WW_CONTROL_LOG_INIT;
        ww_error err = WW_ERROR_INIT;
        size_t n;
        char *bytes;
        test_file_write(place.path, rows[i].text);
        test_status(rows[i].row, ww_control_log_read(place.path, &log, &err), WW_EINPUT, &err);
        test_holds(rows[i].row, err.msg, rows[i].says);
        test_status(rows[i].row, ww_control_log_delete(place.path, 1, "x", "y", &err), WW_EINPUT,
                    &err);
        bytes = test_file_read(place.path, &n);
        test_text("left as it was", bytes, rows[i].text);
        free(bytes);
        log_place_remove(&place);
    }
}

static void missing_empty_and_folders(void **state) {
    log_place place = log_place_new();
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("missing", ww_control_log_read(place.path, &log, &err), WW_EINPUT, &err);
    test_holds("missing", err.msg, "no such log");
    test_status("not made", ww_control_log_delete(place.path, 1, "x", "y", &err), WW_EINPUT, &err);
    test_true("not made", test_folder_count(place.folder) == 0);
    test_status("folder", ww_control_log_read(place.folder, &log, &err), WW_EINPUT, &err);
    test_holds("folder", err.msg, "is a folder");
    test_status("device", ww_control_log_read("/dev/null", &log, &err), WW_EINPUT, &err);
    test_file_write(place.path, "");
    test_status("empty", ww_control_log_read(place.path, &log, &err), WW_OK, &err);
    test_true("nothing in it", log.n_strips == 0);
    ww_control_log_release(&log);
    log_place_remove(&place);
}

/* A name that SQLite would take for something else is a file's. */
static void names_are_names(void **state) {
    log_place place = log_place_new();
    char *here = getcwd(NULL, 0);
    ww_control_log made;
    (void)state;
    assert_int_equal(chdir(place.folder), 0);
    made = log_made(":memory:", 1);
    ww_control_log_release(&made);
    made = log_made("file:x?mode=memory", 1);
    ww_control_log_release(&made);
    test_true("two files", test_folder_count(".") == 2);
    assert_int_equal(chdir(here), 0);
    free(here);
    log_place_remove(&place);
}

static int protected_work(void *of) {
    const char *path = of;
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_error err = WW_ERROR_INIT;
    const bool reads = ww_control_log_read(path, &log, &err) == WW_OK && log.n_strips == 2;
    ww_status status;
    ww_control_log_release(&log);
    status = ww_control_log_delete(path, 1, "x", "y", &err);
    return reads && status == WW_ESYSTEM && strstr(err.msg, "write-protected") ? 7 : 1;
}

static void protected_logs_are_read(void **state) {
    log_place place = log_place_new();
    ww_control_log made = log_made(place.path, 2);
    (void)state;
    assert_int_equal(chmod(place.folder, 0755), 0);
    assert_int_equal(chmod(place.path, 0444), 0);
    assert_int_equal(test_as_plain_user(protected_work, place.path), 7);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

/* Another has it and does not let go. */
static void locked_for_long(void **state) {
    log_place place = log_place_new();
    ww_control_log made = log_made(place.path, 1), log = WW_CONTROL_LOG_INIT;
    sqlite3 *db = NULL;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(sqlite3_open(place.path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, "BEGIN EXCLUSIVE", NULL, NULL, NULL), SQLITE_OK);
    test_status("locked", ww_control_log_delete(place.path, 1, "x", "y", &err), WW_ESYSTEM, &err);
    test_holds("locked", err.msg, "locked for 5 s");
    sqlite3_close(db);
    test_status("free again", ww_control_log_read(place.path, &log, &err), WW_OK, &err);
    ww_control_log_release(&log);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

static void words_of_what_sqlite_refuses(void **state) {
    static const struct {
        int code;
        ww_status status;
        const char *says;
    } rows[] = {{SQLITE_FULL, WW_ESYSTEM, "disk is full"},
                {SQLITE_BUSY, WW_ESYSTEM, "locked"},
                {SQLITE_READONLY_DIRECTORY, WW_ESYSTEM, "write-protected"},
                {SQLITE_NOMEM, WW_EMEMORY, "no memory"},
                {SQLITE_CORRUPT, WW_EINPUT, "damaged"},
                {SQLITE_NOTADB, WW_EINPUT, "no control log"},
                {SQLITE_IOERR_WRITE, WW_ESYSTEM, "refused"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const ww__log log = {.name = "control.db"};
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].says, ww__log_refuse(&log, rows[i].code, &err), rows[i].status, &err);
        test_holds(rows[i].says, err.msg, rows[i].says);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_no_log),  cmocka_unit_test(missing_empty_and_folders),
        cmocka_unit_test(names_are_names), cmocka_unit_test(protected_logs_are_read),
        cmocka_unit_test(locked_for_long), cmocka_unit_test(words_of_what_sqlite_refuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
