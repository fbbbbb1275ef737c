/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_steps.h"
#include "scanner_made.h"
#include "support/support.h"
#include <stdlib.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* Source: definition (the formula in the header), worked by hand. */
static void error_of_a_mean(void **state) {
    static const struct {
        const char *row;
        double code, sd;
        size_t n;
        double step, white, sd_share;
    } rows[] = {
        {"all one code", 0.0, 0.0, 900, 1.0, 255.0, 0.2886751346 / 255.0},
        {"8 bits in 16", 0.0, 0.0, 900, 257.0, 65535.0, 0.2886751346 / 255.0},
        {"nobody looked", 0.0, 0.0, 900, 0.0, 255.0, 0.2886751346 / 255.0},
        {"noise hides the steps", 0.0, 6.0, 900, 1.0, 65535.0, 0.2 / 65535.0},
        {"half a code of noise", 0.0, 0.25, 100, 1.0, 255.0, 0.0877045 / 255.0},
        {"between two codes", 10.3, 0.4582576, 100, 1.0, 255.0, 0.2923364 / 255.0},
        {"evenness alone", 40000.0, 3.0, 100000000, 1.0, 65535.0, 20.0 / 65535.0},
        {"floating point", 0.0, 0.01, 100, 0.0, 1.0, 0.001},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        test_close(rows[i].row,
                   ww__scanner_steps_mean_sd(rows[i].code, rows[i].sd, rows[i].n, rows[i].step,
                                             rows[i].white) /
                       rows[i].sd_share,
                   1.0, 1e-5);
}

/* Source: interface conventions: 0.01 at the thin to 0.10 at the dense end. */
static void what_a_wedge_may_be_off_by(void **state) {
    const ww__scanner_wedge nominal = {0.0, true, 0.05, 3.05},
                            certified = {0.01, false, 0.05, 3.05};
    (void)state;
    test_close("thin", ww__scanner_wedge_off(&nominal, 0.05), 0.01, 1e-12);
    test_close("middle", ww__scanner_wedge_off(&nominal, 1.55), 0.055, 1e-12);
    test_close("dense", ww__scanner_wedge_off(&nominal, 3.05), 0.10, 1e-12);
    test_close("beyond", ww__scanner_wedge_off(&nominal, 3.5), 0.10, 1e-12);
    test_close("certified", ww__scanner_wedge_off(&certified, 3.05), 1.959964 * 0.01, 1e-8);
}

static void make(made_scan *s) {
    const made_truth truth = made_usual(1.0);
    made_wedge(s, 21, 0.05, 0.15, 16);
    made_scan_channel(s, WW_VISUAL, &truth, 0.0, NULL);
}

static void codes_and_densities_meet_by_label(void **state) {
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    make(&s);
    const ww_patch first = s.patch[0]; /* the scan's order is its own */
    s.patch[0] = s.patch[20];
    s.patch[20] = first;
    s.wedge.meta.wedge_sd = (ww_optional){true, 0.007};
    s.row[4].cell[WW_COLUMN_VISUAL].sd = (ww_optional){true, 0.02};
    s.row[4].cell[WW_COLUMN_VISUAL].n = 4;
    s.row[6].cell[WW_COLUMN_VISUAL].state = WW_CELL_OVER; /* its step plays no part */
    test_status("match", ww__scanner_steps_match(&s.measured, &s.wedge, &strips, &err), WW_OK,
                &err);
    assert_int_equal(strips.n, 1);
    const ww__scanner_strip *strip = &strips.strip[0];
    assert_int_equal(strip->channel, WW_VISUAL);
    assert_int_equal(strip->n, 20);
    test_text("label", strip->row[0].label, "21");
    test_close("density", strip->row[0].density, 3.05, 1e-9);
    test_close("share", strip->row[0].share, s.patch[0].channel[WW_VISUAL].code / 65535.0, 1e-15);
    test_close("sd", strip->row[1].density_sd, 0.007, 1e-12);
    test_close("sd of repeats", strip->row[4].density_sd, hypot(0.007, 0.01), 1e-12);
    test_text("next to the step left out", strip->row[6].label, "8");
    test_true("not nominal", !strips.wedge.nominal);
    ww__scanner_steps_release(&strips);
    ww__scanner_steps_release(NULL);
}

static void wedges_say_what_they_are_worth(void **state) {
    static const struct {
        const char *row;
        ww_wedge_kind kind;
        bool says_sd;
        bool nominal;
        double thin_sd, dense_sd;
    } rows[] = {
        {"certified", WW_WEDGE_CERTIFIED, false, false, 0.01 / 1.959964, 0.01 / 1.959964},
        {"certified, sd", WW_WEDGE_CERTIFIED, true, false, 0.004, 0.004},
        {"nominal", WW_WEDGE_NOMINAL, false, true, 0.01 / 1.959964, 0.10 / 1.959964},
        {"nothing said", WW_WEDGE_UNKNOWN, false, true, 0.01 / 1.959964, 0.10 / 1.959964},
        {"nominal, but an sd", WW_WEDGE_NOMINAL, true, false, 0.004, 0.004},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        made_scan s;
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        make(&s);
        s.wedge.meta.wedge = rows[i].kind;
        s.wedge.meta.wedge_sd = (ww_optional){rows[i].says_sd, 0.004};
        test_status(rows[i].row, ww__scanner_steps_match(&s.measured, &s.wedge, &strips, NULL),
                    WW_OK, NULL);
        assert_int_equal(strips.wedge.nominal, rows[i].nominal);
        test_close(rows[i].row, strips.strip[0].row[0].density_sd, rows[i].thin_sd, 1e-8);
        test_close(rows[i].row, strips.strip[0].row[20].density_sd, rows[i].dense_sd, 1e-8);
        ww__scanner_steps_release(&strips);
    }
}

/* Source: interface conventions, "a wedge file's visual column serves for every channel". */
static void columns_of_the_wedge(void **state) {
    static const struct {
        const char *row;
        ww_channel scanned;
        bool red, green, visual;
        ww_column column;
        ww_status status;
    } rows[] = {
        {"own column", WW_RED, true, true, true, WW_COLUMN_RED, WW_OK},
        {"visual for all", WW_RED, false, false, true, WW_COLUMN_VISUAL, WW_OK},
        {"grey by visual", WW_VISUAL, true, true, true, WW_COLUMN_VISUAL, WW_OK},
        {"grey by green", WW_VISUAL, true, true, false, WW_COLUMN_GREEN, WW_OK},
        {"grey by the only one", WW_VISUAL, true, false, false, WW_COLUMN_RED, WW_OK},
        {"none for blue", WW_BLUE, true, true, false, WW_COLUMN_BLUE, WW_ENODATA},
        {"no density at all", WW_VISUAL, false, false, false, WW_COLUMN_VISUAL, WW_ENODATA},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const made_truth truth = made_usual(1.0);
        made_scan s;
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        ww_error err = WW_ERROR_INIT;
        made_wedge(&s, 21, 0.05, 0.15, 16);
        made_scan_channel(&s, rows[i].scanned, &truth, 0.0, NULL);
        for (size_t r = 0; r < 21; r++)
            s.row[r].cell[WW_COLUMN_RED] = s.row[r].cell[WW_COLUMN_GREEN] =
                s.row[r].cell[WW_COLUMN_VISUAL];
        s.wedge.has[WW_COLUMN_RED] = rows[i].red;
        s.wedge.has[WW_COLUMN_GREEN] = rows[i].green;
        s.wedge.has[WW_COLUMN_VISUAL] = rows[i].visual;
        test_status(rows[i].row, ww__scanner_steps_match(&s.measured, &s.wedge, &strips, &err),
                    rows[i].status, &err);
        if (rows[i].status == WW_OK)
            assert_int_equal(strips.strip[0].column, rows[i].column);
        ww__scanner_steps_release(&strips);
    }
}

static void base_rows_and_repeats_are_no_further_steps(void **state) {
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    ww_error err = WW_ERROR_INIT;
    static char base[] = "base";
    (void)state;
    make(&s);
    s.row[21] = s.row[20]; /* the last step was read twice */
    s.row[21].cell[WW_COLUMN_VISUAL].value = 3.07;
    s.row[22] = s.row[0];
    s.row[22].step = base;
    s.row[22].is_base = true;
    s.wedge.n = 23;
    test_status("match", ww__scanner_steps_match(&s.measured, &s.wedge, &strips, &err), WW_OK,
                &err);
    assert_int_equal(strips.strip[0].n, 21);
    test_close("mean", strips.strip[0].row[20].density, 3.06, 1e-9);
    test_close("its end", strips.wedge.dense, 3.06, 1e-9);
    ww__scanner_steps_release(&strips);
}

static void clipped_steps_are_known(void **state) {
    made_scan s;
    ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
    (void)state;
    make(&s);
    s.patch[0].channel[WW_VISUAL].clipped = 0.02;
    s.patch[1].channel[WW_VISUAL].clipped = 0.009;
    s.patch[2].channel[WW_VISUAL].code = 65535.0;
    s.patch[20].channel[WW_VISUAL].code = 0.0;
    test_status("match", ww__scanner_steps_match(&s.measured, &s.wedge, &strips, NULL), WW_OK,
                NULL);
    for (size_t i = 0; i < 21; i++)
        assert_int_equal(strips.strip[0].row[i].clipped, i == 0 || i == 2 || i == 20);
    ww__scanner_steps_release(&strips);
}

/* ---------------------------------------------------------------------------------- refusals */

static void unknown_label(made_scan *s) {
    static char other[] = "22";
    s->patch[20].step = other;
}

static void label_twice(made_scan *s) {
    s->patch[20].step = s->label[3];
}

static void one_step_less(made_scan *s) {
    s->measured.n = 20;
}

static void label_twice_in_the_wedge(made_scan *s) {
    static char tone[] = "other";
    s->row[21] = s->row[20];
    s->row[21].tone = tone;
    s->wedge.n = 22;
}

static void from_the_other_end(made_scan *s) {
    for (size_t i = 0; i < 10; i++) {
        const ww_patch_channel swap = s->patch[i].channel[WW_VISUAL];
        s->patch[i].channel[WW_VISUAL] = s->patch[20 - i].channel[WW_VISUAL];
        s->patch[20 - i].channel[WW_VISUAL] = swap;
    }
}

static void nothing_to_see(made_scan *s) {
    for (size_t i = 0; i < 21; i++)
        s->patch[i].channel[WW_VISUAL].code = 20000.0;
}

static void five_unclipped(made_scan *s) {
    for (size_t i = 5; i < 21; i++)
        s->patch[i].channel[WW_VISUAL].clipped = 0.5;
}

static void refusals_name_the_matter(void **state) {
    static const struct {
        const char *row;
        void (*spoil)(made_scan *s);
        ww_status status;
        const char *says;
    } rows[] = {
        {"unknown label", unknown_label, WW_EMISMATCH, "'22'"},
        {"label twice", label_twice, WW_EMISMATCH, "'4'"},
        {"one step less", one_step_less, WW_EMISMATCH, "20 steps"},
        {"label twice in the wedge", label_twice_in_the_wedge, WW_EMISMATCH, "22"},
        {"from the other end", from_the_other_end, WW_EMISMATCH, "(visual) do not fall"},
        {"nothing to see", nothing_to_see, WW_EMISMATCH, "do not fall"},
        {"five unclipped", five_unclipped, WW_ENODATA, "5 of 21"},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        made_scan s;
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        ww_error err = WW_ERROR_INIT;
        make(&s);
        rows[i].spoil(&s);
        test_status(rows[i].row, ww__scanner_steps_match(&s.measured, &s.wedge, &strips, &err),
                    rows[i].status, &err);
        if (!strstr(err.msg, rows[i].says))
            fail_msg("%s: '%s' does not hold '%s'", rows[i].row, err.msg, rows[i].says);
        test_text("file", err.file, "wedge.tif");
        assert_int_equal(strips.n, 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(error_of_a_mean),
        cmocka_unit_test(what_a_wedge_may_be_off_by),
        cmocka_unit_test(codes_and_densities_meet_by_label),
        cmocka_unit_test(wedges_say_what_they_are_worth),
        cmocka_unit_test(columns_of_the_wedge),
        cmocka_unit_test(base_rows_and_repeats_are_no_further_steps),
        cmocka_unit_test(clipped_steps_are_known),
        cmocka_unit_test(refusals_name_the_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
