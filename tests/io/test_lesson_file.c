/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/lesson_file.h>
#include <wedgework/readings_file.h>

/* Source: the header's documents, and the readings' own reader. */

static ww_lesson made(ww_lesson_fault fault) {
    ww_lesson_request request = WW_LESSON_REQUEST_INIT;
    ww_lesson lesson;
    request.seed = 20731;
    request.fault = fault;
    test_status("lesson", ww_lesson_make(&request, &lesson, NULL), WW_OK, NULL);
    return lesson;
}

static void table_reads_back(void **state) {
    const ww_lesson lesson = made(WW_LESSON_SWAPPED_ROWS);
    ww_readings back = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    size_t n = 0;
    (void)state;
    test_status("table", ww_lesson_file_table(&lesson, &text, &n, &err), WW_OK, &err);
    assert_int_equal(strlen(text), n);
    test_status("back", ww_readings_file_parse("t.csv", text, n, &back, &err), WW_OK, &err);
    assert_int_equal(back.n, WW_LESSON_STEPS + 1);
    test_close("log h0", back.meta.log_h0.value, lesson.strip.log_h0, 0.0);
    for (size_t i = 0; i < back.n; i++) {
        test_true("base first", back.row[i].is_base == (i == 0));
        test_close("density", back.row[i].cell[WW_VISUAL].value, lesson.given[i].density, 0.0);
        if (i > 0)
            test_close("wedge", back.row[i].exposure.value, lesson.given[i].wedge, 0.0);
    }
    test_lacks("no seed", text, "20731");
    test_lacks("no fault", text, "swapped");
    ww_readings_release(&back);
    free(text);
}

/* A comma too many is refused with its line, and what to do. */
static void comma_is_refused(void **state) {
    const ww_lesson lesson = made(WW_LESSON_DECIMAL_COMMA);
    ww_readings back = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL, cell[32];
    size_t n = 0;
    (void)state;
    test_status("table", ww_lesson_file_table(&lesson, &text, &n, &err), WW_OK, &err);
    snprintf(cell, sizeof cell, ",%ld,%02ld\n", (long)lesson.size,
             (long)(100.0 * (lesson.size - (double)(long)lesson.size) + 0.5));
    test_holds("the cell", text, cell);
    test_status("back", ww_readings_file_parse("t.csv", text, n, &back, &err), WW_EINPUT, &err);
    test_holds("says why", err.msg, "if the commas are decimal ones");
    free(text);
}

static double number(const json_t *object, const char *key) {
    return json_number_value(json_object_get(object, key));
}

static void answers(void **state) {
    const ww_lesson lesson = made(WW_LESSON_MISSED_STEP);
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    size_t n = 0;
    (void)state;
    test_status("answers", ww_lesson_file_answers(&lesson, &text, &n, &err), WW_OK, &err);
    json_t *root = json_loads(text, 0, NULL), *rows = json_object_get(root, "rows");
    assert_non_null(root);
    test_text("kind", json_string_value(json_object_get(root, "kind")), "lesson answers");
    test_close("seed", number(root, "seed"), 20731, 0.0);
    test_text("fault", json_string_value(json_object_get(json_object_get(root, "fault"), "name")),
              "missed-step");
    test_close("gamma", number(json_object_get(root, "hidden"), "gamma"), lesson.strip.curve.gamma,
               0.0);
    assert_int_equal(json_array_size(rows), WW_LESSON_STEPS + 1);
    assert_true(json_is_null(json_object_get(json_array_get(rows, WW_LESSON_STEPS), "given")));
    const json_t *figures = json_object_get(root, "figures"), *figure;
    size_t i;
    json_array_foreach(figures, i, figure) {
        const json_t *hidden = json_object_get(figure, "hidden");
        test_true("worked", json_object_size(json_object_get(hidden, "numbers")) > 0);
        test_true("a value", json_is_number(json_object_get(hidden, "value")));
    }
    assert_in_range(i, 6, 8);
    json_decref(root);
    free(text);
}

static void what_is_handed_out(void **state) {
    const ww_lesson lesson = made(WW_LESSON_DECIMAL_COMMA);
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    size_t n = 0;
    (void)state;
    test_status("document", ww_lesson_file_text(&lesson, &text, &n, &err), WW_OK, &err);
    json_t *root = json_loads(text, 0, NULL);
    assert_non_null(root);
    test_lacks("no seed", text, "20731");
    test_lacks("no answers", text, "\"hidden\"");
    test_lacks("no fault", text, "fault");
    const char *spoilt = json_string_value(
        json_object_get(json_array_get(json_object_get(root, "rows"), lesson.at), "density"));
    test_holds("as typed", spoilt, ",");
    json_decref(root);
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_reads_back), cmocka_unit_test(comma_is_refused),
        cmocka_unit_test(answers), cmocka_unit_test(what_is_handed_out)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
