/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/merge_made.h"
#include <wedgework/scan_merge.h>

/* Pairs whose longer scan holds no more light, or whose codes are none. Source: as they are drawn;
 * the mean of two scans alike has half the variance of one. */

static const made_pair drawn = {.width = 480,
                                .height = 330,
                                .channels = 1,
                                .kind = WW_SAMPLE_16,
                                .ratio = 1.0,
                                .read = 0.0006,
                                .shot = 0.003};

static void multiply(ww_picture *p, double by) {
    array_pixels *pixels = p->handle;
    uint16_t *code = (uint16_t *)(void *)pixels->sample;
    for (size_t i = 0; i < p->width * p->height; i++)
        code[i] = (uint16_t)fmin(floor(by * code[i] + 0.5), 65535.0);
}

static void a_scan_amplified_is_averaged_and_told(void **state) {
    ww_picture a = made_scan(&drawn, false, 1), b = made_scan(&drawn, true, 2);
    ww_scan_merge m = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    multiply(&b, 4.0);
    test_status("amplified", ww_scan_merge_measure(&a, &b, NULL, &m, &err), WW_OK, &err);
    test_true("told", !m.holds && test_noted(&m.notes, "no photons were added"));
    test_close("flaw", m.channel[WW_VISUAL].flaw, WW_SCAN_MERGE_AMPLIFIED, 0);
    test_close("read", m.channel[WW_VISUAL].read, drawn.read, 0.15 * drawn.read);
    test_close("shot", m.channel[WW_VISUAL].shot, drawn.shot, 0.05 * drawn.shot);
    const ww_scan_merge_gain *gain = &m.channel[WW_VISUAL].gain[15];
    test_close("half the variance", gain->merged / gain->shorter, sqrt(0.5), 1e-6);
    ww_scan_merge_release(&m);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

static void one_scan_twice_is_refused(void **state) {
    static const double by[] = {1.0, 1.7, 4.0};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        ww_picture a = made_scan(&drawn, false, 1), b = made_scan(&drawn, false, 1);
        ww_scan_merge m = WW_SCAN_MERGE_INIT;
        ww_error err = WW_ERROR_INIT;
        multiply(&b, by[i]);
        test_status("the same", ww_scan_merge_measure(&a, &b, NULL, &m, &err), WW_EMISMATCH, &err);
        test_holds("the same", err.msg, "has the very noise of");
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

static void encoded_codes_are_told_by_their_noise(void **state) {
    made_pair m = drawn;
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    m.ratio = 3.71;
    m.gamma = 2.2;
    ww_picture a = made_scan(&m, false, 3), b = made_scan(&m, true, 4);
    test_status("encoded", ww_scan_merge_measure(&a, &b, NULL, &report, &err), WW_EINPUT, &err);
    test_holds("encoded", err.msg, "noise falls where they rise");
    ww_picture_release(&a);
    ww_picture_release(&b);
}

/* A scanner file decodes codes that are light, and such as are encoded as it holds. */
static void decoded_codes_are_asked_for_their_noise(void **state) {
    static const double gamma[] = {1.0, 2.2};
    static const char *const word[] = {"leave --scanner out", "and the scans bear it out"};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        made_pair m = drawn;
        ww_scan_merge report = WW_SCAN_MERGE_INIT;
        ww_error err = WW_ERROR_INIT;
        ww_scanner scanner = WW_SCANNER_INIT;
        m.ratio = 3.71;
        m.gamma = gamma[i];
        m.dark = i == 0 ? 0.0 : 0.002; /* codes end at 0: noise of black must not */
        scanner.bits = 16;
        scanner.white = 65535.0;
        scanner.gamma = (ww_quantity){2.2, 2.2, 2.2, WW_FITTED};
        scanner.channel[WW_VISUAL].present = true;
        scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){m.read, m.shot, 0.0};
        ww_picture a = made_scan(&m, false, 5), b = made_scan(&m, true, 6);
        test_status("decoded", ww_scan_merge_measure(&a, &b, &scanner, &report, &err), WW_OK, &err);
        test_true(word[i], report.holds == (i == 1) && test_noted(&report.notes, word[i]));
        test_true("word", test_noted(&report.notes, "file's word, which the scans deny") == !i);
        test_close("flaw", report.channel[WW_VISUAL].flaw,
                   i == 0 ? WW_SCAN_MERGE_DECODED : WW_SCAN_MERGE_SOUND, 0);
        test_true("borne out", report.channel[WW_VISUAL].borne_out == (i == 1));
        ww_scan_merge_release(&report);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

/* Reading noise alone does not tell that: 2 (2.2 - 1) / 2.2 = 1.1 is near light's 1. A black of
 * 0.01 does, as codes of a power of 2.2 are 0.12 there, and linear ones of the scene from 0.006. */
static void light_decoded_is_told_by_its_black(void **state) {
    static const ww_scan_merge_flaw want[] = {WW_SCAN_MERGE_SOUND, WW_SCAN_MERGE_DECODED};
    made_pair m = drawn;
    (void)state;
    m.ratio = 3.71;
    m.shot = 0.0;
    for (size_t i = 0; i < 2; i++) {
        ww_scan_merge report = WW_SCAN_MERGE_INIT;
        ww_error err = WW_ERROR_INIT;
        ww_scanner scanner = WW_SCANNER_INIT;
        scanner.bits = 16;
        scanner.white = 65535.0;
        scanner.gamma = (ww_quantity){2.2, 2.2, 2.2, WW_FITTED};
        scanner.dark_scan = i == 1;
        scanner.channel[WW_VISUAL].present = true;
        scanner.channel[WW_VISUAL].dark = (ww_quantity){0.01, 0.0099, 0.0101, WW_MEASURED};
        scanner.channel[WW_VISUAL].noise = (ww_scanner_noise){m.read, m.shot, 0.0};
        ww_picture a = made_scan(&m, false, 5), b = made_scan(&m, true, 6);
        test_status("read", ww_scan_merge_measure(&a, &b, &scanner, &report, &err), WW_OK, &err);
        test_close("flaw", report.channel[WW_VISUAL].flaw, want[i], 0);
        test_true("not borne out", !report.channel[WW_VISUAL].borne_out);
        test_true("told", report.holds == (i == 0) &&
                              test_noted(&report.notes, "the scanner's own black") == (i == 1));
        ww_scan_merge_release(&report);
        ww_picture_release(&a);
        ww_picture_release(&b);
    }
}

/* Light above a half is lessened, as a corrected scan's: the doubt holds what is off. */
static void what_is_in_no_proportion_is_told(void **state) {
    made_pair m = drawn;
    ww_scan_merge report = WW_SCAN_MERGE_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    m.ratio = 2.0;
    ww_picture a = made_scan(&m, false, 7), b = made_scan(&m, true, 8);
    array_pixels *pixels = b.handle;
    uint16_t *code = (uint16_t *)(void *)pixels->sample;
    for (size_t i = 0; i < m.width * m.height; i++)
        code[i] = (uint16_t)(code[i] > 6000 ? 6000 + 0.9 * (code[i] - 6000) : code[i]);
    test_status("uneven", ww_scan_merge_measure(&a, &b, NULL, &report, &err), WW_OK, &err);
    const ww_scan_merge_channel *c = &report.channel[WW_VISUAL];
    test_true("told", !report.holds && test_noted(&report.notes, "not in one proportion"));
    test_close("flaw", c->flaw, WW_SCAN_MERGE_UNEVEN, 0);
    test_true("held by the doubt", c->ratio.high - c->ratio.value > 0.02 * c->ratio.value);
    ww_scan_merge_release(&report);
    ww_picture_release(&a);
    ww_picture_release(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_scan_amplified_is_averaged_and_told),
                                       cmocka_unit_test(one_scan_twice_is_refused),
                                       cmocka_unit_test(encoded_codes_are_told_by_their_noise),
                                       cmocka_unit_test(decoded_codes_are_asked_for_their_noise),
                                       cmocka_unit_test(light_decoded_is_told_by_its_black),
                                       cmocka_unit_test(what_is_in_no_proportion_is_told)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
