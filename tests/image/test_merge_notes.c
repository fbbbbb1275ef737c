/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/merge_notes.h"

/* Source: definition (merge_notes.h). */

static void lines_are_remarked_on(void **state) {
    ww_scan_merge m = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    const ww__merge_line good = {.ratio = 3.0},
                         level = {.ratio = 3.0, .through_dark = true, .guessed = true},
                         known = {.ratio = 3.0, .through_dark = true, .by_black = 0.0333},
                         bent = {.ratio = 3.0, .bent = -0.05}, other = {.ratio = 0.5};
    (void)state;
    assert_int_equal(ww__merge_note_line(&m, WW_GREEN, &good, NULL), WW_OK);
    assert_int_equal(m.notes.n, 0);
    assert_int_equal(ww__merge_note_line(&m, WW_GREEN, &level, NULL), WW_OK);
    test_true("level", test_noted(&m.notes, "make a scanner file with --dark"));
    assert_int_equal(ww__merge_note_line(&m, WW_RED, &known, NULL), WW_OK);
    test_true("known", test_noted(&m.notes, "(red): both blacks are taken as the scanner file's"));
    test_true("known",
              test_noted(&m.notes, "scale lighter, the scans would be 0.03 stops further"));
    assert_int_equal(ww__merge_note_line(&m, WW_GREEN, &bent, NULL), WW_OK);
    test_true("bent", test_noted(&m.notes, "off by 5.0 %"));
    const ww__merge_line no_line = {.ratio = 3.0, .bent = 0.31};
    test_status("no line", ww__merge_note_line(&m, WW_GREEN, &no_line, &err), WW_EMISMATCH, &err);
    test_holds("no line", err.msg, "off by 31 % of the light");
    test_status("other", ww__merge_note_line(&m, WW_BLUE, &other, &err), WW_EMISMATCH, &err);
    test_holds("other", err.msg, "in blue it is the other one");
    test_status("grey", ww__merge_note_line(&m, WW_VISUAL, &other, &err), WW_EMISMATCH, &err);
    test_holds("grey", err.msg, "the two scans are in no proportion");
    ww_scan_merge_release(&m);
}

static void the_whole_is_remarked_on(void **state) {
    ww_scan_merge m = WW_SCAN_MERGE_INIT;
    const ww_picture eight = {.sample = WW_SAMPLE_8, .bits = 8, .white = 255.0, .channels = 1};
    (void)state;
    m.channel[WW_VISUAL] =
        (ww_scan_merge_channel){.present = true, .ratio.value = 4.0, .read = 1e-6};
    m.shift = (ww_scan_merge_shift){9, 0.6, 0.0, 0, false};
    m.taken_as_light = true;
    assert_int_equal(ww__merge_note(&m, &eight, NULL, NULL), WW_OK);
    test_true("8 bits", test_noted(&m.notes, "in files of 8 bits they seldom are"));
    test_true("remedy", test_noted(&m.notes, "stops and noise are wrong"));
    test_true("pattern", test_noted(&m.notes, "a pattern of the sensor that both have alike"));
    test_true("steady", !test_noted(&m.notes, "flickers"));
    test_true("apart", test_noted(&m.notes, "up to 0.6 px apart"));
    test_true("codes", test_noted(&m.notes, "half a code of 16 bits"));
    test_true("longer", !test_noted(&m.notes, "same exposure"));
    ww_scan_merge_release(&m);
    m.shift = (ww_scan_merge_shift){7, 0.6, 0.0, 2, false};
    m.channel[WW_VISUAL].flicker = 0.006;
    assert_int_equal(ww__merge_note(&m, &eight, NULL, NULL), WW_OK);
    test_true("flicker", test_noted(&m.notes, "Part of it, 0.6 % of the light at every tone"));
    test_true("unlike", test_noted(&m.notes, "At 2 of 9 places both scans hold detail"));
    ww_scan_merge_release(&m);
    m.shift = (ww_scan_merge_shift){1, 0.1, 0.0, 0, true};
    assert_int_equal(ww__merge_note(&m, &eight, NULL, NULL), WW_OK);
    test_true("middle", test_noted(&m.notes, "Only in the middle was there detail"));
    ww_scan_merge_release(&m);
    m.channel[WW_VISUAL].ratio.value = 1.01;
    m.shift.places = 0;
    m.shift.unlike = 0;
    assert_int_equal(ww__merge_note(&m, &eight, NULL, NULL), WW_OK);
    test_true("same", test_noted(&m.notes, "same exposure"));
    test_true("unchecked", test_noted(&m.notes, "could not be checked"));
    ww_scan_merge_release(&m);
}

