/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_case.h"
#include "support/support.h"
#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/measure_file.h>

/* Source of every expectation: the description of the `measure` documents, whose keys are fixed,
 * and RFC 8259. Numbers must come back as the same bits. */

static json_t *parse(const char *text, size_t n) {
    json_t *document = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_int_equal(n, strlen(text));
    assert_int_equal(text[n - 1], '\n');
    if (!document)
        fail_msg("no JSON:\n%s", text);
    return document;
}

static json_t *document_of(const ww_measured *measured) {
    char *text = NULL;
    size_t n = 0;
    json_t *document;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_measure_file_text(measured, &text, &n, &err), WW_OK, &err);
    document = parse(text, n);
    free(text);
    return document;
}

static json_t *whole_of(const ww_whole *whole) {
    char *text = NULL;
    size_t n = 0;
    json_t *document;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_measure_file_whole_text(whole, &text, &n, &err), WW_OK, &err);
    document = parse(text, n);
    free(text);
    return document;
}

static double number_of(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    test_true(key, json_is_number(value));
    return json_number_value(value);
}

static double inner_of(const json_t *object, const char *key, const char *channel) {
    return number_of(json_object_get(object, key), channel);
}

static const char *text_of(const json_t *object, const char *key) {
    return json_string_value(json_object_get(object, key));
}

static bool null_of(const json_t *object, const char *key) {
    return json_is_null(json_object_get(object, key));
}

static void expect_row(const json_t *row, const ww_patch *patch, const bool has[]) {
    const json_t *corner = json_array_get(json_object_get(row, "corners"), 2);
    test_text("step", text_of(row, "step"), patch->step);
    assert_true(null_of(row, "tone"));
    test_close("x", number_of(row, "x"), patch->x, 0.0);
    test_close("y", number_of(row, "y"), patch->y, 0.0);
    test_close("width", number_of(row, "width"), patch->width, 0.0);
    test_close("height", number_of(row, "height"), patch->height, 0.0);
    test_close("corner", json_number_value(json_array_get(corner, 1)), patch->corner[2][1], 0.0);
    test_close("n", number_of(row, "n"), (double)patch->n, 0.0);
    test_close("rejected", number_of(row, "rejected"), patch->rejected, 0.0);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const char *name = ww_channel_name((ww_channel)c);
        const ww_patch_channel *channel = &patch->channel[c];
        test_true(name, (json_object_get(json_object_get(row, "code"), name) != NULL) == has[c]);
        if (!has[c])
            continue;
        test_close("code", inner_of(row, "code", name), channel->code, 0.0);
        test_close("sd", inner_of(row, "sd", name), channel->sd, 0.0);
        test_close("low", inner_of(row, "low", name), channel->low, 0.0);
        test_close("high", inner_of(row, "high", name), channel->high, 0.0);
        test_close("drift", inner_of(row, "drift", name), channel->drift, 0.0);
        test_close("clipped", inner_of(row, "clipped", name), channel->clipped, 0.0);
        test_close("holes", inner_of(row, "no_number", name), (double)channel->no_number, 0.0);
        if (channel->density.state == WW_CELL_VALUE) {
            test_close("density", inner_of(row, "density", name), channel->density.value, 0.0);
            test_close("error", inner_of(row, "standard_error", name), channel->density.sd.value,
                       0.0);
        }
    }
}

static void writes_what_was_read(void **state) {
    struct scan_case made;
    json_t *document;
    const json_t *rows, *wedge, *last;
    (void)state;
    for (int colour = 0; colour < 2; colour++) {
        scan_case_strip(&made, colour == 1);
        assert_int_equal(ww_notes_add(&made.measured.notes, NULL, "Invented."), WW_OK);
        document = document_of(&made.measured);
        test_close("wedgework", number_of(document, "wedgework"), 1, 0.0);
        test_text("kind", text_of(document, "kind"), "readings");
        test_text("file", text_of(document, "file"), "wedge.tif");
        test_text("profile", text_of(document, "profile"), "Linear grey");
        test_close("resolution", number_of(document, "px_per_mm"), 47.25, 0.0);
        test_close("bits", number_of(document, "bits"), 16, 0.0);
        assert_int_equal(json_array_size(json_object_get(document, "channels")), colour ? 3 : 1);
        rows = json_object_get(document, "rows");
        assert_int_equal(json_array_size(rows), SCAN_CASE_STEPS);
        for (size_t i = 0; i < SCAN_CASE_STEPS; i++)
            expect_row(json_array_get(rows, i), &made.patch[i], made.measured.has);
        last = json_array_get(rows, SCAN_CASE_STEPS - 1);
        assert_true(null_of(json_object_get(last, "density"), colour ? "red" : "visual"));
        assert_true(null_of(json_object_get(last, "standard_error"), colour ? "red" : "visual"));
        assert_int_equal(json_array_size(json_object_get(last, "over")), colour ? 3 : 1);
        wedge = json_object_get(document, "wedge");
        test_close("steps", number_of(wedge, "steps"), SCAN_CASE_STEPS, 0.0);
        test_close("angle", number_of(wedge, "angle"), 1.7, 0.0);
        assert_true(json_is_true(json_object_get(wedge, "found")));
        test_text("note", json_string_value(json_array_get(json_object_get(document, "notes"), 0)),
                  "Invented.");
        json_decref(document);
        ww_notes_release(&made.measured.notes);
    }
}

