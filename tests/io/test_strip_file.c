/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/strip_case.h"
#include "support/support.h"
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/strip_file.h>

/* Source of every expectation: the description of the `strip` document, whose keys are fixed. */

static ww_strip sample(void) {
    static char one[] = "1", two[] = "2 \"thin\"";
    static ww_strip_step step[] = {
        {.step = one,
         .time_s = 12.0,
         .state = WW_CELL_VALUE,
         .density = 0.07,
         .error = 0.01,
         .n = 1},
        {.step = two, .time_s = 16.0, .state = WW_CELL_OVER, .n = 2, .out_of_order = true}};
    static ww_strip_piece piece[] = {{10.08, 10.1, 10.1, 0.0029}, {12.7, 12.7, 2.6, 0.0}};
    return (ww_strip){.kind = WW_STRIP_READ,
                      .holds = true,
                      .timer_step_s = 0.1,
                      .series = {11.3, 1.0 / 3.0, piece, 2},
                      .step = step,
                      .n_steps = 2,
                      .white = {true, 0.06},
                      .aim = {true, 0.1 + 0.2},
                      .best = {14.3, 12.9, 15.8, WW_MEASURED},
                      .high_open = true,
                      .plateau = true,
                      .plateau_from_s = 12.0,
                      .plateau_to_s = 16.0};
}

static json_t *document_of(const ww_strip *strip) {
    char *text = NULL;
    size_t n = 0;
    json_t *root;
    json_error_t why;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_strip_file_text(strip, &text, &n, &err), WW_OK, &err);
    test_true("ends with a line feed", n > 0 && text[n - 1] == '\n' && strlen(text) == n);
    root = json_loads(text, JSON_REJECT_DUPLICATES, &why);
    if (!root)
        fail_msg("no JSON: %s", why.text);
    free(text);
    return root;
}

static double number_at(const json_t *object, const char *key) {
    return json_number_value(json_object_get(object, key));
}

static void all_keys(void **state) {
    const ww_strip strip = sample();
    json_t *root = document_of(&strip), *best = json_object_get(root, "best");
    const json_t *steps = json_object_get(root, "steps"), *pieces = json_object_get(root, "pieces");
    const json_t *second = json_array_get(steps, 1);
    (void)state;
    test_text("kind", json_string_value(json_object_get(root, "kind")), "strip plan");
    test_text("act", json_string_value(json_object_get(root, "act")), "read");
    test_true("holds", json_is_true(json_object_get(root, "holds")));
    assert_int_equal(json_array_size(json_object_get(root, "exposures")), 2);
    test_close("exposures",
               json_number_value(json_array_get(json_object_get(root, "exposures"), 0)), 10.08,
               0.0);
    test_close("time", number_at(best, "time"), 14.3, 0.0);
    test_close("low", number_at(best, "low"), 12.9, 0.0);
    test_close("high", number_at(best, "high"), 15.8, 0.0);
    test_text("open", json_string_value(json_object_get(best, "open")), "high");
    test_text("place", json_string_value(json_object_get(root, "place")), "inside");
    test_close("full precision", number_at(root, "aim"), 0.1 + 0.2, 0.0);
    test_close("set", number_at(json_array_get(pieces, 0), "set"), 10.1, 0.0);
    test_close("add", number_at(json_array_get(pieces, 1), "add"), 2.6, 0.0);
    test_text("label", json_string_value(json_object_get(second, "step")), "2 \"thin\"");
    test_true("over", json_is_null(json_object_get(second, "density")));
    assert_int_equal(json_array_size(json_object_get(second, "marks")), 2);
    test_close("plateau", json_number_value(json_array_get(json_object_get(root, "plateau"), 1)),
               16.0, 0.0);
    test_true("no meaning here", json_is_null(json_object_get(root, "least_change")));
    test_true("notes", json_is_array(json_object_get(root, "notes")));
    json_decref(root);
}

/* A plan has no place and no time, a safelight strip has its changes; open ends, words for places.
 */
static void the_others(void **state) {
    static const char *const words[] = {"inside",   "light",    "dark",
                                        "disorder", "no reach", "turned"};
    ww_strip strip = WW_STRIP_INIT;
    json_t *root;
    (void)state;
    test_status("plan", ww_strip_plan(16.0, 0.5, 5, 0.1, &strip, NULL), WW_OK, NULL);
    root = document_of(&strip);
    test_text("plan", json_string_value(json_object_get(root, "act")), "plan");
    test_true("no time", json_is_null(json_object_get(root, "best")) &&
                             json_is_null(json_object_get(root, "place")));
    json_decref(root);
    ww_strip_release(&strip);
    strip = sample();
    for (int i = 0; i < 5; i++) {
        strip.place = (ww_strip_place)i;
        strip.kind = WW_STRIP_PROOF;
        root = document_of(&strip);
        test_text("place", json_string_value(json_object_get(root, "place")), words[i]);
        json_decref(root);
    }
    strip.kind = WW_STRIP_SAFELIGHT;
    strip.low_open = true;
    strip.changed_s = (ww_optional){true, 300.0};
    strip.least_change = 0.02;
    strip.series.n = 0;
    root = document_of(&strip);
    test_text("both", json_string_value(json_object_get(json_object_get(root, "best"), "open")),
              "both");
    test_close("changed", number_at(root, "changed"), 300.0, 0.0);
    test_close("least", number_at(root, "least_change"), 0.02, 0.0);
    assert_int_equal(json_array_size(json_object_get(root, "exposures")), 0);
    json_decref(root);
}

static void refusals(void **state) {
    static char bad[] = "\xff";
    ww_strip strip = sample();
    char *text = NULL, *folder = test_folder_new(), *path = test_path(folder, "strip.json");
    size_t n = 7;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("written", ww_strip_file_write(&strip, path, &err), WW_OK, &err);
    assert_int_equal(test_folder_count(folder), 1);
    test_status("no folder", ww_strip_file_write(&strip, "/no/such/strip.json", &err), WW_ESYSTEM,
                &err);
    strip.best.high = INFINITY;
    test_status("infinite", ww_strip_file_text(&strip, &text, &n, &err), WW_EDOMAIN, &err);
    test_status("infinite", ww_strip_file_write(&strip, path, &err), WW_EDOMAIN, &err);
    strip = sample();
    strip.step[0].step = bad;
    test_status("no UTF-8", ww_strip_file_text(&strip, &text, &n, &err), WW_EDOMAIN, &err);
    test_true("untouched", text == NULL && n == 7);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_keys),
        cmocka_unit_test(the_others),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