static void what_noise_tells_is_said(void **state) {
    static const struct {
        ww__merge_kind kind;
        const char *words;
        ww_scan_merge_flaw flaw;
    } rows[] = {{WW__MERGE_AMPLIFIED, "no photons were added", WW_SCAN_MERGE_AMPLIFIED},
                {WW__MERGE_AMPLIFIED, "is a mean of more scans", WW_SCAN_MERGE_AMPLIFIED},
                {WW__MERGE_SHARPENED, "it was sharpened", WW_SCAN_MERGE_SHARPENED},
                {WW__MERGE_DISPLACED, "cannot be told", WW_SCAN_MERGE_SOUND}};
    const ww__merge_line line = {.ratio = 3.0};
    const ww_picture scan = {.channels = 1};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_scan_merge m = WW_SCAN_MERGE_INIT;
        assert_int_equal(ww__merge_note_noise(&m, &scan, &scan, WW_VISUAL, rows[i].kind, NULL),
                         WW_OK);
        test_true(rows[i].words, test_noted(&m.notes, rows[i].words));
        test_close(rows[i].words, ww__merge_flaw(rows[i].kind, &line), rows[i].flaw, 0);
        ww_scan_merge_release(&m);
    }
}

/* Source: light to the power of 2.2 has 2.2 times the stops: 4.4 of 2.0. */
static void what_is_decoded_may_be_light(void **state) {
    ww_scan_merge m = WW_SCAN_MERGE_INIT;
    ww_picture picture = {.sample = WW_SAMPLE_16, .bits = 16, .white = 65535.0, .channels = 1};
    ww_scanner scanner = {.gamma = {2.2, 2.2, 2.2, WW_GIVEN}};
    (void)state;
    m.channel[WW_VISUAL] =
        (ww_scan_merge_channel){.present = true, .ratio.value = 21.1, .stops.value = 4.4};
    assert_int_equal(ww__merge_note(&m, &picture, &scanner, NULL), WW_OK);
    test_true("told", test_noted(&m.notes, "the scanner file's word"));
    test_true("told", test_noted(&m.notes, "they are light, these scans are about 2.0 stops apart, "
                                           "not 4.4"));
    ww_scan_merge_release(&m);
    m.channel[WW_VISUAL].flaw = WW_SCAN_MERGE_DECODED;
    m.channel[WW_VISUAL].stops.value = 4.4;
    assert_int_equal(ww__merge_note(&m, &picture, &scanner, NULL), WW_OK);
    test_true("denied", test_noted(&m.notes, "the scanner file's word, which the scans deny"));
    ww_scan_merge_release(&m);
    m.channel[WW_VISUAL].borne_out = true;
    assert_int_equal(ww__merge_note(&m, &picture, &scanner, NULL), WW_OK);
    test_true("borne out", test_noted(&m.notes, "near a power of 2.2, by the scanner file, and the "
                                                "scans bear it out"));
    test_true("no doubt left", !test_noted(&m.notes, "they are light"));
    ww_scan_merge_release(&m);
    scanner.gamma.value = 1.0;
    assert_int_equal(ww__merge_note(&m, &picture, &scanner, NULL), WW_OK);
    test_true("linear", !test_noted(&m.notes, "they are light"));
    ww_scan_merge_release(&m);
    scanner.gamma.value = 2.2;
    picture.gamma = (ww_optional){true, 2.2};
    assert_int_equal(ww__merge_note(&m, &picture, &scanner, NULL), WW_OK);
    test_true("its profile says so", !test_noted(&m.notes, "they are light"));
    ww_scan_merge_release(&m);
}

/* Source: 94.488 px a mm are 2400 an inch, 47.244 are 1200. */
static void other_resolutions_are_told(void **state) {
    const ww_optional fine = {true, 94.488}, coarse = {true, 47.244}, none = {false, 0.0};
    const ww_picture a = {.px_per_mm_x = fine, .px_per_mm_y = fine};
    const ww_picture b = {.px_per_mm_x = coarse, .px_per_mm_y = coarse};
    const ww_picture c = {.px_per_mm_x = none, .px_per_mm_y = none};
    ww_scan_merge m = WW_SCAN_MERGE_INIT;
    (void)state;
    assert_int_equal(ww__merge_note_resolution(&m, &a, &a, NULL), WW_OK);
    assert_int_equal(ww__merge_note_resolution(&m, &a, &c, NULL), WW_OK);
    assert_int_equal(m.notes.n, 0);
    assert_int_equal(ww__merge_note_resolution(&m, &a, &b, NULL), WW_OK);
    test_true("told", test_noted(&m.notes, "has 2400 px an inch, the longer one 1200"));
    ww_scan_merge_release(&m);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_remarked_on), cmocka_unit_test(the_whole_is_remarked_on),
        cmocka_unit_test(what_noise_tells_is_said), cmocka_unit_test(what_is_decoded_may_be_light),
        cmocka_unit_test(other_resolutions_are_told)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
