/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/match_case.h"
#include <jansson.h>
#include <lcms2.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/match_file.h>

/* Source of every expectation: the header's description of each file, and the case. */

static double number(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    if (!json_is_number(value))
        fail_msg("'%s' is no number", key);
    return json_number_value(value);
}

static void check_points(const json_t *points, size_t channel, bool percent) {
    double before = -1.0;
    assert_int_equal(json_array_size(points), WW_MATCH_POINTS);
    for (size_t i = 0; i < WW_MATCH_POINTS; i++) {
        const json_t *pair = json_array_get(points, i);
        const double in = json_number_value(json_array_get(pair, 0));
        const double out = json_number_value(json_array_get(pair, 1));
        const double drive = percent ? in / 100.0 : 1.0 - in;
        const double sent = match_case_out(channel, fmax(drive, 0.0));
        test_true("rises", in > before);
        test_close("out", out, percent ? 100.0 * sent : 1.0 - sent, 1e-9);
        before = in;
    }
}

static void document(void **state) {
    (void)state;
    for (size_t n = 1; n <= 3; n += 2) {
        ww_match *match = match_case(n, n == 1 ? WW_RAMP_GRAY : WW_RAMP_VALUES);
        char *text = NULL;
        size_t bytes = 0;
        match->aim = (char[]){"Heron gloss"};
        test_status("text", ww_match_file_text(match, &text, &bytes, NULL), WW_OK, NULL);
        json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
        assert_non_null(root);
        const json_t *channels = json_object_get(root, "channels");
        const json_t *regions = json_object_get(root, "regions");
        test_text("kind", json_string_value(json_object_get(root, "kind")), "correction");
        test_text("aim", json_string_value(json_object_get(root, "aim")), "Heron gloss");
        test_true("print", json_is_null(json_object_get(root, "print")));
        assert_int_equal(json_object_size(channels), n);
        for (size_t k = 0; k < n; k++)
            check_points(json_object_get(channels, match->channel[k].name), k, n == 1);
        test_close("worst", number(root, "worst"), -0.48, 0.0);
        test_close("middle", number(regions, "middle"), -0.013, 0.0);
        test_close("at", number(json_object_get(root, "worst_at"), "in"), n == 1 ? 100.0 : 0.0,
                   0.0);
        assert_int_equal(json_array_size(json_object_get(root, "notes")), 1);
        json_decref(root);
        free(text);
        ww_notes_release(&match->notes);
    }
}

static void a_region_without_tones_is_null(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_VALUE);
    char *text = NULL;
    size_t bytes = 0;
    match->region[WW_REGION_DARK].any = false;
    test_status("text", ww_match_file_text(match, &text, &bytes, NULL), WW_OK, NULL);
    json_t *root = json_loads(text, 0, NULL);
    test_true("null", json_is_null(json_object_get(json_object_get(root, "regions"), "dark")));
    json_decref(root);
    free(text);
    match->worst.density = (double)NAN;
    test_status("no number", ww_match_file_text(match, &text, &bytes, NULL), WW_EDOMAIN, NULL);
    ww_notes_release(&match->notes);
}

static void table(void **state) {
    (void)state;
    ww_match *match = match_case(3, WW_RAMP_COLOURANTS);
    char *text = NULL;
    size_t bytes = 0;
    test_status("csv", ww_match_file_csv(match, &text, &bytes, NULL), WW_OK, NULL);
    test_holds("head", text, "\nin,red,green,blue\n0.000000,0.000000,0.000000,0.000000\n");
    test_holds("end", text, "\n100.000000,100.000000,100.000000,100.000000\n");
    assert_int_equal(strlen(text), bytes);
    free(text);
    ww_notes_release(&match->notes);
    match = match_case(1, WW_RAMP_VALUE);
    test_status("csv", ww_match_file_csv(match, &text, &bytes, NULL), WW_OK, NULL);
    test_holds("head", text, "\nin,out\n0.000000,0.000000\n");
    free(text);
    ww_notes_release(&match->notes);
}

/* Keywords, then a row a step, red fastest in none: one dimension. */
static void cube(void **state) {
    (void)state;
    ww_match *match = match_case(3, WW_RAMP_COLOURANTS);
    char *text = NULL, *at;
    size_t bytes = 0;
    test_status("cube", ww_match_file_cube(match, &text, &bytes, NULL), WW_OK, NULL);
    test_holds("size", text, "\nLUT_1D_SIZE 256\n");
    at = strstr(text, "DOMAIN_MAX 1.0 1.0 1.0\n");
    assert_non_null(at);
    at = strchr(at, '\n') + 1;
    for (size_t i = 0; i < WW_MATCH_POINTS; i++)
        for (size_t c = 0; c < 3; c++)
            test_close("row", strtod(at, &at),
                       1.0 - match_case_out(c, 1.0 - (double)i / (WW_MATCH_POINTS - 1)), 1e-6);
    test_text("nothing more", at, "\n");
    free(text);
    ww_notes_release(&match->notes);
}

/* Read back by little CMS, as any program that uses it would. */
static void device_link(void **state) {
    (void)state;
    for (size_t n = 1; n <= 3; n += 2) {
        ww_match *match = match_case(n, n == 1 ? WW_RAMP_GRAY : WW_RAMP_VALUES);
        char *bytes = NULL, *again = NULL, name[64];
        size_t size = 0, size_again = 0;
        test_status("icc", ww_match_file_icc(match, &bytes, &size, NULL), WW_OK, NULL);
        test_status("icc", ww_match_file_icc(match, &again, &size_again, NULL), WW_OK, NULL);
        test_true("the same bytes", size == size_again && memcmp(bytes, again, size) == 0);
        cmsHPROFILE link = cmsOpenProfileFromMem(bytes, (cmsUInt32Number)size);
        assert_non_null(link);
        test_true("class", cmsGetDeviceClass(link) == cmsSigLinkClass);
        test_true("space", cmsGetColorSpace(link) == (n == 1 ? cmsSigGrayData : cmsSigRgbData));
        cmsGetProfileInfoASCII(link, cmsInfoDescription, "en", "US", name, sizeof name);
        test_text("name", name, n == 1 ? "tone correction, gray" : "tone correction, RGB");
        const cmsUInt32Number form = n == 1 ? TYPE_GRAY_16 : TYPE_RGB_16;
        cmsHTRANSFORM transform =
            cmsCreateTransform(link, form, NULL, form, INTENT_PERCEPTUAL, cmsFLAGS_NOOPTIMIZE);
        assert_non_null(transform);
        for (unsigned code = 0; code < 65536; code += 257) {
            const uint16_t in[3] = {(uint16_t)code, (uint16_t)code, (uint16_t)code};
            uint16_t out[3];
            cmsDoTransform(transform, in, out, 1);
            for (size_t c = 0; c < n; c++)
                test_close("code", out[c],
                           65535.0 * (1.0 - match_case_out(c, 1.0 - code / 65535.0)), 1.5);
        }
        cmsDeleteTransform(transform);
        cmsCloseProfile(link);
        free(bytes);
        free(again);
        ww_notes_release(&match->notes);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(document), cmocka_unit_test(a_region_without_tones_is_null),
        cmocka_unit_test(table), cmocka_unit_test(cube), cmocka_unit_test(device_link)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
