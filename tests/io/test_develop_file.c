/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/develop_case.h"
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/develop_file.h>

/* Source of every expectation: the description of the `develop` document, whose keys are fixed. */

static void make(double index, ww_development *plan) {
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    develop_case_start(&c, 1.0, 0.1386294361, 0.0);
    for (int i = 1; i <= 4; i++)
        develop_case_add(&c, 4.0 * i, 0.004, 1.0);
    develop_case_add(&c, 8.0, 0.004, 1.0)->meta.temperature_c.value = 18.0;
    request.contrast_index = (ww_optional){index > 0.0, index};
    if (index <= 0.0) {
        request.density_range = (ww_optional){true, 1.2};
        request.subject_range = (ww_optional){true, 2.0};
        request.metered_index = (ww_optional){true, 100.0};
    }
    test_status("plan", ww_develop_plan(c.input, c.n, &request, plan, NULL), WW_OK, NULL);
    develop_case_end(&c);
}

static json_t *document_of(const ww_development *plan) {
    char *text = NULL;
    size_t n = 0;
    json_error_t why;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_develop_file_text(plan, &text, &n, &err), WW_OK, &err);
    test_true("ends with a line feed", n > 0 && text[n - 1] == '\n' && strlen(text) == n);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &why);
    if (!root)
        fail_msg("no JSON: %s", why.text);
    free(text);
    return root;
}

static double number_at(const json_t *object, const char *key) {
    return json_number_value(json_object_get(object, key));
}

static void keys(void **state) {
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    make(0.6, &plan);
    json_t *root = document_of(&plan);
    const json_t *rows = json_object_get(root, "rows"), *row = json_array_get(rows, 1);
    const json_t *time = json_object_get(root, "time"), *laws = json_object_get(root, "laws");
    const json_t *infinity = json_object_get(root, "gamma_infinity");
    test_text("kind", json_string_value(json_object_get(root, "kind")), "development plan");
    test_close("time", number_at(time, "value"), plan.time.value, 0.0);
    test_close("low", number_at(time, "low"), plan.time.low, 0.0);
    test_text("how", json_string_value(json_object_get(time, "how")), "fitted");
    test_close("gamma infinity", number_at(infinity, "value"), 1.0, 1e-4);
    test_close("rate", number_at(json_object_get(root, "rate"), "value"), 0.1386294361, 1e-4);
    assert_int_equal(json_array_size(rows), 5);
    test_close("row's time", number_at(row, "time"), 8.0, 0.0);
    test_close("row's index", number_at(row, "contrast_index"),
               plan.row[1].contrast[WW_DEVELOP_CONTRAST_INDEX].value, 0.0);
    test_true("speed is there, null", json_is_null(json_object_get(row, "speed")));
    test_text("file", json_string_value(json_object_get(row, "file")), "1.json");
    test_true("colder", json_is_false(json_object_get(json_array_get(rows, 2), "in_law")));
    test_text("form", json_string_value(json_object_get(json_object_get(laws, "gamma"), "form")),
              "free");
    test_true("no range", json_is_null(json_object_get(laws, "range_gradient")));
    test_close("reference", number_at(json_object_get(root, "by_temperature"), "reference"), 20.0,
               0.0);
    assert_int_equal(json_array_size(json_object_get(root, "foretold")), plan.n_foretold);
    assert_int_equal(json_array_size(json_object_get(root, "budget")), plan.n_doubts);
    assert_int_equal(json_array_size(json_object_get(root, "notes")), plan.notes.n);
    json_decref(root);
    ww_development_release(&plan);
}

static void what_is_absent(void **state) {
    ww_development plan = WW_DEVELOPMENT_INIT;
    (void)state;
    make(1.5, &plan);
    json_t *root = document_of(&plan);
    test_true("no time", json_is_null(json_object_get(root, "time")));
    test_true("does not hold", json_is_false(json_object_get(root, "holds")));
    test_text("place", json_string_value(json_object_get(root, "place")), "never");
    test_true("next", json_is_number(json_object_get(root, "next")));
    test_true("no index", json_is_null(json_object_get(root, "index")));
    json_decref(root);
    ww_development_release(&plan);
    make(0.0, &plan);
    root = document_of(&plan);
    const json_t *ranges = json_object_get(root, "ranges");
    assert_int_equal(json_array_size(ranges), WW_DEVELOP_RANGES);
    test_close("N-2", number_at(json_array_get(ranges, 0), "n"), -2.0, 0.0);
    test_close("metered", number_at(json_object_get(root, "index"), "metered"), 100.0, 0.0);
    test_true("no series", json_is_null(json_object_get(root, "exposure_index")));
    json_decref(root);
    ww_development_release(&plan);
}

static void files(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "plan.json");
    char *nowhere = test_path(folder, "no/plan.json"), *text = NULL;
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww_error err = WW_ERROR_INIT;
    size_t n = 0, written = 0;
    (void)state;
    make(0.6, &plan);
    test_status("write", ww_develop_file_write(&plan, path, &err), WW_OK, &err);
    char *bytes = test_file_read(path, &written);
    test_status("text", ww_develop_file_text(&plan, &text, &n, &err), WW_OK, &err);
    test_text("the same", bytes, text);
    free(bytes);
    free(text);
    test_status("nowhere", ww_develop_file_write(&plan, nowhere, &err), WW_ESYSTEM, &err);
    plan.aim = NAN;
    text = NULL;
    test_status("not finite", ww_develop_file_text(&plan, &text, &n, &err), WW_EDOMAIN, &err);
    test_true("untouched", text == NULL);
    ww_development_release(&plan);
    free(path);
    free(nowhere);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(keys), cmocka_unit_test(what_is_absent),
                                       cmocka_unit_test(files)};
    return cmocka_run_group_tests_name("development plan files", tests, NULL, NULL);
}