/* Clipped in the light is no `over`, which is dense; what has no one density is neither. */
static void tells_what_has_no_density(void **state) {
    struct scan_case made;
    (void)state;
    scan_case_strip(&made, false);
    ww_patch_channel *light = &made.patch[0].channel[WW_VISUAL];
    light->reach = WW_REACH_LIGHT;
    light->density = (ww_cell){.state = WW_CELL_LESS, .value = 0.031};
    ww_patch_channel *mixed = &made.patch[1].channel[WW_VISUAL];
    mixed->reach = WW_REACH_NONE;
    mixed->density = (ww_cell){.state = WW_CELL_MISSING};
    json_t *document = document_of(&made.measured);
    const json_t *rows = json_object_get(document, "rows");
    const size_t overs[] = {0, 0, 1}, mixes[] = {0, 1, 0}, at[] = {0, 1, SCAN_CASE_STEPS - 1};
    for (size_t i = 0; i < 3; i++) {
        const json_t *row = json_array_get(rows, at[i]);
        assert_true(null_of(json_object_get(row, "density"), "visual"));
        assert_true(null_of(json_object_get(row, "less_than"), "visual") == (i > 0));
        assert_int_equal(json_array_size(json_object_get(row, "over")), overs[i]);
        assert_int_equal(json_array_size(json_object_get(row, "mixed")), mixes[i]);
    }
    test_close("limit", inner_of(json_array_get(rows, 0), "less_than", "visual"), 0.031, 0.0);
    json_decref(document);
}

static void writes_spots(void **state) {
    struct scan_case made;
    json_t *document;
    const json_t *row, *wedge;
    (void)state;
    scan_case_spots(&made);
    document = document_of(&made.measured);
    row = json_array_get(json_object_get(document, "rows"), 0);
    test_text("step", text_of(row, "step"), "cloud");
    test_text("tone", text_of(row, "tone"), "cloud");
    test_close("radius", number_of(row, "radius"), 12.5, 0.0);
    test_close("centre", json_number_value(json_array_get(json_object_get(row, "centre"), 1)),
               310.5, 0.0);
    assert_true(null_of(row, "corners"));
    assert_true(null_of(json_object_get(row, "density"), "visual"));
    assert_int_equal(json_array_size(json_object_get(row, "over")), 0);
    assert_true(json_is_false(json_object_get(document, "calibrated")));
    assert_true(null_of(document, "profile"));
    assert_true(null_of(document, "px_per_mm"));
    wedge = json_object_get(document, "wedge");
    assert_true(json_is_false(json_object_get(wedge, "found")));
    test_close("steps", number_of(wedge, "steps"), 0, 0.0);
    assert_true(null_of(wedge, "angle"));
    json_decref(document);
}

static const char *const keys[] = {"min", "p0.1", "p1", "median", "p99", "p99.9", "max"};

static void writes_percentiles(void **state) {
    ww_whole codes = scan_case_whole(false), densities = scan_case_whole(true);
    codes.left_out[WW_RED] = 37;
    json_t *document = whole_of(&codes);
    const json_t *red;
    (void)state;
    test_text("kind", text_of(document, "kind"), "histogram");
    test_text("unit", text_of(document, "unit"), "code");
    test_close("pixels", number_of(document, "pixels"), 24000000, 0.0);
    red = json_object_get(json_object_get(document, "channels"), "red");
    for (int i = 0; i < WW_WHOLE_COUNT; i++)
        test_close(keys[i], number_of(red, keys[i]), codes.code[WW_RED][i], 0.0);
    assert_null(json_object_get(json_object_get(document, "channels"), "visual"));
    red = json_object_get(json_object_get(document, "standard_error"), "red");
    assert_true(null_of(red, "median"));
    test_close("left out", inner_of(json_object_get(document, "codes"), "red", "left_out"), 37,
               0.0);
    json_decref(document);

    /* Percentiles by density: p % of the pixels are at most this dense, so that they rise, too. */
    densities.density[WW_RED][WW_WHOLE_P1].sd.value = 0.037;
    document = whole_of(&densities);
    test_text("unit", text_of(document, "unit"), "density");
    red = json_object_get(json_object_get(document, "standard_error"), "red");
    test_close("error", number_of(red, "median"), 0.01, 0.0);
    test_close("of the dense end", number_of(red, "p99"), 0.037, 0.0);
    assert_true(null_of(red, "max"));
    red = json_object_get(json_object_get(document, "channels"), "red");
    for (int i = 0; i + 1 < WW_WHOLE_COUNT; i++)
        test_close(keys[i], number_of(red, keys[i]),
                   densities.density[WW_RED][WW_WHOLE_COUNT - 1 - i].value, 0.0);
    assert_true(null_of(red, "max"));
    red = json_object_get(json_object_get(document, "codes"), "red");
    for (int i = 0; i < WW_WHOLE_COUNT; i++)
        test_close(keys[i], number_of(red, keys[i]), densities.code[WW_RED][i], 0.0);
    test_close("mean", number_of(red, "mean"), densities.mean[WW_RED], 0.0);
    test_close("clipped", inner_of(json_object_get(document, "codes"), "blue", "clipped_high"),
               0.00062, 0.0);
    json_decref(document);
}

