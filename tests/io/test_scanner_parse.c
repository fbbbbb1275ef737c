/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/scanner_document.h"
#include "support/support.h"
#include <stdio.h>

/* Source of every expectation: definition (the format that scanner_file.h describes). */

static ww_status parse(const char *text, ww_scanner *scanner, ww_error *err) {
    return ww_scanner_file_parse("s.json", text, strlen(text), scanner, err);
}

static void reads_everything(void **state) {
    ww_scanner s = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("parse", parse(scanner_document, &s, &err), WW_OK, &err);
    test_text("name", s.name, "heron pond, wedge 2.tif");
    test_text("profile", s.profile, "Linear, of a heron");
    assert_int_equal(s.bits, 12);
    test_close("white", s.white, 4095.0, 0.0);
    test_close("step", s.step, 0.0, 0.0);
    assert_int_equal(s.encoding, WW_ENCODING_SRGB);
    test_close("gamma", s.gamma.value, 2.0354, 0.0);
    test_close("gamma low", s.gamma.low, 1.993, 0.0);
    test_close("gamma high", s.gamma.high, 2.0778, 0.0);
    assert_int_equal(s.gamma.how, WW_FITTED);
    assert_int_equal(s.wedge, WW_WEDGE_NOMINAL);
    test_true("wedge sd", s.wedge_sd.set && s.wedge_sd.value == 0.0125);
    test_true("density", s.density == WW_DENSITY_REFLECTION);
    test_true("dark scan", s.dark_scan);
    test_true("misfit", s.misfit);
    test_true("channels", s.channel[WW_RED].present && s.channel[WW_BLUE].present &&
                              !s.channel[WW_GREEN].present && !s.channel[WW_VISUAL].present);
    const ww_scanner_channel *red = &s.channel[WW_RED];
    assert_int_equal(red->n_points, 3);
    test_close("code", red->point[1].code, 900.5, 0.0);
    test_close("density", red->point[1].density, 1.1, 0.0);
    test_close("doubt", red->point[1].doubt, 0.04, 0.0);
    test_close("k", red->k, 0.9173, 0.0);
    test_close("read", red->noise.read, 0.0003, 0.0);
    test_close("shot", red->noise.shot, 0.0017, 0.0);
    test_close("fixed", red->noise.fixed, 0.0041, 0.0);
    test_close("dark", red->dark.high, 0.0008, 0.0);
    assert_int_equal(red->dark.how, WW_MEASURED);
    test_close("flare", red->flare.low, 0.0015, 0.0);
    test_close("dmax", red->dmax.value, 2.731, 0.0);
    assert_int_equal(red->n_steps, 3);
    test_text("step", red->step[0].step, "1a");
    test_close("step density", red->step[1].density, 1.1, 0.0);
    test_close("step code", red->step[2].code, 101.25, 0.0);
    test_close("step sd", red->step[2].sd, 1.5, 0.0);
    test_close("step fitted", red->step[1].fitted, 1.13, 0.0);
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(red->step[i].clipped, i == 0);
        assert_int_equal(red->step[i].suspect, i == 1);
        assert_int_equal(red->step[i].compressed, i == 2);
    }
    test_close("residual sd", red->residual_sd, 0.004, 0.0);
    test_close("worst", red->worst_residual, -0.009, 0.0);
    assert_int_equal(s.channel[WW_BLUE].flare.how, WW_ABSENT);
    assert_int_equal(s.channel[WW_BLUE].n_steps, 0);
    assert_int_equal(s.notes.n, 2);
    test_text("note", s.notes.text[0], "Dark was measured.");
    ww_scanner_release(&s);
}

static void what_may_be_missing(void **state) {
    static const char *const rows[][2] = {
        {"\"name\": \"heron pond, wedge 2.tif\",", ""},
        {",\n    \"curve\": \"sRGB\"", ""},
        {"\"wedge\": \"nominal\", \"wedge_sd\": 0.0125, \"density\": \"reflection\", "
         "\"dark_scan\": true,",
         ""},
        {"\"wedge\": \"nominal\"", "\"wedge\": null"},
        {"\"notes\": [\"Dark was measured.\", \"The wedge is nominal.\"]", "\"more\": 1"},
        {"\"profile\": \"Linear, of a heron\",", ""},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *text = scanner_document_with(rows[i][0], rows[i][1]);
        ww_scanner s = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i][0], parse(text, &s, &err), WW_OK, &err);
        assert_int_equal(s.encoding, i == 1 ? WW_ENCODING_POWER : WW_ENCODING_SRGB);
        assert_int_equal(s.wedge, i == 2 || i == 3 ? WW_WEDGE_UNKNOWN : WW_WEDGE_NOMINAL);
        ww_scanner_release(&s);
        free(text);
    }
}

