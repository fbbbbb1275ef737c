/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/curve_document.h"
#include <wedgework/curve_file.h>

/* Source of every expectation: definition (the format that curve_file.h describes). */

static void reads_what_stands_above_the_channels(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    const ww_meta *meta = &curve.meta;
    (void)state;
    test_status(
        "parse",
        ww_curve_file_parse("c.json", curve_document, sizeof curve_document - 1, &curve, &err),
        WW_OK, &err);
    test_text("name", meta->name, "Lantern Hill, roll 3");
    test_text("lot", meta->lot, "7B");
    assert_null(meta->contrast);
    assert_null(meta->pack);
    assert_int_equal(meta->material, WW_MATERIAL_FILM);
    assert_int_equal(meta->process, WW_PROCESS_NEGATIVE);
    assert_int_equal(meta->density, WW_DENSITY_TRANSMISSION);
    assert_int_equal(meta->status, WW_STATUS_VISUAL);
    assert_int_equal(meta->exposure_unit, WW_UNIT_LUX_SECOND);
    assert_int_equal(meta->emulsion, WW_EMULSION_BLACK_AND_WHITE);
    assert_int_equal(meta->read, WW_READ_DRY);
    assert_int_equal(meta->relative, WW_RELATIVE_ABSOLUTE);
    assert_int_equal(meta->grain, WW_GRAIN_UNKNOWN);
    assert_true(meta->exposure_time_s.set && meta->development_time_min.set && meta->log_h0.set);
    assert_false(meta->temperature_c.set || meta->log_h0_sd.set);
    test_close("exposure_time", meta->exposure_time_s.value, 0.02, 0.0);
    test_close("development_time", meta->development_time_min.value, 8.5, 0.0);
    test_close("log_h0", meta->log_h0.value, 0.731, 0.0);
    assert_int_equal(curve.speed.standard, WW_SPEED_EXPOSURE_INDEX);
    test_close("exact", curve.speed.exact.value, 143.394, 0.0);
    test_close("exact", curve.speed.exact.high, 147.0, 0.0);
    assert_int_equal(curve.speed.exact.how, WW_FITTED);
    assert_int_equal(curve.speed.arithmetic, 160);
    assert_int_equal(curve.speed.degrees, 23);
    assert_true(curve.speed.density_difference.set && !curve.speed.condition_met);
    test_close("condition", curve.speed.density_difference.value, 0.645592, 0.0);
    test_close("delta_x", curve.speed.delta_x.value, 171.9, 0.0);
    assert_int_equal(curve.crossover.worst_cc.how, WW_ABSENT);
    assert_int_equal(curve.notes.n, 2);
    test_text("note", curve.notes.text[0], "D-max is not reached: expose further steps.");
    ww_curve_release(&curve);
}

#define CROSSOVER                                                                                  \
    "\"crossover\": {\"found\": true, \"worst_cc\": {\"value\": -7.5, \"low\": -9, \"high\": -6, " \
    "\"how\": \"fitted\"}, \"channel\": \"blue\", \"at\": -0.7, \"between\": [-2.2, -0.3], "       \
    "\"middle\": -1.2}"

static void reads_a_crossover(void **state) {
    char *text = curve_document_with("\"crossover\": null", CROSSOVER);
    ww_curve curve = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("parse", ww_curve_file_parse("c.json", text, strlen(text), &curve, &err), WW_OK,
                &err);
    assert_true(curve.crossover.found);
    assert_int_equal(curve.crossover.channel, WW_BLUE);
    test_close("worst", curve.crossover.worst_cc.value, -7.5, 0.0);
    test_close("at", curve.crossover.at, -0.7, 0.0);
    test_close("from", curve.crossover.from, -2.2, 0.0);
    test_close("to", curve.crossover.to, -0.3, 0.0);
    test_close("middle", curve.crossover.middle, -1.2, 0.0);
    ww_curve_release(&curve);
    free(text);
}

