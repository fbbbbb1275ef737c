/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <errno.h>
#include <string.h>

/* Source of all expected values here: definition (the doc blocks of error.h). */

static void sets_code_and_message(void **state) {
    ww_error err = {WW_EINPUT, 7, "old.csv", 3, "old"};
    (void)state;
    assert_int_equal(ww_error_set(&err, WW_EDOMAIN, "step %d of %d; give %s", 3, 21, "--strip"),
                     WW_EDOMAIN);
    assert_int_equal(err.code, WW_EDOMAIN);
    assert_int_equal(err.sys, 0);
    assert_int_equal(err.line, 0);
    assert_string_equal(err.file, "");
    assert_string_equal(err.msg, "step 3 of 21; give --strip");
}

static void sets_file_and_line(void **state) {
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(ww_error_set_at(&err, WW_EINPUT, "film.csv", 12, "density '%s'", "3.x4"),
                     WW_EINPUT);
    assert_string_equal(err.file, "film.csv");
    assert_int_equal(err.line, 12);
    assert_string_equal(err.msg, "density '3.x4'");
    ww_error_set_at(&err, WW_EINPUT, NULL, 0, "none");
    assert_string_equal(err.file, "");
}

static void adds_the_systems_words(void **state) {
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(ww_error_set_system(&err, WW_ESYSTEM, ENOSPC, "out.json", "cannot be written"),
                     WW_ESYSTEM);
    assert_int_equal(err.sys, ENOSPC);
    assert_string_equal(err.file, "out.json");
    assert_string_equal(err.msg, "cannot be written: No space left on device");
}

static void allows_no_record(void **state) {
    (void)state;
    assert_int_equal(ww_error_set(NULL, WW_ENODATA, "x"), WW_ENODATA);
    assert_int_equal(ww_error_set_at(NULL, WW_EINPUT, "f", 1, "x"), WW_EINPUT);
    assert_int_equal(ww_error_set_system(NULL, WW_ETOOL, ENOENT, "f", "x"), WW_ETOOL);
}

static void cuts_what_is_too_long(void **state) {
    ww_error err = WW_ERROR_INIT;
    char longer[3000];
    (void)state;
    memset(longer, 'a', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    memcpy(longer + sizeof longer - 9, "film.csv", 8);
    ww_error_set_system(&err, WW_ESYSTEM, ENOSPC, longer, "%s", longer);
    assert_int_equal(strlen(err.msg), WW_ERROR_MESSAGE_SIZE - 1);
    assert_int_equal(strlen(err.file), WW_ERROR_FILE_SIZE - 1);
    assert_string_equal(err.file + WW_ERROR_FILE_SIZE - 9, "film.csv");
}

/* A cut never leaves half of a UTF-8 character. U+00BD is C2 BD. */
static void cuts_between_characters(void **state) {
    ww_error err = WW_ERROR_INIT;
    char halves[1 + 2 * 1000 + 1] = "x";
    (void)state;
    for (size_t i = 0; i < 1000; i++)
        memcpy(halves + 1 + 2 * i, "\xC2\xBD", 3);
    for (size_t shift = 0; shift < 2; shift++) {
        size_t n;
        ww_error_set_at(&err, WW_EINPUT, halves + 2 + shift, 0, "%s", halves + shift);
        n = strlen(err.msg);
        assert_in_range(n, WW_ERROR_MESSAGE_SIZE - 2, WW_ERROR_MESSAGE_SIZE - 1);
        assert_memory_equal(err.msg + n - 2, "\xC2\xBD", 2);
        assert_memory_equal(err.file, "\xC2\xBD", 2);
        assert_true(strlen(err.file) >= WW_ERROR_FILE_SIZE - 2);
    }
}

static void may_wrap_its_own_message(void **state) {
    ww_error err = WW_ERROR_INIT;
    (void)state;
    ww_error_set_at(&err, WW_EINPUT, "film.csv", 12, "not a number");
    ww_error_set_at(&err, WW_EINPUT, err.file, err.line, "column 'red': %s", err.msg);
    assert_string_equal(err.msg, "column 'red': not a number");
    assert_string_equal(err.file, "film.csv");
    assert_int_equal(err.line, 12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sets_code_and_message),   cmocka_unit_test(sets_file_and_line),
        cmocka_unit_test(adds_the_systems_words),  cmocka_unit_test(allows_no_record),
        cmocka_unit_test(cuts_what_is_too_long),   cmocka_unit_test(cuts_between_characters),
        cmocka_unit_test(may_wrap_its_own_message)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