static void refusals_name_the_key(void **state) {
    static const struct {
        const char *from, *to, *says;
    } rows[] = {
        {"\"wedgework\": 1", "\"wedgework\": 2", "'wedgework' is 2"},
        {"\"wedgework\": 1", "\"wedgework\": 0", "'wedgework'"},
        {"\"scanner\"", "\"curve\"", "not 'scanner'"},
        {"\"bits\": 12", "\"bits\": 0", "'bits'"},
        {"\"bits\": 12", "\"bits\": 16", "'white' is not the greatest code of 16 bits"},
        {"\"white\": 4095", "\"white\": \"4095\"", "'white'"},
        {"\"white\": 4095", "\"white\": 4095, \"step\": -1", "'step'"},
        {"\"gamma\": 2.0354", "\"gamma\": 0", "'encoding.gamma'"},
        {"\"low\": 1.993", "\"low\": 2.993", "'encoding.low'"},
        {"\"how\": \"fitted\",\n    \"curve\"", "\"how\": \"guessed\", \"curve\"", "encoding.how"},
        {"\"curve\": \"sRGB\"", "\"curve\": \"log\"", "'encoding.curve' is 'log'"},
        {"\"nominal\",", "\"unknown\",", "'wedge'"},
        {"\"wedge_sd\": 0.0125", "\"wedge_sd\": -1", "'wedge_sd'"},
        {"\"density\": \"reflection\"", "\"density\": \"both\"", "'density'"},
        {"\"dark_scan\": true", "\"dark_scan\": 1", "'dark_scan'"},
        {"\"misfit\": true", "\"misfit\": \"no\"", "'misfit'"},
        {"[900.5, 1.1]", "[100, 1.1]", "'channels.red.curve[1]' does not follow"},
        {"[900.5, 1.1]", "[900.5, 2.8]", "'channels.red.curve[1]' does not follow"},
        {"[900.5, 1.1]", "[900.5]", "channels.red.curve[1]"},
        {"[900.5, 1.1]", "[900.5, 7]", "channels.red.curve[1][1]"},
        {"[900.5, 1.1]", "[9000, 1.1]", "channels.red.curve[1][0]"},
        {"[0.11, 0.04, 0.01]", "[0.11, 0.04]", "channels.red.doubt"},
        {"[0.11, 0.04, 0.01]", "[0.11, -0.04, 0.01]", "channels.red.doubt[1]"},
        {"\"k\": 0.9173", "\"k\": 0", "channels.red.k"},
        {"\"read\": 0.0003", "\"read\": -0.0003", "channels.red.noise.read"},
        {"\"noise\": { \"read\": 0,", "\"nose\": { \"read\": 0,", "channels.blue.noise"},
        {"\"value\": 0.0007", "\"value\": 7", "channels.red.dark"},
        {"\"value\": 0.002,", "\"value\": -0.002,", "channels.red.flare"},
        {"\"clipped\": [\"1a\"]", "\"clipped\": [\"7\"]", "channels.red.clipped[0]' is '7'"},
        {"\"clipped\": [\"1a\"]", "\"clipped\": \"1a\"", "channels.red.clipped"},
        {"\"compressed\": [\"3\"]", "\"compressed\": [3]", "channels.red.compressed[0]"},
        {"\"step\": \"2\"", "\"step\": null", "channels.red.steps[1].step"},
        {"\"density\": 1.1", "\"density\": 11", "channels.red.steps[1].density"},
        {"\"sd\": 3.25", "\"sd\": -3.25", "channels.red.steps[1].sd"},
        {"\"residual_sd\": 0.004", "\"residual_sd\": null", "channels.red.residual_sd"},
        {"\"blue\"", "\"cyan\"", "not red, green, blue or visual"},
        {"\"notes\": [", "\"notes\": [1, ", "'notes[0]'"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *text = scanner_document_with(rows[i].from, rows[i].to);
        ww_scanner s = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].to, parse(text, &s, &err), WW_EINPUT, &err);
        if (!strstr(err.msg, rows[i].says))
            fail_msg("%s: '%s' does not say '%s'", rows[i].to, err.msg, rows[i].says);
        test_text("file", err.file, "s.json");
        assert_null(s.name);
        free(text);
    }
}

static void what_is_no_document(void **state) {
    static const char *const rows[] = {"", "[]", "{", "{\"wedgework\": 1}",
                                       "{\"wedgework\": 1, \"kind\": \"scanner\", \"bits\": 8, "
                                       "\"white\": 255, \"encoding\": {\"gamma\": 1, \"low\": 1, "
                                       "\"high\": 1, \"how\": \"fitted\"}, \"channels\": {}}"};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_scanner s = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i], parse(rows[i], &s, &err), WW_EINPUT, &err);
    }
}

static void a_file_that_is_not_there(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "none.json");
    ww_scanner s = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("missing", ww_scanner_file_read(path, &s, &err), WW_EINPUT, &err);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_everything),         cmocka_unit_test(what_may_be_missing),
        cmocka_unit_test(refusals_name_the_key),    cmocka_unit_test(what_is_no_document),
        cmocka_unit_test(a_file_that_is_not_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
