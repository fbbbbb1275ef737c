/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_case.h"
#include "support/scan_pixels.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/measure_file.h>
#include <wedgework/scan_negative.h>

/* A scanner without noise whose codes are light: D = -log10(code / 65535). */
static struct scan_pixels made;

static ww_status parse(const char *text, ww_readings *negative, ww_error *err) {
    *negative = (ww_readings)WW_READINGS_INIT;
    *err = (ww_error)WW_ERROR_INIT;
    return ww_scan_negative_parse("neg", text, strlen(text), &made.scanner, negative, err);
}

static void refused(const char *row, const char *text, ww_status status, const char *words) {
    ww_readings negative;
    ww_error err;
    test_status(row, parse(text, &negative, &err), status, &err);
    test_holds(row, err.msg, words);
    assert_int_equal(negative.n, 0);
}

static int start(void **state) {
    (void)state;
    scan_pixels_scanner(&made, (scan_pixels_truth){.k = 1.0, .bits = 16, .gamma = 1.0});
    return 0;
}

/* Source: scan_case_whole, the densities that were written. */
static void what_measure_prints_of_a_calibrated_scan(void **state) {
    static const char *const tone[] = {"p0.1", "p1", "median", "p99", "p99.9"};
    static const double density[] = {0.31, 0.33, 0.87, 1.61, 1.72};
    const ww_whole whole = scan_case_whole(true);
    char *text = NULL;
    size_t n = 0;
    ww_readings negative;
    ww_error err;
    (void)state;
    test_status("write", ww_measure_file_whole_text(&whole, &text, &n, NULL), WW_OK, NULL);
    test_status("read", parse(text, &negative, &err), WW_OK, &err);
    assert_int_equal(negative.n, 5);
    for (size_t i = 0; i < 5; i++) {
        test_text("tone", negative.row[i].tone, tone[i]);
        test_close("red", negative.row[i].cell[WW_RED].value, density[i], 1e-12);
        test_close("blue", negative.row[i].cell[WW_BLUE].value, density[i] + 0.42, 1e-12);
        test_close("error", negative.row[i].cell[WW_RED].sd.value, 0.01, 1e-12);
    }
    test_true("channels", negative.has[WW_RED] && !negative.has[WW_VISUAL]);
    test_true("status", negative.meta.status == WW_STATUS_SCANNER);
    test_true("said", test_noted(&negative.notes, "shares of a whole scan"));
    ww_readings_release(&negative);
    free(text);
}

/* Codes become densities by the scanner, from the other end: the greatest is the thinnest. Source:
 * D = -log10(code / 65535). */
static void what_it_prints_of_codes(void **state) {
    static const char text[] =
        "\n {\"wedgework\": 1, \"kind\": \"histogram\", \"white\": 65535, \"unit\": \"code\", "
        "\"channels\": {\"visual\": {\"p0.1\": 65.535, \"p1\": 655.35, \"median\": 6553.5, "
        "\"p99\": 20000, \"p99.9\": 32767.5}}}";
    ww_readings negative;
    ww_error err;
    (void)state;
    test_status("read", parse(text, &negative, &err), WW_OK, &err);
    test_close("thinnest", negative.row[0].cell[WW_VISUAL].value, 0.30103, 2e-3);
    test_close("median", negative.row[2].cell[WW_VISUAL].value, 1.0, 2e-3);
    test_close("densest", negative.row[4].cell[WW_VISUAL].value, 3.0, 2e-3);
    test_close("doubt", negative.row[2].cell[WW_VISUAL].sd.value, SCAN_PIXELS_DOUBT / 1.959964,
               1e-4);
    ww_readings_release(&negative);
}

#define WHOLE(unit, white, channels)                                                               \
    "{\"wedgework\": 1, \"kind\": \"histogram\", \"unit\": \"" unit "\", \"white\": " white        \
    ", \"channels\": {" channels "}}"

static void beyond_the_scanner(void **state) {
    ww_readings negative;
    ww_error err;
    (void)state;
    test_status("dense",
                parse(WHOLE("density", "65535",
                            "\"visual\": {\"p0.1\": 0.3, \"p1\": 0.4, \"median\": 0.9, \"p99\": "
                            "1.9, \"p99.9\": null}"),
                      &negative, &err),
                WW_OK, &err);
    test_true("over", negative.row[4].cell[WW_VISUAL].state == WW_CELL_OVER);
    ww_readings_release(&negative);
    refused("thin", WHOLE("density", "65535", "\"visual\": {\"p0.1\": null, \"p1\": 0.3}"),
            WW_ENODATA, "expose the preview as the wedge was");
    refused("clipped", WHOLE("code", "65535", "\"visual\": {\"p99.9\": 65535}"), WW_ENODATA,
            "expose the preview as the wedge was");
}

static void readings_as_ever(void **state) {
    ww_readings negative;
    ww_error err;
    (void)state;
    test_status("csv", parse("tone,visual\nbase,0.24\ncloud,1.4\n", &negative, &err), WW_OK, &err);
    assert_int_equal(negative.n, 2);
    ww_readings_release(&negative);
    refused("empty", "", WW_EINPUT, "");
}

static void refusals(void **state) {
    (void)state;
    refused("not JSON", "{\"wedgework\": ", WW_EINPUT, "");
    refused("another kind", "{\"wedgework\": 1, \"kind\": \"readings\"}", WW_EINPUT,
            "measure --whole --json");
    refused("later", "{\"wedgework\": 2, \"kind\": \"histogram\"}", WW_EINPUT, "newer");
    refused("no unit", "{\"wedgework\": 1, \"kind\": \"histogram\"}", WW_EINPUT, "");
    refused("unit", WHOLE("stops", "65535", ""), WW_EINPUT, "");
    refused("no channel", WHOLE("density", "65535", ""), WW_EINPUT, "no channel");
    refused("other bits", WHOLE("code", "255", ""), WW_EMISMATCH, "255");
    refused("text", WHOLE("density", "65535", "\"visual\": {\"p0.1\": \"x\"}"), WW_EINPUT, "");
    refused("no such density", WHOLE("density", "65535", "\"visual\": {\"p0.1\": 71}"), WW_EINPUT,
            "");
    refused("channel of another scanner", WHOLE("code", "65535", "\"red\": {\"p99.9\": 9000}"),
            WW_ENODATA, "red");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_measure_prints_of_a_calibrated_scan),
        cmocka_unit_test(what_it_prints_of_codes), cmocka_unit_test(beyond_the_scanner),
        cmocka_unit_test(readings_as_ever), cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, start, NULL);
}
