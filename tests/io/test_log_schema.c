/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"
#include <stdio.h>

/* What another program, another version or a bad disk makes of a log; nothing changes it. */
static void what_is_not_ours(void **state) {
    static const struct {
        const char *row, *sql, *says;
    } rows[] = {
        {"another program's", "PRAGMA application_id = 1", "another program"},
        {"no application", "PRAGMA application_id = 0", "another program"},
        {"newer", "PRAGMA user_version = 2", "newer version"},
        {"a view", "CREATE VIEW v AS SELECT * FROM strip", "triggers or views"},
        {"a trigger", "CREATE TRIGGER t AFTER INSERT ON strip BEGIN DELETE FROM strip; END",
         "triggers or views"},
        {"a table gone", "PRAGMA foreign_keys = OFF; DROP TABLE note", "damaged"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        log_place place = log_place_new();
        ww_control_log made = log_made(place.path, 1), log = WW_CONTROL_LOG_INIT;
        ww_error err = WW_ERROR_INIT;
        size_t before, after;
        char *was, *is;
        log_sql(place.path, rows[i].sql);
        was = test_file_read(place.path, &before);
        test_status(rows[i].row, ww_control_log_read(place.path, &log, &err), WW_EINPUT, &err);
        test_holds(rows[i].row, err.msg, rows[i].says);
        is = test_file_read(place.path, &after);
        test_true("left as it was", before == after && memcmp(was, is, after) == 0);
        free(was);
        free(is);
        ww_control_log_release(&made);
        log_place_remove(&place);
    }
}

static void another_programs_is_not_written_to(void **state) {
    log_place place = log_place_new();
    ww_control_log made = WW_CONTROL_LOG_INIT;
    long number = 7;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    log_sql(place.path, "CREATE TABLE songs (title TEXT)");
    test_status("reference", control_case_reference(&made, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_strip(&made, "film", "", "2026-11-05", CONTROL_WORKED);
    test_status("add", log_enter(place.path, &made, &number, &err), WW_EINPUT, &err);
    test_holds("add", err.msg, "another program");
    test_close("untouched", (double)number, 7.0, 0.0);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

/* Pages of a log overwritten: an SQLite file that is damaged is told, whatever is read of it. */
static void damage_is_told(void **state) {
    log_place place = log_place_new();
    ww_control_log made = log_made(place.path, 20), log = WW_CONTROL_LOG_INIT;
    ww_error err = WW_ERROR_INIT;
    FILE *file = fopen(place.path, "r+b");
    (void)state;
    assert_non_null(file);
    for (long at = 4096; at < 8L * 4096; at += 4096) {
        assert_int_equal(fseek(file, at + 8, SEEK_SET), 0);
        for (int i = 0; i < 40; i++)
            fputc(0xA5, file);
    }
    fclose(file);
    test_status("damaged", ww_control_log_read(place.path, &log, &err), WW_EINPUT, &err);
    test_holds("damaged", err.msg, "damaged");
    ww_control_log_release(&made);
    log_place_remove(&place);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_ours),
        cmocka_unit_test(another_programs_is_not_written_to),
        cmocka_unit_test(damage_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
