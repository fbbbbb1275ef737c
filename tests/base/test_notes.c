/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/notes.h>

/* Source: definition (notes.h). WW_EMEMORY is provoked in tests/fault. */

static void keeps_order_and_no_twins(void **state) {
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    assert_int_equal(ww_notes_add(&notes, &err, "step %s is doubtful", "7"), WW_OK);
    assert_int_equal(ww_notes_add(&notes, &err, "no shoulder was reached"), WW_OK);
    assert_int_equal(ww_notes_add(&notes, NULL, "step 7 is doubtful"), WW_OK);
    assert_int_equal(notes.n, 2);
    assert_string_equal(notes.text[0], "step 7 is doubtful");
    assert_string_equal(notes.text[1], "no shoulder was reached");
    ww_notes_release(&notes);
    assert_int_equal(notes.n, 0);
    ww_notes_release(&notes);
    ww_notes_release(NULL);
}

static void copies(void **state) {
    ww_notes from = WW_NOTES_INIT, to = WW_NOTES_INIT;
    (void)state;
    assert_int_equal(ww_notes_copy(&from, &to, NULL), WW_OK);
    assert_int_equal(to.n, 0);
    ww_notes_add(&from, NULL, "a 100%% note");
    ww_notes_add(&from, NULL, "%s", "b %s");
    ww_notes_add(&to, NULL, "b %%s");
    assert_int_equal(ww_notes_copy(&from, &to, NULL), WW_OK);
    assert_int_equal(to.n, 2);
    assert_string_equal(to.text[0], "b %s");
    assert_string_equal(to.text[1], "a 100% note");
    assert_int_equal(ww_notes_copy(&to, &to, NULL), WW_OK);
    assert_int_equal(to.n, 2);
    assert_int_equal(ww_notes_copy_of(&from, "of it", &to, NULL), WW_OK);
    assert_int_equal(to.n, 4);
    assert_string_equal(to.text[2], "of it: a 100% note");
    ww_notes_release(&from);
    ww_notes_release(&to);
}

static void keeps_long_sentences_whole(void **state) {
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    assert_int_equal(ww_notes_add(&notes, NULL, "%5000d", 1), WW_OK);
    assert_int_equal(notes.text[0][4999], '1');
    assert_int_equal(notes.text[0][5000], '\0');
    ww_notes_release(&notes);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(keeps_order_and_no_twins),
                                       cmocka_unit_test(copies),
                                       cmocka_unit_test(keeps_long_sentences_whole)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
