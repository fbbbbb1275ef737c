/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "support/scan_case.h"
#include <math.h>
#include <wedgework/measure.h>

enum { WIDTH = 90, HEIGHT = 70 };

/* Two tones: left of x = 45 the one, right of it the other. */
static ww_picture two_tones(double left, double right) {
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_16, ARRAY_ROWS);
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++)
            array_set(&p, x, y, 0, x < 45 ? left : right);
    return p;
}

/* Source: what was put in; densities are those of two points of the calibration. */
static void reads_named_discs(void **state) {
    struct scanner_case scanner;
    (void)state;
    scan_case_scanner(&scanner, false);
    const ww_scanner_point *point = scanner.scanner.channel[WW_VISUAL].point;
    /* Whole codes between points: density is straight in log code there, as the header says. */
    const double code[2] = {floor(point[4].code), ceil(point[11].code)};
    ww_picture p = two_tones(code[0], code[1]);
    const ww_spot spot[] = {{"cloud", 20.3, 30.7, 12.4}, {"base", 70.0, 41.5, 9.0}};
    const ww_measure_request request = {.scanner = &scanner.scanner, .threads = 1};
    ww_measured m = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("spots", ww_measure_spots(&p, spot, 2, &request, &m, &err), WW_OK, &err);
    test_true("head", m.n_spots == 2 && m.calibrated && m.n == 2 && m.angle_deg == 0.0);
    for (size_t i = 0; i < 2; i++) {
        const ww_patch_channel *c = &m.patch[i].channel[WW_VISUAL];
        test_text("name", m.patch[i].step, spot[i].name);
        test_close("code", c->code, code[i], 0.0);
        test_close("density", c->density.value, point[i == 0 ? 4 : 11].density, 0.002);
        test_true("place", m.patch[i].centre_x == spot[i].x && m.patch[i].centre_y == spot[i].y &&
                               m.patch[i].radius == spot[i].radius);
        test_close("pixels", (double)m.patch[i].n, 3.14159265 * spot[i].radius * spot[i].radius,
                   12.0);
    }
    test_true("no other notes", m.notes.n == 1 && strstr(m.notes.text[0], "trust holds only if"));
    ww_measured_release(&m);
    ww_picture_release(&p);
}

static void says_what_is_wrong_with_a_spot(void **state) {
    static const struct {
        const char *name;
        ww_spot spot;
        ww_status status;
    } rows[] = {
        {"just inside", {"cloud", 9.0, 61.0, 9.0}, WW_OK},
        {"left", {"cloud", 8.9, 30.0, 9.0}, WW_EDOMAIN},
        {"right", {"cloud", 81.1, 30.0, 9.0}, WW_EDOMAIN},
        {"top", {"cloud", 30.0, 8.9, 9.0}, WW_EDOMAIN},
        {"bottom", {"cloud", 30.0, 61.1, 9.0}, WW_EDOMAIN},
        {"no radius", {"cloud", 30.0, 30.0, 0.0}, WW_EDOMAIN},
        {"negative radius", {"cloud", 30.0, 30.0, -3.0}, WW_EDOMAIN},
        {"no number", {"cloud", (double)NAN, 30.0, 3.0}, WW_EDOMAIN},
        {"no radius at all", {"cloud", 30.0, 30.0, (double)NAN}, WW_EDOMAIN},
        {"between pixels", {"cloud", 30.0, 30.0, 0.4}, WW_EDOMAIN},
        {"infinite", {"cloud", 30.0, 30.0, (double)INFINITY}, WW_EDOMAIN},
    };
    ww_picture p = two_tones(20000.0, 20000.0);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ww_measure_request request = {.threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, ww_measure_spots(&p, &rows[i].spot, 1, &request, &m, &err),
                    rows[i].status, &err);
        if (rows[i].status != WW_OK)
            test_true(rows[i].name, !m.patch && !m.file && strstr(err.msg, "'cloud'"));
        ww_measured_release(&m);
    }
    ww_picture_release(&p);
}