/* One document a line: of several scans below each other, each line can be read by itself. */
static void writes_bins(void **state) {
    ww_whole whole = scan_case_whole(true);
    const json_t *bins, *red;
    json_t *document;
    (void)state;
    whole.bins = (ww_whole_bins){.from = -0.02, .width = 0.02, .n = 3};
    whole.bins.count[WW_RED][2] = 530;
    whole.bins.darker[WW_RED] = 12;
    document = whole_of(&whole);
    bins = json_object_get(document, "bins");
    test_text("unit", text_of(bins, "unit"), "density");
    test_close("from", number_of(bins, "from"), -0.02, 0.0);
    test_close("width", number_of(bins, "width"), 0.02, 0.0);
    red = json_object_get(bins, "red");
    test_close("darker", number_of(red, "darker"), 12.0, 0.0);
    test_close("lighter", number_of(red, "lighter"), 0.0, 0.0);
    assert_int_equal(json_array_size(json_object_get(red, "counts")), 3);
    test_close("count", json_number_value(json_array_get(json_object_get(red, "counts"), 2)), 530.0,
               0.0);
    assert_null(json_object_get(bins, "visual"));
    json_decref(document);
    whole.calibrated = false;
    document = whole_of(&whole);
    test_text("unit of codes", text_of(json_object_get(document, "bins"), "unit"),
              "log10 of white over code");
    json_decref(document);
}

static void writes_one_line(void **state) {
    struct scan_case made;
    const ww_whole whole = scan_case_whole(true);
    char *text = NULL;
    size_t n = 0;
    json_t *line, *lines;
    (void)state;
    scan_case_strip(&made, true);
    test_status("strip", ww_measure_file_line(&made.measured, &text, &n, NULL), WW_OK, NULL);
    assert_ptr_equal(strchr(text, '\n'), text + n - 1);
    line = parse(text, n);
    lines = document_of(&made.measured);
    assert_true(json_equal(line, lines));
    json_decref(line);
    json_decref(lines);
    free(text);
    test_status("whole", ww_measure_file_whole_line(&whole, &text, &n, NULL), WW_OK, NULL);
    assert_ptr_equal(strchr(text, '\n'), text + n - 1);
    line = parse(text, n);
    lines = whole_of(&whole);
    assert_true(json_equal(line, lines));
    json_decref(line);
    json_decref(lines);
    free(text);
}

/* Names are whatever bytes the system gave; JSON is UTF-8 (RFC 8259, 8.1). */
static void bears_any_name(void **state) {
    static char latin[] = "Gr\xFCn\t\".tif", spot[] = "cl\xFFoud";
    struct scan_case made;
    json_t *document;
    (void)state;
    scan_case_spots(&made);
    made.measured.file = made.measured.profile = latin;
    made.patch[0].step = spot;
    document = document_of(&made.measured);
    test_text("file", text_of(document, "file"), "Gr\xEF\xBF\xBDn \".tif");
    test_text("spot", text_of(json_array_get(json_object_get(document, "rows"), 0), "step"),
              "cl\xEF\xBF\xBDoud");
    json_decref(document);
}

static void refuses_what_cannot_be_written(void **state) {
    struct scan_case made;
    ww_whole whole = scan_case_whole(false);
    char *text = NULL;
    size_t n = 77;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_strip(&made, false);
    made.patch[3].channel[WW_VISUAL].sd = (double)NAN;
    test_status("NaN", ww_measure_file_text(&made.measured, &text, &n, &err), WW_EDOMAIN, &err);
    test_status("NaN", ww_measure_file_line(&made.measured, &text, &n, &err), WW_EDOMAIN, &err);
    whole.mean[WW_RED] = (double)INFINITY;
    test_status("inf", ww_measure_file_whole_text(&whole, &text, &n, &err), WW_EDOMAIN, &err);
    assert_null(text);
    assert_int_equal(n, 77);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_what_was_read), cmocka_unit_test(tells_what_has_no_density),
        cmocka_unit_test(writes_spots),         cmocka_unit_test(writes_percentiles),
        cmocka_unit_test(writes_bins),          cmocka_unit_test(writes_one_line),
        cmocka_unit_test(bears_any_name),       cmocka_unit_test(refuses_what_cannot_be_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
