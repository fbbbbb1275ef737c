/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include "image/no_light.h"
#include <wedgework/scan_densities.h>
#include <wedgework/scan_merge.h>

/* Source: definition (no_light.h). */

/* Threads meet them in any order; the first in the picture is told. */
static void the_first_is_told(void **state) {
    const ww_picture picture = {.width = 300, .height = 200};
    ww__no_light one = {0, 0, 0, 0.0}, two = one, all = one;
    char words[WW__NO_LIGHT_WORDS];
    (void)state;
    ww__no_light_join(&all, &one);
    assert_int_equal(all.n, 0);
    ww__no_light_add(&one, 30200, (double)NAN, true);
    ww__no_light_add(&one, 30100, -0.51, false);
    ww__no_light_add(&two, 30300, (double)INFINITY, false);
    ww__no_light_join(&all, &two);
    test_text("one", ww__no_light_words(&all, &picture, "", words),
              "1 sample is no light (no number, over 8 times white, or further below black than "
              "noise goes; the first at 0,101: infinite)");
    ww__no_light_join(&all, &one);
    test_text("three", ww__no_light_words(&all, &picture, " in one scan", words),
              "3 samples are no light in one scan (no number, over 8 times white, or further below "
              "black than noise goes; the first at 100,100: -0.5100)");
    assert_int_equal(all.nans, 1);
}

static void what_stands_there_has_a_name(void **state) {
    static const struct {
        double code;
        const char *name;
    } rows[] = {{(double)NAN, ": NaN)"}, {-HUGE_VAL, ": -infinite)"}};
    const ww_picture picture = {.width = 30, .height = 20};
    char words[WW__NO_LIGHT_WORDS];
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww__no_light all = {1, 0, 31, rows[i].code};
        test_holds("name", ww__no_light_words(&all, &picture, "", words), rows[i].name);
        test_holds("place", words, "the first at 1,1");
    }
}

/* An encoding says nothing below 0: a gamma of 2 makes -0.5 as far below as 0.25 is above. */
static void what_lies_below_black_is_seen_through_an_encoding(void **state) {
    const ww_scanner two = {
        .white = 1.0, .encoding = WW_ENCODING_POWER, .gamma = {2.0, 2.0, 2.0, WW_GIVEN}};
    (void)state;
    test_true("far", ww__no_light_is(&two, 1.0, -0.5, -0.24));
    test_true("noise", !ww__no_light_is(&two, 1.0, -0.5, -0.26));
    test_true("as light", ww__no_light_is(NULL, 1.0, -0.5, -0.49));
    test_true("above", !ww__no_light_is(&two, 1.0, 0.5, -0.01));
    test_true("far above white", ww__no_light_is(NULL, 1.0, 8.1, -0.01));
    test_true("above white", !ww__no_light_is(NULL, 1.0, 7.9, -0.01));
}

/* ------------------------------------------------------------------ in what is made of scans */

static const made_pair real = {.name = "floating point",
                               .width = 240,
                               .height = 168,
                               .channels = 1,
                               .kind = WW_SAMPLE_FLOAT,
                               .ratio = 3.71,
                               .dark = 0.004,
                               .read = 0.0006,
                               .shot = 0.003};

/* Both hold light at the right, where tones are dense; at the left the longer one is clipped. */
static void a_merge_tells_them(void **state) {
    ww_picture a = made_scan(&real, false, 5), b = made_scan(&real, true, 6);
    float *merged = malloc(real.width * real.height * sizeof *merged);
    made_rows rows = {(unsigned char *)merged, real.width * sizeof *merged, 0, WW_OK};
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    array_set(&a, 200, 130, 0, (double)NAN);
    array_set(&b, 201, 130, 0, -HUGE_VAL);
    array_set(&a, 202, 130, 0, -0.5);
    array_set(&b, 203, 129, 0, HUGE_VAL);
    array_set(&a, 3, 131, 0, (double)NAN);
    array_set(&a, 204, 130, 0, 1e30);
    test_status("ratio", ww_scan_merge_measure(&a, &b, NULL, &report, &err), WW_OK, &err);
    test_status("rows",
                ww_scan_merge_rows(&a, &b, NULL, &report, (ww_row_sink){made_take, &rows}, &err),
                WW_OK, &err);
    test_true("told", test_noted(&report.notes, "6 samples are no light in one scan or both (no "
                                                "number, over 8 times white, or further below "
                                                "black than noise goes; the first at 203,129: "
                                                "infinite)"));
    test_true("and what stands there",
              test_noted(&report.notes, "what the other scan shows there, and NaN at 1, where"));
    for (size_t x = 200; x < 205; x++)
        test_close("the other's", (double)merged[130 * real.width + x],
                   made_scene(&real, (double)x, 130.0) + real.dark, 0.004);
    test_true("none", isnan(merged[131 * real.width + 3]));
    ww_scan_merge_release(&report);
    ww_picture_release(&a);
    ww_picture_release(&b);
    free(merged);
}

static void scale(ww_picture *p, double by) {
    float *code = (float *)(void *)((array_pixels *)p->handle)->sample;
    for (size_t i = 0; i < p->width * p->height; i++)
        code[i] = (float)(by * (double)code[i]);
}