static void passes_on_what_goes_wrong(void **state) {
    struct scanner_case scanner;
    const ww_spot spot = {"cloud", 30.0, 30.0, 9.0};
    const ww_measure_request plain = {.threads = 1},
                             other = {.scanner = &scanner.scanner, .threads = 1};
    ww_picture p = two_tones(20000.0, 20000.0);
    ww_measured m = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_scanner(&scanner, true);
    test_status("settings", ww_measure_spots(&p, &spot, 1, &other, &m, &err), WW_EMISMATCH, &err);
    ((array_pixels *)p.handle)->refuse = WW_EINPUT;
    test_status("reader", ww_measure_spots(&p, &spot, 1, &plain, &m, &err), WW_EINPUT, &err);
    test_true("untouched", !m.patch && !m.file);
    ww_picture_release(&p);
    p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    array_fill(&p, (double)NAN);
    test_status("no number", ww_measure_spots(&p, &spot, 1, &plain, &m, &err), WW_ENODATA, &err);
    ww_picture_release(&p);
}

/* A hole of 3 x 3 px in floating point: counted, left out, and named. */
static void pixels_that_are_no_numbers_are_named(void **state) {
    const ww_spot spot = {"cloud", 30.0, 30.0, 9.0};
    const ww_measure_request request = {.threads = 1};
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    ww_measured m = WW_MEASURED_INIT;
    (void)state;
    array_fill(&p, 0.25);
    for (size_t i = 0; i < 9; i++)
        array_set(&p, 28 + i % 3, 28 + i / 3, 0, i == 0 ? (double)INFINITY : (double)NAN);
    assert_int_equal(ww_measure_spots(&p, &spot, 1, &request, &m, NULL), WW_OK);
    test_true("counted", m.patch[0].channel[WW_VISUAL].no_number == 9);
    test_close("the rest is read", m.patch[0].channel[WW_VISUAL].code, 0.25, 0.0);
    test_true("noted", m.notes.n == 1 && strstr(m.notes.text[0], "Spot 'cloud': 9 pixels are no "));
    ww_measured_release(&m);
    ww_picture_release(&p);
}

/* Floating point that has 65535 for white says nothing until it is known to. */
static void another_scale_is_refused(void **state) {
    const ww_spot spot = {"cloud", 30.0, 30.0, 9.0};
    const ww_measure_request request = {.threads = 1};
    ww_picture p = array_picture_new(WIDTH, HEIGHT, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    ww_measured m = WW_MEASURED_INIT;
    ww_whole whole = WW_WHOLE_INIT;
    (void)state;
    array_fill(&p, 6846.0);
    assert_int_equal(ww_measure_spots(&p, &spot, 1, &request, &m, NULL), WW_EDOMAIN);
    assert_int_equal(ww_measure_whole(&p, &request, &whole, NULL), WW_EDOMAIN);
    ww_measured_release(&m);
    ww_picture_release(&p);
}

/* A spot on the border of two tones is said to be no spot of one density. */
static void a_spot_on_two_tones_is_noted(void **state) {
    const ww_spot spot = {"cloud", 43.0, 30.0, 12.0};
    const ww_measure_request request = {.threads = 1};
    ww_picture p = two_tones(20000.0, 21000.0);
    ww_measured m = WW_MEASURED_INIT;
    (void)state;
    assert_int_equal(ww_measure_spots(&p, &spot, 1, &request, &m, NULL), WW_OK);
    test_true("noted", m.notes.n == 1 && strstr(m.notes.text[0], "Spot 'cloud'"));
    ww_measured_release(&m);
    ww_picture_release(&p);
}

/* Source: definition. Only a spot on bare glass, as light as density 0, shows the exposure. */
static void exposure_is_checked_by_bare_glass(void **state) {
    struct scanner_case scanner;
    const ww_spot spot[] = {{"cloud", 20.0, 30.0, 9.0}, {"glass", 60.0, 30.0, 9.0}};
    ww_measure_request request = {.scanner = &scanner.scanner, .threads = 1};
    ww_picture p = two_tones(scan_case_code(1.2), scan_case_code(0.01));
    (void)state;
    scan_case_scanner(&scanner, false);
    for (size_t n = 1; n <= 2; n++) {
        ww_measured m = WW_MEASURED_INIT;
        assert_int_equal(ww_measure_spots(&p, spot, n, &request, &m, NULL), WW_OK);
        test_true("told", test_noted(&m.notes, "shows whether exposure") == (n == 1));
        ww_measured_release(&m);
    }
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_named_discs),
        cmocka_unit_test(says_what_is_wrong_with_a_spot),
        cmocka_unit_test(passes_on_what_goes_wrong),
        cmocka_unit_test(pixels_that_are_no_numbers_are_named),
        cmocka_unit_test(another_scale_is_refused),
        cmocka_unit_test(a_spot_on_two_tones_is_noted),
        cmocka_unit_test(exposure_is_checked_by_bare_glass),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
