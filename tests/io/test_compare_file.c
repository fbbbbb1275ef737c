/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/compare_case.h"
#include <jansson.h>
#include <math.h>
#include <wedgework/compare_file.h>

/* Source: the interface's keys; the case's differences by hand. */

static json_t *document(const ww_comparison *made) {
    char *text = NULL;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    test_status("document", ww_compare_file_text(made, &text, &n, &err), WW_OK, &err);
    json_t *root = json_loadb(text, n, 0, NULL);
    free(text);
    assert_non_null(root);
    return root;
}

static double number(const json_t *from, const char *key) {
    const json_t *found = json_object_get(from, key);
    if (!json_is_number(found))
        fail_msg("'%s' is no number", key);
    return json_number_value(found);
}

static void keys_of_the_interface(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_usual(false, &made);
    json_t *root = document(&made);
    const json_t *print = json_array_get(json_object_get(root, "prints"), 1);
    const json_t *pair = json_array_get(json_object_get(root, "pairs"), 0);
    const json_t *regions = json_object_get(pair, "regions");
    test_text("kind", json_string_value(json_object_get(root, "kind")), "comparison");
    test_true("holds", json_is_true(json_object_get(root, "holds")));
    test_text("name", json_string_value(json_object_get(print, "name")), "Rag");
    test_close("white", number(print, "white"), 0.10, 1e-12);
    test_close("black", number(print, "black"), 1.60, 1e-12);
    test_close("range", number(print, "range"), 1.50, 1e-12);
    test_true("gradient", number(print, "gradient") > 0.0);
    test_text("a", json_string_value(json_object_get(pair, "a")), "Gloss");
    test_text("b", json_string_value(json_object_get(pair, "b")), "Rag");
    test_close("worst", number(pair, "worst"), -0.55, 1e-12);
    test_close("light", number(regions, "light"), 0.05, 1e-12);
    test_close("dark", number(regions, "dark"), -0.55, 1e-12);
    test_true("mean", number(json_object_get(pair, "de2000"), "mean") > 1.0);
    test_true("max", number(json_object_get(pair, "de2000"), "max") > 4.0);
    test_true("not asked", json_is_null(json_object_get(pair, "within")));
    test_close("never", (double)json_array_size(json_object_get(pair, "never")), 3, 0);
    const json_t *lab = json_object_get(json_array_get(json_object_get(pair, "tones"), 0), "lab");
    test_close("a*", json_number_value(json_array_get(lab, 1)), 0.5, 1e-12);
    test_close("b*", json_number_value(json_array_get(lab, 2)), 3.5, 1e-12);
    test_close("tones", (double)json_array_size(json_object_get(pair, "tones")), 7, 0);
    json_decref(root);
    ww_comparison_release(&made);
}

static void limits(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    compare_case_usual(true, &made);
    json_t *root = document(&made);
    const json_t *pair = json_array_get(json_object_get(root, "pairs"), 0);
    const json_t *black = json_array_get(json_object_get(pair, "limits"), 0);
    test_true("holds", json_is_false(json_object_get(root, "holds")));
    test_true("within", json_is_false(json_object_get(pair, "within")));
    test_text("first", json_string_value(json_object_get(black, "limit")), "black");
    test_close("value", number(black, "value"), -0.55, 1e-12);
    test_close("offset", number(json_object_get(pair, "offset"), "light"), -0.05, 1e-12);
    test_true("drift", json_is_null(json_object_get(
                           json_array_get(json_object_get(pair, "limits"), 2), "within")));
    json_decref(root);
    ww_comparison_release(&made);
}

static void not_finite(void **state) {
    (void)state;
    ww_comparison made = WW_COMPARISON_INIT;
    char *text = NULL;
    size_t n = 7;
    ww_error err = WW_ERROR_INIT;
    compare_case_usual(false, &made);
    made.pair[0].white_b = HUGE_VAL;
    test_status("endless", ww_compare_file_text(&made, &text, &n, &err), WW_EDOMAIN, &err);
    test_true("untouched", text == NULL && n == 7);
    ww_comparison_release(&made);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(keys_of_the_interface),
                                       cmocka_unit_test(limits), cmocka_unit_test(not_finite)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
