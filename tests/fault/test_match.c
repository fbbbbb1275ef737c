/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "image/array_picture.h"
#include "support/match_case.h"
#include <stdlib.h>
#include <wedgework/match_apply.h>
#include <wedgework/match_file.h>
#include <wedgework/match_text.h>

/* Source: definition (the Status lines of the headers). */

typedef ww_status file_text(const ww_match *match, char **text, size_t *n, ww_error *err);

static ww_status file(const ww_match *match, file_text *make, ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    const ww_status status = make(match, &text, &n, err);
    test_true("all or nothing",
              (text != NULL) == (status == WW_OK) && (n > 0) == (status == WW_OK));
    free(text);
    return status;
}

static ww_status document(void *context, ww_error *err) {
    return file(context, ww_match_file_text, err);
}

static ww_status table(void *context, ww_error *err) {
    return file(context, ww_match_file_csv, err);
}

static ww_status cube(void *context, ww_error *err) {
    return file(context, ww_match_file_cube, err);
}

static ww_status device_link(void *context, ww_error *err) {
    return file(context, ww_match_file_icc, err);
}

static ww_status text(void *context, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *made = NULL;
    const ww_status status = ww_match_text(context, &style, &made, err);
    free(made);
    return status;
}

typedef struct applied {
    const ww_picture *picture;
    const ww_match *match;
} applied;

static ww_status take(void *context, const void *rows, size_t n, ww_error *err) {
    (void)context, (void)rows, (void)n, (void)err;
    return WW_OK;
}

static ww_status apply(void *context, ww_error *err) {
    const applied *a = context;
    ww_notes notes = WW_NOTES_INIT;
    const ww_status status =
        ww_match_apply_rows(a->picture, a->match, (ww_row_sink){take, NULL}, &notes, err);
    ww_notes_release(&notes);
    return status;
}

static void corrections(void **state) {
    (void)state;
    for (size_t n = 1; n <= 3; n += 2) {
        ww_match *match = match_case(n, n == 1 ? WW_RAMP_GRAY : WW_RAMP_VALUES);
        ww_picture picture = array_picture_new(31, 17, 3, WW_SAMPLE_8, ARRAY_ROWS);
        applied a = {&picture, match};
        inject_each("a document", document, match);
        inject_each("a table", table, match);
        inject_each("a cube", cube, match);
        inject_each("a device link", device_link, match);
        inject_each("a text", text, match);
        inject_each("a picture", apply, &a);
        ww_picture_release(&picture);
        ww_notes_release(&match->notes);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(corrections)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
