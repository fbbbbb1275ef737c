/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/tone_response_read.h"
#include "readings_made.h"
#include "support/support.h"
#include <wedgework/tone_response.h>

static ww_tone_response response; /* large */

static ww_status fit(const ww_readings *readings, ww_column density, ww_notes *notes,
                     ww_error *err) {
    return ww_tone_response_fit(readings, ww_ramp_find(readings), density, NULL, "", &response,
                                notes, err);
}

/* Rows of the scale become points along drive; what has no density is none. */
static void taken(void **state) {
    (void)state;
    ww_readings readings = WW_READINGS_INIT;
    ww_notes notes = WW_NOTES_INIT;
    ww__points points = WW__POINTS_INIT;
    for (int i = 0; i < 4; i++) {
        ww_row *row = made_row(&readings, "", "");
        made_value(&readings, row, WW_COLUMN_GRAY, 25.0 * i);
        if (i != 2)
            made_value(&readings, row, WW_COLUMN_VISUAL, 0.1 + 0.3 * i);
    }
    const ww__tone_source source = {&readings, WW_RAMP_GRAY, WW_COLUMN_VISUAL, NULL, "", &notes};
    test_status("take", ww__tone_response_take(&source, &points, NULL), WW_OK, NULL);
    test_close("points", (double)points.n, 3.0, 0.0);
    test_close("drive", points.point[2].log_h, 0.75, 1e-12);
    test_close("density", points.point[2].density, 1.0, 1e-12);
    test_status("few", ww__tone_response_check(&source, &points, NULL), WW_ENODATA, NULL);
    ww__points_release(&points);
    ww_notes_release(&notes);
    ww_readings_release(&readings);
}

static void refusals(void **state) {
    (void)state;
    static const struct {
        const char *row;
        size_t n;
        double from, to, fall; /* drives, and D lost from white to black */
        ww_status status;
        const char *words;
    } rows[] = {
        {"few", 5, 0.0, 1.0, -1.0, WW_ENODATA, "5 readings of greys"},
        {"no white", 12, 0.1, 1.0, -1.0, WW_ENODATA, "read bare paper"},
        {"no black", 12, 0.0, 0.9, -1.0, WW_ENODATA, "read the black"},
        {"neither", 12, 0.1, 0.9, -1.0, WW_ENODATA, "read bare paper (a row `base`) and the black"},
        {"wrong way", 12, 0.0, 1.0, 1.0, WW_EMISMATCH, "turn the column round"},
        {"flat", 12, 0.0, 1.0, 0.0, WW_EMISMATCH, "1.20 D in every grey: a flat column"},
        {"beyond", 12, 0.0, 1.3, -1.0, WW_EDOMAIN, "gray is 106"},
        {"many", 1001, 0.0, 1.0, -1.0, WW_EDOMAIN, "1001 different greys are too many"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        for (size_t k = 0; k < rows[i].n; k++) {
            const double share = (double)k / (double)(rows[i].n - 1);
            ww_row *row = made_row(&readings, "", "");
            made_value(&readings, row, WW_COLUMN_GRAY,
                       100.0 * (rows[i].from + share * (rows[i].to - rows[i].from)));
            made_value(&readings, row, WW_COLUMN_VISUAL, 1.2 - rows[i].fall * share);
        }
        response.n = 12345;
        test_status(rows[i].row, fit(&readings, WW_COLUMN_VISUAL, &notes, &err), rows[i].status,
                    &err);
        test_holds(rows[i].row, err.msg, rows[i].words);
        test_true("untouched", response.n == 12345);
        ww_notes_release(&notes);
        ww_readings_release(&readings);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(taken), cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
