/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_made_case.h"
#include <jansson.h>
#include <stdlib.h>
#include <wedgework/scan_densities_file.h>

/* Source of every expectation: the description of the document in its header. */

static json_t *document_of(const char *file, bool scaled) {
    ww_scan_densities densities = scan_made_densities(file, scaled);
    char *text = NULL;
    size_t n = 0;
    test_status("text", ww_scan_densities_file_text(&densities, &text, &n, NULL), WW_OK, NULL);
    assert_int_equal(strlen(text), n);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    free(text);
    ww_scan_densities_release(&densities);
    return root;
}

static double number(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    if (!json_is_number(value))
        fail_msg("'%s' is no number", key);
    return json_number_value(value);
}

static void keys_and_figures(void **state) {
    json_t *root = document_of("scan.tif", true);
    const json_t *channels = json_object_get(root, "channels");
    const json_t *blue = json_object_get(channels, "blue");
    (void)state;
    test_text("kind", json_string_value(json_object_get(root, "kind")), "scan densities");
    test_text("file", json_string_value(json_object_get(root, "file")), "scan.tif");
    test_text("sample", json_string_value(json_object_get(root, "sample")), "16 bit");
    test_close("scale", number(root, "scale"), 10000.0, 0.0);
    test_close("zero", number(root, "zero"), 5000.0, 0.0);
    assert_int_equal(json_object_size(channels), 3);
    test_close("thin", number(blue, "thin"), 0.07, 0.0);
    test_close("dense", number(blue, "dense"), 2.85, 0.0);
    test_close("wedge", number(blue, "wedge"), 2.85, 0.0);
    test_close("doubt", number(blue, "dense_doubt"), 0.069, 0.0);
    test_close("denser", number(blue, "denser"), 0.031, 0.0);
    assert_int_equal(json_array_size(json_object_get(root, "notes")), 1);
    json_decref(root);
}

static void floating_point_is_density_itself(void **state) {
    json_t *root = document_of(NULL, false);
    (void)state;
    test_true("no name", json_is_null(json_object_get(root, "file")));
    test_text("sample", json_string_value(json_object_get(root, "sample")), "float");
    test_close("scale", number(root, "scale"), 1.0, 0.0);
    test_close("zero", number(root, "zero"), 0.0, 0.0);
    json_decref(root);
}

static void refuses_what_is_no_number(void **state) {
    ww_scan_densities densities = scan_made_densities("scan.tif", true);
    char *text = NULL;
    size_t n = 0;
    (void)state;
    densities.channel[WW_RED].thin = (double)NAN;
    test_status("NAN", ww_scan_densities_file_text(&densities, &text, &n, NULL), WW_EDOMAIN, NULL);
    assert_null(text);
    ww_scan_densities_release(&densities);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(keys_and_figures),
                                       cmocka_unit_test(floating_point_is_density_itself),
                                       cmocka_unit_test(refuses_what_is_no_number)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
