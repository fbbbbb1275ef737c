/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"

/* What was entered comes back, to the bit. */
static void reads_what_was_entered(void **state) {
    log_place place = log_place_new();
    ww_control_log made = log_made(place.path, 3), log = WW_CONTROL_LOG_INIT;
    static char process[] = "film", machine[] = "left", date[] = "2026-11-06", empty[] = "";
    static char text[] = "developer replaced \xC3\xA0 neuf", entered[] = "2026-11-06T09:00:00Z";
    const ww_control_note note = {.strip = 2,
                                  .process = process,
                                  .machine = machine,
                                  .date = date,
                                  .text = text,
                                  .entered = entered};
    const ww_control_baseline baseline = {.process = process,
                                          .machine = machine,
                                          .first = 2,
                                          .strips = 12,
                                          .why = empty,
                                          .entered = entered};
    const ww_control_patch *a, *b;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("note", ww_control_log_note(place.path, &note, &err), WW_OK, &err);
    test_status("delete", ww_control_log_delete(place.path, 3, "dropped", entered, &err), WW_OK,
                &err);
    test_status("baseline", ww_control_log_baseline(place.path, &baseline, 1, &err), WW_OK, &err);
    test_status("read", ww_control_log_read(place.path, &log, &err), WW_OK, &err);
    test_text("file", log.file, place.path);
    assert_int_equal(log.n_references, 1);
    assert_int_equal(log.n_strips, 3);
    test_text("lot", log.reference[0].lot, "4127");
    test_true("status", log.reference[0].status == WW_STATUS_M && !log.reference[0].reversal);
    test_text("process", log.strip[1].process, "film");
    test_text("machine", log.strip[1].machine, "left");
    test_text("date", log.strip[1].date, "2026-11-05");
    test_true("counts", log.strip[1].deleted == NULL);
    test_text("why", log.strip[2].why, "dropped");
    test_text("when", log.strip[2].deleted, entered);
    assert_int_equal(log.strip[0].patches.n, 3);
    a = &made.strip[0].patches.patch[2];
    b = &log.strip[0].patches.patch[2];
    test_text("step", b->step, "HD");
    for (int c = WW_RED; c <= WW_BLUE; c++)
        test_true("to the bit", a->density[c] == b->density[c] && b->state[c] == WW_CELL_VALUE);
    test_true("not read", b->state[WW_VISUAL] == WW_CELL_MISSING);
    test_text("role", log.reference[0].patches.patch[0].tone, "D-min");
    test_text("note", log.note[0].text, text);
    test_close("of strip", (double)log.note[0].strip, 2.0, 0.0);
    assert_int_equal(log.baseline[0].strips, 12);
    ww_control_log_release(&log);
    ww_control_log_release(&made);
    log_place_remove(&place);
}

/* Strict tables keep types; what they let through is looked at when it is read. */
static void bad_entries_are_damage(void **state) {
    static const struct {
        const char *row, *sql;
    } rows[] = {
        {"a date", "UPDATE strip SET date = 'yesterday'"},
        {"a channel", "UPDATE strip_step SET channel = 'ultraviolet' WHERE channel = 'red'"},
        {"infinite", "UPDATE strip_step SET density = 9e999 WHERE channel = 'red'"},
        {"control characters", "UPDATE strip SET process = char(27) || '[31m'"},
        {"too long", "UPDATE strip SET process = hex(zeroblob(200))"},
        {"a NUL", "UPDATE strip SET process = 'a' || char(0) || 'b'"},
        {"a reference gone",
         "PRAGMA foreign_keys = OFF; DELETE FROM reference_step; DELETE FROM reference"},
        {"a step gone", "DELETE FROM strip_step WHERE place = 1"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        log_place place = log_place_new();
        ww_control_log made = log_made(place.path, 1), log = WW_CONTROL_LOG_INIT;
        ww_error err = WW_ERROR_INIT;
        log_sql(place.path, rows[i].sql);
        test_status(rows[i].row, ww_control_log_read(place.path, &log, &err), WW_EINPUT, &err);
        test_holds(rows[i].row, err.msg, "damaged");
        ww_control_log_release(&made);
        log_place_remove(&place);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_what_was_entered),
        cmocka_unit_test(bad_entries_are_damage),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
