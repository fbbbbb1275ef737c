/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/text.h"
#include "fault/inject.h"
#include <stdlib.h>
#include <wedgework/notes.h>
#include <wedgework/number.h>
#include <wedgework/output.h>

/* Source: definition (the Status lines of the headers). */

static ww_status make_notes(void *context, ww_error *err) {
    ww_notes notes = WW_NOTES_INIT;
    ww_status status = WW_OK;
    (void)context;
    for (int i = 0; status == WW_OK && i < 5; i++) {
        const size_t before = notes.n;
        status = ww_notes_add(&notes, err, "note %d", i);
        test_true("n", notes.n == before + (status == WW_OK));
    }
    ww_notes_release(&notes);
    return status;
}

static ww_status copy_notes(void *context, ww_error *err) {
    ww_notes to = WW_NOTES_INIT;
    ww_status status = ww_notes_add(&to, err, "already here");
    if (status == WW_OK) {
        status = ww_notes_copy(context, &to, err);
        test_true("all or none", to.n == (status == WW_OK ? 4 : 1));
    }
    ww_notes_release(&to);
    return status;
}

static ww_status make_text(void *context, ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    ww_status status;
    (void)context;
    for (int i = 0; i < 200; i++) {
        ww__text_add_number(&text, 0.1 * i, 3);
        ww__escape_csv(&text, "a,b");
        ww__text_add_format(&text, "%d", i);
    }
    status = ww__text_status(&text, err);
    ww__text_release(&text);
    return status;
}

static ww_status write_file(void *context, ww_error *err) {
    return ww_output_write(context, "new", 3, err);
}

static ww_status parse(void *context, ww_error *err) {
    double value = 0.0;
    (void)context;
    return ww_number_parse(" 2,731 ", ',', &value, err);
}

static void notes(void **state) {
    ww_notes from = WW_NOTES_INIT;
    (void)state;
    inject_each("ww_notes_add", make_notes, NULL);
    for (int i = 0; i < 3; i++)
        assert_int_equal(ww_notes_add(&from, NULL, "note %d", i), WW_OK);
    inject_each("ww_notes_copy", copy_notes, &from);
    ww_notes_release(&from);
}

static void texts(void **state) {
    (void)state;
    inject_each("ww__text", make_text, NULL);
    inject_each("ww_number_parse", parse, NULL);
}

static void files(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "a");
    (void)state;
    inject_each("ww_output_write", write_file, path);
    assert_int_equal(test_folder_count(folder), 1);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(notes), cmocka_unit_test(texts),
                                       cmocka_unit_test(files)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
