/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/texture_case.h"
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/texture_file.h>

/* Source: the keys of the header; the case. */

static void keys(void **state) {
    (void)state;
    texture_case c;
    char *text = NULL;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    texture_case_make(&c);
    c.scan[1].has_edge = false;
    test_status("document", ww_texture_file_text(c.scan, 2, &text, &n, &err), WW_OK, &err);
    json_t *root = json_loadb(text, n, 0, NULL);
    assert_non_null(root);
    const json_t *scan = json_array_get(json_object_get(root, "scans"), 0);
    const json_t *spot = json_array_get(json_object_get(scan, "spots"), 0);
    const json_t *edge = json_object_get(scan, "edge");
    test_text("kind", json_string_value(json_object_get(root, "kind")), "comparison");
    test_text("channel", json_string_value(json_object_get(scan, "channel")), "visual");
    test_close("pixel", json_number_value(json_object_get(scan, "pixel_um")), 21.2, 1e-12);
    test_close("rms", json_number_value(json_object_get(json_object_get(spot, "rms"), "value")),
               4.23, 1e-12);
    test_close("MTF50", json_number_value(json_object_get(json_object_get(edge, "mtf50"), "value")),
               6.42, 1e-12);
    test_true("no edge", json_is_null(json_object_get(
                             json_array_get(json_object_get(root, "scans"), 1), "edge")));
    json_decref(root);
    free(text);
}

static void not_finite(void **state) {
    (void)state;
    texture_case c;
    char *text = NULL;
    size_t n = 7;
    ww_error err = WW_ERROR_INIT;
    texture_case_make(&c);
    c.spot[0].sd = HUGE_VAL;
    test_status("endless", ww_texture_file_text(c.scan, 2, &text, &n, &err), WW_EDOMAIN, &err);
    test_true("untouched", text == NULL && n == 7);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(keys), cmocka_unit_test(not_finite)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
