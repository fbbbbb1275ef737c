/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "image/array_picture.h"
#include "support/scan_case.h"
#include "support/wedge_picture.h"
#include <wedgework/measure.h>

/* Source: definition (the Status lines of the header). Whatever allocation fails, nothing is lost
 * and nothing half made. */

typedef struct job {
    ww_picture picture;
    struct scanner_case scanner;
} job;

static ww_status spots(void *context, ww_error *err) {
    const job *the = context;
    static const ww_spot spot[] = {{"cloud", 20.0, 20.0, 7.3}, {"base", 40.0, 20.0, 7.3}};
    const ww_measure_request request = {.scanner = &the->scanner.scanner, .threads = 1};
    ww_measured m = WW_MEASURED_INIT;
    ww_readings readings = WW_READINGS_INIT;
    ww_status status = ww_measure_spots(&the->picture, spot, 2, &request, &m, err);
    if (status == WW_OK) {
        test_close("code", m.patch[1].channel[WW_GREEN].code, 20000.0, 0.0);
        test_true("notes", m.notes.n == 3); /* the reader's, on dust, on settings */
        status = ww_measured_readings(&m, NULL, &readings, err);
    } else
        test_true("nothing", !m.patch && !m.file);
    if (status == WW_OK)
        test_true("readings", readings.n == 2 && readings.row[1].is_base && readings.notes.n == 3);
    else
        test_true("nothing", !readings.row && !readings.file);
    ww_readings_release(&readings);
    ww_measured_release(&m);
    return status;
}

static ww_status whole(void *context, ww_error *err) {
    const job *the = context;
    const ww_measure_request request = {.threads = 1};
    ww_whole w = WW_WHOLE_INIT;
    const ww_status status = ww_measure_whole(&the->picture, &request, &w, err);
    if (status == WW_OK)
        test_close("code", w.code[WW_BLUE][WW_WHOLE_MEDIAN], 20000.0, 0.0);
    else
        test_true("nothing", !w.file && w.pixels == 0);
    ww_whole_release(&w);
    return status;
}

static ww_status strip(void *context, ww_error *err) {
    const ww_spot spot = {"base", 20.0, 20.0, 6.0};
    const ww_measure_request request = {.threads = 1, .steps = 8, .spot = &spot, .n_spots = 1};
    ww_measured m = WW_MEASURED_INIT;
    const ww_status status = ww_measure_strip(context, &request, &m, err);
    if (status == WW_OK)
        test_true("steps", m.n == 9 && m.patch[7].channel[WW_VISUAL].code > 0.0);
    else
        test_true("nothing", !m.patch && !m.file);
    ww_measured_release(&m);
    return status;
}

/* Small, so that every allocation of the search has its turn. */
static void a_search_bears_no_memory(void **state) {
    wedge_scene s = wedge_scene_plain();
    (void)state;
    s.width = 160, s.height = 64, s.x = 80.0, s.y = 32.0;
    s.steps = 8, s.gap = 0.3, s.length = 136.0, s.breadth = 36.0;
    ww_picture p = wedge_picture_new(&s);
    inject_each("strip", strip, &p);
    ww_picture_release(&p);
}

static void codes_bear_no_memory(void **state) {
    job the = {.picture = array_picture_new(60, 40, 3, WW_SAMPLE_16, ARRAY_ROWS)};
    (void)state;
    scan_case_scanner(&the.scanner, true);
    array_fill(&the.picture, 20000.0);
    /* Dust, so that there is a note. */
    for (size_t i = 0; i < 20; i++)
        array_set(&the.picture, 15 + i % 10, 18 + i / 10, 0, 100.0 + (double)i);
    assert_int_equal(ww_notes_add(&the.picture.notes, NULL, "a note of the reader"), WW_OK);
    inject_each("spots", spots, &the);
    inject_each("whole", whole, &the);
    ww_picture_release(&the.picture);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_search_bears_no_memory),
        cmocka_unit_test(codes_bear_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
