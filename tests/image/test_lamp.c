/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/lamp.h"
#include "support/scan_case.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

/* Codes are light here; over what was read of each step it changes by `change` D and, by turns, by
 * `stray` more or less. */
static void draw(struct scan_case *made, double change, double stray) {
    scan_case_strip(made, false);
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        ww_patch_channel *p = &made->patch[i].channel[WW_VISUAL];
        const double by = change + (double)((int)(i % 3) - 1) * stray;
        p->sd = 0.01 * p->code;
        p->along = -2.0 * p->code * tanh(0.5 * 2.302585092994046 * by);
    }
}

/*
 * Source: the header, by hand. Of 21 steps 60 % were read: 21 / 0.6 = 35 times the change. By turns
 * off by s, the absolute deviation has the median s, and the error of the median is
 * 1.2533 x 1.4826 s / root of 21 = 0.4055 s: four of it are 1.622 s.
 */
static void light_that_falls_is_told(void **state) {
    static const struct {
        const char *name;
        double change, stray, fall;
        bool reversed;
        const char *words[2];
    } rows[] = {
        {"even", 0.0, 0.001, 0.0, false, {NULL, NULL}},
        {"hardly", 0.00028, 0.0, 0.0, false, {NULL, NULL}},
        {"falls", 0.006, 0.0, 0.21, false, {"falls by about 0.21 D", "step '21'"}},
        {"from the other end", 0.006, 0.0, 0.21, true, {"falls by about 0.21 D", "step '1'"}},
        {"rises", -0.0006, 0.0003, -0.021, false, {"falls by about 0.02 D", "step '1'"}},
        {"above the steps' scatter", 0.00164, 0.001, 0.0574, false, {"0.06 D", "step '21'"}},
        {"within it", 0.0016, 0.001, 0.0, false, {NULL, NULL}},
    };
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        draw(made, rows[i].change, rows[i].stray);
        made->measured.reversed = rows[i].reversed;
        ww_cell *cell = &made->patch[4].channel[WW_VISUAL].density;
        const double before = cell->sd.value;
        assert_int_equal(ww__lamp_find(&made->measured, 0.6, NULL, NULL), WW_OK);
        test_close(rows[i].name, made->measured.lamp[WW_VISUAL], rows[i].fall, 1e-6);
        test_close(rows[i].name, cell->sd.value, hypot(before, rows[i].fall / sqrt(6.0)), 1e-6);
        test_true(rows[i].name, made->measured.notes.n == (rows[i].words[0] ? 1u : 0u));
        for (size_t k = 0; k < 2 && rows[i].words[k]; k++)
            test_true(rows[i].name, test_noted(&made->measured.notes, rows[i].words[k]));
        test_true("none has none", !made->patch[20].channel[WW_VISUAL].density.sd.set);
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

/*
 * Source: by hand. Few quiet steps are not surer than their noise: of 50 pixels, 1 % of a code and
 * no grain seen (g = 1.19, by (16 + 20 x 0.45) / 21) the change within a step is off by
 * 4 x 0.01 x 1.091 / root of 50 / ln 10 = 0.00268 D, the median of 21 by 0.00073: four of it are
 * 0.00293. Where the first five have 2980 pixels, they alone speak, with 0.00268 / 7.72 = 0.00035 D
 * and a median that is off by 0.000195: four are 0.00078.
 */
static void few_steps_are_no_surer_than_their_noise(void **state) {
    struct scan_case *made = malloc(sizeof *made);
    (void)state;
    for (int k = 0; k < 4; k++) {
        const bool quiet = k >= 2, told = k % 2;
        const double change = quiet ? (told ? 0.00081 : 0.00075) : (told ? 0.00299 : 0.00285);
        draw(made, change, 0.0);
        for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
            made->patch[i].n = quiet && i < 5 ? 2980 : 50;
            made->patch[i].channel[WW_VISUAL].grain = 0.45;
        }
        assert_int_equal(ww__lamp_find(&made->measured, 0.6, NULL, NULL), WW_OK);
        test_close(quiet ? "five steps" : "all", made->measured.lamp[WW_VISUAL],
                   told ? 35.0 * change : 0.0, 1e-6);
        ww_notes_release(&made->measured.notes);
    }
    free(made);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(light_that_falls_is_told),
        cmocka_unit_test(few_steps_are_no_surer_than_their_noise),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
