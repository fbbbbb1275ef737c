/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"

/* Twin strips stay two, and nothing comes twice. */
static void enters_what_is_not_there(void **state) {
    log_place a = log_place_new(), b = log_place_new();
    ww_control_log made = log_made(a.path, 3), from = WW_CONTROL_LOG_INIT,
                   other = log_made(b.path, 1), back = WW_CONTROL_LOG_INIT;
    static char process[] = "film", machine[] = "left", date[] = "2026-11-06", text[] = "cleaned";
    ww_control_note note = {.strip = 3,
                            .process = process,
                            .machine = machine,
                            .date = date,
                            .text = text,
                            .entered = date};
    size_t added = 9, known = 9;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("note", ww_control_log_note(a.path, &note, &err), WW_OK, &err);
    test_status("delete", ww_control_log_delete(a.path, 3, "dropped", date, &err), WW_OK, &err);
    test_status("read", ww_control_log_read(a.path, &from, &err), WW_OK, &err);
    for (int again = 0; again < 2; again++) {
        test_status("import", ww_control_log_import(b.path, &from, &added, &known, &err), WW_OK,
                    &err);
        assert_int_equal(added, again ? 0 : 2); /* one of the three was there */
        assert_int_equal(known, again ? 3 : 1);
        test_status("read", ww_control_log_read(b.path, &back, &err), WW_OK, &err);
        assert_int_equal(back.n_references, 1);
        assert_int_equal(back.n_strips, 3);
        assert_int_equal(back.n_notes, 1);
        test_close("of the third", (double)back.note[0].strip, 3.0, 0.0);
        test_text("taken out", back.strip[2].why, "dropped");
        ww_control_log_release(&back);
    }
    ww_control_log_release(&from);
    ww_control_log_release(&made);
    ww_control_log_release(&other);
    log_place_remove(&a);
    log_place_remove(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(enters_what_is_not_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
