/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_made.h"
#include <jansson.h>

static const double flowrate[] = {0.496, 0.476, 0.499, 0.513, 0.478, 0.512,
                                  0.526, 0.524, 0.536, 0.521, 0.559};

static json_t *document(const ww_control *control) {
    char *text = NULL;
    size_t n = 0;
    json_t *root;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_control_file_text(control, &text, &n, &err), WW_OK, &err);
    root = json_loadb(text, n, 0, NULL);
    assert_non_null(root);
    test_true("line feed", text[n - 1] == '\n');
    free(text);
    return root;
}

static const json_t *at(const json_t *from, const char *a, const char *b) {
    const json_t *found = json_object_get(json_object_get(from, a), b);
    if (!found)
        fail_msg("no %s.%s", a, b);
    return found;
}

static double number(const json_t *from, const char *key) {
    const json_t *found = json_object_get(from, key);
    if (!json_is_number(found))
        fail_msg("no number %s", key);
    return json_number_value(found);
}

/* Source: the interface's keys; numbers of NIST 6.3.2.2, a hundredth of them. */
static void keys_and_numbers(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    json_t *root;
    const json_t *limit, *row;
    (void)state;
    control_case_series(&log, 0.5, flowrate, 11);
    control = control_case_judge(&log, NULL);
    root = document(&control);
    test_text("kind", json_string_value(json_object_get(root, "kind")), "control");
    test_text("state", json_string_value(json_object_get(root, "state")), "out of control");
    test_true("judged", json_is_true(json_object_get(root, "judged")));
    limit = at(json_object_get(root, "limits"), "LD", "visual");
    test_close("centre", number(limit, "centre"), 0.5081, 1e-12);
    test_close("lower", number(limit, "lower"), 0.458159, 1e-6);
    test_close("upper", number(limit, "upper"), 0.558041, 1e-6);
    test_close("aim", number(limit, "aim"), 0.5, 0.0);
    test_text("from", json_string_value(json_object_get(limit, "from")), "history");
    assert_int_equal(json_array_size(json_object_get(root, "rows")), 11);
    row = json_array_get(json_object_get(root, "rows"), 10);
    test_text("row", json_string_value(json_object_get(row, "state")), "out of control");
    test_close("value", number(at(json_object_get(row, "values"), "LD", "visual"), "value"), 0.559,
               0.0);
    test_text("rule",
              json_string_value(
                  json_object_get(json_array_get(json_object_get(root, "rules"), 0), "rule")),
              "beyond the limit");
    json_decref(root);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void limits_of_the_user_and_none(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control;
    json_t *root;
    const json_t *limits;
    (void)state;
    test_status("reference", control_case_reference(&log, CONTROL_WORKED, NULL), WW_OK, NULL);
    control_case_limits(&log, "main", "measure,control\nLD,0.08\nD-min,+0.05\n");
    control_case_strip(&log, "main", "", "2026-11-01", CONTROL_WORKED);
    control = control_case_judge(&log, NULL);
    root = document(&control);
    test_text("state", json_string_value(json_object_get(root, "state")), "in control");
    limits = json_object_get(root, "limits");
    test_text("user", json_string_value(json_object_get(at(limits, "LD", "green"), "from")),
              "user");
    test_close("centre is the aim", number(at(limits, "LD", "green"), "centre"), 0.76, 0.0);
    test_close("upper", number(at(limits, "LD", "green"), "upper"), 0.84, 1e-12);
    test_true("one side", json_is_null(json_object_get(at(limits, "D-min", "red"), "lower")));
    test_true("none", json_is_null(json_object_get(at(limits, "HD", "red"), "from")));
    test_true("none", json_is_null(json_object_get(at(limits, "HD", "red"), "upper")));
    test_true("spread", json_is_object(at(limits, "LD spread", "colours")));
    json_decref(root);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

static void nothing_and_what_was_taken_out(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = control_case_judge(&log, NULL);
    json_t *root = document(&control);
    const json_t *row;
    (void)state;
    assert_int_equal(json_array_size(json_object_get(root, "rows")), 0);
    json_decref(root);
    ww_control_release(&control);
    control_case_series(&log, 0.5, flowrate, 2);
    control_case_delete(&log, 1, "dropped \"twice\"");
    control = control_case_judge(&log, NULL);
    root = document(&control);
    assert_int_equal(json_array_size(json_object_get(root, "rows")), 1);
    json_decref(root);
    ww_control_release(&control);
    control = control_case_judge(&log, &(ww_control_request){.deleted = true});
    root = document(&control);
    row = json_array_get(json_object_get(root, "rows"), 0);
    test_text("why", json_string_value(at(row, "deleted", "why")), "dropped \"twice\"");
    test_true("no state", json_is_null(json_object_get(row, "state")));
    json_decref(root);
    ww_control_release(&control);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keys_and_numbers),
        cmocka_unit_test(limits_of_the_user_and_none),
        cmocka_unit_test(nothing_and_what_was_taken_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
