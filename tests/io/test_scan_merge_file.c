/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_made_case.h"
#include <jansson.h>
#include <stdlib.h>
#include <wedgework/scan_merge_file.h>

/* Source of every expectation: the description of the document in its header. */

static json_t *document_of(const ww_scan_merge *merge) {
    char *text = NULL;
    size_t n = 0;
    test_status("text", ww_scan_merge_file_text(merge, &text, &n, NULL), WW_OK, NULL);
    assert_int_equal(strlen(text), n);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    free(text);
    return root;
}

static double number(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    if (!json_is_number(value))
        fail_msg("'%s' is no number", key);
    return json_number_value(value);
}

static void keys_and_figures(void **state) {
    ww_scan_merge merge = scan_made_merge("long.tif", "short.tif");
    merge.shift.unlike = 1;
    merge.differ = (ww_scan_merge_differ){2, 90, 32.0, 96.0};
    merge.clips = 0.882;
    json_t *root = document_of(&merge);
    const json_t *channels = json_object_get(root, "channels");
    const json_t *green = json_object_get(channels, "green");
    const json_t *noise = json_object_get(green, "noise");
    (void)state;
    test_text("kind", json_string_value(json_object_get(root, "kind")), "scan merge");
    test_text("longer", json_string_value(json_object_get(root, "longer")), "long.tif");
    test_text("shorter", json_string_value(json_object_get(root, "shorter")), "short.tif");
    test_text("sample", json_string_value(json_object_get(root, "sample")), "16 bit");
    test_true("holds", json_is_true(json_object_get(root, "holds")));
    test_text("noise", json_string_value(json_object_get(root, "noise_from")), "pair");
    test_close("unlike", number(json_object_get(root, "shift"), "unlike"), 1.0, 0.0);
    test_close("differ", number(json_object_get(root, "differ"), "places"), 2.0, 0.0);
    test_close("differ", number(json_object_get(root, "differ"), "y"), 96.0, 0.0);
    test_close("clips", number(root, "clips"), 0.882, 0.0);
    test_close("x", number(json_object_get(root, "shift"), "x"), 0.3, 0.0);
    assert_int_equal(json_object_size(channels), 3);
    test_close("ratio", number(json_object_get(green, "ratio"), "value"), 4.0, 0.0);
    test_close("stops", number(json_object_get(green, "stops"), "high"), 2.1, 0.0);
    test_close("darkest", number(green, "darkest"), 2.5, 0.0);
    test_close("places", number(green, "places"), 1734.0, 0.0);
    test_close("share", number(json_object_get(green, "shares"), "blended"), 0.05, 0.0);
    assert_int_equal(json_array_size(noise), WW_SCAN_MERGE_GAINS);
    test_close("below", number(json_array_get(noise, 20), "below"), 2.0, 0.0);
    test_close("merged", number(json_array_get(noise, 20), "merged"),
               scan_made_noise(2.0) / sqrt(17.0), 1e-12);
    assert_int_equal(json_array_size(json_object_get(root, "notes")), 1);
    json_decref(root);
    ww_scan_merge_release(&merge);
}

static void unknowns_and_bytes_that_are_no_text(void **state) {
    ww_scan_merge merge = scan_made_merge("long\xff.tif", NULL);
    (void)state;
    merge.shift.places = 0;
    merge.real = true;
    merge.noise_measured = false;
    merge.holds = false;
    merge.channel[WW_RED].flaw = WW_SCAN_MERGE_AMPLIFIED;
    json_t *root = document_of(&merge);
    test_true("a name all the same", json_is_string(json_object_get(root, "longer")));
    test_true("no name", json_is_null(json_object_get(root, "shorter")));
    test_true("not checked", json_is_null(json_object_get(json_object_get(root, "shift"), "x")));
    test_text("sample", json_string_value(json_object_get(root, "sample")), "float");
    test_true("holds", json_is_false(json_object_get(root, "holds")));
    test_text("flaw",
              json_string_value(json_object_get(
                  json_object_get(json_object_get(root, "channels"), "red"), "flaw")),
              "amplified");
    test_text("noise", json_string_value(json_object_get(root, "noise_from")), "scanner file");
    json_decref(root);
    ww_scan_merge_release(&merge);
}

static void refuses_what_is_no_number(void **state) {
    ww_scan_merge merge = scan_made_merge("long.tif", "short.tif");
    char *text = NULL;
    size_t n = 0;
    (void)state;
    merge.channel[WW_RED].offset = (double)NAN;
    test_status("NAN", ww_scan_merge_file_text(&merge, &text, &n, NULL), WW_EDOMAIN, NULL);
    assert_null(text);
    ww_scan_merge_release(&merge);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(keys_and_figures),
                                       cmocka_unit_test(unknowns_and_bytes_that_are_no_text),
                                       cmocka_unit_test(refuses_what_is_no_number)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