static const struct {
    const char *what;
    const char *instead;
    const char *complaint; /* NULL: read all the same */
} rows[] = {
    {"\"wedgework\": 1, ", "", "key 'wedgework' is missing; write the file anew with wedgework"},
    {"\"wedgework\": 1", "\"wedgework\": 2",
     "key 'wedgework' is 2, but this program knows files up to version 1; use a newer one"},
    {"\"wedgework\": 1", "\"wedgework\": 0",
     "key 'wedgework' is 0; it must lie between 1 and 9223372036854775807"},
    {"\"wedgework\": 1", "\"wedgework\": \"1\"",
     "key 'wedgework' is the text '1' where a whole number must stand"},
    {"\"kind\": \"curve\"", "\"kind\": \"print plan\"",
     "key 'kind' is 'print plan', not 'curve'; give a curve file as `fit -o` writes it"},
    {"\"kind\": \"curve\"", "\"kind\": \"\\u001b[31m\"",
     "key 'kind' is '?[31m', not 'curve'; give a curve file as `fit -o` writes it"},
    {"\"kind\": \"curve\", ", "", "key 'kind' is missing; write the file anew with wedgework"},
    {"\"film\"", "\"plate\"",
     "key 'material' is 'plate'; it must be one of 'film', 'paper', 'print', 'strip', 'negative', "
     "'wedge', 'screen'"},
    {"\"film\"", "\"unknown\"",
     "key 'material' is 'unknown'; it must be one of 'film', 'paper', 'print', 'strip', "
     "'negative', 'wedge', 'screen'"},
    {"\"lux second\"", "\"lux\"",
     "key 'exposure_unit' is 'lux'; it must be one of 'lux second', 'second', 'relative'"},
    {"\"contrast\": null", "\"contrast\": 2", "key 'contrast' is a number where a text must stand"},
    {"\"development_time\": 8.5", "\"development_time\": \"8.5\"",
     "key 'development_time' is the text '8.5' where a number must stand"},
    {"\"channels\": {", "\"channel\": {",
     "key 'channels' is missing; write the file anew with wedgework"},
    {"\"channels\": {", "\"channels\": {}, \"rest\": {",
     "key 'channels' is empty; fit readings with a density column"},
    {"\"red\": {", "\"infrared\": {",
     "key 'channels' has a channel that is not red, green, blue or visual; name it so"},
    {"\"exposure index\"", "\"none\"",
     "key 'speed.standard' is 'none'; it must be one of 'ISO 6', 'ISO 5800', 'ISO 2240', "
     "'exposure index'"},
    {"\"exact\": 143.394, \"low\": 140", "\"exact\": 0, \"low\": 0",
     "key 'speed.exact' is not above 0; fit the readings again"},
    {"\"arithmetic\": 160", "\"arithmetic\": 0",
     "key 'speed.arithmetic' is 0; it must lie between 1 and 10000000"},
    {"\"arithmetic\": 160", "\"arithmetic\": null", NULL},
    {"\"degrees\": 23", "\"degrees\": 2300",
     "key 'speed.degrees' is 2300; it must lie between -1000 and 1000"},
    {"\"met\": false", "\"met\": \"no\"",
     "key 'speed.condition.met' is the text 'no' where true or false must stand"},
    {"\"condition\": {\"density_difference\": 0.645592, \"met\": false}", "\"condition\": null",
     NULL},
    {"\"condition\": {\"density_difference\": 0.645592, \"met\": false}", "\"condition\": 0.8",
     "key 'speed.condition.density_difference' is missing; write the file anew with wedgework"},
    {"\"crossover\": null", "\"crossover\": {\"found\": true, \"worst_cc\": null}",
     "key 'crossover.worst_cc' is null where an object must stand"},
    {"\"crossover\": null", "\"crossover\": true",
     "key 'crossover' is true or false where an object must stand"},
    {"\"Invented.\"", "{}", "key 'notes[1]' is an object where a text must stand"},
    /* Broken as JSON, at the column of the last character taken in. */
    {"\"gamma\": 0.7,", "\"gamma\": NaN,",
     "column 51: not JSON: invalid token near 'NaN'; give a file as wedgework wrote it"},
    {"\"gamma\": 0.7,", "\"gamma\": 1e999,",
     "column 53: not JSON: real number overflow near '1e999'; give a file as wedgework wrote it"},
    {"\"gamma\": 0.7,", "\"base_fog\": 0.7,",
     "column 49: not JSON: duplicate object key near '\"base_fog\"'; give a file as wedgework "
     "wrote it"},
    /* Keys that this version does not know belong to later ones. */
    {"\"speed\": {", "\"humidity\": 0.6, \"speed\": {", NULL},
};

static void names_what_is_wrong(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *text = curve_document_with(rows[i].what, rows[i].instead);
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        const ww_status status = ww_curve_file_parse("c.json", text, strlen(text), &curve, &err);
        test_status(rows[i].instead, status, rows[i].complaint ? WW_EINPUT : WW_OK, &err);
        if (rows[i].complaint) {
            test_text(rows[i].instead, err.msg, rows[i].complaint);
            test_text(rows[i].instead, err.file, "c.json");
        }
        test_true("untouched on failure", (curve.notes.n == 0) == (status != WW_OK));
        ww_curve_release(&curve);
        free(text);
    }
}

/* Number metadata share the limits of readings; two of them stand for all. */
static void refuses_impossible_metadata(void **state) {
    static const char *const wrong[] = {"\"exposure_time\": 0,", "\"exposure_time\": -1,"};
    (void)state;
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        char *text = curve_document_with("\"exposure_time\": 0.02,", wrong[i]);
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(wrong[i], ww_curve_file_parse("c.json", text, strlen(text), &curve, &err),
                    WW_EINPUT, &err);
        test_true(wrong[i], strncmp(err.msg, "key 'exposure_time' is ", 23) == 0);
        free(text);
    }
}

/* Each beginning of the document but the whole one is refused, and none is read beyond its end. */
static void refuses_every_truncation(void **state) {
    const size_t whole = strlen(curve_document) - 2; /* the last brace */
    (void)state;
    for (size_t n = 0; n <= whole; n += test_quick() ? 97 : 1) {
        char *bytes = malloc(n + 1);
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        ww_status status;
        assert_non_null(bytes);
        memcpy(bytes, curve_document, n);
        bytes = realloc(bytes, n > 0 ? n : 1);
        status = ww_curve_file_parse("c.json", bytes, n, &curve, &err);
        test_status("truncated", status, WW_EINPUT, &err);
        assert_true(err.line > 0 || n == 0); /* an empty file has no line */
        free(bytes);
    }
}

static void reads_files(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "film.json");
    ww_curve curve = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("missing", ww_curve_file_read(path, &curve, &err), WW_EINPUT, &err);
    test_text("missing", err.file, path);
    test_file_write(path, curve_document);
    test_status("there", ww_curve_file_read(path, &curve, &err), WW_OK, &err);
    test_text("name", curve.meta.name, "Lantern Hill, roll 3");
    ww_curve_release(&curve);
    test_file_write(path, "{\"wedgework\": 1,\n \"kind\": }");
    test_status("broken", ww_curve_file_read(path, &curve, &err), WW_EINPUT, &err);
    test_text("broken", err.file, path);
    assert_int_equal(err.line, 2);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_what_stands_above_the_channels),
        cmocka_unit_test(reads_a_crossover),
        cmocka_unit_test(names_what_is_wrong),
        cmocka_unit_test(refuses_impossible_metadata),
        cmocka_unit_test(refuses_every_truncation),
        cmocka_unit_test(reads_files),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
