/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/plateau.h"
#include "support/scan_case.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

/* Noise of a step in codes: that of scan_case.h, or too little to tell. */
static void noise(struct scan_case *made, double sd) {
    for (size_t i = 0; i < made->measured.n; i++)
        made->patch[i].channel[WW_VISUAL].sd = sd;
}

/* Source: definition of clipping: what has one code where noise would have spread it. 14 bits
 * stored as they are end at 16383. */
static void codes_that_end_below_full_scale(void **state) {
    static const struct {
        const char *name;
        double beside, beside_sd; /* codes */
        double sd;                /* of all steps */
        bool ends;
    } rows[] = {
        {"bare glass has one code", 16383.0, 0.0, 40.0, true},
        {"a few of its pixels have the next", 16382.9, 0.3, 40.0, true},
        {"it has noise", 16383.0, 41.0, 40.0, false},
        {"no noise that would tell", 16383.0, 0.0, 0.4, false},
        {"full scale", SCAN_CASE_WHITE, 0.0, 40.0, false},
        {"far lighter than any step", 60000.0, 0.0, 40.0, false},
        {"a mask", 3.0, 0.0, 40.0, false},
    };
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        scan_case_strip(made, false);
        noise(made, rows[i].sd);
        for (size_t k = 0; k < made->measured.n; k++)
            made->patch[k].channel[WW_VISUAL].code *= 0.25;
        made->measured.surround[WW_VISUAL] =
            (ww_surround){true, rows[i].beside, 0.0, rows[i].beside_sd};
        test_status(rows[i].name, ww__plateau_find(&made->measured, &err), WW_OK, &err);
        const ww_optional clips = made->measured.clips[WW_VISUAL];
        test_true(rows[i].name, clips.set == rows[i].ends);
        test_true(rows[i].name, made->measured.notes.n == (rows[i].ends ? 1 : 0));
        if (clips.set)
            test_close(rows[i].name, clips.value, 16383.0, 1e-12);
        test_true(rows[i].name, made->measured.surround[WW_VISUAL].clipped == (double)clips.set);
        test_true(rows[i].name, made->patch[0].channel[WW_VISUAL].clipped == 0.0);
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

/* Source: the same; scaled after they clipped, two steps stand at 59000. */
static void steps_that_lie_there_are_clipped(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_strip(made, false);
    for (size_t i = 0; i < 2; i++) {
        made->patch[i].channel[WW_VISUAL].code = 59000.0;
        made->patch[i].channel[WW_VISUAL].sd = 0.0;
    }
    made->patch[2].channel[WW_VISUAL].code = 41000.0;
    test_status("steps", ww__plateau_find(&made->measured, &err), WW_OK, &err);
    test_close("end", made->measured.clips[WW_VISUAL].value, 59000.0, 1e-12);
    for (size_t i = 0; i < 3; i++)
        test_true("clipped", (made->patch[i].channel[WW_VISUAL].clipped > 0.5) == (i < 2));
    ww_notes_release(&made->measured.notes);
    free(made);
}

/* Channels that end are named in one note. */
static void channels_share_a_note(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    scan_case_strip(made, false);
    made->measured.has[WW_RED] = true;
    for (size_t i = 0; i < made->measured.n; i++) {
        ww_patch_channel *p = made->patch[i].channel;
        p[WW_VISUAL].sd = 40.0;
        p[WW_VISUAL].code *= 0.25;
        p[WW_RED] = p[WW_VISUAL];
    }
    made->measured.surround[WW_RED] = (ww_surround){true, 16380.0, 0.0, 0.0};
    made->measured.surround[WW_VISUAL] = (ww_surround){true, 16383.0, 0.0, 0.0};
    test_status("find", ww__plateau_find(&made->measured, NULL), WW_OK, NULL);
    assert_int_equal(made->measured.notes.n, 1);
    test_true("both", test_noted(&made->measured.notes, "16380 (red), 16383 (visual) of 65535"));
    ww_notes_release(&made->measured.notes);
    free(made);
}

/* What the scanner file says is kept. */
static void a_known_end_is_left_alone(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    ww_error err = WW_ERROR_INIT;
    (void)state;
    scan_case_strip(made, false);
    made->measured.clips[WW_VISUAL] = (ww_optional){true, 50000.0};
    made->measured.surround[WW_VISUAL] = (ww_surround){true, scan_case_code(-0.02), 0.0, 0.0};
    test_status("known", ww__plateau_find(&made->measured, &err), WW_OK, &err);
    test_close("end", made->measured.clips[WW_VISUAL].value, 50000.0, 1e-12);
    test_true("no note", made->measured.notes.n == 0);
    free(made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_that_end_below_full_scale),
        cmocka_unit_test(steps_that_lie_there_are_clipped),
        cmocka_unit_test(channels_share_a_note),
        cmocka_unit_test(a_known_end_is_left_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
