/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/array_picture.h"
#include "image/measure.h"
#include "support/scan_case.h"

/* ------------------------------------------------------------------------------- settings */

static void other_settings_are_refused(void **state) {
    static const struct {
        const char *name;
        size_t channels;
        bool colour; /* of the scanner file */
        unsigned bits;
        double white;
        ww_status status;
        const char *says[2];
        char profile[2][12]; /* of the scan and of the scanner file */
    } rows[] = {
        {"same, grey", 1, false, 16, 65535.0, WW_OK, {NULL, NULL}, {"", ""}},
        {"same, colour", 3, true, 16, 65535.0, WW_OK, {NULL, NULL}, {"", ""}},
        {"8 bit", 1, false, 8, 255.0, WW_EMISMATCH, {"8 bits", "with 16"}, {"", ""}},
        {"other white", 1, false, 16, 32767.0, WW_EMISMATCH, {"32767", "65535"}, {"", ""}},
        {"grey scan",
         1,
         true,
         16,
         65535.0,
         WW_EMISMATCH,
         {"is grey", "colour scan 'wedge.tif'"},
         {"", ""}},
        {"colour scan",
         3,
         false,
         16,
         65535.0,
         WW_EMISMATCH,
         {"red", "grey scan 'wedge.tif'"},
         {"", ""}},
        {"one profile", 1, false, 16, 65535.0, WW_OK, {NULL, NULL}, {"linear", "linear"}},
        {"none and one", 1, false, 16, 65535.0, WW_OK, {NULL, NULL}, {"", "linear"}},
        {"one and none", 1, false, 16, 65535.0, WW_OK, {NULL, NULL}, {"linear", ""}},
        {"two", 1, false, 16, 65535.0, WW_EMISMATCH, {"'bent'", "'linear'"}, {"bent", "linear"}},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct scanner_case made;
        ww_picture p = array_picture_new(4, 4, rows[i].channels, WW_SAMPLE_16, ARRAY_ROWS);
        ww_error err = WW_ERROR_INIT;
        scan_case_scanner(&made, rows[i].colour);
        p.bits = rows[i].bits;
        p.white = rows[i].white;
        char given[2][12];
        memcpy(given, rows[i].profile, sizeof given);
        p.profile = given[0][0] ? given[0] : NULL;
        made.scanner.profile = given[1][0] ? given[1] : NULL;
        test_status(rows[i].name, ww__measure_settings(&p, &made.scanner, &err), rows[i].status,
                    &err);
        for (size_t k = 0; k < 2; k++)
            test_true(rows[i].name, !rows[i].says[k] || strstr(err.msg, rows[i].says[k]));
        test_status(rows[i].name, ww__measure_settings(&p, NULL, &err), WW_OK, &err);
        p.profile = NULL; /* it is not the picture's own */
        ww_picture_release(&p);
    }
}

/* --------------------------------------------------------------------------------- patches */

static void says_what_the_scan_is(void **state) {
    static const struct {
        const char *name;
        ww_optional x, y, want;
    } rows[] = {{"alike", {true, 47.25}, {true, 47.25}, {true, 47.25}},
                {"unlike", {true, 47.25}, {true, 94.5}, {false, 0.0}},
                {"one way", {true, 47.25}, {false, 0.0}, {false, 0.0}}};
    const ww__area area = ww__area_disc(20.0, 20.0, 9.0);
    const char *const name[] = {"cloud"};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_picture p = array_picture_new(50, 40, 3, WW_SAMPLE_8, ARRAY_ROWS);
        const ww_measure_request request = {.threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        ww_error err = WW_ERROR_INIT;
        array_fill(&p, 77.0);
        p.page = 2;
        p.px_per_mm_x = rows[i].x;
        p.px_per_mm_y = rows[i].y;
        p.profile = malloc(16);
        strcpy(p.profile, "Linear");
        assert_int_equal(ww_notes_add(&p.notes, &err, "a note of the reader"), WW_OK);
        test_status(rows[i].name,
                    ww__measure_patches(&p, &request, &area, name, 1, "spot", &m, &err), WW_OK,
                    &err);
        test_true(rows[i].name, m.width == 50 && m.height == 40 && m.page == 2 && m.bits == 8 &&
                                    m.white == 255.0 && m.n == 1 && !m.calibrated);
        test_true(rows[i].name, m.has[WW_RED] && m.has[WW_BLUE] && !m.has[WW_VISUAL]);
        test_true(rows[i].name,
                  m.px_per_mm.set == rows[i].want.set && m.px_per_mm.value == rows[i].want.value);
        test_text(rows[i].name, m.file, "quay.tif");
        test_text(rows[i].name, m.profile, "Linear");
        test_text(rows[i].name, m.notes.text[0], "a note of the reader");
        test_text(rows[i].name, m.patch[0].step, "cloud");
        test_close(rows[i].name, m.patch[0].channel[WW_GREEN].code, 77.0, 0.0);
        test_true(rows[i].name, m.patch[0].channel[WW_GREEN].density.state == WW_CELL_MISSING);
        ww_measured_release(&m);
        ww_picture_release(&p);
    }
}