static void a_merge_refuses_another_white(void **state) {
    ww_picture a = made_scan(&real, false, 5), b = made_scan(&real, true, 6);
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scale(&a, 65535.0);
    scale(&b, 65535.0);
    test_status("scale", ww_scan_merge_measure(&a, &b, NULL, &report, &err), WW_EDOMAIN, &err);
    test_holds("range", err.msg,
               "most codes are over 8 times white, which is 1 in a file like this: "
               "they run from ");
    test_holds("remedy", err.msg, "; export floating point with 1 for white");
    ww_picture_release(&a);
    ww_picture_release(&b);
}

/* Light 0.9 10^-D, no dark, no noise: two steps are enough. */
static void calibrate(ww_scanner *scanner, ww_scanner_point point[2]) {
    point[0] = (ww_scanner_point){0.0009, 3.0, 0.01};
    point[1] = (ww_scanner_point){0.9, 0.0, 0.01};
    *scanner = (ww_scanner){.white = 1.0, .bits = 32, .gamma = {1.0, 1.0, 1.0, WW_GIVEN}};
    scanner->channel[WW_VISUAL] = (ww_scanner_channel){
        .present = true, .k = 0.9, .noise = {0.0006, 0.003, 0.0}, .point = point, .n_points = 2};
}

static void densities_tell_them(void **state) {
    ww_picture p = made_scan(&real, false, 5);
    float *made = malloc(real.width * real.height * sizeof *made);
    made_rows rows = {(unsigned char *)made, real.width * sizeof *made, 0, WW_OK};
    const ww_row_sink sink = {made_take, &rows};
    ww_scan_densities d = WW_SCAN_DENSITIES_INIT;
    ww_scanner scanner;
    ww_scanner_point point[2];
    ww_error err = WW_ERROR_INIT;
    (void)state;
    calibrate(&scanner, point);
    test_status("sound", ww_scan_densities_rows(&p, &scanner, sink, &d, &err), WW_OK, &err);
    test_true("sound", !test_noted(&d.notes, "no light"));
    ww_scan_densities_release(&d);
    array_set(&p, 7, 130, 0, (double)NAN);
    array_set(&p, 8, 130, 0, HUGE_VAL);
    array_set(&p, 9, 130, 0, -0.5);
    array_set(&p, 10, 130, 0, -0.005); /* 8 sd */
    array_set(&p, 11, 130, 0, 1e30);
    rows.n = 0;
    test_status("told", ww_scan_densities_rows(&p, &scanner, sink, &d, &err), WW_OK, &err);
    test_true("told",
              test_noted(&d.notes, "4 samples are no light (no number, over 8 times white, or "
                                   "further below black than noise goes; the first at 7,130: "
                                   "NaN). "
                                   "The file has the density of the calibration's end "
                                   "there, but NaN at 1, where no number stood."));
    test_true("none", isnan(made[130 * real.width + 7]));
    test_close("thin end", (double)made[130 * real.width + 8], d.channel[WW_VISUAL].thin, 1e-6);
    test_close("dense end", (double)made[130 * real.width + 9], d.channel[WW_VISUAL].dense, 1e-6);
    test_close("share", d.no_light, 4.0 / (double)(real.width * real.height), 1e-12);
    ww_scan_densities_release(&d);
    scale(&p, 65535.0);
    rows.n = 0;
    test_status("scale", ww_scan_densities_rows(&p, &scanner, sink, &d, &err), WW_EDOMAIN, &err);
    ww_picture_release(&p);
    free(made);
}

static void fill(ww_picture *p, double code) {
    for (size_t i = 0; i < p->width * p->height; i++)
        array_set(p, i % p->width, i / p->width, 0, code);
}

/* Nothing is made of a scan that tells nothing, and the message says what stands in it. */
static void scans_without_light_are_refused(void **state) {
    static const struct {
        double code;
        const char *words;
    } rows[] = {{(double)NAN, "no sample is a number (all are NaN or infinite)"},
                {HUGE_VAL, "no sample is a number (all are NaN or infinite)"},
                {-0.5, "its visual holds no light at all: 40320 samples are no light"}};
    ww_picture a = made_scan(&real, false, 5), b = made_scan(&real, true, 6);
    float *made = malloc(real.width * real.height * sizeof *made);
    ww_scan_densities d = WW_SCAN_DENSITIES_INIT;
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_scanner scanner;
    ww_scanner_point point[2];
    (void)state;
    calibrate(&scanner, point);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        made_rows to = {(unsigned char *)made, real.width * sizeof *made, 0, WW_OK};
        const ww_row_sink sink = {made_take, &to};
        fill(&a, rows[i].code);
        test_status(rows[i].words, ww_scan_densities_rows(&a, &scanner, sink, &d, &err), WW_ENODATA,
                    &err);
        test_holds("densities", err.msg, rows[i].words);
        test_status(rows[i].words, ww_scan_merge_measure(&a, &b, NULL, &report, &err), WW_ENODATA,
                    &err);
        test_true("merge", i == 2 || strstr(err.msg, rows[i].words));
    }
    ww_picture_release(&a);
    ww_picture_release(&b);
    free(made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_is_told),
        cmocka_unit_test(what_stands_there_has_a_name),
        cmocka_unit_test(what_lies_below_black_is_seen_through_an_encoding),
        cmocka_unit_test(a_merge_tells_them),
        cmocka_unit_test(a_merge_refuses_another_white),
        cmocka_unit_test(densities_tell_them),
        cmocka_unit_test(scans_without_light_are_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
