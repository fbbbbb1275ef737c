/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_plan_case.h"
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/scan_plan_file.h>

/* Source of every expectation: the description of the `scan` document, whose keys are fixed. */

static json_t *document_of(const ww_scan_plan *plan) {
    char *text = NULL;
    size_t n = 0;
    test_status("text", ww_scan_plan_file_text(plan, &text, &n, NULL), WW_OK, NULL);
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

static void null(const json_t *object, const char *key) {
    if (!json_is_null(json_object_get(object, key)))
        fail_msg("'%s' is not null", key);
}

static void keys_and_figures(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_make("plan", &c, &plan);
    json_t *root = document_of(&plan);
    const ww_scan_channel *channel = &plan.channel[WW_VISUAL];
    const json_t *of = json_object_get(json_object_get(root, "channels"), "visual");
    test_text("kind", json_string_value(json_object_get(root, "kind")), "scan plan");
    test_true("holds", json_is_true(json_object_get(root, "holds")));
    test_text("way", json_string_value(json_object_get(root, "way")), "one scan");
    test_close("passes", number(root, "passes"), 1.0, 0.0);
    test_close("first", number(root, "first_passes"), 1.0, 0.0);
    test_close("second", number(root, "second_passes"), 0.0, 0.0);
    null(root, "least");
    null(root, "throughout");
    test_close("bits", number(root, "bits"), 16.0, 0.0);
    test_close("held", number(root, "bits_held"), 16.0, 0.0);
    test_close("one for all", number(root, "stops"), plan.stops, 0.0);
    test_close("stops", number(of, "stops"), channel->stops.value, 0.0);
    test_close("base code", number(of, "base_code"), 0.95 * 65535.0, 1e-6);
    test_close("code", number(of, "highlight_code"), channel->tone[2].code, 0.0);
    test_close("snr", number(of, "highlight_snr"), channel->tone[2].snr, 0.0);
    test_close("separable", number(of, "separable"), channel->separable, 0.0);
    test_close("n", number(of, "n"), 1.0, 0.0);
    test_close("second", number(of, "second_pass_stops"), 0.0, 0.0);
    test_close("told", number(json_object_get(of, "told"), "n"), 9.0, 0.0);
    test_close("8 bit", number(json_object_get(of, "code_steps"), "8"), channel->step[0], 0.0);
    test_close("budget", number(json_object_get(of, "budget"), "readings"), channel->doubt.readings,
               0.0);
    null(of, "switch_density");
    null(of, "highlight_detail");
    assert_int_equal(json_array_size(json_object_get(of, "tones")), 3);
    assert_int_equal(json_array_size(json_object_get(root, "notes")), plan.notes.n);
    assert_int_equal(json_object_size(json_object_get(root, "channels")), 1);
    json_decref(root);
    ww_scan_plan_release(&plan);
}

/* What is not known is null; so is a signal-to-noise without end. */
static void unknowns(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_grey(&c, "sun", WW_PART_WHOLE, 0.0)->state = WW_CELL_OVER;
    scan_plan_case_make("over", &c, &plan);
    json_t *root = document_of(&plan);
    const json_t *of = json_object_get(json_object_get(root, "channels"), "visual");
    null(of, "highlight_code");
    null(of, "highlight_snr");
    null(of, "separable");
    null(of, "average");
    test_true("not seen", json_is_false(json_object_get(of, "seen")));
    json_decref(root);
    ww_scan_plan_release(&plan);
    scan_plan_case_usual(&c, 1.5);
    c.made.scanner.white = 1.0; /* floating point */
    c.made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){0.0, 0.0, 0.0};
    c.made.scanner.channel[WW_VISUAL].n_points = 0;
    scan_plan_case_make("no noise", &c, &plan);
    root = document_of(&plan);
    of = json_object_get(json_object_get(root, "channels"), "visual");
    null(of, "highlight_snr");
    null(of, "sees_to");
    null(of, "code_step");
    json_decref(root);
    ww_scan_plan_release(&plan);
}

/* A fixed pattern, which no number of scans takes off: told is 2.8 fixed / (3 ln 10). */
static void no_way(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    c.made.scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){0.0, 0.0, 0.1};
    c.made.scanner.channel[WW_VISUAL].flare = scan_pixels_given(0.0);
    c.made.scanner.channel[WW_VISUAL].n_points = 0;
    scan_plan_case_make("no way", &c, &plan);
    json_t *root = document_of(&plan);
    test_text("way", json_string_value(json_object_get(root, "way")), "none");
    test_true("holds", json_is_false(json_object_get(root, "holds")));
    test_close("least", number(root, "least"), 2.8 * 0.1 / (3.0 * log(10.0)), 1e-7);
    json_decref(root);
    ww_scan_plan_release(&plan);
}

static void refuses_a_name_that_is_no_text(void **state) {
    scan_plan_case c;
    ww_scan_plan plan;
    char *text = NULL;
    size_t n = 0;
    (void)state;
    scan_plan_case_usual(&c, 1.5);
    scan_plan_case_make("plan", &c, &plan);
    plan.channel[WW_VISUAL].tone[2].tone[0] = '\xff';
    test_status("not UTF-8", ww_scan_plan_file_text(&plan, &text, &n, NULL), WW_EDOMAIN, NULL);
    assert_null(text);
    ww_scan_plan_release(&plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(keys_and_figures),
                                       cmocka_unit_test(unknowns), cmocka_unit_test(no_way),
                                       cmocka_unit_test(refuses_a_name_that_is_no_text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