/* It is no ground to refuse. Source: the header; however a scan is measured. */
static void a_profile_alone_is_told(void **state) {
    static char linear[] = "Linear";
    const ww__area area = ww__area_disc(20.0, 20.0, 5.0);
    const char *const name[] = {"cloud"};
    struct scanner_case made;
    ww_picture p = array_picture_new(50, 40, 1, WW_SAMPLE_16, ARRAY_ROWS);
    (void)state;
    array_fill(&p, 20000.0);
    for (int have = 0; have < 4; have++) {
        const bool ours = have & 1, theirs = have & 2, told = ours != theirs;
        const char *const says = ours ? "This scan carries the colour profile 'Linear'"
                                      : "profile 'Linear', but this scan carries none";
        ww_measured m = WW_MEASURED_INIT;
        ww_whole w = WW_WHOLE_INIT;
        ww_error err = WW_ERROR_INIT;
        scan_case_scanner(&made, false);
        p.profile = ours ? linear : NULL;
        made.scanner.profile = theirs ? linear : NULL;
        const ww_measure_request request = {.scanner = &made.scanner, .threads = 1};
        test_status("spot", ww__measure_patches(&p, &request, &area, name, 1, "spot", &m, &err),
                    WW_OK, &err);
        test_status("whole", ww_measure_whole(&p, &request, &w, &err), WW_OK, &err);
        test_true("spot", test_noted(&m.notes, says) == told);
        test_true("whole", test_noted(&w.notes, says) == told);
        test_true("neither", told || (!test_noted(&m.notes, "the colour profile") &&
                                      !test_noted(&w.notes, "the colour profile")));
        ww_whole_release(&w);
        ww_measured_release(&m);
    }
    p.profile = NULL; /* it is not the picture's own */
    ww_picture_release(&p);
}

static void empty_patches_are_named(void **state) {
    const ww__area sliver = ww__area_disc(20.0, 20.0, 0.3), fine = ww__area_disc(20.0, 20.0, 3.0);
    const char *const name[] = {"cloud"};
    const ww_measure_request request = {.threads = 1};
    ww_picture p = array_picture_new(50, 40, 1, WW_SAMPLE_FLOAT, ARRAY_ROWS);
    ww_measured m = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no pixel", ww__measure_patches(&p, &request, &sliver, name, 1, "spot", &m, &err),
                WW_EDOMAIN, &err);
    test_true("named", strstr(err.msg, "spot 'cloud'") != NULL);
    ww_measured_release(&m);
    array_fill(&p, (double)NAN);
    test_status("no number", ww__measure_patches(&p, &request, &fine, name, 1, "spot", &m, &err),
                WW_ENODATA, &err);
    test_true("named", strstr(err.msg, "spot 'cloud'") != NULL);
    ww_measured_release(&m);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(other_settings_are_refused),
        cmocka_unit_test(says_what_the_scan_is),
        cmocka_unit_test(a_profile_alone_is_told),
        cmocka_unit_test(empty_patches_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
