/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/tones_case.h"
#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/tones_file.h>

/* Source of every expectation: the header's description of the file, and the case. */

static json_t *document_of(const ww_tones *tones) {
    char *text = NULL;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_tones_file_text(tones, &text, &n, &err), WW_OK, &err);
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

static void forward(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    tones_case_doubt(&c, 0.0, 0.006, 0.0, 0.09);
    c.paper[0].channel[WW_VISUAL].domain_high = 0.3;
    tones_case_make("tones", &c, &tones);
    json_t *root = document_of(&tones);
    const json_t *rows = json_object_get(root, "rows");
    test_text("kind", json_string_value(json_object_get(root, "kind")), "tones");
    assert_int_equal(json_array_size(rows), 9);
    const json_t *white = json_array_get(rows, 0), *dark = json_array_get(rows, 8);
    test_close("scene", number(white, "scene"), 0.0, 0.0);
    test_close("film", number(white, "negative"), 1.4650, 6e-5);
    test_close("print", number(white, "print"), 0.09, 6e-5);
    test_close("log H", number(white, "film_logh"), tones.chain[0].row[0].point.film_log_h, 0.0);
    test_close("L*", number(white, "lightness"), tones.chain[0].row[0].lightness.value, 0.0);
    test_close("gradient", number(white, "gradient"), tones.chain[0].row[0].gradient.value, 0.0);
    test_close("doubt", number(json_object_get(white, "doubt"), "negative"),
               0.5 * (tones.chain[0].row[0].negative.high - tones.chain[0].row[0].negative.low),
               0.0);
    test_close("link", number(json_object_get(white, "links"), "film"), 0.56, 1e-9);
    test_close("stops", number(dark, "stops"), -2.2 / log10(2.0), 1e-9);
    test_true("beyond the paper", json_is_null(json_object_get(dark, "print")) &&
                                      json_is_null(json_object_get(dark, "lightness")) &&
                                      json_is_number(json_object_get(dark, "negative")));
    const json_t *chain = json_array_get(json_object_get(root, "chains"), 0);
    test_text("film", json_string_value(json_object_get(chain, "film")), "Heron film");
    assert_int_equal(json_array_size(json_object_get(chain, "detail")), tones.chain[0].n_runs);
    test_close("kept", number(json_object_get(root, "kept_stops"), "value"),
               tones.chain[0].kept_stops.value, 0.0);
    test_true("not asked", json_is_null(json_object_get(root, "wanted")));
    assert_int_equal(json_array_size(json_object_get(root, "notes")), tones.notes.n);
    json_decref(root);
    ww_tones_release(&tones);
}

static void without_doubt_it_is_null(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    tones_case_make("tones", &c, &tones);
    json_t *root = document_of(&tones);
    const json_t *white = json_array_get(json_object_get(root, "rows"), 0);
    test_true("null", json_is_null(json_object_get(json_object_get(white, "doubt"), "print")));
    json_decref(root);
    tones.flare = (double)NAN;
    char *text = NULL;
    size_t n;
    test_status("no number", ww_tones_file_text(&tones, &text, &n, NULL), WW_EDOMAIN, NULL);
    test_true("untouched", text == NULL);
    test_status("no film", ww_tones_file_csv(&tones, &text, &n, NULL), WW_ENODATA, NULL);
    ww_tones_release(&tones);
}

static void wanted(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    char *text = NULL;
    size_t n;
    tones_case_start(&c);
    c.request.n_films = 0;
    c.request.wanted = true;
    tones_case_make("wanted", &c, &tones);
    json_t *root = document_of(&tones);
    const json_t *found = json_object_get(root, "wanted");
    assert_int_equal(json_array_size(json_object_get(found, "rows")), tones.wanted.n);
    test_close("slope", number(found, "slope"), 1.0, 0.0);
    test_close("had", number(found, "had"), (double)tones.wanted.n_had, 0.0);
    test_true("no film", json_is_null(json_object_get(found, "worst")) &&
                             json_array_size(json_object_get(root, "rows")) == 0);
    json_decref(root);
    test_status("csv", ww_tones_file_csv(&tones, &text, &n, NULL), WW_OK, NULL);
    test_holds("head", text, "# material: film\n# process: negative\n");
    test_holds("columns", text, "\nstep,logh,visual\n1,");
    size_t rows = 0;
    for (const char *at = strstr(text, "visual\n"); (at = strchr(at + 1, '\n')) != NULL;)
        rows++;
    assert_int_equal(rows, tones.wanted.n_had + 1);
    /* From the darkest tone that can be had, at 0.30. */
    test_holds("thinnest", strstr(text, "\n1,"), ",0.3000\n");
    free(text);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(forward),
                                       cmocka_unit_test(without_doubt_it_is_null),
                                       cmocka_unit_test(wanted)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
