/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/lesson_class_case.h"
#include <jansson.h>
#include <stdlib.h>

/* Source: the case, and the header's document. */
static void document(void **state) {
    lesson_class_case c;
    char *text = NULL;
    size_t n = 0;
    json_error_t wrong;
    const char *file = NULL, *departs = NULL, *other = NULL;
    double density = 0.0, median = 0.0, chance = 0.0;
    (void)state;
    lesson_class_case_make(&c);
    test_status("text", ww_lesson_class_file_text(&c.made, &text, &n, NULL), WW_OK, NULL);
    json_t *root = json_loadb(text, n, 0, &wrong);
    assert_non_null(root);
    const json_t *student = json_array_get(json_object_get(root, "students"), 1);
    file = json_string_value(json_object_get(student, "file"));
    departs = json_string_value(json_array_get(json_object_get(student, "departs"), 0));
    density = json_number_value(
        json_array_get(json_array_get(json_object_get(student, "readings"), 1), 1));
    const json_t *pair = json_array_get(json_object_get(root, "copied"), 0);
    other = json_string_value(json_array_get(json_object_get(pair, "files"), 0));
    chance = json_number_value(json_object_get(pair, "chance"));
    median = json_number_value(
        json_object_get(json_array_get(json_object_get(root, "figures"), 3), "median"));
    test_text("file", file, "<b>.csv");
    test_text("departs", departs, "gamma");
    test_text("pair", other, "anna.csv");
    test_close("raw readings", density, 1.13, 0.0);
    test_close("median", median, 0.72, 0.0);
    test_close("chance", chance, 1e-9, 0.0);
    json_decref(root);
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(document)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
