/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/control_case.h"
#include <stdio.h>
#include <string.h>
#include <wedgework/readings_file.h>

static ww_readings parse(const char *text) {
    ww_readings readings = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("readings", ww_readings_file_parse("case.csv", text, strlen(text), &readings, &err),
                WW_OK, &err);
    return readings;
}

/* Source: definition of the aim; roles by tone, then by label. */
static void a_reference(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    const ww_control_patches *patches;
    (void)state;
    test_status(
        "reference",
        control_case_reference(&log,
                               "# lot: 4127\n# status: M\n# density: transmission\n"
                               "step,tone,visual,correction_visual\nbase,,0.31,0.01\n"
                               "7,ld,0.74,-0.02\n7,ld,0.76,-0.02\nhd,,1.30,\nyellow,,2.7,\n",
                               NULL),
        WW_OK, NULL);
    patches = &log.reference[0].patches;
    assert_int_equal(patches->n, 4);
    test_text("lot", log.reference[0].lot, "4127");
    test_true("status", log.reference[0].status == WW_STATUS_M);
    test_text("base", patches->patch[0].tone, "D-min");
    test_text("by tone", patches->patch[1].tone, "LD");
    test_close("replicates are averaged", patches->patch[1].density[WW_VISUAL], 0.75, 1e-12);
    test_close("correction", patches->patch[1].correction[WW_VISUAL], -0.02, 1e-12);
    test_text("by label", patches->patch[2].tone, "HD");
    test_close("no correction", patches->patch[2].correction[WW_VISUAL], 0.0, 0.0);
    test_text("no role", patches->patch[3].tone, "");
    ww_control_log_release(&log);
}

static void references_refused(void **state) {
    static const struct {
        const char *text;
        ww_status status;
        const char *says;
    } rows[] = {
        {"# relative to: base\nstep,visual\nLD,0.7\n", WW_EMISMATCH, "relative to base"},
        {"step,tone,visual\n1,LD,0.7\n2,LD,0.8\n", WW_EMISMATCH, "two steps"},
        {"step,tone,visual\n1,LD,0.7\n1,HD,0.8\n", WW_EMISMATCH, "two rows"},
        {"step,L\nLD,50\n", WW_ENODATA, "no density"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_control_log log = WW_CONTROL_LOG_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].text, control_case_reference(&log, rows[i].text, &err), rows[i].status,
                    &err);
        test_holds(rows[i].text, err.msg, rows[i].says);
        ww_control_log_release(&log);
    }
}

#define HEAD "# status: M\n# density: transmission\n# lot: A\n"

static void strips_refused(void **state) {
    static const struct {
        const char *row, *text, *lot;
        ww_status status;
        const char *says;
    } rows[] = {
        {"good", HEAD "step,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", NULL, WW_OK, NULL},
        {"any order", HEAD "step,red,green\nHD,1.7,1.8\nLD,0.7,0.8\n", NULL, WW_OK, NULL},
        {"unsaid", "step,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", NULL, WW_OK, NULL},
        {"status", "# status: A\nstep,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", NULL, WW_EMISMATCH,
         "status A"},
        {"kind", "# density: reflection\nstep,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", NULL,
         WW_EMISMATCH, "reflection"},
        {"lot", "# lot: B\nstep,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", NULL, WW_EMISMATCH,
         "lot 'B'"},
        {"lot by option", HEAD "step,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", "C", WW_EMISMATCH,
         "lot 'C'"},
        {"relative", "# relative to: white\nstep,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", NULL,
         WW_EMISMATCH, "relative"},
        {"channel", "step,red\nLD,0.7\nHD,1.7\n", NULL, WW_EMISMATCH, "column green"},
        {"step missing", "step,red,green\nLD,0.7,0.8\n", NULL, WW_EMISMATCH, "'HD'"},
        {"step too many", "step,red,green\nLD,0.7,0.8\nHD,1.7,1.8\nX,1,1\n", NULL, WW_EMISMATCH,
         "'X'"},
        {"label twice", "step,tone,red,green\nLD,a,0.7,0.8\nLD,b,0.7,0.8\nHD,,1.7,1.8\n", NULL,
         WW_EMISMATCH, "two rows"},
    };
    ww_control_log log = WW_CONTROL_LOG_INIT;
    (void)state;
    test_status("reference",
                control_case_reference(&log, HEAD "step,red,green\nLD,0.7,0.8\nHD,1.7,1.8\n", NULL),
                WW_OK, NULL);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_readings readings = parse(rows[i].text);
        ww_control_patches patches = {NULL, 0};
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].row,
                    ww_control_strip_make(&readings, &log.reference[0], rows[i].lot, &patches,
                                          &notes, &err),
                    rows[i].status, &err);
        if (rows[i].says)
            test_holds(rows[i].row, err.msg, rows[i].says);
        if (rows[i].status == WW_OK) {
            assert_int_equal(patches.n, 2);
            test_text(rows[i].row, patches.patch[0].step, "LD");
            test_close(rows[i].row, patches.patch[1].density[WW_GREEN], 1.8, 1e-12);
        }
        ww_control_patches_release(&patches);
        ww_notes_release(&notes);
        ww_readings_release(&readings);
    }
    ww_control_log_release(&log);
}

static void what_is_left_out_is_said(void **state) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_readings readings = parse("step,red,visual\nLD,0.7,0.6\nHD,over,1.6\n");
    ww_control_patches patches = {NULL, 0};
    ww_notes notes = WW_NOTES_INIT;
    (void)state;
    test_status("reference", control_case_reference(&log, "step,red\nLD,0.7\nHD,1.7\n", NULL),
                WW_OK, NULL);
    test_status("strip",
                ww_control_strip_make(&readings, &log.reference[0], NULL, &patches, &notes, NULL),
                WW_OK, NULL);
    test_true("channel", test_noted(&notes, "column visual is left out"));
    test_true("over", test_noted(&notes, "Step HD has no density in red"));
    test_true("kept", patches.patch[1].state[WW_RED] == WW_CELL_OVER);
    ww_control_patches_release(&patches);
    ww_notes_release(&notes);
    ww_readings_release(&readings);
    ww_control_log_release(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_reference),
        cmocka_unit_test(references_refused),
        cmocka_unit_test(strips_refused),
        cmocka_unit_test(what_is_left_out_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
